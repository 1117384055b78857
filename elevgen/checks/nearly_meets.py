"""Ends of walls that stop just short of another wall are pointed out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Wall
from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._plan import pairs
from elevgen.core.figures import Figures
from elevgen.core.geometry import Point, Span, along, at_most, between, cross, direction, dot
from elevgen.result import Design, Finding

CODE = "nearly-meets"
TITLE = "Ends of walls just short of others"
RATIONALE = (
    "A wall drawn a little short of another is not joined to it here: no bond, no ties, and lengths are measured as if both "
    "ended free. Mostly a slip of the pen; where the gap is meant, nothing need be done."
)
NEAR = 150.0
"""A gap (mm) up to this looks like a wall meant to reach the other."""


class _Body(NamedTuple):
    """A wall as it stands in plan: its line, how far its masonry reaches along it and to its left, and its levels."""

    wall: Wall
    along: Span
    across: Span
    levels: Span

    def corner(self, at: float, left: float) -> Point:
        return along(self.wall.start, direction(self.wall.start, self.wall.end), at, left)

    def gap(self, p: Point) -> float:
        """How far a point stands off the wall; nothing inside it."""
        d, to = direction(self.wall.start, self.wall.end), between(self.wall.start, p)
        return hypot(_outside(self.along, dot(d, to)), _outside(self.across, cross(d, to)))


def check(design: Design) -> Iterator[Finding]:
    """From the free end of each wall to every wall it does not meet, in plan."""
    bodies = [_body(wall, design.building.leaves_of(wall.id)) for wall in design.building.walls]
    met = {frozenset((pair.host.id, pair.stem.id)) for pair in pairs(design.building)}
    any_near = False
    for body in bodies:
        for end, at in _free_ends(design.building, body):
            others = [o for o in bodies if o is not body and frozenset((o.wall.id, body.wall.id)) not in met]
            near = [(gap, o) for o in others if o.levels.overlaps(body.levels) and at_most(gap := _gap(body, at, o), NEAR)]
            for gap, other in near:
                any_near = True
                yield _named(design.figures, body.wall, end, other.wall, gap)
    if not any_near:
        yield found("pass", BUILDING, "no wall ends just short of another")


def _named(figures: Figures, wall: Wall, end: str, other: Wall, gap: float) -> Finding:
    place = Place(f"{wall.id} {end}", (wall.id,))
    text = f"the {end} of {wall.id} nearly meets {other.id}: {figures.measure(gap)} between them, taken as not joined"
    return found("note", place, text, measured=gap)


def _body(wall: Wall, leaves: Sequence[Leaf]) -> _Body:
    reach = Span(min(x.span.start for x in leaves), max(x.span.end for x in leaves))
    across = Span(min(x.offset for x in leaves), max(x.offset + x.thickness for x in leaves))
    levels = Span(min(x.base.lowest(x.span) for x in leaves), max(x.top.highest(x.span) for x in leaves))
    return _Body(wall, reach, across, levels)


def _free_ends(building: Building, body: _Body) -> Iterator[tuple[str, float]]:
    """The ends of a wall at which no leaf of it meets anything."""
    leaves = building.leaves_of(body.wall.id)
    if all(leaf.start_end.other is None for leaf in leaves):
        yield "start", body.along.start
    if all(leaf.finish_end.other is None for leaf in leaves):
        yield "end", body.along.end


def _gap(body: _Body, at: float, other: _Body) -> float:
    """From the end of a wall, by its corners and its middle, to another wall."""
    return min(other.gap(body.corner(at, left)) for left in (body.across.start, body.across.middle, body.across.end))


def _outside(span: Span, x: float) -> float:
    return max(span.start - x, x - span.end, 0.0)
