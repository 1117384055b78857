"""The design measured: quantities by place, areas they are checked against, and one order for the whole building.

Positions and lengths come from the stages as they are; this is where quantities are rounded, and `orders` where orders are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import chain

from elevgen.core.figures import Figures
from elevgen.core.sourced import Sourced
from elevgen.result import Design
from elevgen.rules.book import RuleReader
from elevgen.rules.measurement import MeasurementRules
from elevgen.rules.measurement_loader import load_measurement
from elevgen.takeoff.areas import leaf_area
from elevgen.takeoff.cuts import cut_items
from elevgen.takeoff.fittings import fitting_items
from elevgen.takeoff.items import Measured
from elevgen.takeoff.joints import joint_items
from elevgen.takeoff.labours import labour_items
from elevgen.takeoff.laid import Site, site_of
from elevgen.takeoff.masonry import masonry_items, thumb_figures
from elevgen.takeoff.model import LeafArea, Quantity, Takeoff
from elevgen.takeoff.orders import order_list
from elevgen.takeoff.places import settled
from elevgen.takeoff.reveals import reveal_items
from elevgen.takeoff.shown import measured_in, shown_in
from elevgen.takeoff.standing import standing, to_build
from elevgen.takeoff.thumb import thumbs
from elevgen.takeoff.waste import COUNTED, WORK, Allowance, allowance, rounded_up, step_of, with_waste

PLACES = 4
"""Decimals of a measured quantity: a tenth of a millimetre, a square centimetre, a tenth of a litre."""
FINE = 6
"""Decimals of a gross quantity and of deductions, so that their difference agrees with the net to its own."""


def measure(design: Design) -> Takeoff:
    """Measure everything in a design that is still to be built, by the measurement rules `measurement.rules` of the spec names.

    Quantities are net as fixed, in m, m2, m3, l or nr; walling and cavities as those rules bill them, with what is really
    built beside it. Where lengths are in feet `Takeoff.shown` is the same in customary units, for all that people read.
    Waste is `measurement.waste` of the spec, else the rule set's `waste.*`, and is only ever in the order.
    Raises SpecError for a pack of what is not in the building.
    """
    faces, left_out = {leaf.id: leaf_area(design, leaf) for leaf in design.building.leaves}, tuple(_left_out(design))
    everything, design = design.building, to_build(design)
    areas = tuple(faces[leaf.id] for leaf in design.building.leaves)
    asked = design.spec.measurement
    rules = load_measurement(asked.rules, asked.own.figures)
    site = site_of(design, everything)
    measured = tuple(_items(design, areas, site, rules))
    rules_of_thumb = tuple(thumbs(design, thumb_figures(design, areas, site)))
    allowances = {group: _allowance(design, group) for group in dict.fromkeys(m.waste for m in measured)}
    quantities = tuple(_quantity(m, allowances[m.waste], design.figures) for m in measured)
    reader = RuleReader(design.rules)
    orders = order_list(design, quantities, {m.code: m.waste for m in measured}, reader)
    sources = _sources(
        chain((a.source for a in allowances.values()), reader.used(), rules.used, (rule.source for rule in rules_of_thumb))
    )
    not_measured = (*left_out, *_not_measured(design))
    takeoff = Takeoff(quantities, tuple(faces.values()), orders, sources, not_measured, rules, rules_of_thumb)
    if not design.figures.in_feet:
        return takeoff
    billed = tuple(_quantity(measured_in(m, design.figures), allowances[m.waste], design.figures) for m in measured)
    return replace(takeoff, shown=shown_in(takeoff, billed, design.figures))


def _items(design: Design, areas: tuple[LeafArea, ...], site: Site, rules: MeasurementRules) -> Iterator[Measured]:
    yield from masonry_items(design, areas, site, rules)
    yield from cut_items(design)
    yield from reveal_items(design, site)
    yield from joint_items(design, site.on)
    yield from fitting_items(design, site.on)
    yield from labour_items(design, site)


def _left_out(design: Design) -> Iterator[str]:
    for wall in sorted(standing(design)):
        yield f"{wall}: stands already, neither measured nor ordered"


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


def _quantity(measured: Measured, waste: Allowance, figures: Figures) -> Quantity:
    net = round(measured.net, PLACES)
    laps = None if measured.laps is None else round(measured.laps, PLACES)
    as_built = None if measured.as_built is None else round(measured.as_built, PLACES)
    work = measured.waste is None
    needed = net + (laps or 0.0) if measured.needed is None else measured.needed
    return Quantity(
        code=measured.code,
        item=measured.item,
        unit=measured.unit,
        net=net,
        waste=waste.percent,
        order=net if work else rounded_up(with_waste(needed, waste.percent), step_of(measured.unit, figures)),
        where=measured.where,
        derivation=measured.derivation,
        waste_known=waste.known,
        laps=laps,
        kind="work" if work else "material",
        needed=None if work else needed,
        gross=None if measured.gross is None else round(measured.gross, FINE),
        deductions=tuple(d._replace(amount=round(d.amount, FINE)) for d in measured.deductions),
        as_built=as_built,
        parts=settled(measured.parts, net if as_built is None else as_built, None if work else needed, PLACES),
    )


def _sources(used: Iterable[Sourced | None]) -> tuple[Sourced, ...]:
    sources = {source.key: source for source in used if source is not None}
    return tuple(sources[key] for key in sorted(sources))
