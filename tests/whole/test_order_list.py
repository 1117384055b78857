"""The order list of whole buildings: every order is enough, is called off whole, and is reckoned once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from fractions import Fraction

import pytest
from buildings import SEEDS

from elevgen.result import Design
from elevgen.takeoff.calloff import call_off
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.packs import number_of
from elevgen.takeoff.weights import weight_by_lift

BUILDINGS = ("studio", "kitchen-garden", "duplex", "long-wall", *SEEDS)


@pytest.fixture(scope="module", params=BUILDINGS, ids=str)
def design(request: pytest.FixtureRequest, design_of: Callable[..., Design]) -> Design:
    return design_of(request.param)


@pytest.fixture(scope="module")
def takeoff(design: Design) -> Takeoff:
    return measure(design)


def exact(amount: float) -> Fraction:
    return Fraction(str(amount))


def test_an_order_is_at_least_net_and_laps_with_waste_and_its_packs_hold_it(takeoff: Takeoff) -> None:
    for order in takeoff.orders:
        least = order.needed if order.code.startswith("UNIT-NR") else order.net + (order.laps or 0.0)
        assert order.order >= order.with_waste - 1e-4 >= least * (100 + order.waste) / 100 - 2e-4, order.code
        assert order.left_over >= 0, order.code
        for pack in order.packs:
            number = number_of(pack, order.with_waste)
            assert number * pack.holds >= order.with_waste - 1e-9
            assert (number - 1) * pack.holds < order.with_waste


def test_calls_are_the_order_and_lifts_are_what_is_needed(takeoff: Takeoff) -> None:
    for order in takeoff.orders:
        assert sum(exact(need.needed) for need in order.lifts) == exact(order.needed), order.code
        calls = call_off(order)
        assert sum(exact(call.amount) for call in calls) == exact(order.order), order.code
        for n, pack in enumerate(order.packs):
            assert sum(call.packs[n] for call in calls) == number_of(pack, order.with_waste)


def test_units_are_ordered_as_counted_and_by_no_area(design: Design, takeoff: Takeoff) -> None:
    bought = sum(need.to_buy for lift in design.coursing.cutting.lifts for need in lift.needs)
    units = [order for order in takeoff.orders if order.code.startswith("UNIT-NR")]
    assert sum(order.needed for order in units) == bought
    assert max(Counter(order.code for order in takeoff.orders).values()) == 1
    assert not [order.code for order in takeoff.orders if order.code.startswith(("WALL-", "CAVITY-"))]


def test_what_the_lifts_weigh_is_what_the_orders_weigh(takeoff: Takeoff) -> None:
    known = sum(order.weight for order in takeoff.orders if order.weight is not None)
    lifts = weight_by_lift(takeoff.orders)
    assert sum(lift.kg for lift in lifts) == pytest.approx(known)
    assert {code for lift in lifts for code in lift.unknown} == {o.code for o in takeoff.orders if o.mass is None and o.order}
