"""Walling, units, mortar and cavity: measured from faces and from what was laid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from elevgen.building.model import Leaf, Unit, Wall
from elevgen.result import Design
from elevgen.takeoff.areas import cavity_area, masonry_area
from elevgen.takeoff.items import Measured, codes_of, grouped, size, unit_words
from elevgen.takeoff.model import LeafArea

MM2 = 1e6
MM3 = 1e9


def masonry_items(design: Design, areas: tuple[LeafArea, ...]) -> Iterator[Measured]:
    """Every masonry item of every leaf, in leaf order, then the cavities."""
    building = design.building
    units = {unit.name: unit for unit in building.units}
    codes = codes_of([*units, *(leaf.bond for leaf in building.leaves)])
    for leaf, area in zip(building.leaves, areas, strict=True):
        yield from _walling(leaf, codes)
        yield from _units(design, leaf, units, codes)
        yield _mortar(leaf, area)
    yield from _cavities(design)


def _walling(leaf: Leaf, codes: Mapping[str, str]) -> Iterator[Measured]:
    for unit, zones in grouped(leaf.zones, lambda zone: zone.unit).items():
        net = sum(masonry_area(leaf, levels=zone.levels) for zone in zones)
        yield Measured(
            code=f"WALL-M2/{codes[unit.name]}/{codes[leaf.bond]}/{size(leaf.thickness)}",
            item=f"Walling in {unit_words(unit)}, {leaf.bond} bond, leaf {size(leaf.thickness)} mm thick",
            unit="m2",
            net=net / MM2,
            where=leaf.id,
            derivation="face as built less openings and strips too small to build; movement joints not deducted",
            waste=None,
        )


def _units(design: Design, leaf: Leaf, units: Mapping[str, Unit], codes: Mapping[str, str]) -> Iterator[Measured]:
    for count in design.coursing.of(leaf.id).counts:
        yield Measured(
            code=f"UNIT-NR/{codes[count.unit]}",
            item=f"Units: {unit_words(units[count.unit])}",
            unit="nr",
            net=count.full + count.cut,
            where=leaf.id,
            derivation=f"{count.full} whole + {count.cut} cut; each cut piece taken as one whole unit, off-cuts not reused",
            waste="units",
        )


def _mortar(leaf: Leaf, area: LeafArea) -> Measured:
    return Measured(
        code="MORTAR-M3",
        item="Mortar in beds and perpends, wet volume in place",
        unit="m3",
        net=area.mortar * leaf.thickness / MM3,
        where=leaf.id,
        derivation=f"bed and perpend face {area.mortar / MM2:.2f} m2 x {size(leaf.thickness)} mm; frogs and cores not filled",
        waste="mortar",
    )


def _cavities(design: Design) -> Iterator[Measured]:
    for wall in design.building.walls:
        if wall.cavity is not None and len(wall.leaves) == 2:
            yield _cavity(design, wall, wall.cavity)


def _cavity(design: Design, wall: Wall, width: float) -> Measured:
    return Measured(
        code=f"CAVITY-M2/{size(width)}",
        item=f"Forming cavity {size(width)} mm wide",
        unit="m2",
        net=cavity_area(design.building, wall) / MM2,
        where=wall.id,
        derivation="face both leaves share, less openings and strips too small to build",
        waste=None,
    )
