"""How heavy units are, and what one person lifts."""

from __future__ import annotations

from elevgen.building.model import Building, Unit
from elevgen.core.measures import CUBIC_METRE
from elevgen.coursing.model import UnitMass
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure


def masses_of(building: Building, reader: RuleReader) -> tuple[UnitMass, ...]:
    """The mass of each unit of the building, kg, beside the limit `lifting.mass`; by name.

    As told, else size times `unit.density.<material>`: holes are not taken off, so that the answer is rather too great.
    """
    most = figure(reader, "lifting.mass")
    units = sorted(building.units, key=lambda unit: unit.name)
    return tuple(UnitMass(u.name, _mass(u, reader), u.mass is not None, most) for u in units)


def _mass(unit: Unit, reader: RuleReader) -> float | None:
    if unit.mass is not None:
        return unit.mass
    density = figure(reader, f"unit.density.{unit.material}")
    return None if density is None else unit.length * unit.width * unit.height / CUBIC_METRE * density
