"""Walling, units, mortar and cavity: measured from faces (`walling`) and from what was laid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from elevgen.building.model import Building, Leaf, Unit
from elevgen.core.figures import Figures
from elevgen.core.measures import CUBIC_METRE, SQUARE_METRE
from elevgen.coursing.cutting import total_needs
from elevgen.coursing.model import LeafNeeds, UnitNeed
from elevgen.result import Design
from elevgen.rules.measurement import MeasurementRules
from elevgen.takeoff.items import Measured, codes_of, counted, unit_words
from elevgen.takeoff.laid import Laid, Place, Site
from elevgen.takeoff.model import LeafArea, Part
from elevgen.takeoff.mortar import asked_of, joint_volume, mortar_item
from elevgen.takeoff.thumb import LeafFigures
from elevgen.takeoff.walling import cavity_items, walling_items

UNITS = "UNIT-NR"


def masonry_items(design: Design, areas: tuple[LeafArea, ...], site: Site, rules: MeasurementRules) -> Iterator[Measured]:
    """Every masonry item of every leaf, in leaf order, then the cavities."""
    building = design.building
    units = {unit.name: unit for unit in building.units}
    codes, asked = unit_codes(building), asked_of(building)
    for leaf, area in zip(building.leaves, areas, strict=True):
        grid, face, laid = site.on[leaf.id], site.faces[leaf.id], site.laid[leaf.id]
        yield from walling_items(design, leaf, codes, asked[leaf.id].walling, rules, site)
        yield from _units(design, leaf, units, codes, laid.units)
        yield mortar_item(design, leaf, asked[leaf.id].mortar, area, laid, grid, face)
    yield from cavity_items(design, rules, site)


def thumb_figures(design: Design, areas: tuple[LeafArea, ...], site: Site) -> Iterator[LeafFigures]:
    """Every leaf's figures for the rules of thumb."""
    for leaf, area in zip(design.building.leaves, areas, strict=True):
        units = sum(need.to_buy for need in design.coursing.cutting.of(leaf.id).needs)
        yield LeafFigures(leaf, area.net / SQUARE_METRE, units, joint_volume(leaf, area, site.laid[leaf.id]) / CUBIC_METRE)


def _units(
    design: Design,
    leaf: Leaf,
    units: Mapping[str, Unit],
    codes: Mapping[str, str],
    laid: Mapping[str, Mapping[Place, Laid]],
) -> Iterator[Measured]:
    cutting = design.coursing.cutting
    of_leaf = cutting.of(leaf.id)
    needs = {need.unit: need for need in of_leaf.needs}
    for unit in dict.fromkeys(count.unit for count in design.coursing.of(leaf.id).counts):
        need = needs.get(unit, UnitNeed(unit, 0, 0, 0, 0))
        yield Measured(
            code=f"{UNITS}/{codes[unit]}",
            item=f"Units: {unit_words(units[unit], design.figures)}",
            unit="nr",
            net=need.whole + need.pieces,
            where=leaf.id,
            derivation=_pieces_words(design.figures, need, cutting.saw),
            waste="units",
            needed=need.to_buy,
            parts=_unit_parts(unit, of_leaf, laid.get(unit, {})),
        )


def _unit_parts(unit: str, needs: LeafNeeds, laid: Mapping[Place, Laid]) -> tuple[Part, ...]:
    """Pieces laid by panel and lift. What a lift cuts its pieces out of is shared out to its panels by the pieces in them."""
    cut_from: dict[int | None, int] = {
        lift: need.cut_from for lift, of_lift in needs.by_lift for need in of_lift if need.unit == unit
    }
    cut: dict[int | None, int] = {}
    for (_, lift), here in laid.items():
        cut[lift] = cut.get(lift, 0) + here.cut
    parts, given, seen = [], dict.fromkeys(cut, 0), dict.fromkeys(cut, 0)
    for (panel, lift), here in laid.items():
        seen[lift] += here.cut
        reached = (2 * cut_from.get(lift, 0) * seen[lift] + cut[lift]) // (2 * cut[lift]) if cut[lift] else 0
        parts.append(Part(panel, lift, here.whole + here.cut, here.whole + reached - given[lift]))
        given[lift] = reached
    return tuple(parts)


def _pieces_words(figures: Figures, need: UnitNeed, saw: float | None) -> str:
    laid = f"pieces laid: {need.whole} whole + {need.pieces} cut"
    if not need.pieces:
        return laid
    if saw is None:
        return f"{laid}, each out of a unit of its own: the rule set does not say what a saw takes away"
    return (
        f"{laid}, these out of {counted(need.cut_from, 'unit')} in this leaf by itself, {figures.measure(saw)} for each saw cut"
    )


def units_by_code(building: Building) -> dict[str, str]:
    """By code of the item, the name of the unit that is counted by it."""
    codes = unit_codes(building)
    return {f"{UNITS}/{codes[unit.name]}": unit.name for unit in building.units}


def units_needed(design: Design) -> dict[str, int]:
    """By code, the whole units the building needs: laid whole, and those that are cut, each scaffold lift by itself."""
    codes = unit_codes(design.building)
    needs = total_needs(need for lift in design.coursing.cutting.lifts for need in lift.needs)
    bought = {need.unit: need.to_buy for need in needs}
    return {f"{UNITS}/{codes[unit.name]}": bought.get(unit.name, 0) for unit in design.building.units}


def unit_codes(building: Building) -> dict[str, str]:
    """The part of a code that stands for each unit and each bond."""
    return codes_of([*(unit.name for unit in building.units), *(leaf.bond for leaf in building.leaves)])
