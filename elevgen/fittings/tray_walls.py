"""What a cavity tray needs of the wall it goes into, and what every tray is made of whatever it is over. Lengths mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import hypot
from typing import NamedTuple

from elevgen.building.model import Leaf, Wall
from elevgen.core.geometry import Span, at_least, subtract
from elevgen.coursing.faces import gaps_at, masonry
from elevgen.coursing.model import LeafCoursing, Pattern
from elevgen.fittings.beds import Bed
from elevgen.fittings.model import Tray, TrayKind
from elevgen.fittings.weeps import Weeps, perpends_on, weep_holes
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

RISE, BUILT_IN, BARRED = "tray.rise", "tray.built_in", "tray.barred"
SPACING, LEAST = "weep.spacing", "weep.minimum"


class TrayWall(NamedTuple):
    """A wall that takes trays: its leaves (no inner one where it has but one), their beds, what is laid in the outer one."""

    wall: Wall
    outer: Leaf
    inner: Leaf | None
    outer_beds: Sequence[Bed]
    inner_beds: Sequence[Bed]
    laid: LeafCoursing
    patterns: Mapping[str, Pattern]
    joints: Sequence[MovementJoint]

    def gaps(self, level: float) -> list[Span]:
        """The movement joints of the outer leaf at a level."""
        return gaps_at(self.joints, Span(level, level))

    def upper_edge(self, level: float, along: Span, rise: float) -> float | None:
        """The first bed of the inner leaf high enough for the tray's upper edge; None where it is not there all along."""
        if self.inner is None:
            return None
        bed = next((bed for bed in self.inner_beds if at_least(bed.levels.start - level, rise)), None)
        inside = along.common(self.inner.span)
        if bed is None or inside is None or subtract(inside, masonry(self.inner, bed.levels)):
            return None
        return bed.levels.start

    def sheet_width(self, level: float, upper: float | None, rise: float, built_in: float) -> float | None:
        """Across the outer leaf, up the cavity and into the inner leaf; only up its face where it has no bed for it."""
        if self.inner is None or self.wall.cavity is None:
            return None
        up = rise if upper is None else upper - level
        into = 0.0 if upper is None else min(built_in, self.inner.thickness)
        return self.outer.thickness + hypot(self.wall.cavity, up) + into


class Place(NamedTuple):
    """Where a tray lies and how it ends, before the rest of it is worked out."""

    level: float
    along: Span
    stop_ends: int
    kind: TrayKind
    openings: tuple[str, ...] = ()


def made(
    where: TrayWall, place: Place, name: str, weeps: int, keys: Sequence[str], reader: RuleReader, given: bool = False
) -> Tray:
    """A tray with its upper edge, its width and so many weeps at least; with none where `weeps` is 0. `keys`: rules behind it.

    One of a stepped row comes ready made: it has no sheet.
    """
    rise = figure(reader, RISE)
    loose = place.kind == "step" or rise is None
    upper = None if loose else where.upper_edge(place.level, place.along, rise or 0.0)
    barred = reader.find(BARRED)
    holes = _weeps(where, place, weeps, reader) if weeps else Weeps(())
    return Tray(
        id=name,
        wall=where.wall.id,
        opening=place.openings[0] if place.openings else "",
        level=place.level,
        span=place.along,
        stop_ends=place.stop_ends,
        weeps=holes.at,
        basis=covered(reader, *keys, *(() if loose else (RISE, BUILT_IN)), *((SPACING, LEAST) if weeps else ()), BARRED),
        given=given,
        kind=place.kind,
        openings=place.openings,
        leaf=where.outer.id,
        upper=upper,
        width=None if loose else where.sheet_width(place.level, upper, rise or 0.0, figure(reader, BUILT_IN) or 0.0),
        cut_weeps=holes.cut,
        barred=barred.words if barred else (),
    )


def _weeps(where: TrayWall, place: Place, least: int, reader: RuleReader) -> Weeps:
    """None at all where the rule set has no spacing."""
    spacing = figure(reader, SPACING)
    if spacing is None:
        return Weeps(())
    lines = perpends_on(where.laid, where.patterns, place.level, place.along)
    return weep_holes(lines, place.along, spacing, least)
