"""Units that one person should not lift are named, with how heavy they are."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Unit
from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import at_most
from elevgen.core.measures import CUBIC_METRE
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

CODE = "unit-mass"
TITLE = "Mass of units"
RATIONALE = "A heavy unit laid by one person all day hurts backs; it takes two people or a machine, and those have to be planned."
LIMIT = "lifting.mass"
DENSITY = "unit.density"


def check(design: Design) -> Iterator[Finding]:
    """The mass of every kind of unit against what one person lifts. One finding a kind.

    As told, else its size times the greatest usual density of its material: such a mass may be less, so it is only noted.
    """
    limit = rule(design, LIMIT)
    if limit is None:
        yield uncovered(design, BUILDING, LIMIT)
        return
    for unit in sorted(design.building.units, key=lambda unit: unit.name):
        yield _judged(design, unit, limit)


def _judged(design: Design, unit: Unit, limit: Sourced) -> Finding:
    place = _place(design, unit)
    told, mass = unit.mass is not None, unit.mass
    also: tuple[Sourced, ...] = ()
    if mass is None:
        key = f"{DENSITY}.{unit.material}"
        density = rule(design, key)
        if density is None:
            return uncovered(design, place, key)
        also = (density,)
        mass = unit.length * unit.height * unit.width * density.number / CUBIC_METRE
    known = (
        f"one weighs {design.figures.weight(mass, 1)}"
        if told
        else f"one may weigh up to {design.figures.weight(mass, 1)}, by its size"
    )
    if at_most(mass, limit.number):
        return found("pass", place, known, measured=mass, most=limit.number, unit="kg", source=limit, also=also)
    text = f"{known}: lift with two people or a machine"
    return found("warn" if told else "note", place, text, measured=mass, most=limit.number, unit="kg", source=limit, also=also)


def _place(design: Design, unit: Unit) -> Place:
    leaves = [leaf for leaf in design.building.leaves if any(zone.unit.name == unit.name for zone in leaf.zones)]
    return Place(f"unit {unit.name}", tuple(dict.fromkeys(leaf.wall for leaf in leaves)), tuple(leaf.id for leaf in leaves))
