"""The order list in `design.json`: amounts in the item's unit, packs in whole numbers, kilograms; null where not known."""

from __future__ import annotations

from typing import Any

from elevgen.takeoff.calloff import call_off
from elevgen.takeoff.model import Order, Takeoff
from elevgen.takeoff.packs import number_of
from elevgen.takeoff.weights import weight_by_lift

Record = dict[str, Any]


def orders(takeoff: Takeoff) -> list[Record]:
    return [_order(order) for order in takeoff.orders]


def _order(order: Order) -> Record:
    return {
        "code": order.code,
        "item": order.item,
        "unit": order.unit,
        "net": order.net,
        "laps": order.laps,
        "waste": order.waste,
        "waste_known": order.waste_known,
        "with_waste": order.with_waste,
        "order": order.order,
        "to_buy": _to_buy(order),
        "needed": order.needed,
        "step": order.step,
        "left_over": order.left_over,
        "packs": _packs(order),
        "mass": order.mass,
        "mass_known": order.mass_known,
        "weight": order.weight,
        "handling": order.handling,
        "lifts": [{"lift": need.lift, "needed": need.needed} for need in order.lifts],
        "call_off": [{"lift": call.lift, "order": call.amount, "packs": list(call.packs)} for call in call_off(order)],
    }


def _to_buy(order: Order) -> float:
    """In whole packs of the usual kind, as the workbook orders it; where there is none, the order."""
    if not order.packs:
        return order.order
    return round(number_of(order.packs[0], order.with_waste) * order.packs[0].holds, 6)


def _packs(order: Order) -> list[Record]:
    """The ways an item may be bought, the usual first; none: ask the merchant. Packs hold what is needed with waste."""
    made = []
    for pack in order.packs:
        number = number_of(pack, order.with_waste)
        left_over = number * pack.holds - order.needed
        made.append({"name": pack.name, "holds": pack.holds, "known": pack.known, "number": number, "left_over": left_over})
    return made


def lift_weights(takeoff: Takeoff) -> list[Record]:
    """What each scaffold lift's call-off weighs, beside the items nobody has said the weight of."""
    return [{"lift": lift.lift, "kg": lift.kg, "unknown": list(lift.unknown)} for lift in weight_by_lift(takeoff.orders)]
