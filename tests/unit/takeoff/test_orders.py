"""The order list: one order of a material, its waste added once, shared out over the scaffold lifts that need it."""

from dataclasses import replace
from fractions import Fraction
from math import ceil

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from elevgen.coursing.cutting import cutting_of
from elevgen.fittings.model import StockCut, StockCutting
from elevgen.result import Design
from elevgen.rules.book import RuleReader
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import LiftNeed, Order, Part, Quantity
from elevgen.takeoff.orders import order_list
from elevgen.takeoff.waste import STEPS


def quantity(net: float, *parts: Part, unit: str = "m", **others: object) -> Quantity:
    made = Quantity("X-M", "x", unit, net, 10.0, 0.0, "W1/outer", "", "", parts=parts, needed=net)
    return replace(made, **others)  # type: ignore[arg-type]


def ordered(design: Design, *quantities: Quantity) -> Order:
    (order,) = order_list(design, quantities, {}, RuleReader(design.rules))
    return order


def test_parts_of_every_place_make_the_lifts(small_design: Design) -> None:
    """Two places: 3 m in lifts 1 and 2, 1 m of it laps in lift 2; 2 m in lift 2; 0.5 m nobody has shared out."""
    first = quantity(2.0, Part("P1", 1, 1.5), Part("P1", 2, 0.5, 1.5), laps=1.0, needed=3.0)
    order = ordered(small_design, first, quantity(2.0, Part(None, 2, 2.0)), quantity(0.5))
    assert (order.net, order.needed, order.with_waste, order.order) == (4.5, 5.5, 6.05, 6.1)
    assert order.lifts == (LiftNeed(None, 0.5), LiftNeed(1, 1.5), LiftNeed(2, 3.5))


def test_shares_that_are_less_than_what_is_bought_grow_in_proportion(small_design: Design) -> None:
    """3 m fixed, 1 and 2 to the lift, come out of 4.5 m."""
    order = ordered(small_design, quantity(3.0, Part("P1", 1, 1.0), Part("P2", 3, 2.0), needed=4.5))
    assert order.lifts == (LiftNeed(1, 1.5), LiftNeed(3, 3.0))


def test_what_is_ordered_is_what_is_built_not_what_is_billed(small_design: Design) -> None:
    order = ordered(small_design, quantity(12.0, as_built=10.4, needed=10.4, unit="m2"))
    assert (order.net, order.needed, order.order) == (10.4, 10.4, 11.5)


def test_work_is_not_ordered(small_design: Design) -> None:
    takeoff = measure(small_design)
    assert {q.code for q in takeoff.quantities if q.unit == "m2"} and not [o for o in takeoff.orders if o.unit == "m2"]


def test_units_are_ordered_by_count_and_by_nothing_else(small_design: Design) -> None:
    units = [order for order in measure(small_design).orders if order.code.startswith("UNIT-NR")]
    assert [(order.code, order.unit, order.needed) for order in units] == [
        ("UNIT-NR/FACING", "nr", 16),
        ("UNIT-NR/INNER-BLOCK", "nr", 10),
    ]


def test_units_are_shared_out_as_the_lifts_are_cut(small_design: Design) -> None:
    """Two courses to a lift: each has one stretch of two halves, out of one brick."""
    old = small_design.coursing
    coursing = replace(old, cutting=cutting_of(small_design.building, old.patterns, old.leaves, 4.0, 150.0))
    design = replace(small_design, coursing=coursing)
    (bricks,) = [order for order in measure(design).orders if order.code == "UNIT-NR/FACING"]
    assert bricks.lifts == tuple(LiftNeed(lift.number, lift.needs[0].to_buy) for lift in coursing.cutting.lifts)
    assert [need.lift for need in bricks.lifts] == [1, 2] and sum(need.needed for need in bricks.lifts) == bricks.needed


place = st.tuples(st.lists(st.tuples(st.none() | st.integers(1, 5), st.integers(0, 10**6)), max_size=4), st.integers(0, 10**6))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(place, min_size=1, max_size=4), st.sampled_from(sorted(STEPS)), st.integers(0, 60))
def test_every_order_covers_net_and_laps_and_is_shared_out_whole(
    small_design: Design, places: list[tuple[list[tuple[int | None, int]], int]], unit: str, waste: int
) -> None:
    """Places of any parts, with laps of any length besides: exact, in ten-thousandths."""
    quantities = []
    for parts, laps in places:
        net = sum(amount for _, amount in parts) / 10_000
        shares = (Part(None, lift, amount / 10_000) for lift, amount in parts)
        quantities.append(
            quantity(net, *shares, unit=unit, waste=float(waste), laps=laps / 10_000, needed=round(net + laps / 10_000, 4))
        )
    order = ordered(small_design, *quantities)
    needed = Fraction(sum(sum(amount for _, amount in parts) + laps for parts, laps in places), 10_000)
    assert Fraction(str(order.needed)) == needed
    step = Fraction(str(order.step))
    assert Fraction(str(order.order)) == ceil(needed * (100 + waste) / 100 / step) * step
    assert order.with_waste >= order.needed >= order.net + (order.laps or 0.0) - 1e-9
    assert order.left_over >= 0
    assert sum(Fraction(str(need.needed)) for need in order.lifts) == needed
    assert all(need.needed >= 0 for need in order.lifts)
    assert len({need.lift for need in order.lifts}) == len(order.lifts)


def test_reinforcement_is_bought_whole_and_shared_out_as_its_metres(small_design: Design) -> None:
    """Two stock lengths of 2.7 m for 0.8446 m and a lap of 0.225 m, three quarters of the metres in lift 2."""
    stock = (StockCutting("W1", 102.5, 2700.0, (StockCut((500.0, 362.3, 207.3), 2, 1630.4),), 1),)
    design = replace(small_design, fittings=replace(small_design.fittings, stock=stock))
    (steel,) = [q for q in measure(design).quantities if q.code == "BR-M/102.5"]
    parts = (Part(None, 1, steel.net / 4), Part(None, 2, steel.net * 3 / 4))
    order = ordered(design, replace(steel, parts=parts))
    assert (order.net, order.laps, order.needed) == (0.8446, 0.225, 5.4)
    assert order.lifts == (LiftNeed(1, 1.35), LiftNeed(2, 4.05))
