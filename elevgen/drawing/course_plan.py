"""A course seen from above: every piece as a polygon on plan, read off the coursing's patterns.

At a corner of any angle the end of a course is cut along the wall round the corner. Pieces are drawn as deep as their leaf is
thick; in a leaf one brick thick, stretchers lie one behind another with a joint between them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal, NamedTuple

from shapely import Polygon, box

from elevgen.building.model import Building, Leaf, LeafEnd, Unit, Wall
from elevgen.core.geometry import TOLERANCE, Point, Span, along, cross, direction, dot
from elevgen.coursing.model import Coursing, Pattern, Piece, Placement

LEAST = 1.0
"""Smaller than this (mm2) what is left of a piece is no piece."""
OPENED = 8.0
"""By how much the perpends at a corner, opened or tightened, may differ from nominal ones (mm)."""
_FAR = 1e5
_CUT_BACK = 60.0
"""How far short of its leaf's end a course may stop and still be the one that ends there: a perpend, or a movement joint."""

Side = Literal[0, 1]
"""Which end of a leaf: its start or its finish."""


class PlanPiece(NamedTuple):
    """A unit, or a part of one, seen from above. `outline` is in the building's plan; `length` is what it really is long.

    `whole` is False where the drawing breaks off in it.
    """

    leaf: str
    unit: str
    outline: Polygon
    length: float
    cut: bool
    laid: str
    whole: bool = True


class CoursePlan(NamedTuple):
    """One course of a leaf from above; `perpends` are the middles of its vertical joints along the wall line."""

    leaf: str
    course: int
    level: float
    pieces: tuple[PlanPiece, ...]
    perpends: tuple[float, ...]


class Courses:
    """The courses of a building, found by leaf and number. Polygons are made only of what is asked for."""

    def __init__(self, building: Building, coursing: Coursing) -> None:
        self.leaves = {leaf.id: leaf for leaf in building.leaves}
        self.walls = {wall.id: wall for wall in building.walls}
        self._units = {unit.name: unit for unit in building.units}
        self._patterns: Mapping[str, Pattern] = {pattern.id: pattern for pattern in coursing.patterns}
        self._levels = {laid.leaf: {c.number: c.level for c in laid.courses} for laid in coursing.leaves}
        self._placed: dict[str, dict[int, list[Placement]]] = {}
        for laid in coursing.leaves:
            by_course = self._placed.setdefault(laid.leaf, {})
            for placement in laid.placements:
                by_course.setdefault(placement.course, []).append(placement)

    def level(self, leaf: str, course: int) -> float:
        """The underside of a course's units."""
        return self._levels[leaf][course]

    def above(self, leaf: str, course: int) -> int | None:
        """The next course up that has units; None under the top."""
        return min((n for n in self._placed[leaf] if n > course), default=None)

    def reaching(self, leaf: Leaf, near: Span) -> tuple[int, ...]:
        """The courses with masonry in a stretch of the leaf, lowest first."""
        placed = self._placed[leaf.id]
        return tuple(n for n in sorted(placed) if any(p.span.overlaps(near) for p in placed[n]))

    def plan(self, leaf_id: str, course: int, near: Span) -> CoursePlan:
        """A course of a leaf over a stretch of it, every piece whole that reaches into the stretch."""
        leaf = self.leaves[leaf_id]
        pieces: list[PlanPiece] = []
        perpends: list[float] = []
        for placement in self._placed[leaf_id].get(course, ()):
            if placement.span.overlaps(near):
                pattern = self._patterns[placement.pattern]
                pieces += self._pieces(leaf, placement, pattern, near)
                lines = (placement.span.start + p.at + p.width / 2 for p in pattern.perpends)
                perpends += [at for at in lines if near.contains(at)]
        return CoursePlan(leaf_id, course, self.level(leaf_id, course), tuple(pieces), tuple(sorted(perpends)))

    def _pieces(self, leaf: Leaf, placement: Placement, pattern: Pattern, near: Span) -> Iterator[PlanPiece]:
        wall, unit = self.walls[leaf.wall], self._units[pattern.unit]
        spans = real_spans(leaf, placement, pattern, unit)
        if not spans:
            return
        first, last = min(s.start for s, _, _ in spans), max(s.end for s, _, _ in spans)
        within = self._between_ends(leaf, placement, first, last)
        for span, piece, real in spans:
            reach = Span(
                span.start - _FAR if span.start == first else span.start, span.end + _FAR if span.end == last else span.end
            )
            if not span.overlaps(near):
                continue
            for depth in depths(leaf, unit, piece, outside_of(leaf, span)):
                outline = box(reach.start, depth.start, reach.end, depth.end).intersection(within)
                if isinstance(outline, Polygon) and outline.area > LEAST:
                    placed = Polygon([on_plan(wall, s, t) for s, t in outline.exterior.coords[:-1]])
                    cut = piece.kind == "cut" or pattern.split
                    yield PlanPiece(leaf.id, unit.name, placed, real, cut, piece.laid)

    def _between_ends(self, leaf: Leaf, placement: Placement, first: float, last: float) -> Polygon:
        """The stretch of the leaf a placement fills, its two ends cut along the walls it meets there; (at, left) points.

        Walls met almost in a line may cut it to a point.
        """
        low, high = leaf.offset, leaf.offset + leaf.thickness
        slopes = []
        for end, edge, reached in (
            (leaf.start_end, leaf.span.start, placement.span.start),
            (leaf.finish_end, leaf.span.end, placement.span.end),
        ):
            slopes.append(self._slope(leaf, end) if abs(reached - edge) <= _CUT_BACK else 0.0)
        if leaf.start_end.lean > 0.0:
            first = max(first, leaf.start_end.far)
        if leaf.finish_end.lean > 0.0:
            last = min(last, leaf.finish_end.far)
        rise = high - low
        if (slopes[0] - slopes[1]) * rise > last - first > 0.0:
            meet = (last - first) / (slopes[0] - slopes[1])
            return Polygon([(first, low), (last, low), (first + slopes[0] * meet, low + meet)])
        return Polygon([(first, low), (last, low), (last + slopes[1] * rise, high), (first + slopes[0] * rise, high)])

    def _slope(self, leaf: Leaf, end: LeafEnd) -> float:
        """How far along this wall the wall met runs for every millimetre to the left."""
        if end.other is None or end.kind == "stopped":
            return 0.0
        mine, met = self.walls[leaf.wall], self.walls[self.leaves[end.other].wall]
        d, e = direction(mine.start, mine.end), direction(met.start, met.end)
        turn = cross(d, e)
        return 0.0 if abs(turn) < 1e-6 else dot(d, e) / turn


def on_plan(wall: Wall, at: float, left: float) -> Point:
    """A place along a wall, so far to the left of its line, on plan."""
    return along(wall.start, direction(wall.start, wall.end), at, left)


def real_spans(leaf: Leaf, placement: Placement, pattern: Pattern, unit: Unit) -> list[tuple[Span, Piece, float]]:
    """Where along the wall every piece of a placement really lies, what corners hide of it included; with its real length.

    Ends of units that belong to the wall round the corner are left out.
    """
    start = placement.span.start
    last = len(pattern.pieces) - 1
    found = []
    for n, piece in enumerate(pattern.pieces):
        if piece.kind != "return":
            left = start + piece.at - (pattern.hidden[0] if n == 0 else 0.0)
            right = start + piece.at + piece.length + (pattern.hidden[1] if n == last else 0.0)
            found.append((Span(left, right), piece, pattern.real(n)))
    if pattern.unseen and found:
        first, seen_last = found[0][0].start, found[-1][0].end
        before = _out_of_sight(leaf, leaf.start_end, first, 1.0, unit, pattern.unseen)
        after = _out_of_sight(leaf, leaf.finish_end, seen_last, -1.0, unit, pattern.unseen[len(before) :])
        found += [(span, piece, piece.length) for span, piece in (*before, *after)]
    return found


def _out_of_sight(
    leaf: Leaf, end: LeafEnd, seen: float, way: float, unit: Unit, unseen: Sequence[Piece]
) -> list[tuple[Span, Piece]]:
    """Pieces wholly behind a corner: as many as there is room for between its far face and the first that is seen.

    They begin at the far face, where that reaches furthest, or past the end of the unit of the other wall that stands there.
    """
    edge = leaf.span.start if way > 0 else leaf.span.end
    if end.kind != "corner" or abs(end.far - edge) <= TOLERANCE:
        return []
    room = (seen - end.far) * way
    for count in range(len(unseen), 0, -1):
        taken = sum(piece.length + unit.joint for piece in unseen[:count])
        for begin in (-end.beyond(leaf.thickness), unit.width + unit.joint):
            if abs(room - begin - taken) <= OPENED:
                return list(_in_a_row(end.far + way * begin, way, unit, unseen[:count]))
    return []


def _in_a_row(at: float, way: float, unit: Unit, pieces: Sequence[Piece]) -> Iterator[tuple[Span, Piece]]:
    for piece in pieces:
        end = at + way * piece.length
        yield Span(min(at, end), max(at, end)), piece
        at = end + way * unit.joint


def outside_of(leaf: Leaf, span: Span) -> Literal["right", "left"]:
    """On which side of the leaf the outer angle of the corner lies that a piece is nearest to."""
    end, edge = (leaf.start_end, leaf.span.start) if span.middle < leaf.span.middle else (leaf.finish_end, leaf.span.end)
    return "right" if end.kind != "corner" or abs(end.far - edge) <= TOLERANCE else "left"


def depths(leaf: Leaf, unit: Unit, piece: Piece, outside: Literal["right", "left"]) -> tuple[Span, ...]:
    """What a piece takes of the leaf's thickness, from its outer face to the left: all of it, or a row or two of stretchers."""
    whole = Span(leaf.offset, leaf.offset + leaf.thickness)
    if leaf.build != "one_brick" or piece.laid != "stretcher":
        return (whole,)
    row = (leaf.thickness - unit.joint) / 2
    right, left = Span(whole.start, whole.start + row), Span(whole.end - row, whole.end)
    if piece.deep == 1:
        return (right,) if outside == "right" else (left,)
    return (right, left)


def covered(pieces: Iterable[PlanPiece]) -> float:
    """The area of pieces, each by itself, mm2."""
    return float(sum(piece.outline.area for piece in pieces))
