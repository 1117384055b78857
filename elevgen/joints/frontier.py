"""Best costs of the limbs settled so far, by how they reach the nodes where the rest begins.

A node stands with the longest path that settled limbs let run out of it, and with what is seen along each face that goes
on through it. A table holds, for every combination of stands of its nodes, the least cost at which no path is longer:
a limb that comes to a node only has to add its own length to that. Nothing else of what was settled matters to the rest.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import inf, prod
from typing import NamedTuple

import numpy as np

from elevgen.joints.line import NEVER, Bools, Ints, ranks
from elevgen.joints.outlook import NOTHING, Outlook

_LAST = np.iinfo(np.int64).max

Faces = tuple[tuple[str, Outlook], ...]


class TooLarge(Exception):  # noqa: N818 - not a fault, a size
    """A table would be too large to make."""


class Stand(NamedTuple):
    """What is known of a node: outlooks along the faces that go on through it, and the longest path out of it (0.001 mm)."""

    faces: Faces
    path: int


FRESH = Stand((), 0)
"""A node nothing has come to yet."""


class Shape(NamedTuple):
    """The nodes at which settled limbs end, and how limbs left whole tie them to each other.

    `ways`: the longest way from one to another (0.001 mm), -1 where there is none. `links`: two nodes between which a face
    runs whole and beyond which nothing of it is known on either side, the face, and whether there are candidates between.
    """

    nodes: tuple[str, ...] = ()
    ways: tuple[tuple[int, ...], ...] = ()
    links: frozenset[tuple[str, str, str, bool]] = frozenset()

    def tied(self, axis: int) -> list[int]:
        """The other nodes of the same piece."""
        return [n for n, way in enumerate(self.ways[axis]) if way >= 0 and n != axis]


@dataclass(frozen=True, slots=True)
class Table:
    """Least costs by the stands of each node; `last` says by which step of the log each came about."""

    shape: Shape
    stands: tuple[tuple[Stand, ...], ...]
    a: Ints
    b: Ints
    last: Ints

    def along(self, axis: int, stands: Sequence[Stand], arrays: tuple[Ints, Ints, Ints]) -> Table:
        """The table with other stands along one axis."""
        return Table(self.shape, (*self.stands[:axis], tuple(stands), *self.stands[axis + 1 :]), *arrays)


def empty_table() -> Table:
    """No node, no cost."""
    return Table(Shape(), (), np.zeros((), np.int64), np.zeros((), np.int64), np.full((), -1, np.int64))


@dataclass(slots=True)
class Log:
    """How each cost came about: the step before, the limb cut, its first and its last joint."""

    starts: list[int] = field(default_factory=list)
    steps: list[tuple[Ints, int, Ints, Ints]] = field(default_factory=list)
    size: int = 0

    def add(self, before: Ints, limb: int, row: Ints, column: Ints) -> Ints:
        """Numbers of new steps."""
        self.starts.append(self.size)
        self.steps.append((before.ravel(), limb, row.ravel(), column.ravel()))
        numbers = np.arange(self.size, self.size + before.size, dtype=np.int64).reshape(before.shape)
        self.size += before.size
        return numbers

    def cuts(self, last: int) -> list[tuple[int, int, int]]:
        """Limb, row and column of every cut that led to a step."""
        found = []
        while last >= 0:
            n = bisect_right(self.starts, last) - 1
            before, limb, row, column = self.steps[n]
            k = last - self.starts[n]
            found.append((limb, int(row[k]), int(column[k])))
            last = int(before[k])
        return found


class Taken(NamedTuple):
    """Along one axis: old stands `i` and places `j` of a limb's end that make new stands, in their order.

    Those of new stand k begin at `starts[k]`. `extra`: what each costs more.
    """

    i: Ints
    j: Ints
    extra: Ints
    starts: Ints
    stands: tuple[Stand, ...]


def taken(found: Mapping[Stand, Sequence[tuple[int, int, int]]]) -> Taken:
    """From old stand, place and extra cost by new stand."""
    stands = tuple(sorted(found))
    rows = np.array([row for stand in stands for row in found[stand]], dtype=np.int64).reshape(-1, 3)
    starts = np.cumsum([0, *(len(found[stand]) for stand in stands[:-1])])
    return Taken(rows[:, 0], rows[:, 1], rows[:, 2], starts, stands)


def least_of(a: Ints, b: Ints, starts: Ints, axis: int) -> tuple[Ints, Ints, Ints]:
    """Along an axis the least cost of each run of entries, and where it stands."""
    lengths = np.diff([*starts.tolist(), a.shape[axis]])
    least_a = np.minimum.reduceat(a, starts, axis=axis)
    b = np.where(a == np.repeat(least_a, lengths, axis=axis), b, _LAST)
    least_b = np.minimum.reduceat(b, starts, axis=axis)
    where = np.where(b == np.repeat(least_b, lengths, axis=axis), shaped(np.arange(a.shape[axis]), axis, a.ndim), _LAST)
    return least_a, least_b, np.minimum.reduceat(where, starts, axis=axis)


def shaped(values: Ints, axis: int, ndim: int) -> Ints:
    """Values along one axis of so many."""
    return values.reshape([-1 if n == axis else 1 for n in range(ndim)])


def with_node(table: Table, node: str) -> Table:
    """The table with one more node, unless it has it."""
    shape = table.shape
    if node in shape.nodes:
        return table
    ways = (*((*way, -1) for way in shape.ways), (*(-1 for _ in shape.nodes), 0))
    a, b, last = (x[..., None] for x in (table.a, table.b, table.last))
    return Table(Shape((*shape.nodes, node), ways, shape.links), (*table.stands, (FRESH,)), a, b, last)


def without_node(table: Table, node: str) -> Table:
    """The table once nothing more comes to a node."""
    shape = table.shape
    axis = shape.nodes.index(node)
    a, b, where = least_of(table.a, table.b, np.zeros(1, np.int64), axis)
    last = np.take_along_axis(table.last, where, axis)
    keep = [n for n in range(len(shape.nodes)) if n != axis]
    ways = tuple(tuple(shape.ways[n][m] for m in keep) for n in keep)
    left = Shape(tuple(shape.nodes[n] for n in keep), ways, shape.links)
    return Table(left, tuple(table.stands[n] for n in keep), a.squeeze(axis), b.squeeze(axis), last.squeeze(axis))


def sources(old: Sequence[Stand], new: Sequence[Stand], least: int = 0) -> Ints:
    """For each new stand the old one with the same outlooks and the longest path that is no longer; -1 where there is none.

    `least`: a path that runs out of the node in any case.
    """
    at: dict[Faces, tuple[list[int], list[int]]] = {}
    for k, stand in enumerate(old):
        paths, numbers = at.setdefault(stand.faces, ([], []))
        paths.append(stand.path)
        numbers.append(k)
    found = []
    for stand in new:
        paths, numbers = at.get(stand.faces, ([], []))
        k = bisect_right(paths, stand.path) - 1
        found.append(numbers[k] if k >= 0 and stand.path >= least else -1)
    return np.array(found, dtype=np.int64)


def merged(tables: Sequence[Table], largest: int) -> Table:
    """The best of tables of one shape."""
    if len(tables) == 1:
        return tables[0]
    one, two = tables[0], merged(tables[1:], largest)
    stands = tuple(tuple(sorted({*s, *t})) for s, t in zip(one.stands, two.stands, strict=True))
    check_size([len(s) for s in stands], largest)
    (a, b, last), (c, d, other) = _spread(one, stands), _spread(two, stands)
    better = (c < a) | ((c == a) & (d < b))
    return Table(one.shape, stands, np.where(better, c, a), np.where(better, d, b), np.where(better, other, last))


def _spread(table: Table, stands: Sequence[Sequence[Stand]]) -> tuple[Ints, Ints, Ints]:
    a, b, last = table.a, table.b, table.last
    for axis, (here, there) in enumerate(zip(table.stands, stands, strict=True)):
        if here != there:
            found = sources(here, there)
            a, b, last = (x.take(found, axis) for x in (a, b, last))
            a = np.where(shaped(found, axis, a.ndim) < 0, NEVER, a)
    return a, b, last


def kept(table: Table) -> Table | None:
    """The table with the best of lesser stands carried up to greater ones, and without needless stands; None: nothing is left."""
    if int(table.a.min()) >= NEVER:
        return None
    return _thinned(carried(table))


def carried(table: Table) -> Table:
    """The table with the best of lesser stands carried up to greater ones: shorter paths, and outlooks that ask less."""
    if not table.stands:
        return table
    order, rank = ranks(table.a, table.b)
    for axis, stands in enumerate(table.stands):
        carry_up(rank, stands, axis)
    best = order[rank]
    return replace(table, a=table.a.ravel()[best], b=table.b.ravel()[best], last=table.last.ravel()[best])


def carry_up(rank: Ints, stands: Sequence[Stand], axis: int) -> None:
    """Along one axis every rank becomes the least of those of lesser stands, in place."""
    along = np.moveaxis(rank, axis, 0)
    for start, end in _alike(stands).values():
        np.minimum.accumulate(along[start:end], axis=0, out=along[start:end])
    for lesser, greater in _steps_down(stands):
        found = sources(stands[slice(*lesser)], _facing(stands, lesser, greater))
        here = np.arange(*greater)[found >= 0]
        along[here] = np.minimum(along[here], along[lesser[0] + found[found >= 0]])


def _alike(stands: Sequence[Stand]) -> dict[Faces, tuple[int, int]]:
    """The stands with the same outlooks: from, up to."""
    starts = [k for k, s in enumerate(stands) if k == 0 or s.faces != stands[k - 1].faces]
    return {stands[start].faces: (start, end) for start, end in pairwise([*starts, len(stands)])}


def _steps_down(stands: Sequence[Stand]) -> Iterator[tuple[tuple[int, int], tuple[int, int]]]:
    """Stands with outlooks next to each other of which the first asks less, whatever is on the other side; nearest first.

    A joint asks less the nearer it is: the stretch to it is shorter. A side that asks nothing asks less than any.
    """
    alike = _alike(stands)
    ladders: dict[tuple[object, ...], list[tuple[float, Faces]]] = {}
    for faces in alike:
        for n, (name, seen) in enumerate(faces):
            for kind in ("joint", "corner") if seen == NOTHING else (seen.kind,):
                rest = (*faces[:n], (name, kind), *faces[n + 1 :])
                ladders.setdefault(rest, []).append((-inf if seen == NOTHING else seen.far, faces))
    for ladder in ladders.values():
        rising = [faces for _, faces in sorted(ladder)]
        yield from ((alike[lesser], alike[greater]) for lesser, greater in pairwise(rising))


def _facing(stands: Sequence[Stand], lesser: tuple[int, int], greater: tuple[int, int]) -> list[Stand]:
    """The greater stands as if they had the outlooks of the lesser ones."""
    faces = stands[lesser[0]].faces
    return [Stand(faces, stand.path) for stand in stands[slice(*greater)]]


def _thinned(table: Table) -> Table:
    """Without stands that nothing reaches, or that are no better than a lesser one."""
    for axis, stands in enumerate(table.stands):
        a, b = (np.moveaxis(x, axis, 0).reshape(len(stands), -1) for x in (table.a, table.b))
        b = np.where(a >= NEVER, 0, b)
        a = np.minimum(a, NEVER)
        needless: Bools = np.array((a >= NEVER).all(axis=1))
        for start, end in _alike(stands).values():
            needless[start + 1 : end] |= _equal(a[start + 1 : end], b[start + 1 : end], a[start : end - 1], b[start : end - 1])
        for lesser, greater in _steps_down(stands):
            found = sources(stands[slice(*lesser)], _facing(stands, lesser, greater))
            here, there = np.arange(*greater)[found >= 0], lesser[0] + found[found >= 0]
            needless[here] |= _equal(a[here], b[here], a[there], b[there])
        if needless.any():
            keep = np.flatnonzero(~needless)
            a, b, last = (x.take(keep, axis) for x in (table.a, table.b, table.last))
            table = table.along(axis, [stands[k] for k in keep], (a, b, last))
    return table


def _equal(a: Ints, b: Ints, c: Ints, d: Ints) -> Bools:
    """Rows of costs that are the same all along."""
    same: Bools = ((a == c) & (b == d)).all(axis=1)
    return same


def check_size(size: Sequence[int], largest: int) -> None:
    """Raises TooLarge for a table of more entries than that."""
    if prod(size) > largest:
        raise TooLarge
