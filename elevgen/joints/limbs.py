"""What each limb of a branched part can be: left whole, or cut with its first and last joint in given reaches.

A limb's two ends are seen from the branch nodes they leave: the first joint met, at its distance. Where a face runs on
straight through a node, it matters whether that joint is still on the same face (`on`) or round a corner (`past`).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

import numpy as np

from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.joints.chain import least, single_start
from elevgen.joints.graph import Limb, Side
from elevgen.joints.line import NEVER, Cost, Floats, Ints, Segment, Sweep, sweep

Place = Literal["on", "past", "any"]
Cut = tuple[Place, Place]
Choice = Cut | None
"""None: the limb is left whole."""


class Table(NamedTuple):
    """Best cost with the first joint among the first so many and the last among the last so many, and where that stands."""

    a: Ints
    b: Ints
    row: Ints
    column: Ints


class Arm:
    """A limb with all its best ways of being cut, by first joint (rows) and last joint (columns, from the far end)."""

    def __init__(self, limb: Limb) -> None:
        line = limb.line
        self.limb = limb
        reach = line.spacing + TOLERANCE
        self.near = np.flatnonzero(line.x <= reach)
        self.far = np.flatnonzero(line.x >= line.length - reach)[::-1]
        self.whole_cost: Cost | None = line.empty() if at_most(line.length, line.spacing) and line.empty()[0] < NEVER else None
        self._tables: dict[tuple[object, ...], Table] = {}
        if line.size:
            self._sweep()

    def _sweep(self) -> None:
        line, dead = self.limb.line, self.limb.dead
        if dead[0]:
            a, b, starts = single_start(line)
        else:
            rows = np.arange(len(self.near))
            starts = self.near
            a = np.full((len(rows), line.size), NEVER, dtype=np.int64)
            b = np.zeros((len(rows), line.size), dtype=np.int64)
            a[rows, starts] = np.minimum(line.before_a[starts] + line.own_a[starts], NEVER)
            b[rows, starts] = line.before_b[starts] + line.own_b[starts]
        self.found: Sweep = sweep(line, a, b, starts)
        self.a = np.minimum(self.found.a[:, self.far] + line.after_a[self.far], NEVER)
        self.b = self.found.b[:, self.far] + line.after_b[self.far]
        if dead[1]:
            ends = [least(self.a[r], self.b[r])[0] for r in range(len(self.a))]
            self.ends = np.array(ends)
            pick = np.arange(len(self.a))
            self.a, self.b = self.a[pick, self.ends][:, None], self.b[pick, self.ends][:, None]

    def segment(self, side: Side) -> Segment:
        """The segment at one end."""
        return self.limb.line.segments[0 if side == 0 else -1]

    def runs_on(self, side: Side) -> bool:
        """True where the face goes on straight through the node."""
        return self.segment(side).open_left if side == 0 else self.segment(side).open_right

    def places(self, side: Side) -> tuple[Place, ...]:
        """The cases to tell apart for the joint nearest to one end."""
        if self.limb.dead[side] or not self.runs_on(side):
            return ("any",)
        return ("on",) if len(self.limb.line.segments) == 1 else ("on", "past")

    def choices(self) -> Iterator[tuple[Cost, Choice]]:
        """Everything the limb can be, with the least it costs."""
        if self.whole_cost is not None:
            yield self.whole_cost, None
        if not self.limb.line.size:
            return
        for first in self.places(0):
            for last in self.places(1):
                rows, columns = self.reach(0, first), self.reach(1, last)
                if len(rows) and len(columns):
                    a, b = self.a[np.ix_(rows, columns)].ravel(), self.b[np.ix_(rows, columns)].ravel()
                    _, cost = least(a, b)
                    if cost[0] < NEVER:
                        yield cost, (first, last)

    def reach(self, side: Side, place: Place) -> Ints:
        """Which rows (side 0) or columns (side 1) have their joint there, nearest first."""
        if self.limb.dead[side]:
            return np.zeros(1, dtype=np.int64)
        order = self.near if side == 0 else self.far
        segment = self.limb.line.segment[order]
        here = segment == (0 if side == 0 else len(self.limb.line.segments) - 1)
        keep = np.ones(len(order), dtype=bool) if place == "any" else here if place == "on" else ~here
        return np.flatnonzero(keep)

    def distances(self, side: Side, which: Ints) -> Floats:
        """From the node to those joints."""
        x = self.limb.line.x[(self.near if side == 0 else self.far)[which]]
        return x if side == 0 else self.limb.line.length - x

    def table(self, cut: Cut, extra: tuple[Ints | None, Ints | None]) -> Table:
        """Best costs for every pair of reaches, each end's joint costing `extra` more by its place."""
        key = (cut, *(None if e is None else e.tobytes() for e in extra))
        if key not in self._tables:
            rows, columns = self.reach(0, cut[0]), self.reach(1, cut[1])
            a, b = self.a[np.ix_(rows, columns)].copy(), self.b[np.ix_(rows, columns)].copy()
            if extra[0] is not None:
                a += extra[0][:, None]
            if extra[1] is not None:
                a += extra[1][None, :]
            self._tables[key] = _best_within(np.minimum(a, NEVER), b, rows, columns)
        return self._tables[key]

    def joints(self, row: int, column: int) -> list[tuple[str, float]]:
        """The joints of the best way with that first and last joint."""
        k = int(self.ends[row]) if self.limb.dead[1] else column
        last = int(self.far[k])
        return [self.limb.names[c] for c in self.found.joints(row, last)]


def _best_within(a: Ints, b: Ints, rows: Ints, columns: Ints) -> Table:
    """Running best over rows and columns."""
    row = np.broadcast_to(rows[:, None], a.shape).copy()
    column = np.broadcast_to(columns[None, :], a.shape).copy()
    for r in range(1, len(rows)):
        _keep_better(a, b, row, column, (r, slice(None)), (r - 1, slice(None)))
    for c in range(1, len(columns)):
        _keep_better(a, b, row, column, (slice(None), c), (slice(None), c - 1))
    return Table(a, b, row, column)


def _keep_better(a: Ints, b: Ints, row: Ints, column: Ints, to: tuple[object, ...], of: tuple[object, ...]) -> None:
    better = (a[of] < a[to]) | ((a[of] == a[to]) & (b[of] < b[to]))  # type: ignore[index]
    for table in (a, b, row, column):
        table[to] = np.where(better, table[of], table[to])  # type: ignore[index]
