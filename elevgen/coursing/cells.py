"""What is left of a course once openings, joints, steps and slopes are taken out of it.

A course's band is cut into columns with straight bottoms and tops; columns that run on into one another make a cell,
which is one stretch of units.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Profile
from elevgen.core.geometry import TOLERANCE, Point, Rect, Span
from elevgen.coursing.gauge import Band


class Column(NamedTuple):
    """A piece of face between two positions: levels of its bottom and top at its left and right side."""

    left: float
    right: float
    low_left: float
    low_right: float
    high_left: float
    high_right: float

    @property
    def area(self) -> float:
        return (self.right - self.left) * (self.high_left - self.low_left + self.high_right - self.low_right) / 2

    @property
    def flat(self) -> bool:
        return abs(self.low_left - self.low_right) <= TOLERANCE and abs(self.high_left - self.high_right) <= TOLERANCE

    @property
    def height(self) -> float:
        """The greatest height."""
        return max(self.high_left - self.low_left, self.high_right - self.low_right)

    def between(self, left: float, right: float) -> Column:
        """The part of it between two positions inside it."""
        width = self.right - self.left

        def at(x: float, start: float, end: float) -> float:
            return start + (end - start) * (x - self.left) / width

        low, high = (self.low_left, self.low_right), (self.high_left, self.high_right)
        return Column(left, right, at(left, *low), at(right, *low), at(left, *high), at(right, *high))

    def above(self, level: float) -> Column:
        return self._replace(low_left=max(self.low_left, level), low_right=max(self.low_right, level))

    def below(self, level: float) -> Column:
        return self._replace(high_left=min(self.high_left, level), high_right=min(self.high_right, level))

    def over(self, level: float) -> Column:
        """The same with its levels counted from another, to a millionth."""
        return Column(self.left, self.right, *(round(y - level, 6) for y in self[2:]))


class Cell(NamedTuple):
    """A stretch of units without a break: one column, or several that run on into one another under a slope."""

    columns: tuple[Column, ...]
    left: float
    right: float
    level: float
    top: float
    height: float
    raking: bool

    @property
    def area(self) -> float:
        return sum(c.area for c in self.columns)

    def clipped(self, left: float, right: float) -> tuple[Column, ...]:
        """Its columns between two positions."""
        cuts = ((c, max(left, c.left), min(right, c.right)) for c in self.columns)
        return tuple(c.between(a, b) for c, a, b in cuts if b - a > 1e-9)

    def outline(self, left: float, right: float) -> tuple[Point, ...]:
        """The polygon of the cell between two positions, anticlockwise from bottom left."""
        columns = self.clipped(left, right)
        under = [p for c in columns for p in ((c.left, c.low_left), (c.right, c.low_right))]
        over = [p for c in reversed(columns) for p in ((c.right, c.high_right), (c.left, c.high_left))]
        points = [p for p, q in zip((*under, *over), (*under[1:], *over, under[0]), strict=True) if not _same(p, q)]
        turns = zip(points[-1:] + points[:-1], points, points[1:] + points[:1], strict=True)
        return tuple(b for a, b, c in turns if abs((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])) > 1e-6)


class _Slope(NamedTuple):
    """A straight stretch of a profile."""

    left: float
    right: float
    start: float
    end: float

    def at(self, x: float) -> float:
        """Its level at a position; beyond its ends, the level of the end."""
        part = (x - self.left) / (self.right - self.left)
        return self.start + (self.end - self.start) * min(max(part, 0.0), 1.0)

    def crossings(self, levels: Iterable[float]) -> list[float]:
        rise = self.end - self.start
        if abs(rise) < 1e-9:
            return []
        return [self.left + (self.right - self.left) * (y - self.start) / rise for y in levels if 0 < (y - self.start) / rise < 1]


class Face:
    """A leaf's face with all that interrupts it."""

    def __init__(self, span: Span, base: tuple[_Slope, ...], top: tuple[_Slope, ...], holes: tuple[Rect, ...]) -> None:
        self.span, self.base, self.top, self.holes = span, base, top, holes
        self._upright: dict[tuple[Rect, ...], tuple[tuple[float, float], ...]] = {}

    def cells(self, band: Band) -> tuple[tuple[Cell, ...], float]:
        """The stretches of units of a course from left to right, and the area of its bed."""
        holes = tuple(h for h in self.holes if h.bottom < band.top - 1e-9 and h.top > band.bottom + 1e-9)
        slopes = [s for s in self.base if max(s.start, s.end) > band.bottom] + [
            s for s in self.top if min(s.start, s.end) < band.top
        ]
        if not slopes and all(h.bottom <= band.bottom and h.top >= band.top for h in holes):
            return self._upright_cells(band, holes)
        columns = self._cut(band, holes, slopes)
        bed = sum(c.below(band.level).area for c in columns if min(c.low_left, c.low_right) < band.level)
        units = [c.above(band.level) for c in columns if max(c.high_left, c.high_right) > band.level + TOLERANCE]
        return _chained([c for c in units if c.height > TOLERANCE]), bed

    def _upright_cells(self, band: Band, holes: tuple[Rect, ...]) -> tuple[tuple[Cell, ...], float]:
        """What interrupts a course from bottom to top interrupts the next one too: those are cut once."""
        if holes not in self._upright:
            self._upright[holes] = tuple((c.left, c.right) for c in _chained(self._cut(band, holes, ())))
        spans, level, top = self._upright[holes], band.level, band.top
        bed = (level - band.bottom) * sum(right - left for left, right in spans)
        if top - level <= TOLERANCE:
            return (), bed
        columns = (Column(left, right, level, level, top, top) for left, right in spans)
        return tuple(Cell((c,), c.left, c.right, level, top, top - level, raking=False) for c in columns), bed

    def _cut(self, band: Band, holes: tuple[Rect, ...], slopes: Sequence[_Slope]) -> list[Column]:
        levels = {band.bottom, band.level, band.top} | {y for h in holes for y in (h.bottom, h.top)}
        cuts = {x for h in holes for x in (h.left, h.right)} | {
            x for s in slopes for x in (s.left, s.right, *s.crossings(levels))
        }
        inside = sorted(x for x in cuts if self.span.start + TOLERANCE < x < self.span.end - TOLERANCE)
        edges = [
            self.span.start,
            *(b for a, b in zip([self.span.start, *inside], inside, strict=False) if b - a > 1e-6),
            self.span.end,
        ]
        columns: list[Column] = []
        for left, right in pairwise(edges):
            over = [h for h in holes if h.left < (left + right) / 2 < h.right]
            base, top = _under(self.base, left, right), _under(self.top, left, right)
            for low, high in _free(band.bottom, band.top, over):
                lows = max(low, base.at(left)), max(low, base.at(right))
                highs = max(lows[0], min(high, top.at(left))), max(lows[1], min(high, top.at(right)))
                column = Column(left, right, *lows, *highs)
                if column.area > 1e-6:
                    columns.append(column)
        return columns


def face_of(span: Span, base: Profile, top: Profile, holes: Iterable[Rect]) -> Face:
    """The face of a leaf; `holes` are openings, unbuildable strips and the gaps of movement joints."""
    return Face(span, _slopes(base, span), _slopes(top, span), tuple(sorted(holes)))


def _slopes(profile: Profile, span: Span) -> tuple[_Slope, ...]:
    points = profile.clipped(span)
    return tuple(_Slope(a[0], b[0], a[1], b[1]) for a, b in pairwise(points) if b[0] - a[0] > 1e-9)


def _under(slopes: tuple[_Slope, ...], left: float, right: float) -> _Slope:
    middle = (left + right) / 2
    return next(s for s in slopes if s.right > middle)


def _free(bottom: float, top: float, holes: list[Rect]) -> list[tuple[float, float]]:
    """The heights of a band that no hole takes, slivers included: the area must balance."""
    free: list[tuple[float, float]] = []
    at = bottom
    for hole in sorted(holes, key=lambda h: h.bottom):
        if hole.bottom > at:
            free.append((at, min(hole.bottom, top)))
        at = max(at, hole.top)
    if at < top:
        free.append((at, top))
    return free


def _chained(columns: list[Column]) -> tuple[Cell, ...]:
    chains: list[list[Column]] = []
    for column in columns:
        last = next((chain for chain in reversed(chains) if _runs_on(chain[-1], column)), None)
        if last is None:
            chains.append([column])
        elif last[-1].flat and column.flat:
            last[-1] = last[-1]._replace(right=column.right)
        else:
            last.append(column)
    return tuple(sorted((_cell(tuple(chain)) for chain in chains), key=lambda c: (c.left, c.level)))


def _cell(columns: tuple[Column, ...]) -> Cell:
    return Cell(
        columns,
        left=columns[0].left,
        right=columns[-1].right,
        level=min(min(c.low_left, c.low_right) for c in columns),
        top=max(max(c.high_left, c.high_right) for c in columns),
        height=max(c.height for c in columns),
        raking=len(columns) > 1 or not columns[0].flat,
    )


def _runs_on(a: Column, b: Column) -> bool:
    return (
        _same((a.right, a.low_right), (b.left, b.low_left))
        and _same((a.right, a.high_right), (b.left, b.high_left))
        and (a.high_right - a.low_right > TOLERANCE)
    )


def _same(p: Point, q: Point) -> bool:
    return abs(p[0] - q[0]) <= TOLERANCE and abs(p[1] - q[1]) <= TOLERANCE
