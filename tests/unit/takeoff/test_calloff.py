"""Calling off by scaffold lift: never late, never a step too much, and together the order."""

from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.takeoff.calloff import call_off
from elevgen.takeoff.model import LiftNeed, Order, Pack
from elevgen.takeoff.packs import number_of
from elevgen.takeoff.waste import STEPS, rounded_up, with_waste

Lifts = list[tuple[int | None, float]]


def order_of(lifts: Lifts, *, waste: float = 0.0, unit: str = "m", packs: tuple[float, ...] = ()) -> Order:
    needed = round(sum(amount for _, amount in lifts), 4)
    wasted = with_waste(needed, waste)
    return Order(
        code="X",
        item="x",
        unit=unit,
        net=needed,
        laps=None,
        waste=waste,
        waste_known="",
        with_waste=wasted,
        step=STEPS[unit],
        order=rounded_up(wasted, STEPS[unit]),
        needed=needed,
        packs=tuple(Pack("pack", holds, "") for holds in packs),
        lifts=tuple(LiftNeed(lift, amount) for lift, amount in lifts),
    )


def test_what_a_step_leaves_over_serves_the_next_lift() -> None:
    """10 % on 9, 12 and 1: 9.9, 23.1 and 24.2 are 10, 24 and 25; the last lift is called off the 1 the order still has."""
    calls = call_off(order_of([(1, 9), (2, 12), (3, 1)], waste=10, unit="nr"))
    assert [(call.lift, call.amount) for call in calls] == [(1, 10), (2, 14), (3, 1)]


def test_what_a_pack_leaves_over_serves_the_next_lift() -> None:
    """In twenties: 10 is one, 24 and 25 are two; in nines 10 is two, 24 and 25 are three."""
    calls = call_off(order_of([(1, 9), (2, 12), (3, 1)], waste=10, unit="nr", packs=(20, 9)))
    assert [call.packs for call in calls] == [(1, 2), (1, 1), (0, 0)]


def test_what_is_tied_to_no_lift_comes_with_the_first() -> None:
    assert [(c.lift, c.amount) for c in call_off(order_of([(None, 2.5), (1, 1.25), (3, 4)]))] == [(1, 3.8), (3, 4.0)]
    assert [(c.lift, c.amount) for c in call_off(order_of([(None, 2.5), (2, 1.0)]))] == [(1, 2.5), (2, 1.0)]
    assert [(c.lift, c.amount) for c in call_off(order_of([(None, 7.0)]))] == [(1, 7.0)]


def test_an_order_of_nothing_is_called_off_as_nothing() -> None:
    assert [tuple(call) for call in call_off(order_of([], packs=(3.0,)))] == [(1, 0.0, (0,))]


amounts = st.integers(0, 400_000).map(lambda n: n / 10_000)
lifts = st.dictionaries(st.integers(1, 6), amounts, min_size=1, max_size=6).map(lambda d: sorted(d.items()))


@given(
    lifts, st.none() | amounts, st.integers(0, 400).map(lambda n: n / 8), st.sampled_from(sorted(STEPS)), st.integers(1, 90_000)
)
def test_calls_are_the_order_and_never_late(found: Lifts, loose: float | None, waste: float, unit: str, thousandths: int) -> None:
    """Against exact fractions, lift by lift: enough of the material and of its packs up to there, and no step too much."""
    order = order_of(
        [*([(None, loose)] if loose is not None else []), *found], waste=waste, unit=unit, packs=(thousandths / 1000,)
    )
    calls = call_off(order)
    assert sum(Fraction(str(call.amount)) for call in calls) == Fraction(str(order.order))
    assert sum(call.packs[0] for call in calls) == number_of(order.packs[0], order.with_waste)
    assert all(call.amount >= 0 and call.packs[0] >= 0 for call in calls)
    step, holds = Fraction(str(STEPS[unit])), Fraction(thousandths, 1000)
    needed = had = Fraction(0)
    packs = 0
    for call in calls:
        needed += sum(Fraction(str(need.needed)) for need in order.lifts if (need.lift or 1) == call.lift)
        had += Fraction(str(call.amount))
        packs += call.packs[0]
        wasted = needed * (100 + Fraction(waste)) / 100
        assert had == ceil(wasted / step) * step
        assert packs == ceil(wasted / holds)


def test_rounding_a_total_in_floats_does_not_change_the_order() -> None:
    """0.1 and 0.2 are 0.3 and no step more."""
    assert [call.amount for call in call_off(order_of([(1, 0.1), (2, 0.2)]))] == pytest.approx([0.1, 0.2], abs=1e-12)
