"""Walling, units, mortar and cavity: measured from faces (`walling`) and from what was laid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from elevgen.building.model import Building, Leaf, Unit
from elevgen.core.measures import CUBIC_METRE
from elevgen.coursing.cutting import total_needs
from elevgen.coursing.model import UnitNeed
from elevgen.result import Design
from elevgen.rules.measurement import MeasurementRules
from elevgen.takeoff.items import Measured, codes_of, counted, size, unit_words
from elevgen.takeoff.model import LeafArea
from elevgen.takeoff.rulings import MM2
from elevgen.takeoff.walling import cavity_items, walling_items

UNITS = "UNIT-NR"


def masonry_items(design: Design, areas: tuple[LeafArea, ...], rules: MeasurementRules) -> Iterator[Measured]:
    """Every masonry item of every leaf, in leaf order, then the cavities."""
    building = design.building
    units = {unit.name: unit for unit in building.units}
    codes = _codes(building)
    for leaf, area in zip(building.leaves, areas, strict=True):
        yield from walling_items(design, leaf, codes, rules)
        yield from _units(design, leaf, units, codes)
        yield _mortar(design, leaf, area)
    yield from cavity_items(design, rules)


def _units(design: Design, leaf: Leaf, units: Mapping[str, Unit], codes: Mapping[str, str]) -> Iterator[Measured]:
    cutting = design.coursing.cutting
    needs = {need.unit: need for need in cutting.of(leaf.id).needs}
    for unit in dict.fromkeys(count.unit for count in design.coursing.of(leaf.id).counts):
        need = needs.get(unit, UnitNeed(unit, 0, 0, 0, 0))
        yield Measured(
            code=f"{UNITS}/{codes[unit]}",
            item=f"Units: {unit_words(units[unit])}",
            unit="nr",
            net=need.whole + need.pieces,
            where=leaf.id,
            derivation=_pieces_words(need, cutting.saw),
            waste="units",
            needed=need.to_buy,
        )


def _pieces_words(need: UnitNeed, saw: float | None) -> str:
    laid = f"pieces laid: {need.whole} whole + {need.pieces} cut"
    if not need.pieces:
        return laid
    if saw is None:
        return f"{laid}, each out of a unit of its own: the rule set does not say what a saw takes away"
    return f"{laid}, these out of {counted(need.cut_from, 'unit')} in this leaf by itself, {size(saw)} mm for each saw cut"


def units_needed(design: Design) -> dict[str, int]:
    """By code, the whole units the building needs: laid whole, and those that are cut, each scaffold lift by itself."""
    codes = _codes(design.building)
    needs = total_needs(need for lift in design.coursing.cutting.lifts for need in lift.needs)
    bought = {need.unit: need.to_buy for need in needs}
    return {f"{UNITS}/{codes[unit.name]}": bought.get(unit.name, 0) for unit in design.building.units}


def _codes(building: Building) -> dict[str, str]:
    """The part of a code that stands for each unit and each bond."""
    return codes_of([*(unit.name for unit in building.units), *(leaf.bond for leaf in building.leaves)])


def _mortar(design: Design, leaf: Leaf, area: LeafArea) -> Measured:
    """Beds and perpends through the thickness, and the upright joint between stretchers one behind another."""
    between = _between_stretchers(design, leaf)
    derivation = f"bed and perpend face {area.mortar / MM2:.2f} m2 x {size(leaf.thickness)} mm"
    if between:
        derivation += f", {between / CUBIC_METRE:.3f} m3 between stretchers one behind another"
    return Measured(
        code="MORTAR-M3",
        item="Mortar in beds and perpends, wet volume in place",
        unit="m3",
        net=(area.mortar * leaf.thickness + between) / CUBIC_METRE,
        where=leaf.id,
        derivation=f"{derivation}; frogs and cores not filled",
        waste="mortar",
    )


def _between_stretchers(design: Design, leaf: Leaf) -> float:
    """Volume of the upright joints inside a leaf where units lie two deep (mm3)."""
    if leaf.build == "half_brick":
        return 0.0
    gaps = {zone.unit.name: max(0.0, leaf.thickness - 2 * zone.unit.width) for zone in leaf.zones}
    face = {
        pattern.id: pattern.height * gaps[pattern.unit] * sum(p.length for p in pattern.pieces if p.laid == "stretcher")
        for pattern in design.coursing.patterns
        if pattern.unit in gaps
    }
    return sum(face[placement.pattern] for placement in design.coursing.of(leaf.id).placements)
