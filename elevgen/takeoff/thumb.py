"""Rules of thumb beside what was measured: units and mortar to the square metre, mortar to a thousand units or to one.

A rule is only compared where walling is of the size it is printed for: the whole building's walling of one make-up, leaves of
one kind of unit, net as fixed. It decides nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import fsum
from typing import Literal, NamedTuple

from elevgen.building.model import Leaf
from elevgen.core.sourced import STATUS_WORDS
from elevgen.result import Design
from elevgen.takeoff.items import grouped, unit_words
from elevgen.takeoff.model import Thumb

MAKE_UPS: tuple[tuple[str, tuple[float, float], float], ...] = (
    ("half_brick", (215.0, 65.0), 102.5),
    ("one_brick", (215.0, 65.0), 215.0),
    ("block_100", (440.0, 215.0), 100.0),
    ("block_140", (440.0, 215.0), 140.0),
    ("block_215", (440.0, 215.0), 215.0),
)
"""What the rules are printed for: name, face of the unit, thickness of the leaf; all with joints of 10 mm."""
JOINT = 10.0

Ours = Literal["units_per_m2", "m3_per_m2", "m3_per_1000", "kg_per_unit"]


class Rule(NamedTuple):
    """A printed rule: its key, which of our figures it is about, what it is called, and half its last printed digit."""

    key: str
    ours: Ours
    item: str
    unit: str
    rounding: float


def _rules(make_up: str) -> Iterator[Rule]:
    if make_up in ("half_brick", "one_brick"):
        yield Rule(f"thumb.units.{make_up}", "units_per_m2", "Units to the square metre", "nr/m2", 5.0)
        yield Rule(f"thumb.mortar.{make_up}", "m3_per_m2", "Mortar to the square metre", "m3/m2", 0.00005)
        yield Rule(f"thumb.mortar.thousand.{make_up}", "m3_per_1000", "Mortar to a thousand units", "m3/1000", 0.0005)
    else:
        yield Rule("thumb.units.block", "units_per_m2", "Units to the square metre", "nr/m2", 0.0005)
        yield Rule(f"thumb.mortar.{make_up}", "m3_per_m2", "Mortar to the square metre", "m3/m2", 0.000005)
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
    for (make_up, name), alike in grouped(leaves, lambda one: (_make_up(one.leaf), one.leaf.zones[0].unit.name)).items():
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
        for rule in _rules(make_up):
            known = design.rules.values.get(rule.key)
            if known is not None:
                of = f"{unit_words(unit, design.figures)}, leaf {design.figures.measure(thickness)} thick"
                yield Thumb(f"{rule.item}: {of}", name, rule.unit, figures[rule.ours], known.number, rule.rounding, known)


def _make_up(leaf: Leaf) -> str | None:
    """The make-up a rule is printed for that a leaf has; None: another size, or more kinds of unit than one."""
    first = leaf.zones[0].unit
    if any(zone.unit.name != first.name for zone in leaf.zones) or max(abs(first.joint - JOINT), abs(first.bed - JOINT)) > 0.05:
        return None
    found = (
        name
        for name, face, thickness in MAKE_UPS
        if all(abs(a - b) < 0.5 for a, b in zip((first.length, first.height, leaf.thickness), (*face, thickness), strict=True))
    )
    return next(found, None)


def _mass(design: Design, volume: float) -> float | None:
    density = design.rules.values.get("lintel.load.mortar.density")
    return None if density is None else volume * density.number


def mortar_words(design: Design, leaf: Leaf, area: float) -> str:
    """For a leaf's derivation: what the rules of thumb for mortar make of its net face (m2); empty where there is none."""
    make_up = _make_up(leaf)
    figures, said = design.figures, []
    for rule in _rules(make_up) if make_up else ():
        known = design.rules.values.get(rule.key)
        if known is None or rule.ours not in ("m3_per_m2", "kg_per_unit"):
            continue
        much = f", {figures.amount(known.number * area, 'm3', 3)}" if rule.ours == "m3_per_m2" else " a unit, waste in it"
        said.append(f"{figures.few(known.number, rule.unit, 6)}{much} ({STATUS_WORDS[known.status]})")
    return f"; rule of thumb {', and '.join(said)}" if said else ""
