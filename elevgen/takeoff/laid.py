"""What was laid of a leaf, panel by panel and lift by lift: pieces counted, their face, and what of it is another wall's."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import fsum
from typing import NamedTuple

from elevgen.building.model import Building, Leaf
from elevgen.building.outline import polygon_area
from elevgen.coursing.model import LeafCoursing, Pattern, RakePiece
from elevgen.result import Design
from elevgen.takeoff.places import Face, Grid, grids

Place = tuple[str | None, int | None]
"""A panel and a lift."""


class PatternFacts(NamedTuple):
    """One laying of a pattern: units laid whole and cut pieces, face of all pieces (mm2), length of those that are stretchers
    and of those that end a wall round a corner (mm)."""

    unit: str
    whole: int
    cut: int
    face: float
    height: float
    stretchers: float
    returned: float


def facts_of(patterns: Iterable[Pattern]) -> dict[str, PatternFacts]:
    """Facts of every pattern, by its id."""
    return {pattern.id: _facts(pattern) for pattern in patterns}


def _facts(pattern: Pattern) -> PatternFacts:
    whole, cut = pattern.counts
    return PatternFacts(
        unit=pattern.unit,
        whole=whole,
        cut=cut,
        face=pattern.height * fsum(piece.length for piece in pattern.pieces),
        height=pattern.height,
        stretchers=fsum(p.length for p in pattern.pieces if p.laid == "stretcher" and p.kind != "return"),
        returned=fsum(piece.length for piece in pattern.pieces if piece.kind == "return"),
    )


@dataclass(slots=True)
class Laid:
    """Pieces of one kind of unit in one panel and lift: laid whole, cut, their face (mm2), that of stretchers; and of the ends
    of units round a corner, which are the other wall's, their face and that of the beds under them."""

    whole: int = 0
    cut: int = 0
    face: float = 0.0
    stretcher_face: float = 0.0
    returned_face: float = 0.0
    returned_beds: float = 0.0


@dataclass(slots=True)
class LeafLaid:
    """A leaf as laid: by kind of unit, by place; and from which level up each lift's courses lie, bed and all."""

    units: dict[str, dict[Place, Laid]] = field(default_factory=dict)
    lift_from: dict[int | None, float] = field(default_factory=dict)

    def at(self, unit: str, place: Place) -> Laid:
        return self.units.setdefault(unit, {}).setdefault(place, Laid())

    def face(self, place: Place) -> float:
        """Face of all units in a place."""
        return fsum(laid[place].face for laid in self.units.values() if place in laid)


def laid_of(leaf: Leaf, coursing: LeafCoursing, grid: Grid, facts: Mapping[str, PatternFacts]) -> LeafLaid:
    """Every placement and every piece under a slope put where it lies; a course is in the lift its units stand in."""
    found = LeafLaid()
    lift_of, bed_of = {}, {}
    for course in coursing.courses:
        lift = lift_of[course.number] = grid.lift_at(course.level)
        bed_of[course.number] = course.bed
        found.lift_from.setdefault(lift, course.level - course.bed)
    for placement in coursing.placements:
        one = facts[placement.pattern]
        here = found.at(one.unit, (grid.panel_at(placement.span.middle), lift_of[placement.course]))
        here.whole += one.whole
        here.cut += one.cut
        here.face += one.face
        here.stretcher_face += one.height * one.stretchers
        here.returned_face += one.height * one.returned
        here.returned_beds += one.returned * bed_of[placement.course]
    for rake in coursing.rakes:
        here = found.at(rake.unit, (grid.panel_at(_middle(rake)), lift_of[rake.course]))
        face = abs(polygon_area(rake.outline))
        here.cut += rake.deep
        here.face += face
        here.stretcher_face += face if rake.deep and rake.laid == "stretcher" else 0.0
        if not rake.deep:
            here.returned_face += face
            here.returned_beds += _length(rake) * bed_of[rake.course]
    return found


def _middle(rake: RakePiece) -> float:
    along = [point[0] for point in rake.outline]
    return (min(along) + max(along)) / 2


def _length(rake: RakePiece) -> float:
    along = [point[0] for point in rake.outline]
    return max(along) - min(along)


class Site(NamedTuple):
    """Everything the take-off asks again and again, by leaf: panels and lifts, the face, what was laid.

    The building has the walls that stand already too: new ones may meet them.
    """

    building: Building
    on: Mapping[str, Grid]
    faces: Mapping[str, Face]
    laid: Mapping[str, LeafLaid]


def site_of(design: Design, whole: Building) -> Site:
    """Looked at once for the whole take-off."""
    on, facts = grids(design), facts_of(design.coursing.patterns)
    leaves = design.building.leaves
    return Site(
        building=whole,
        on=on,
        faces={leaf.id: Face(leaf) for leaf in leaves},
        laid={leaf.id: laid_of(leaf, design.coursing.of(leaf.id), on[leaf.id], facts) for leaf in leaves},
    )
