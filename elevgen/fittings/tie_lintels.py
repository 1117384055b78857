"""What rows of ties lose to lintels in the place of units, put into the beds over and under those."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, at_most, subtract
from elevgen.fittings.tie_bays import Bay, Cavity, bays, end_kinds, in_body
from elevgen.fittings.tie_edges import Kinds, row_ties
from elevgen.fittings.tie_rows import Row, halved

BESIDE = 1.0
"""Masonry is looked for this far (mm) beyond an edge."""


class Edge(NamedTuple):
    """An upright edge that wants ties: `side` is -1 where the masonry lies to its left, +1 where it lies to its right."""

    at: float
    side: int
    levels: Span

    def window(self, reach: float) -> Span:
        """Where the ties that serve it stand."""
        return Span(min(self.at, self.at + self.side * reach), max(self.at, self.at + self.side * reach))


def edges(cavity: Cavity) -> tuple[Edge, ...]:
    """Reveals, sides of movement joints, free ends and steps in the top, of either leaf."""
    found: set[Edge] = set()
    for joint in cavity.joints:
        found |= {Edge(joint.gap.start, -1, joint.levels), Edge(joint.gap.end, 1, joint.levels)}
    before, after = end_kinds(cavity)
    if before:
        found.add(Edge(cavity.span.start, 1, cavity.levels))
    if after:
        found.add(Edge(cavity.span.end, -1, cavity.levels))
    for leaf in (cavity.outer, cavity.inner):
        found |= {Edge(void.left, -1, void.levels) for void in leaf.voids}
        found |= {Edge(void.right, 1, void.levels) for void in leaf.voids}
        for (a, low), (b, high) in pairwise(leaf.top.clipped(leaf.span)):
            if b - a <= TOLERANCE < abs(high - low):
                found.add(Edge(a, 1 if high > low else -1, Span(min(low, high), max(low, high))))
    return tuple(sorted(found))


BaysOf = Callable[[Row], Sequence[Bay]]
Grid = Mapping[float, Sequence[float]]
"""Where the columns of each row of the field stand, by level."""


def moved(cavity: Cavity, rows: Sequence[Row], bays_of: BaysOf, grid: Grid, up: float) -> dict[float, tuple[float, ...]]:
    """The grid with each tie that would lie in a lintel in the first bed over it with room, within `up`, else under it."""
    found = {level: tuple(columns) for level, columns in grid.items()}
    free = cavity._replace(bodies=())
    for row in (row for row in rows if row.level in grid and any(in_body(body, row.level) for body in cavity.bodies)):
        whole = tuple(bays(free, row, 0.0))
        lost = [at for at in grid[row.level] if _room(cavity, whole, at) and not _room(cavity, bays_of(row), at)]
        over = [other for other in rows if other.level > row.level and at_most(other.level - row.level, up)]
        under = [other for other in reversed(rows) if other.level < row.level and at_most(row.level - other.level, up)]
        instead = [other for other in (*over, *under) if other.shared or not row.shared]
        for at in lost:
            to = next((other for other in instead if _room(cavity, bays_of(other), at)), None)
            there = found.get(to.level, ()) if to else ()
            if to and all(abs(at - other) >= cavity.keep.apart - TOLERANCE for other in there):
                found[to.level] = tuple(sorted((*there, at)))
    return found


def _room(cavity: Cavity, inside: Sequence[Bay], at: float) -> bool:
    return any(bay.span.grown(-cavity.keep.clear).contains(at) for bay in inside)


class Edges:
    """The edges of a wall beside lintels in the place of units, and the rows of ties as they are made up for them."""

    def __init__(
        self, cavity: Cavity, rows: Sequence[Row], bays_of: BaysOf, grid: Grid, placed: dict[float, Kinds], reach: float
    ) -> None:
        self.cavity, self.rows, self.bays_of, self.grid, self.placed, self.reach = cavity, rows, bays_of, grid, placed, reach

    def make_up(self, close: float) -> None:
        """Rows over and under each lintel, no further apart beside an edge than `close` where beds allow.

        Where they do not, the ties next to the gap stand in pairs.
        """
        for row, bay in self._serving_gaps(close, lambda gap, edge: halved(gap.start, gap.end, self._usable(gap, edge), close)):
            for at, kind in self._in_bay(row, bay).items():
                there = self.placed.setdefault(row.level, {})
                if all(abs(at - other) >= self.cavity.keep.apart - TOLERANCE for other in there):
                    there[at] = kind
        for row, bay in self._serving_gaps(close, lambda gap, _: [r for r in self.rows if r.level in (gap.start, gap.end)]):
            self._double(row, bay)

    def _serving_gaps(self, close: float, rows_for: Callable[[Span, Edge], Sequence[Row]]) -> list[tuple[Row, Bay]]:
        """The rows chosen for every gap, each with the stretch of it beside the edge."""
        found = {
            (row, bay)
            for edge in edges(self.cavity)
            for gap in self._gaps(edge, close)
            for row in rows_for(gap, edge)
            for bay in self._serving(row, edge)
        }
        return sorted(found, key=lambda one: (one[0], one[1].span))

    def _usable(self, gap: Span, edge: Edge) -> list[Row]:
        """The rows in a gap with room beside its edge; those of the outer leaf alone only next to others of these."""
        inside = [row for row in self.rows if gap.start < row.level < gap.end and any(self._serving(row, edge))]
        apart = any(not row.shared for row in self.rows if row.level in (gap.start, gap.end))
        return [row for row in inside if row.shared] or (inside if apart else [])

    def _gaps(self, edge: Edge, close: float) -> Iterator[Span]:
        """The heights up an edge over `close` without a tie in reach, where a lintel lies."""
        window = edge.window(self.reach)
        bodies = [body.levels for body in self.cavity.bodies if body.along.overlaps(window)]
        if not any(levels.overlaps(edge.levels) for levels in bodies):
            return
        near = sorted(level for level, kinds in self.placed.items() if any(window.contains(at) for at in kinds))
        for stretch in _beside(self.cavity, edge):
            inside = [level for level in near if stretch.contains(level)]
            for gap in (Span(a, b) for a, b in pairwise([stretch.start, *inside, stretch.end])):
                if not at_most(gap.length, close) and any(levels.overlaps(gap) for levels in bodies):
                    yield gap

    def _serving(self, row: Row, edge: Edge) -> Iterator[Bay]:
        """The stretches of a row whose edge ties would serve an edge."""
        window = edge.window(self.reach)
        for bay in self.bays_of(row) if edge.levels.contains(row.level) else ():
            if bay.span.overlaps(window) and any(window.contains(at) for at in self._in_bay(row, bay)):
                yield bay

    def _in_bay(self, row: Row, bay: Bay, *, pairs: bool = False) -> Kinds:
        return row_ties([bay], self.grid.get(row.level, ()), self.reach, pairs, self.cavity.keep)

    def _double(self, row: Row, bay: Bay) -> None:
        there = self.placed.get(row.level, {})
        inside = {at for at in there if bay.span.contains(at)}
        if inside <= set(self._in_bay(row, bay)):
            kept = {at: kind for at, kind in there.items() if at not in inside}
            self.placed[row.level] = kept | self._in_bay(row, bay, pairs=True)


def _beside(cavity: Cavity, edge: Edge) -> tuple[Span, ...]:
    """The levels up an edge with masonry of both leaves right beside it, lintels counted as masonry."""
    at = edge.at + edge.side * BESIDE
    if any(joint.gap.contains(at) for joint in cavity.joints):
        return ()
    found: tuple[Span, ...] = (edge.levels,)
    for leaf in (cavity.outer, cavity.inner):
        if not leaf.span.contains(at):
            return ()
        whole = Span(leaf.base.level_right_of(at), leaf.top.level_right_of(at))
        left = subtract(whole, [void.levels for void in leaf.voids if void.along.contains(at)])
        found = tuple(common for a in found for b in left if (common := a.common(b)))
    return found
