"""The order list: what has to be bought of each material for the whole building, and which scaffold lift needs it.

Waste is added once, and the order rounded up once. A material is ordered by what was counted or measured of it in the design,
never by so many to the square metre as well.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import fsum

from elevgen.result import Design
from elevgen.rules.book import RuleReader
from elevgen.takeoff.fittings import stock_needed
from elevgen.takeoff.masonry import units_by_code, units_needed
from elevgen.takeoff.model import LiftNeed, Order, Quantity
from elevgen.takeoff.packs import packs_by_item
from elevgen.takeoff.sections import by_item
from elevgen.takeoff.waste import rounded_up, step_of, with_waste
from elevgen.takeoff.weights import NOT_KNOWN, handling, weights_by_item

PLACES = 4
"""Decimals of what is needed, as of a measured quantity."""

Needs = Sequence[tuple[int | None, float]]
"""What each scaffold lift needs; None for what is tied to no lift."""


def order_list(
    design: Design, quantities: Iterable[Quantity], groups: Mapping[str, str | None], reader: RuleReader
) -> tuple[Order, ...]:
    """One order for each material of the building, in the order of the trade; `groups` are the waste groups by code.

    Raises SpecError where the spec has a pack for what is not in the building.
    """
    items = [(code, places) for code, places in by_item(quantities) if places[0].kind == "material"]
    packs = packs_by_item(
        design.spec.measurement.packs, {code: (places[0].unit, groups.get(code)) for code, places in items}, reader
    )
    weights = weights_by_item(design, [code for code, _ in items], reader)
    whole, unit_lifts = units_needed(design) | stock_needed(design), _units_by_lift(design)
    orders = []
    for code, places in items:
        first, weight = places[0], weights.get(code, NOT_KNOWN)
        known_laps = [q.laps for q in places if q.laps is not None]
        laps = round(fsum(known_laps), PLACES) if len(known_laps) == len(places) else None
        needed = _needed(places, laps, whole.get(code))
        wasted = with_waste(needed, first.waste)
        orders.append(
            Order(
                code=code,
                item=first.item,
                unit=first.unit,
                net=round(fsum(q.fixed for q in places), PLACES),
                laps=laps,
                waste=first.waste,
                waste_known=first.waste_known,
                with_waste=round(wasted, PLACES),
                step=step_of(first.unit, design.figures),
                order=rounded_up(wasted, step_of(first.unit, design.figures)),
                needed=needed,
                packs=packs.get(code, ()),
                mass=weight.kg,
                mass_known=weight.known,
                handling=handling(code, weight, weights.limit, design.figures),
                lifts=_lift_needs(unit_lifts.get(code) or _by_lift(places), needed),
            )
        )
    return tuple(orders)


def _needed(places: Iterable[Quantity], laps: float | None, whole: float | None) -> float:
    """Before waste, of all places; `whole`: what the building needs of what is bought in whole units or stock lengths."""
    needed = round(fsum(q.needed or 0.0 for q in places), PLACES)
    if whole is None:
        return needed
    return whole if laps is None else max(needed, round(whole, PLACES))


def _units_by_lift(design: Design) -> dict[str, Needs]:
    """By code, the whole units each scaffold lift needs: off-cuts of one place serve another of the same lift."""
    of_unit: dict[str, list[tuple[int | None, float]]] = {}
    for lift in design.coursing.cutting.lifts:
        for need in lift.needs:
            of_unit.setdefault(need.unit, []).append((lift.number, float(need.to_buy)))
    return {code: of_unit[unit] for code, unit in units_by_code(design.building).items() if unit in of_unit}


def _by_lift(places: Iterable[Quantity]) -> Needs:
    """What each place needs, shared out as its parts are; what has no parts is tied to no lift."""
    shares: list[tuple[int | None, float]] = []
    for quantity in places:
        needed = quantity.needed or 0.0
        parts = [(part.lift, part.net if part.needed is None else part.needed) for part in quantity.parts]
        total = fsum(amount for _, amount in parts)
        shares += [(lift, needed * amount / total) for lift, amount in parts] if total > 0 else [(None, needed)]
    return shares


def _lift_needs(shares: Needs, needed: float) -> tuple[LiftNeed, ...]:
    """From the lowest lift up, what is tied to none first; adding up to `needed`, stock lengths shared out as their metres."""
    by_lift: dict[int | None, list[float]] = {}
    for lift, amount in shares:
        by_lift.setdefault(lift, []).append(amount)
    total = fsum(amount for _, amount in shares)
    if total <= 0:
        return (LiftNeed(None, needed),) if needed else ()
    lifts, sofar, met = [], [], 0.0
    for lift in sorted(by_lift, key=lambda number: (number is not None, number or 0)):
        sofar += by_lift[lift]
        upto = round(needed * fsum(sofar) / total, PLACES)
        lifts.append(LiftNeed(lift, round(upto - met, PLACES)))
        met = upto
    return tuple(lifts)
