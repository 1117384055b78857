"""Openings as holes: those too close to one another for masonry between them make one group, the slivers filled by strips.

A group is worked on the grid its openings' edges make, so that openings and strips fill it without overlap.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Collection, Iterable, Sequence
from itertools import islice, pairwise
from typing import Literal, NamedTuple

from elevgen.building.model import Opening, OpeningGroup, Strip, Wall
from elevgen.core.geometry import TOLERANCE, Rect, Span, merge, subtract

StripKind = Literal["pier", "band", "head", "sill"]
_Cell = tuple[int, int]


class Buildable(NamedTuple):
    """The narrowest pier and the lowest band masonry is built in (mm); None: not covered, so any is taken as buildable."""

    pier: float | None
    band: float | None


def group_openings(wall_id: str, openings: Sequence[Opening], least: Buildable) -> tuple[OpeningGroup, ...]:
    """The openings of one wall in groups, in the order of their first openings."""
    groups = [_group(wall_id, [opening], least) for opening in openings]
    while len(joined := _joined(groups, openings, least)) < len(groups):
        members = [{o for i in together for o in groups[i].openings} for together in joined]
        groups = [_group(wall_id, [o for o in openings if o.id in ids], least) for ids in members]
    return tuple(groups)


def voids_of(group: OpeningGroup, openings: Iterable[Opening]) -> tuple[Rect, ...]:
    """Every rectangle of the group without masonry: its openings and its strips."""
    members = set(group.openings)
    return (*(o.rect for o in openings if o.id in members), *(s.rect for s in group.strips))


def heads(voids: Sequence[Rect]) -> tuple[tuple[float, Span], ...]:
    """The (level, stretch) of every top edge of the holes that is not the foot of another hole, upwards and left to right."""
    found = []
    for level in _edges(v.top for v in voids):
        under = merge(v.along for v in voids if abs(v.top - level) <= TOLERANCE)
        over = [v.along for v in voids if v.bottom - TOLERANCE <= level < v.top - TOLERANCE]
        found += [(level, span) for whole in under for span in subtract(whole, over)]
    return tuple(found)


def behind(wall: Wall, openings: Collection[str], along: Span) -> tuple[str, ...]:
    """Those of the openings that lie along a stretch, from the wall's start; all of them where only a strip does."""
    ordered = sorted((o for o in wall.openings if o.id in openings), key=lambda o: (o.rect, o.id))
    return tuple(o.id for o in ordered if o.rect.along.overlaps(along)) or tuple(o.id for o in ordered)


def _joined(groups: Sequence[OpeningGroup], openings: Sequence[Opening], least: Buildable) -> list[list[int]]:
    """Indices of the groups that stand too close to one another, together, in the order of their first."""
    voids = sorted((void, i) for i, group in enumerate(groups) for void in voids_of(group, openings))
    reach = least.pier or 0.0
    first = list(range(len(groups)))

    def first_of(i: int) -> int:
        while first[i] != i:
            i = first[i]
        return i

    for n, (a, i) in enumerate(voids):
        for b, j in islice(voids, n + 1, None):
            if b.left >= a.right + reach:
                break
            if i != j and _unbuildable_between(a, b, least):
                low, high = sorted((first_of(i), first_of(j)))
                first[high] = low
    together: dict[int, list[int]] = {}
    for i in range(len(groups)):
        together.setdefault(first_of(i), []).append(i)
    return list(together.values())


def _unbuildable_between(a: Rect, b: Rect, least: Buildable) -> bool:
    beside = max(a.left, b.left) - min(a.right, b.right)
    above = max(a.bottom, b.bottom) - min(a.top, b.top)
    narrow = a.levels.overlaps(b.levels) and _too_small(beside, least.pier)
    low = a.along.overlaps(b.along) and _too_small(above, least.band)
    return narrow or low


def _too_small(gap: float, least: float | None) -> bool:
    return least is not None and gap < least - TOLERANCE


def _group(wall_id: str, members: Sequence[Opening], least: Buildable) -> OpeningGroup:
    ids = tuple(o.id for o in members)
    strips = _Grid(members).strips(least) if len(members) > 1 else ()
    rects = [*(o.rect for o in members), *(s.rect for s in strips)]
    clear = Rect(min(r.left for r in rects), min(r.bottom for r in rects), max(r.right for r in rects), max(r.top for r in rects))
    return OpeningGroup(f"{wall_id}/{'+'.join(ids)}", ids, clear, strips)


class _Grid:
    """The cells between all edges of a group's openings, and which of them have no masonry and why."""

    def __init__(self, members: Sequence[Opening]) -> None:
        self.members = members
        self.xs = _edges(x for o in members for x in (o.rect.left, o.rect.right))
        self.ys = _edges(y for o in members for y in (o.rect.bottom, o.rect.top))
        self.columns, self.rows = len(self.xs) - 1, len(self.ys) - 1
        self.filled: dict[_Cell, StripKind | None] = {}
        for o in members:
            columns = range(_index(self.xs, o.rect.left), _index(self.xs, o.rect.right))
            rows = range(_index(self.ys, o.rect.bottom), _index(self.ys, o.rect.top))
            self.filled |= {(c, r): None for c in columns for r in rows}

    def strips(self, least: Buildable) -> tuple[Strip, ...]:
        """Fill slivers until none is left: bands, then piers, then heads that would have no bearing at one side."""
        while self._fill_bands(least.band) or self._fill_piers(least.pier) or self._fill_heads():
            pass
        return tuple(
            Strip(kind, rect, tuple(o.id for o in self.members if _touch(o.rect, rect)))
            for kind in ("pier", "band", "head", "sill")
            for rect in self._rectangles(kind)
        )

    def _rect(self, low: _Cell, high: _Cell) -> Rect:
        return Rect(self.xs[low[0]], self.ys[low[1]], self.xs[high[0] + 1], self.ys[high[1] + 1])

    def _fill_bands(self, least: float | None) -> bool:
        new: list[_Cell] = []
        for c in range(self.columns):
            for run in _gaps([(c, r) in self.filled for r in range(self.rows)]):
                if _too_small(self.ys[run[-1] + 1] - self.ys[run[0]], least):
                    new += [(c, r) for r in run]
        return self._fill(new, lambda cell: "band")

    def _fill_piers(self, least: float | None) -> bool:
        new: list[_Cell] = []
        for r in range(self.rows):
            for run in _gaps([(c, r) in self.filled for c in range(self.columns)]):
                if _too_small(self.xs[run[-1] + 1] - self.xs[run[0]], least):
                    new += [(c, r) for c in run]
        return self._fill(new, lambda cell: "sill" if self._under_an_opening(cell) else "pier")

    def _fill_heads(self) -> bool:
        """A head must have masonry at both sides to bear on: where a hole stands at one, the head goes up to that hole's."""
        new: list[_Cell] = []
        for r in range(1, self.rows):
            over_hole = [(c, r - 1) in self.filled and (c, r) not in self.filled for c in range(self.columns)]
            for run in _runs(over_hole):
                if (run[0] - 1, r) in self.filled or (run[-1] + 1, r) in self.filled:
                    new += [(c, r) for c in run]
        return self._fill(new, lambda cell: "head")

    def _fill(self, cells: Sequence[_Cell], kind: Callable[[_Cell], StripKind]) -> bool:
        for cell in cells:
            self.filled[cell] = kind(cell)
        return bool(cells)

    def _under_an_opening(self, cell: _Cell) -> bool:
        column, row = cell
        above = next((r for r in range(row + 1, self.rows) if (column, r) in self.filled), None)
        if above is None or self.filled[column, above] is not None:
            return False
        return not any((column, r) in self.filled for r in range(row))

    def _rectangles(self, kind: StripKind) -> list[Rect]:
        """The cells of one kind as rectangles: row by row, equal stretches one over the other made one."""
        begun: dict[tuple[int, int], int] = {}
        done: list[Rect] = []
        for r in range(self.rows + 1):
            runs = {(run[0], run[-1]) for run in _runs([self.filled.get((c, r)) == kind for c in range(self.columns)])}
            done += [self._rect((c, begun.pop((c, d))), (d, r - 1)) for c, d in sorted(begun.keys() - runs)]
            begun |= dict.fromkeys(sorted(runs - begun.keys()), r)
        return sorted(done)


def _edges(values: Iterable[float]) -> list[float]:
    """Sorted positions, those within tolerance made one."""
    edges: list[float] = []
    for value in sorted(values):
        if not edges or value - edges[-1] > TOLERANCE:
            edges.append(value)
    return edges


def _index(edges: Sequence[float], value: float) -> int:
    """Which edge a position is."""
    return bisect_left(edges, value - TOLERANCE)


def _runs(flags: Sequence[bool]) -> list[list[int]]:
    """The stretches of neighbouring indices whose flag is set."""
    runs: list[list[int]] = []
    for i, flag in enumerate(flags):
        if flag and runs and runs[-1][-1] == i - 1:
            runs[-1].append(i)
        elif flag:
            runs.append([i])
    return runs


def _gaps(filled: Sequence[bool]) -> list[list[int]]:
    """The stretches between two filled ones."""
    runs = _runs(filled)
    return [list(range(a[-1] + 1, b[0])) for a, b in pairwise(runs)]


def _touch(a: Rect, b: Rect) -> bool:
    beside = max(a.left, b.left) - min(a.right, b.right)
    above = max(a.bottom, b.bottom) - min(a.top, b.top)
    return beside <= TOLERANCE and above <= TOLERANCE and min(beside, above) < -TOLERANCE
