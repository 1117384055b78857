"""Which part of each order is called off for which scaffold lift. All calls together are the order, no more and no less."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.takeoff.model import Order
from elevgen.takeoff.packs import number_of
from elevgen.takeoff.waste import rounded_up, with_waste

FIRST = 1
"""The scaffold lift with which everything is called off that is tied to none."""


class CallOff(NamedTuple):
    """What is called off of an order for one scaffold lift: in its unit, and in whole packs of each kind it may be bought in."""

    lift: int
    amount: float
    packs: tuple[int, ...] = ()


def call_off(order: Order) -> tuple[CallOff, ...]:
    """By scaffold lift, from the lowest up.

    For each lift what is needed up to its top, with waste, is rounded up, and what was called off before is taken away: what
    a step or a pack leaves over serves the next lift.
    """
    by_lift: dict[int, float] = {}
    for need in order.lifts:
        lift = FIRST if need.lift is None else need.lift
        by_lift[lift] = by_lift.get(lift, 0.0) + need.needed
    numbers = sorted(by_lift) or [FIRST]
    calls, needed, had, packed = [], 0.0, 0.0, (0,) * len(order.packs)
    for lift in numbers:
        needed += by_lift.get(lift, 0.0)
        wasted, upto = order.with_waste, order.order
        if lift != numbers[-1]:
            wasted = min(wasted, with_waste(needed, order.waste))
            upto = min(upto, rounded_up(wasted, order.step))
        packs = tuple(number_of(pack, wasted) for pack in order.packs)
        calls.append(CallOff(lift, round(upto - had, 6), tuple(n - before for n, before in zip(packs, packed, strict=True))))
        had, packed = upto, packs
    return tuple(calls)
