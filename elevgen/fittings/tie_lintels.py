"""What rows of ties lose to lintels in the place of units, put into the beds over and under those."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, at_most, subtract
from elevgen.fittings.model import TieKind
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


class Losses:
    """The rows of a wall with lintels in the place of units, and the ties in them as they are made up.

    `grid`: where the columns of each row of the field stand.
    """

    def __init__(
        self,
        cavity: Cavity,
        rows: Sequence[Row],
        bays_of: Callable[[Row], Sequence[Bay]],
        grid: Mapping[float, Sequence[float]],
        placed: dict[float, Kinds],
    ) -> None:
        self.cavity, self.bays_of, self.grid, self.placed = cavity, bays_of, grid, placed
        self.rows = [row for row in rows if row.shared]

    def make_up_edges(self, reach: float, close: float) -> None:
        """Beside an edge a lintel bears next to: rows over and under it, no further apart than `close` where beds allow.

        Where they do not, the ties next to the gap stand in pairs.
        """
        added = {
            (row, bay)
            for edge in edges(self.cavity)
            for gap in self._gaps(edge, reach, close)
            for row in halved(gap.start, gap.end, [r for r in self.rows if any(self._serving(r, edge, reach))], close)
            for bay in self._serving(row, edge, reach)
        }
        for row, bay in sorted(added, key=lambda one: (one[0], one[1].span)):
            for at, kind in self._in_bay(row, bay, reach).items():
                self._add(row.level, at, kind)
        doubled = {
            (row, bay)
            for edge in edges(self.cavity)
            for gap in self._gaps(edge, reach, close)
            for row in self.rows
            if row.level in (gap.start, gap.end)
            for bay in self._serving(row, edge, reach)
        }
        for row, bay in sorted(doubled, key=lambda one: (one[0], one[1].span)):
            self._double(row, bay, reach)

    def move_field(self, up: float, reach: float) -> None:
        """Each tie of the field that would lie in a lintel stands in the first bed over it with room, else under it."""
        shared = {row.level: row for row in self.rows}
        for level, columns in sorted(self.grid.items()):
            if level not in shared or not any(in_body(body, level) for body in self.cavity.bodies):
                continue
            whole = tuple(bays(self.cavity._replace(bodies=()), shared[level], reach))
            lost = [at for at in columns if self._room(whole, at) and not self._room(self.bays_of(shared[level]), at)]
            over = [row for row in self.rows if level < row.level and at_most(row.level - level, up)]
            under = [row for row in reversed(self.rows) if row.level < level and at_most(level - row.level, up)]
            moved = [(row, at) for at in lost for row in self._first([*over, *under], at)]
            for row, at in moved:
                self._add(row.level, at, "field")

    def _first(self, rows: Sequence[Row], at: float) -> Iterator[Row]:
        row = next((row for row in rows if self._room(self.bays_of(row), at)), None)
        if row:
            yield row

    def _room(self, inside: Sequence[Bay], at: float) -> bool:
        return any(bay.span.grown(-self.cavity.keep.clear).contains(at) for bay in inside)

    def _gaps(self, edge: Edge, reach: float, close: float) -> Iterator[Span]:
        """The heights up an edge over `close` without a tie in reach, where a lintel lies."""
        window = edge.window(reach)
        bodies = [body.levels for body in self.cavity.bodies if body.along.overlaps(window)]
        if not any(levels.overlaps(edge.levels) for levels in bodies):
            return
        near = sorted(level for level, kinds in self.placed.items() if any(window.contains(at) for at in kinds))
        for stretch in _beside(self.cavity, edge):
            inside = [level for level in near if stretch.contains(level)]
            for gap in (Span(a, b) for a, b in pairwise([stretch.start, *inside, stretch.end])):
                if not at_most(gap.length, close) and any(levels.overlaps(gap) for levels in bodies):
                    yield gap

    def _serving(self, row: Row, edge: Edge, reach: float) -> Iterator[Bay]:
        """The stretches of a row whose edge ties would serve an edge."""
        window = edge.window(reach)
        for bay in self.bays_of(row) if edge.levels.contains(row.level) else ():
            if bay.span.overlaps(window) and any(window.contains(at) for at in self._in_bay(row, bay, reach)):
                yield bay

    def _in_bay(self, row: Row, bay: Bay, reach: float, *, pairs: bool = False) -> Kinds:
        return row_ties([bay], self.grid.get(row.level, ()), reach, pairs, self.cavity.keep)

    def _add(self, level: float, at: float, kind: TieKind) -> None:
        there = self.placed.setdefault(level, {})
        if all(abs(at - other) >= self.cavity.keep.apart - TOLERANCE for other in there):
            there[at] = kind

    def _double(self, row: Row, bay: Bay, reach: float) -> None:
        there = self.placed.get(row.level, {})
        inside = {at for at in there if bay.span.contains(at)}
        if inside <= set(self._in_bay(row, bay, reach)):
            kept = {at: kind for at, kind in there.items() if at not in inside}
            self.placed[row.level] = kept | self._in_bay(row, bay, reach, pairs=True)


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
