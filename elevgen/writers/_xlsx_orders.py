"""The order list: what to buy, with waste and packs that can be changed, and what it weighs and costs."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.takeoff.model import Order, Pack, Takeoff
from elevgen.takeoff.rates import Rates
from elevgen.writers._xlsx_bill import sum_or_blank
from elevgen.writers._xlsx_cells import Table
from elevgen.writers._xlsx_formula import Down, Expr, One, Own, There, expr
from elevgen.writers._xlsx_functions import halves_up, rounded, unless_blank, when, whole_steps
from elevgen.writers._xlsx_model import Block, Column, Content, Field, Fields, Formula, Open, Sheet, amount, shown_as, table

ORDERS = Table("Order list", "Materials")
MATERIALS_TOTAL, MATERIALS_KG = "MATERIALS_TOTAL", "MATERIALS_KG"
LITRES = ("l", "fl oz")
PLACES = 4


class Container(NamedTuple):
    """One way to buy a material: its row in the order list, and the pack."""

    row: int
    of: Order
    pack: Pack


def with_waste(needed: Expr, waste: One) -> Expr:
    """A quantity grown by its waste, as written."""
    return halves_up(needed * (expr(100) + waste) / 100, PLACES)


def ordered(wasted: Expr, pack: One, step: float) -> Expr:
    """Whole packs where it is known what one holds, else rounded up to the step of its unit."""
    loose = whole_steps(wasted) if step == 1 else whole_steps(wasted, step) * step
    return when(pack.above(0), whole_steps(wasted, pack) * pack, loose)


def order_list(takeoff: Takeoff, rates: Rates) -> Sheet:
    """What to buy: laps and waste added once for the whole building, then rounded up once."""
    orders, kg = takeoff.orders, takeoff.figures.unit("kg").name
    blocks = [table(ORDERS.heading, _fields(rates, kg), orders)]
    blocks.append(_totals(blocks[0].columns, bool(orders), kg))
    containers = [Container(row, o, pack) for row, o in enumerate(orders) if o.unit in LITRES for pack in o.packs]
    if containers:
        blocks.append(table("How many of each container would do", CONTAINERS, containers))
    blocks.append(table("Where these figures come from", KNOWN, orders))
    purpose = (
        "What is needed, waste added, rounded up once for the whole building. Packs are the merchant's: ask. "
        "Needed is net and laps; of units and of bed-joint reinforcement, all that the pieces are cut out of (their own sheets)."
    )
    return Sheet(ORDERS.sheet, purpose, tuple(blocks), repeated=True)


def _fields(rates: Rates, weight: str) -> Fields[Order]:
    """Columns with what the user brought in the open ones."""
    cost = unless_blank(Own("Price"), halves_up(Own("Order") * Own("Price"), 2))
    kg = halves_up(Own("Order") * Own(f"{weight} for one"), 1)
    packs = when(Own("Pack holds").above(0), whole_steps(Own("With waste"), Own("Pack holds")), "")
    return (
        Field("Code", 22, "text", lambda o: o.code),
        Field("Material", 28, "wrap", lambda o: o.item),
        Field("Unit", 5, "text", lambda o: o.unit),
        Field("Needed", 9, "amount", lambda o: amount(o.needed, o.unit)),
        Field("Waste %", 7, "percent", lambda o: Open("waste", _or(rates.of(o.code).waste, o.waste))),
        Field("Waste % as drawn", 7, "percent", lambda o: o.waste),
        Field("With waste", 9, "amount", lambda _: Formula(with_waste(Own("Needed"), Own("Waste %")))),
        Field("Sold in", 10, "wrap", lambda o: o.packs[0].name if o.packs else None),
        Field("Pack holds", 7, "amount", lambda o: Open("pack", _or(rates.of(o.code).pack, _pack(o)))),
        Field("Pack as drawn", 7, "amount", _pack),
        Field("Packs", 7, "nr", lambda _: Formula(packs)),
        Field("Order", 9, "amount", _order),
        Field("Left over if none is wasted", 8, "amount", _left_over),
        Field(f"{weight} for one", 7, "area", lambda o: o.mass),
        Field(f"{weight} in all", 8, "nr", lambda o: None if o.mass is None else Formula(kg)),
        Field("Price", 8, "money", lambda o: Open("price", rates.of(o.code).price)),
        Field("Cost", 10, "money", lambda _: Formula(cost)),
        Field("Note", 12, "text", lambda o: Open("note", rates.of(o.code).order_note)),
    )


def _order(order: Order) -> Content:
    return Formula(ordered(Own("With waste"), Own("Pack holds"), order.step), shown_as(order.unit))


def _left_over(order: Order) -> Content:
    return Formula(rounded(Own("Order") - Own("Needed"), PLACES), shown_as(order.unit))


def _pack(order: Order) -> float | None:
    return order.packs[0].holds if order.packs else None


def _or(own: float | None, drawn: float | None) -> float | None:
    return drawn if own is None else own


def _totals(columns: tuple[Column, ...], any_order: bool, weight: str) -> Block:
    bare = tuple(column._replace(heading="") for column in columns)
    row: dict[str, Content] = {"Code": "Total of the order"}
    if any_order:
        row[f"{weight} in all"] = Formula(sum_or_blank(Down(ORDERS, f"{weight} in all")), name=MATERIALS_KG)
        row["Cost"] = Formula(sum_or_blank(Down(ORDERS, "Cost")), name=MATERIALS_TOTAL)
    return Block("Total", bare, (tuple(row.get(column.heading) for column in columns),), frozenset((0,)))


CONTAINERS: Fields[Container] = (
    Field("Code", 22, "text", lambda c: c.of.code),
    Field("Container", 28, "wrap", lambda c: c.pack.name),
    Field("Unit", 5, "text", lambda c: c.of.unit),
    Field("One holds", 9, "amount", lambda c: c.pack.holds),
    Field("How many", 7, "nr", lambda _: Formula(whole_steps(Own("With waste"), Own("One holds")))),
    Field("They hold", 7, "amount", lambda _: Formula(Own("How many") * Own("One holds"))),
    Field("With waste", 9, "amount", lambda c: Formula(There(ORDERS, "With waste", c.row))),
    Field("How the size is known", 10, "wrap", lambda c: c.pack.known),
)


def _known(order: Order) -> str:
    """The laps needed, how waste, pack and weight are known and what one person should not lift, in one line."""
    said = [f"Laps: {amount(order.laps, order.unit):g} {order.unit} more than net."] if order.laps else []
    said += [f"Waste: {order.waste_known}."]
    said += [f"Pack: {pack.known}." for pack in order.packs[:1] if pack.known]
    said += [f"Weight: {order.mass_known}."] if order.mass_known else []
    said += [f"Lifting: {order.handling}."] if order.handling else []
    return " ".join(said)


KNOWN: Fields[Order] = (
    Field("Code", 22, "text", lambda o: o.code),
    Field("How it is known", 28, "wrap", _known),
    Field("Unit", 5, "text", lambda o: o.unit),
    Field("Net", 9, "amount", lambda o: amount(o.net, o.unit)),
)
