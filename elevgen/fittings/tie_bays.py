"""Where in a row ties can stand: the stretches both leaves are built over, and the edges that end them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, LeafEnd
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_most, merge, subtract
from elevgen.coursing.faces import gaps_at, standing, touches
from elevgen.fittings.beds import Bed
from elevgen.fittings.model import TieKind
from elevgen.fittings.tie_rows import Row
from elevgen.joints.model import MovementJoint


class Room(NamedTuple):
    """How far a tie stays from a reveal, a joint or the end of a leaf, and from the next tie in its bed (mm)."""

    clear: float = 20.0
    apart: float = 100.0


KEPT = Room()
"""What is kept where the rule set says nothing."""

ROUND = 6.0
"""A tie lies no nearer than this to a head, a sill, the base or the top: it would hang in the opening or under the wall."""

LYING = 2.0
"""A tie lies no nearer than this to a lintel in the place of units: half as thick as it is; beds over and under one are free."""


class Cavity(NamedTuple):
    """The two leaves of a wall and their beds, with all movement joints of either; ties stand over `span`, between `levels`.

    `changes`: whether a leaf goes on past its start, and past its end, in another unit or thickness. `bodies`: the lintels of
    either leaf that take the place of units.
    """

    outer: Leaf
    inner: Leaf
    outer_beds: tuple[Bed, ...]
    inner_beds: tuple[Bed, ...]
    joints: tuple[MovementJoint, ...]
    changes: tuple[bool, bool] = (False, False)
    keep: Room = KEPT
    bodies: tuple[Rect, ...] = ()

    @property
    def span(self) -> Span:
        return Span(max(self.outer.span.start, self.inner.span.start), min(self.outer.span.end, self.inner.span.end))

    @property
    def levels(self) -> Span:
        """From the higher of the two lowest beds to the lower of the two tops."""
        lowest = [leaf_beds[0].under for leaf_beds in (self.outer_beds, self.inner_beds) if leaf_beds]
        return Span(
            max((course.level - course.bed / 2 for course in lowest), default=self.outer.base.lowest(self.outer.span)),
            min(leaf.top.highest(leaf.span) for leaf in (self.outer, self.inner)),
        )


class Bay(NamedTuple):
    """A stretch of a row with masonry in both leaves; `before` and `after` say which edge needs a tie, and of what kind.

    `back_before` and `back_after` are how far behind that edge another one stands that the same tie must serve.
    """

    span: Span
    before: TieKind | None
    after: TieKind | None
    back_before: float = 0.0
    back_after: float = 0.0


class Hole(NamedTuple):
    """Openings, joint gaps and lintels of either leaf with no room for a tie between them, as one: their edges and kinds.

    A lintel has no kind: its ends need no ties of their own.
    """

    span: Span
    parts: tuple[tuple[Span, TieKind | None], ...]

    def left_edge(self, reach: float) -> tuple[TieKind | None, float]:
        """Kind of the edge ties to its left serve, if any, and how far behind it the last edge within `reach` stands."""
        served = [(span.start, kind) for span, kind in self.parts if kind and at_most(span.start - self.span.start, reach)]
        if not served:
            return None, 0.0
        return strongest(kind for _, kind in served), max(at for at, _ in served) - self.span.start

    def right_edge(self, reach: float) -> tuple[TieKind | None, float]:
        """The same of its right edge."""
        served = [(span.end, kind) for span, kind in self.parts if kind and at_most(self.span.end - span.end, reach)]
        if not served:
            return None, 0.0
        return strongest(kind for _, kind in served), self.span.end - min(at for at, _ in served)


def bays(cavity: Cavity, row: Row, reach: float) -> Iterator[Bay]:
    """The stretches of a row where both leaves have masonry under and over their bed."""
    before, after = end_kinds(cavity)
    starts: dict[float, tuple[TieKind | None, float]] = {cavity.span.start: (before, 0.0)} if before else {}
    ends: dict[float, tuple[TieKind | None, float]] = {cavity.span.end: (after, 0.0)} if after else {}
    for at in _steps(cavity, row):
        starts[at] = ends[at] = ("end", 0.0)
    holes = _holes(cavity, row)
    behind = max(reach - cavity.keep.clear, 0.0)
    for hole in holes:
        ends[hole.span.start] = hole.left_edge(behind)
        starts[hole.span.end] = hole.right_edge(behind)
    for outer in standing(cavity.outer, _round(row)):
        for inner in standing(cavity.inner, _round(row)):
            both = outer.common(inner)
            for left in subtract(both, [hole.span for hole in holes]) if both else ():
                kind_before, back_before = starts.get(left.start, (None, 0.0))
                kind_after, back_after = ends.get(left.end, (None, 0.0))
                yield Bay(left, kind_before, kind_after, back_before, back_after)


def strongest(kinds: Iterable[TieKind]) -> TieKind:
    """Of the kinds one tie serves, the one it is called by."""
    order: tuple[TieKind, ...] = ("joint", "reveal", "end")
    return min(kinds, key=order.index)


def _holes(cavity: Cavity, row: Row) -> tuple[Hole, ...]:
    """Openings, joint gaps and lintels along a row; those too near one another for a tie between them made one.

    An end of the wall or a step that a lintel covers is an edge of its hole.
    """
    levels = _round(row)
    parts: list[tuple[Span, TieKind | None]] = [(gap, "joint") for gap in gaps_at(cavity.joints, levels)]
    for leaf in (cavity.outer, cavity.inner):
        parts += [(void.along, "reveal") for void in leaf.voids if touches(void, levels)]
    bodies = [body.along for body in cavity.bodies if in_body(body, row.level)]
    parts += [(along, None) for along in bodies]
    parts += [(Span(at, at), kind) for at, kind in _ends(cavity, row) if any(along.contains(at) for along in bodies)]
    parts.sort(key=lambda part: (part[0], part[1] or ""))
    together = merge((span for span, _ in parts), gap=2 * cavity.keep.clear)
    return tuple(Hole(whole, tuple(part for part in parts if whole.contains(part[0].middle))) for whole in together)


def _ends(cavity: Cavity, row: Row) -> Iterator[tuple[float, TieKind]]:
    """The free ends of the wall, and of its higher parts at a row."""
    for at, kind in zip((cavity.span.start, cavity.span.end), end_kinds(cavity), strict=True):
        if kind:
            yield at, kind
    for at in _steps(cavity, row):
        yield at, "end"


def in_body(body: Rect, level: float) -> bool:
    """Whether a tie at a level that stands over the length of a lintel in the place of units would lie in it."""
    return touches(body, Span(level, level).grown(LYING - 2 * TOLERANCE))


def _round(row: Row) -> Span:
    """What must be solid round a tie for it to lie in a row."""
    return Span(row.level, row.level).grown(ROUND - 2 * TOLERANCE)


def end_kinds(cavity: Cavity) -> tuple[TieKind | None, TieKind | None]:
    """What ties at the start and the end of the wall are there for; None where the leaves simply go on round a corner.

    A leaf tied or bonded to nothing has an edge there that wants ties (PD 6697, unbonded edges), and so has one that goes on as
    another: in a change of unit or thickness one side may move against the other.
    """

    def kind(ends: tuple[LeafEnd, LeafEnd], change: bool) -> TieKind | None:
        if any(end.connection == "jointed" for end in ends):
            return "joint"
        return "end" if change or any(end.kind == "stopped" or end.connection == "free" for end in ends) else None

    return (
        kind((cavity.outer.start_end, cavity.inner.start_end), cavity.changes[0]),
        kind((cavity.outer.finish_end, cavity.inner.finish_end), cavity.changes[1]),
    )


def _steps(cavity: Cavity, row: Row) -> Iterator[float]:
    """Where the top steps past a row: the higher part ends in the air there."""
    for leaf in (cavity.outer, cavity.inner):
        for (a, low), (b, high) in pairwise(leaf.top.clipped(leaf.span)):
            if b - a <= TOLERANCE and min(low, high) - ROUND < row.level < max(low, high):
                yield from (a, b)


def changes_on(building: Building, leaf: Leaf, end: LeafEnd) -> bool:
    """Whether a leaf goes on past its end in the same line, as another: of other units, or thicker or thinner."""
    beyond = next((other for other in building.leaves if other.id == end.other), None)
    if end.kind != "corner" or beyond is None or abs(end.near - end.far) > TOLERANCE:
        return False
    here, there = ([(zone.unit, zone.levels.start) for zone in one.zones] for one in (leaf, beyond))
    alike = here[0][0] == there[0][0] and here[1:] == there[1:]
    return not alike or abs(beyond.thickness - leaf.thickness) > TOLERANCE
