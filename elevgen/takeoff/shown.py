"""A take-off in customary units, for people whose lengths are in feet: bill, order list, price books. All of it by one table.

Amounts are turned before they are rounded, so each is as near what was measured as its metric twin.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import fsum

from elevgen.core.figures import Figures
from elevgen.core.units import ShownUnit
from elevgen.takeoff.items import Measured
from elevgen.takeoff.model import LiftNeed, Order, Part, Quantity, Takeoff, Thumb

PLACES = 4
FINE = 6
"""Decimals of what is needed, as in `orders`; of steps, packs and orders, which are round figures of their unit."""


def measured_in(measured: Measured, figures: Figures) -> Measured:
    """One thing measured, in the unit it is shown in."""
    unit = figures.unit(measured.unit)
    if unit.name == measured.unit:
        return measured
    return measured._replace(
        unit=unit.name,
        net=unit.of(measured.net),
        laps=_of(unit, measured.laps),
        needed=_of(unit, measured.needed),
        gross=_of(unit, measured.gross),
        deductions=tuple(d._replace(amount=unit.of(d.amount)) for d in measured.deductions),
        as_built=_of(unit, measured.as_built),
        parts=tuple(Part(p.panel, p.lift, unit.of(p.net), _of(unit, p.needed)) for p in measured.parts),
    )


def shown_in(takeoff: Takeoff, quantities: tuple[Quantity, ...], figures: Figures) -> Takeoff:
    """A metric take-off with its orders and rules of thumb in the units shown; `quantities` are in them already."""
    return replace(
        takeoff,
        quantities=quantities,
        orders=tuple(order_in(order, figures) for order in takeoff.orders),
        thumbs=tuple(_thumb(thumb, figures) for thumb in takeoff.thumbs),
        figures=figures,
    )


def order_in(order: Order, figures: Figures) -> Order:
    """The same order in the unit it is shown in, its weight in the unit weights are."""
    unit, weight = figures.unit(order.unit), figures.unit("kg")
    needed, step = round(unit.of(order.needed), PLACES), round(unit.of(order.step), FINE)
    return replace(
        order,
        unit=unit.name,
        net=round(unit.of(order.net), PLACES),
        laps=None if order.laps is None else round(unit.of(order.laps), PLACES),
        with_waste=round(unit.of(order.with_waste), PLACES),
        step=step,
        order=round(round(unit.of(order.order) / step) * step, FINE),
        needed=needed,
        packs=tuple(pack._replace(holds=round(unit.of(pack.holds), FINE)) for pack in order.packs),
        mass=None if order.mass is None else weight.of(unit.back(order.mass)),
        lifts=tuple(_lifts(order.lifts, unit, needed)),
    )


def _lifts(lifts: Iterable[LiftNeed], unit: ShownUnit, needed: float) -> Iterator[LiftNeed]:
    """What each lift needs, rounded as a running total, so that together they are what is needed."""
    lifts, sofar, met = tuple(lifts), [], 0.0
    for number, lift in enumerate(lifts, 1):
        sofar.append(lift.needed)
        upto = needed if number == len(lifts) else round(unit.of(fsum(sofar)), PLACES)
        yield LiftNeed(lift.lift, round(upto - met, PLACES))
        met = upto


def _thumb(thumb: Thumb, figures: Figures) -> Thumb:
    unit = figures.unit(thumb.unit)
    ours, rule, rounding = _of(unit, thumb.ours), unit.of(thumb.rule), unit.of(thumb.rounding)
    return thumb._replace(unit=unit.name, ours=ours, rule=rule, rounding=rounding)


def _of(unit: ShownUnit, value: float | None) -> float | None:
    return None if value is None else unit.of(value)
