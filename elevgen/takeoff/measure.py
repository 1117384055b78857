"""The design measured: quantities by place, areas they are checked against, and one order for the whole building.

Positions and lengths come from the stages as they are; this is the only place that rounds quantities.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from elevgen.core.sourced import Sourced
from elevgen.result import Design
from elevgen.takeoff.areas import leaf_area
from elevgen.takeoff.cuts import cut_items
from elevgen.takeoff.fittings import fitting_items, stock_needed
from elevgen.takeoff.items import Measured
from elevgen.takeoff.joints import joint_items
from elevgen.takeoff.labours import labour_items
from elevgen.takeoff.laid import Site, site_of
from elevgen.takeoff.masonry import masonry_items, thumb_figures, units_needed
from elevgen.takeoff.model import LeafArea, Order, Quantity, Takeoff
from elevgen.takeoff.places import settled
from elevgen.takeoff.reveals import reveal_items
from elevgen.takeoff.sections import by_item
from elevgen.takeoff.thumb import thumbs
from elevgen.takeoff.waste import COUNTED, STEPS, WORK, Allowance, allowance, rounded_up, with_waste

PLACES = 4
"""Decimals of a measured quantity: a tenth of a millimetre, a square centimetre, a tenth of a litre."""


def measure(design: Design) -> Takeoff:
    """Measure everything in a design.

    Quantities are net as fixed, in m, m2, m3, l or nr. Waste is `measurement.waste` of the spec, else the rule
    set's `waste.*`, and is only ever in the order.
    """
    areas = tuple(leaf_area(design, leaf) for leaf in design.building.leaves)
    site = site_of(design)
    measured = tuple(_items(design, areas, site))
    rules_of_thumb = tuple(thumbs(design, thumb_figures(design, areas, site)))
    allowances = {group: _allowance(design, group) for group in dict.fromkeys(m.waste for m in measured)}
    quantities = tuple(_quantity(m, allowances[m.waste]) for m in measured)
    whole = units_needed(design) | stock_needed(design)
    orders = tuple(_order(alike, whole.get(code)) for code, alike in by_item(quantities) if alike[0].kind == "material")
    sources = _sources(chain((a.source for a in allowances.values()), (rule.source for rule in rules_of_thumb)))
    return Takeoff(quantities, areas, orders, sources, tuple(_not_measured(design)), rules_of_thumb)


def _items(design: Design, areas: tuple[LeafArea, ...], site: Site) -> Iterator[Measured]:
    yield from masonry_items(design, areas, site)
    yield from cut_items(design)
    yield from reveal_items(design, site)
    yield from joint_items(design, site.on)
    yield from fitting_items(design, site.on)
    yield from labour_items(design, site)


def _not_measured(design: Design) -> Iterator[str]:
    """What the fittings left out for want of a rule, so that the bill does not leave it out in silence."""
    fittings = design.fittings
    with_parts = {part.joint for part in fittings.joint_parts}
    for joint in design.plan.joints:
        if joint.id not in with_parts:
            yield f"{joint.id}: filler and sealant, the rule set has no sizes"
    tied = {ties.wall for ties in fittings.ties if ties.across or ties.given}
    for wall in design.building.walls:
        if wall.cavity is not None and wall.id not in tied:
            yield f"{wall.id}: wall ties, the rule set has no spacing"
    for course in fittings.damp_courses:
        if course.laps and course.lap is None:
            yield f"{course.id}: laps, the rule set has no length"


def _allowance(design: Design, group: str | None) -> Allowance:
    if group is None:
        return WORK
    return allowance(design, group) if group else COUNTED


def _quantity(measured: Measured, waste: Allowance) -> Quantity:
    net = round(measured.net, PLACES)
    laps = None if measured.laps is None else round(measured.laps, PLACES)
    work = measured.waste is None
    needed = net + (laps or 0.0) if measured.needed is None else measured.needed
    return Quantity(
        code=measured.code,
        item=measured.item,
        unit=measured.unit,
        net=net,
        waste=waste.percent,
        order=net if work else rounded_up(with_waste(needed, waste.percent), measured.unit),
        where=measured.where,
        derivation=measured.derivation,
        waste_known=waste.known,
        laps=laps,
        kind="work" if work else "material",
        needed=None if work else needed,
        parts=settled(measured.parts, net, None if work else needed, PLACES),
    )


def _order(places: tuple[Quantity, ...], whole: float | None) -> Order:
    """One order of all places; `whole`: what the building needs in whole units or stock lengths, for what is bought as such."""
    first = places[0]
    net = round(sum(q.net for q in places), PLACES)
    known_laps = [q.laps for q in places if q.laps is not None]
    laps = round(sum(known_laps), PLACES) if len(known_laps) == len(places) else None
    needed = round(net + sum(known_laps), PLACES)
    if whole is not None:
        needed = whole if laps is None else max(needed, round(whole, PLACES))
    wasted = with_waste(needed, first.waste)
    return Order(
        code=first.code,
        item=first.item,
        unit=first.unit,
        net=net,
        laps=laps,
        waste=first.waste,
        waste_known=first.waste_known,
        with_waste=round(wasted, PLACES),
        step=STEPS[first.unit],
        order=rounded_up(wasted, first.unit),
        needed=needed,
    )


def _sources(used: Iterable[Sourced | None]) -> tuple[Sourced, ...]:
    sources = {source.key: source for source in used if source is not None}
    return tuple(sources[key] for key in sorted(sources))
