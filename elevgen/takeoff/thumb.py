"""Rules of thumb beside what was measured: units and mortar to the square metre, mortar to a thousand units or to one.

A rule is only compared where walling is of the size it is printed for: the whole building's walling of one make-up, leaves of
one kind of unit, net as fixed. It decides nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import fsum
from types import MappingProxyType
from typing import Literal, NamedTuple

from elevgen.building.model import Leaf, Unit
from elevgen.core.figures import Lengths
from elevgen.core.measures import MM_PER_INCH
from elevgen.result import Design
from elevgen.rules.book import CatalogueUnit
from elevgen.takeoff.items import grouped, unit_words
from elevgen.takeoff.model import Thumb


class MakeUp(NamedTuple):
    """Walling rules are printed for: face of the unit, thickness of the leaf, perpend and bed (mm)."""

    name: str
    face: tuple[float, float]
    thickness: float
    joint: float
    bed: float


IN = float(MM_PER_INCH)
FT = 0.3048
SF = FT**2
"""Metres in a foot; square metres in a square foot."""
MAKE_UPS: Mapping[Lengths, tuple[MakeUp, ...]] = MappingProxyType(
    {
        "mm": (
            MakeUp("half_brick", (215.0, 65.0), 102.5, 10.0, 10.0),
            MakeUp("one_brick", (215.0, 65.0), 215.0, 10.0, 10.0),
            MakeUp("block_100", (440.0, 215.0), 100.0, 10.0, 10.0),
            MakeUp("block_140", (440.0, 215.0), 140.0, 10.0, 10.0),
            MakeUp("block_215", (440.0, 215.0), 215.0, 10.0, 10.0),
            MakeUp("half_brick", (230.0, 76.0), 110.0, 10.0, 10.0),
            *(MakeUp("block", (390.0, 190.0), n, 10.0, 10.0) for n in (90.0, 140.0, 190.0)),
        ),
        "feet": (
            MakeUp("half_brick", (7.625 * IN, 2.25 * IN), 3.625 * IN, 0.375 * IN, 5 / 12 * IN),
            *(
                MakeUp("block", (15.625 * IN, 7.625 * IN), n * IN, 0.375 * IN, 0.375 * IN)
                for n in (3.625, 5.625, 7.625, 9.625, 11.625)
            ),
        ),
    }
)
"""What the rules are printed for, by how the country writes lengths: brick of 215 and block of 440 mm, brick of 230 and block
of 390 mm, or modular brick and block 8 x 16 in nominal. A rule set's rules are for those of the sizes its own units have."""

Ours = Literal["units_per_m2", "m3_per_m2", "m3_per_1000", "kg_per_unit"]


class Rule(NamedTuple):
    """A printed rule: its key, which of our figures it is about, what it is called, and half its last printed digit."""

    key: str
    ours: Ours
    item: str
    unit: str
    rounding: float


_ROUNDED: Mapping[Lengths, Mapping[str, float]] = MappingProxyType(
    {
        "mm": {"units": 5.0, "mortar": 0.00005, "thousand": 0.0005, "block": 0.0005, "block_mortar": 0.000005},
        "feet": {"units": 0.005 / SF, "mortar": 0.05 * FT / 100, "thousand": 0.05 * FT**3, "block": 0.0005 / SF},
    }
)
"""Half the last digit rules are printed to: bricks to the nearest ten a square metre, or to 0.01 a square foot; and so on."""


def _rules(make_up: str, lengths: Lengths, square: str = "") -> Iterator[Rule]:
    """The rules printed for a make-up; `square`: the area people count by, in words."""
    rounded = _ROUNDED[lengths]
    if make_up in ("half_brick", "one_brick"):
        yield Rule(f"thumb.units.{make_up}", "units_per_m2", f"Units to the {square}", "nr/m2", rounded["units"])
        yield Rule(f"thumb.mortar.{make_up}", "m3_per_m2", f"Mortar to the {square}", "m3/m2", rounded["mortar"])
        yield Rule(
            f"thumb.mortar.thousand.{make_up}", "m3_per_1000", "Mortar to a thousand units", "m3/1000", rounded["thousand"]
        )
    else:
        yield Rule("thumb.units.block", "units_per_m2", f"Units to the {square}", "nr/m2", rounded["block"])
        if make_up != "block":
            item = f"Mortar to the {square}"
            yield Rule(f"thumb.mortar.{make_up}", "m3_per_m2", item, "m3/m2", rounded["block_mortar"])
    if make_up == "half_brick":
        yield Rule("thumb.mortar.mass.brick", "kg_per_unit", "Mortar to a unit", "kg", 0.5)
    if make_up == "block_100":
        yield Rule("thumb.mortar.mass.block_100", "kg_per_unit", "Mortar to a unit", "kg", 0.005)


class LeafFigures(NamedTuple):
    """What the comparison needs of a leaf: net face (m2), whole units it takes, mortar without hollows filled (m3)."""

    leaf: Leaf
    area: float
    units: int
    mortar: float


def thumbs(design: Design, leaves: Iterable[LeafFigures]) -> Iterator[Thumb]:
    """Every rule of thumb the rule set has for walling of this building, in the order of its leaves."""
    for (make_up, name), alike in grouped(leaves, lambda one: (_make_up(design, one.leaf), one.leaf.zones[0].unit.name)).items():
        area, units = fsum(one.area for one in alike), sum(one.units for one in alike)
        if make_up is None or not area or not units:
            continue
        volume = fsum(one.mortar for one in alike)
        figures: dict[Ours, float | None] = {
            "units_per_m2": units / area,
            "m3_per_m2": volume / area,
            "m3_per_1000": volume / units * 1000,
            "kg_per_unit": _mass(design, volume / units),
        }
        unit, thickness = alike[0].leaf.zones[0].unit, alike[0].leaf.thickness
        square = "square foot" if design.figures.in_feet else "square metre"
        for rule in _rules(make_up, design.rules.lengths, square):
            known = design.rules.values.get(rule.key)
            if known is not None:
                of = f"{unit_words(unit, design.figures)}, leaf {design.figures.measure(thickness)} thick"
                yield Thumb(f"{rule.item}: {of}", name, rule.unit, figures[rule.ours], known.number, rule.rounding, known)


def _make_up(design: Design, leaf: Leaf) -> str | None:
    """The make-up a rule is printed for that a leaf has; None: another size, or more kinds of unit than one."""
    first = leaf.zones[0].unit
    if any(zone.unit.name != first.name for zone in leaf.zones):
        return None
    own = [
        known for known in MAKE_UPS[design.rules.lengths] if any(_face_fits(known, unit) for unit in design.rules.units.values())
    ]
    return next((known.name for known in own if _fits(known, first, leaf.thickness)), None)


def _face_fits(known: MakeUp, unit: Unit | CatalogueUnit) -> bool:
    return all(abs(a - b) < 0.5 for a, b in zip((unit.length, unit.height), known.face, strict=True))


def _fits(known: MakeUp, unit: Unit, thickness: float) -> bool:
    joints = (abs(unit.joint - known.joint), abs(unit.bed - known.bed))
    return max(joints) <= 0.05 and _face_fits(known, unit) and abs(thickness - known.thickness) < 0.5


def _mass(design: Design, volume: float) -> float | None:
    density = design.rules.values.get("lintel.load.mortar.density")
    return None if density is None else volume * density.number


def mortar_words(design: Design, leaf: Leaf, area: float) -> str:
    """For a leaf's derivation: what the rules of thumb for mortar make of its net face (m2); empty where there is none."""
    make_up = _make_up(design, leaf)
    figures, said = design.figures, []
    for rule in _rules(make_up, design.rules.lengths) if make_up else ():
        known = design.rules.values.get(rule.key)
        if known is None or rule.ours not in ("m3_per_m2", "kg_per_unit"):
            continue
        much = f", {figures.amount(known.number * area, 'm3', 3)}" if rule.ours == "m3_per_m2" else " a unit, waste in it"
        said.append(f"{figures.few(known.number, rule.unit, 6)}{much} ({known.known})")
    return f"; rule of thumb {', and '.join(said)}" if said else ""
