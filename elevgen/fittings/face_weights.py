"""How heavy the masonry of a leaf is, by the face of it."""

from __future__ import annotations

from dataclasses import dataclass

from elevgen.building.model import Leaf, Unit
from elevgen.core.measures import CUBIC_METRE
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

GRAVITY = 9.81e-3
"""Kilonewtons to a kilogram."""
MORTAR = "lintel.load.mortar.density"


@dataclass(frozen=True, slots=True)
class FaceWeight:
    """What masonry of one unit weighs with its mortar: kg to the m3, `each` kN to the mm2 of face; the rules behind it."""

    unit: str
    density: float
    each: float
    basis: tuple[str, ...]


def face_weight(unit: Unit, leaf: Leaf, reader: RuleReader) -> FaceWeight | None:
    """Units by their mass where it is told, else by `unit.density.<material>`; what is left of their modules is mortar.

    None where the rule set lacks a density. Holes in units are taken as there only where the mass is told.
    """
    key = f"unit.density.{unit.material}"
    volume = unit.length * unit.height * unit.width
    mortar = figure(reader, MORTAR)
    units = unit.mass / volume * CUBIC_METRE if unit.mass is not None else figure(reader, key)
    if units is None or mortar is None:
        return None
    share = volume / (unit.module * unit.gauge * _deep(unit, leaf))
    density = share * units + (1 - share) * mortar
    basis = (MORTAR,) if unit.mass is not None else (MORTAR, key)
    return FaceWeight(unit.name, density, density / CUBIC_METRE * leaf.thickness * GRAVITY, basis)


def lacking(unit: Unit, reader: RuleReader) -> tuple[str, ...]:
    """The rules `face_weight` wants and the set has no value for."""
    keys = (MORTAR,) if unit.mass is not None else (MORTAR, f"unit.density.{unit.material}")
    return tuple(key for key in keys if reader.find(key) is None)


def _deep(unit: Unit, leaf: Leaf) -> float:
    """What a unit takes of the thickness of its leaf: with a joint behind it where another one lies there."""
    return unit.width + unit.joint if leaf.build == "one_brick" else unit.width
