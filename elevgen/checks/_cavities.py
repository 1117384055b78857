"""The two leaves of a cavity wall and the ties between them, as they lie."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import NamedTuple

from elevgen.building.model import Leaf, Wall
from elevgen.checks._masonry import face_area, gaps_at, joints_by_leaf, stretches
from elevgen.core.geometry import TOLERANCE, Rect, Span, subtract
from elevgen.fittings.model import Tie, WallTies
from elevgen.joints.model import MovementJoint
from elevgen.result import Design

BED = 6.0
"""Half the height (mm) of the band that must be solid round a tie's level for it to lie in a bed there."""
LYING = 2.0
"""Half the thickness (mm) of a tie: it lies in a bed over or under a lintel in the place of units that is as far from it."""


class Cavity(NamedTuple):
    """A wall of two leaves; `ties` are those across its cavity, by level and then along it.

    `bodies`: the lintels of either leaf in the place of units: masonry no tie can lie in.
    """

    wall: Wall
    outer: Leaf
    inner: Leaf
    joints: tuple[MovementJoint, ...]
    given: WallTies | None
    ties: tuple[Tie, ...]
    bodies: tuple[Rect, ...] = ()

    @property
    def span(self) -> Span:
        """The stretch that both leaves have."""
        return Span(max(self.outer.span.start, self.inner.span.start), min(self.outer.span.end, self.inner.span.end))

    @property
    def levels(self) -> Span:
        """From the higher of the two bases to the lower of the two tops."""
        leaves = self.outer, self.inner
        return Span(max(x.base.lowest(x.span) for x in leaves), min(x.top.highest(x.span) for x in leaves))

    def rows(self) -> list[tuple[float, list[Tie]]]:
        """The ties by level."""
        return [(level, list(row)) for level, row in groupby(self.ties, key=lambda t: t.level)]

    def solid(self, level: float) -> tuple[Span, ...]:
        """Where both leaves have masonry round a level that a tie can lie in: clear of movement joints and of lintels."""
        taken = [body.along for body in self.bodies if in_body(body, level)]
        return tuple(left for span in self.standing(level) for left in subtract(span, taken))

    def standing(self, level: float) -> tuple[Span, ...]:
        """Where both leaves have masonry round a level, clear of movement joints; lintels in the place of units are masonry."""
        band = Span(level - BED, level + BED)
        outer = stretches(self.outer, band, gaps_at(self.joints, level))
        inner = stretches(self.inner, band)
        return tuple(common for a in outer for b in inner if (common := a.common(b)))

    def area(self, over: Span | None = None) -> float:
        """The face both leaves have, over all of it or a stretch, voids left out (mm2): the lesser of the two."""
        return min(_net_area(leaf, over or self.span) for leaf in (self.outer, self.inner))


def cavities(design: Design) -> Iterator[Cavity]:
    """Every wall of two leaves."""
    joints = joints_by_leaf(design)
    given = {ties.wall: ties for ties in design.fittings.ties}
    for wall in design.building.walls:
        if len(wall.leaves) == 2:
            outer, inner = (design.building.leaf(leaf) for leaf in wall.leaves)
            laid = given.get(wall.id)
            across = [tie for tie in laid.ties if tie.kind not in ("partition", "slip")] if laid else []
            ordered = tuple(sorted(across, key=lambda t: (t.level, t.at)))
            bodies = (*bodies_of(design, outer), *bodies_of(design, inner))
            yield Cavity(wall, outer, inner, (*joints[outer.id], *joints[inner.id]), laid, ordered, bodies)


def bodies_of(design: Design, leaf: Leaf) -> tuple[Rect, ...]:
    """What the lintels of a leaf in the place of units take of its face."""
    return tuple(body for lintel in design.fittings.lintels if lintel.leaf == leaf.id and (body := lintel.body))


def in_body(body: Rect, level: float) -> bool:
    """Whether a tie at a level that stands over the length of a lintel lies in it."""
    return body.bottom - LYING + TOLERANCE <= level <= body.top + LYING - TOLERANCE


def column(cavity: Cavity, at: float) -> tuple[Span, ...]:
    """The levels at which both leaves have masonry at a place along the wall."""
    found: tuple[Span, ...] = (Span(float("-inf"), float("inf")),)
    for leaf in (cavity.outer, cavity.inner):
        if not leaf.span.contains(at):
            return ()
        whole = Span(leaf.base.level_right_of(at), leaf.top.level_right_of(at))
        left = subtract(whole, [void.levels for void in leaf.voids if void.left < at < void.right])
        found = tuple(common for a in found for b in left if (common := a.common(b)))
    return found


def _net_area(leaf: Leaf, over: Span) -> float:
    voids = sum(common.length * void.height for void in leaf.voids if (common := void.along.common(over)))
    return face_area(leaf, over) - voids
