"""Stands of some nodes of a table turned into others: the array work behind joining limbs to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import prod
from typing import NamedTuple

import numpy as np

from elevgen.joints.frontier import Faces, Stand, Table, Taken, TooLarge, carry_up, check_size, least_of, shaped, sources
from elevgen.joints.line import NEVER, Ints, ranks

ROWS = 60_000
"""Combinations gone through one by one before a table is called too large."""


class Room(NamedTuple):
    """The longest path allowed (0.001 mm), and the entries of the largest table worth making."""

    limit: int
    largest: int


class Work(NamedTuple):
    """Costs with some axes not yet brought back to stands; `pick`: the place in a limb's table of cuts, once there is one."""

    a: Ints
    b: Ints
    last: Ints
    pick: Ints | None = None

    def arrays(self) -> tuple[Ints, ...]:
        return (self.a, self.b, self.last) if self.pick is None else (self.a, self.b, self.last, self.pick)

    def taking(self, index: Ints, extra: Ints, axis: int) -> Work:
        """Entries along an axis, each costing so much more."""
        a, b, last = (x.take(index, axis) for x in (self.a, self.b, self.last))
        return Work(np.minimum(a + shaped(extra, axis, a.ndim), NEVER), b, last)

    def gathered(self, along: int, axis: int, found: Ints) -> Work:
        """For each entry of one axis its own sources along another; where there is none the cost is never reached."""
        moved = [np.moveaxis(x, (along, axis), (0, 1)) for x in self.arrays()]
        rows = np.arange(len(found))[:, None]
        arrays = [x[rows, found] for x in moved]
        arrays[0] = np.where(found.reshape(*found.shape, *(1 for _ in arrays[0].shape[2:])) < 0, NEVER, arrays[0])
        return Work(*(np.moveaxis(x, (0, 1), (along, axis)) for x in arrays))

    def reduced(self, took: Taken, axis: int) -> Work:
        """One axis brought back to stands."""
        a, b, where = least_of(self.a, self.b, took.starts, axis)
        return Work(a, b, *(np.take_along_axis(x, where, axis) for x in self.arrays()[2:]))

    def carried(self, stands: Sequence[Stand], axis: int) -> Work:
        """The best of lesser stands carried up along one axis."""
        order, rank = ranks(self.a, self.b)
        carry_up(rank, stands, axis)
        best = order[rank]
        return Work(*(x.ravel()[best] for x in self.arrays()))


class Row(NamedTuple):
    """One combination of stands of some nodes: the paths nodes then have at least, what it costs more, their new outlooks."""

    numbers: tuple[int, ...]
    least: Mapping[int, int]
    extra: int = 0
    faces: tuple[Faces, ...] = ()

    def stand(self, i: int, axis: int, old: Stand) -> Stand:
        """What the stand of its i-th node becomes."""
        return Stand(self.faces[i] if self.faces else old.faces, max(old.path, self.least.get(axis, 0)))


def pushed(stands: Sequence[Stand], least: Sequence[int], limit: int) -> tuple[tuple[Stand, ...], Ints]:
    """Stands of a node to which paths of at least so much have come, and for each of those the sources of the new stands."""
    paths = {p for p in least if p <= limit}
    new = tuple(sorted({*stands, *(Stand(s.faces, p) for s in stands for p in paths)}))
    return new, np.array([sources(stands, new, p) for p in least])


def recombined(table: Table, axes: Sequence[int], rows: Sequence[Row], room: Room) -> Table | None:
    """The table with every combination of stands of some nodes turned into another, the best kept where several meet."""
    if not rows:
        return None
    if len(rows) > ROWS:
        raise TooLarge
    rest = [m for m in range(len(table.stands)) if m not in axes]
    stands = list(table.stands)
    work = _rows_of(table, axes, rest, rows)
    for place, m in enumerate(rest, start=1):
        least = [row.least.get(m, 0) for row in rows]
        if any(least):
            stands[m], found = pushed(stands[m], least, room.limit)
            check_size([len(rows), *(len(stands[n]) for n in rest)], room.largest * 4)
            work = work.gathered(0, place, found)
    cells: dict[tuple[Stand, ...], list[int]] = {}
    for k, row in enumerate(rows):
        cell = tuple(row.stand(i, axis, table.stands[axis][n]) for i, (axis, n) in enumerate(zip(axes, row.numbers, strict=True)))
        cells.setdefault(cell, []).append(k)
    order = sorted(cells)
    index = np.array([k for cell in order for k in cells[cell]], dtype=np.int64)
    starts = np.cumsum([0, *(len(cells[cell]) for cell in order[:-1])])
    a, b, where = least_of(work.a[index], work.b[index], starts, 0)
    last = np.take_along_axis(work.last[index], where, 0)
    for i, axis in enumerate(axes):
        stands[axis] = tuple(sorted({cell[i] for cell in order}))
    check_size([len(s) for s in stands], room.largest)
    number = [{stand: k for k, stand in enumerate(stands[axis])} for axis in axes]
    size = [len(n) for n in number]
    at = np.ravel_multi_index(tuple(np.array([[number[i][s] for i, s in enumerate(cell)] for cell in order]).T), size)
    back = np.argsort([*axes, *rest])
    filled = []
    for values, nothing in ((a, NEVER), (b, 0), (last, -1)):
        full = np.full((prod(size), *values.shape[1:]), nothing, dtype=np.int64)
        full[at] = values
        filled.append(full.reshape(*size, *values.shape[1:]).transpose(back))
    return Table(table.shape, tuple(stands), *filled)


def _rows_of(table: Table, axes: Sequence[int], rest: Sequence[int], rows: Sequence[Row]) -> Work:
    """The entries of each combination, along the first axis."""
    size = [len(table.stands[axis]) for axis in axes]
    flat = np.ravel_multi_index(tuple(np.array([row.numbers for row in rows]).T), size)
    a, b, last = (
        x.transpose([*axes, *rest]).reshape(-1, *(x.shape[m] for m in rest))[flat] for x in (table.a, table.b, table.last)
    )
    extra = np.array([row.extra for row in rows], dtype=np.int64)
    return Work(np.minimum(a + shaped(extra, 0, a.ndim), NEVER), b, last)
