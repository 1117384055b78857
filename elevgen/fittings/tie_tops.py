"""Ties under the top of a wall: along verges, along free tops, and a row under every other top."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most, subtract
from elevgen.fittings.tie_bays import ROUND, Bay, Cavity
from elevgen.fittings.tie_edges import Kinds
from elevgen.fittings.tie_rows import Row

BaysOf = Callable[[Row], Sequence[Bay]]


class Under(NamedTuple):
    """How ties stand under a top: no more than `along` apart, no deeper than `deep` under it. None: the rule set is silent."""

    along: float | None
    deep: float | None


class _Run(NamedTuple):
    """A stretch of the top without a step, level all along or sloping all along, and how ties stand under it."""

    span: Span
    lowest: float
    along: float
    deep: float


def add_top_ties(
    cavity: Cavity, rows: Sequence[Row], bays_of: BaysOf, placed: dict[float, Kinds], verge: Under, level: Under, up: float
) -> None:
    """Fill every gap between the ties under a top that is wider than the rule lets it be, evenly.

    Each goes in the highest bed of both leaves under the top. Where there is none as near the top as the rule asks, the first
    within the spacing of the field (`up`) serves instead, and one of the outer leaf alone where there is none of these either.
    A peak has a tie of its own: the last row under it is short.
    """
    for run in _runs(cavity, verge, level):
        wall = _Head(cavity, rows, bays_of, run.deep, up)
        for stretch in _masonry(cavity, run):
            for peak in _peaks(cavity, stretch):
                held = wall.top(peak) - max(run.deep, up)
                if not any(abs(at - peak) < run.along / 2 and at_least(row, held) for at, row in wall.ties_near(placed)):
                    wall.add(placed, peak, low=True)
            there = sorted(at for at, _ in wall.ties_near(placed) if stretch.contains(at))
            for a, b in pairwise([stretch.start, *there, stretch.end]):
                parts = ceil((b - a - TOLERANCE) / run.along)
                for k in range(1, parts):
                    wall.add(placed, a + (b - a) * k / parts)


def _runs(cavity: Cavity, verge: Under, level: Under) -> Iterator[_Run]:
    """The runs of the top from the start; slopes that follow one another are one run, as steep as the steepest."""
    current: _Run | None = None
    for (start, low), (end, high) in pairwise(cavity.outer.top.clipped(cavity.span)):
        made = None
        if end - start > TOLERANCE:
            made = _run(Span(start, end), low, high, verge, level)
        if current and made and current.deep == made.deep and current.along != level.along and made.along != level.along:
            span = Span(current.span.start, made.span.end)
            current = _Run(span, min(current.lowest, made.lowest), min(current.along, made.along), made.deep)
            continue
        if current:
            yield current
        current = made
    if current:
        yield current


def _run(span: Span, low: float, high: float, verge: Under, level: Under) -> _Run | None:
    rise = abs(high - low)
    along, deep = level if rise <= TOLERANCE else verge
    if along is None or deep is None:
        return None
    return _Run(span, min(low, high), along if rise <= TOLERANCE else min(along, deep * span.length / rise), deep)


def _masonry(cavity: Cavity, run: _Run) -> tuple[Span, ...]:
    """What is left of a run beside movement joints, and beside openings that reach up to its ties."""
    levels = Span(run.lowest - run.deep, run.lowest)
    holes = [joint.gap for joint in cavity.joints if joint.levels.end > levels.start]
    holes += [void.along for leaf in (cavity.outer, cavity.inner) for void in leaf.voids if void.top > levels.start]
    return subtract(run.span, holes)


def _peaks(cavity: Cavity, stretch: Span) -> Iterator[float]:
    """Where the top slopes up to a point and down again."""
    points = cavity.outer.top.clipped(cavity.span)
    for (_, before), (at, level), (_, after) in zip(points, points[1:], points[2:], strict=False):
        if stretch.contains(at) and before < level - TOLERANCE and after < level - TOLERANCE:
            yield at


class _Head:
    """The head of a wall, with the rows its ties can lie in: `deep` under the top at most, or within `up` for want of those."""

    def __init__(self, cavity: Cavity, rows: Sequence[Row], bays_of: BaysOf, deep: float, up: float) -> None:
        self.cavity, self.rows, self.bays_of, self.deep, self.up = cavity, rows, bays_of, deep, up

    def top(self, at: float) -> float:
        return min(leaf.top.level_right_of(at) for leaf in (self.cavity.outer, self.cavity.inner))

    def rows_at(self, at: float) -> Iterator[Row]:
        """The rows with room for a tie here, the best first; those the outer leaf has alone only where there are no others."""
        top, clear = self.top(at), self.cavity.keep.clear
        under = min(top, self.top(at - clear), self.top(at + clear)) - ROUND
        below = [row for row in reversed(self.rows) if row.level < under and at_most(top - row.level, max(self.deep, self.up))]
        rows = [row for row in below if row.shared] or [row for row in below if at_most(top - row.level, self.deep)]
        return (row for row in rows if self._has_room(row, at))

    def ties_near(self, placed: Mapping[float, Kinds]) -> Iterator[tuple[float, float]]:
        """Ties near enough to the top, at and level: as near as the best row there, where that is deeper than asked."""
        lowest = min(level for _, level in self.cavity.outer.top.clipped(self.cavity.span)) - max(self.deep, self.up)
        for level, kinds in placed.items():
            for at in kinds if level > lowest - TOLERANCE else ():
                below = self.top(at) - level
                if below > 0 and (at_most(below, self.deep) or self._is_best(at, level)):
                    yield at, level

    def add(self, placed: dict[float, Kinds], at: float, low: bool = False) -> None:
        """A tie in the best row that is not crowded; `low`: of rows the outer leaf has alone the lowest, near those below."""
        rows = list(self.rows_at(at))
        if low and rows and not rows[0].shared:
            rows.reverse()
        for row in rows:
            if all(abs(other - at) >= self.cavity.keep.apart - TOLERANCE for other in placed.get(row.level, {})):
                placed.setdefault(row.level, {})[at] = "verge"
                return

    def _is_best(self, at: float, level: float) -> bool:
        best = next(self.rows_at(at), None)
        return best is not None and best.level <= level

    def _has_room(self, row: Row, at: float) -> bool:
        return any(bay.span.grown(-self.cavity.keep.clear).contains(at) for bay in self.bays_of(row))


def add_edge_tops(
    cavity: Cavity, rows: Sequence[Row], bays_of: BaysOf, placed: dict[float, Kinds], reach: float, up: float
) -> None:
    """One tie more beside a movement joint that ends under a slope further than `up` over the last tie beside it.

    The row that would have served may end short of the joint there.
    """
    for joint in cavity.joints:
        for edge, way in ((joint.gap.start, -1), (joint.gap.end, 1)):
            top = min(leaf.top.level_right_of(edge) for leaf in (cavity.outer, cavity.inner))
            beside = [
                level
                for level, kinds in placed.items()
                if level < top and any(way * (at - edge) > 0 and at_most(way * (at - edge), reach) for at in kinds)
            ]
            last = max(beside, default=top)
            if not at_most(top - last, up):
                _add_beside(cavity, rows, bays_of, placed, edge, way * reach, Span(max(last, top - up), min(top, last + up)))


def _add_beside(
    cavity: Cavity,
    rows: Sequence[Row],
    bays_of: BaysOf,
    placed: dict[float, Kinds],
    edge: float,
    reach: float,
    levels: Span,
) -> None:
    """A tie in the highest row both leaves have between two levels with room for it within reach of an edge."""
    window = Span(min(edge, edge + reach), max(edge, edge + reach))
    for row in reversed([row for row in rows if row.shared and levels.contains(row.level)]):
        rooms = (bay.span.grown(-cavity.keep.clear) for bay in bays_of(row))
        for room in rooms:
            start, end = max(room.start, window.start), min(room.end, window.end)
            if end - start < -TOLERANCE:
                continue
            at = end if reach > 0 else start
            if all(abs(other - at) >= cavity.keep.apart - TOLERANCE for other in placed.get(row.level, {})):
                placed.setdefault(row.level, {})[at] = "joint"
                return
