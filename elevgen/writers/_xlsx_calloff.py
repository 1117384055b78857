"""What to call off for each scaffold lift: in whole packs, from the bottom up, never more in all than the order."""

from __future__ import annotations

from collections.abc import Iterable

from elevgen.takeoff.model import Order, Takeoff
from elevgen.writers._xlsx_cells import Table
from elevgen.writers._xlsx_formula import Across, There, expr
from elevgen.writers._xlsx_functions import rounded, total
from elevgen.writers._xlsx_model import Block, Column, Content, Formula, Sheet, amount, shown_as
from elevgen.writers._xlsx_orders import ORDERS, PLACES, ordered, with_waste

NEEDED = Table("Call-off", "What each lift needs, before waste")
CALLED = Table("Call-off", "What to call off for each lift")
ANY = "Any lift"


def call_off(takeoff: Takeoff) -> Sheet:
    """Needs by scaffold lift, and the deliveries that cover them."""
    lifts = _lifts(takeoff.orders)
    purpose = (
        "Lifts are the scaffold lifts of the sheet Units and cuts. Each call-off tops up what was called off before, "
        "with the waste and packs of the order list. 'Any lift': not tied to one, called off first."
    )
    return Sheet(CALLED.sheet, purpose, (_called(takeoff.orders, lifts), _needed(takeoff.orders, lifts)))


def _lifts(orders: Iterable[Order]) -> tuple[int | None, ...]:
    """Lifts anything is needed in; None, for what is tied to none, before the first."""
    orders = tuple(orders)
    numbers = {need.lift for order in orders for need in order.lifts} | {None for order in orders if not order.lifts}
    free = (None,) if None in numbers or not numbers else ()
    return (*free, *sorted(n for n in numbers if n is not None))


def _head(lift: int | None) -> str:
    return ANY if lift is None else f"Lift {lift}"


def _columns(lifts: tuple[int | None, ...], *more: Column) -> tuple[Column, ...]:
    each = tuple(Column(_head(lift), 9, "amount") for lift in lifts)
    return (Column("Code", 26), Column("Material", 40, "wrap"), Column("Unit", 6), *each, *more)


def _needs(order: Order) -> dict[int | None, float]:
    return {need.lift: need.needed for need in order.lifts} or {None: order.needed}


def _needed(orders: Iterable[Order], lifts: tuple[int | None, ...]) -> Block:
    rows: list[tuple[Content, ...]] = []
    for order in orders:
        needs = _needs(order)
        each = tuple(amount(needs[lift], order.unit) if lift in needs else None for lift in lifts)
        rows.append((order.code, order.item, order.unit, *each))
    return Block(NEEDED.heading, _columns(lifts), tuple(rows))


def _called(orders: Iterable[Order], lifts: tuple[int | None, ...]) -> Block:
    columns = _columns(lifts, Column("All of them", 10, "amount"), Column("Order list", 10, "amount"))
    return Block(CALLED.heading, columns, tuple(_calls(row, order, lifts) for row, order in enumerate(orders)))


def _calls(row: int, order: Order, lifts: tuple[int | None, ...]) -> tuple[Content, ...]:
    """Each call-off covers what is needed up to its lift, less what was called off before; the last brings what is left of the
    order. Lifts that need none of it get none."""
    shown, heads = shown_as(order.unit), [_head(lift) for lift in lifts]
    waste, pack, whole = (There(ORDERS, column, row) for column in ("Waste %", "Pack holds", "Order"))
    wanted = [n for n, lift in enumerate(lifts) if lift in _needs(order)]
    calls: list[Content] = [None] * len(lifts)
    for n in wanted:
        needed = rounded(total(Across(heads[0], heads[n], NEEDED, row)), PLACES)
        upto = whole if n == wanted[-1] else ordered(with_waste(needed, waste), pack, order.step)
        before = total(Across(heads[0], heads[n - 1])) if n else expr(0)
        calls[n] = Formula(rounded(upto - before, PLACES) if n else upto, shown)
    all_of_them = Formula(rounded(total(Across(heads[0], heads[-1])), PLACES), shown)
    return (order.code, order.item, order.unit, *calls, all_of_them, Formula(whole, shown))
