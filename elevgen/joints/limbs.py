"""What each limb of a branched part can be: left whole, or cut with its first and last joint at given distances from its ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from copy import copy
from functools import partial
from typing import NamedTuple, TypeVar

import numpy as np

from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.joints.chain import least, single_start
from elevgen.joints.graph import Limb, Side
from elevgen.joints.line import NEVER, Cost, Floats, Ints, Segment, Sweep, ranks, sweep

A = TypeVar("A", bound="Arm")


class Cuts(NamedTuple):
    """Best cost by the places of the first joint (rows) and the last joint (columns), and where those joints really stand.

    Rows and columns come in groups, each from the node outwards: the best within a group up to that place. No rows and
    columns: a limb left whole.
    """

    a: Ints
    b: Ints
    row: Ints | None
    column: Ints | None


class Arm:
    """A limb with all its best ways of being cut, by first joint (rows) and last joint (columns, from the far end)."""

    def __init__(self, limb: Limb) -> None:
        line = limb.line
        self.limb = limb
        reach = line.spacing + TOLERANCE
        self.near = np.flatnonzero(line.x <= reach)
        self.far = np.flatnonzero(line.x >= line.length - reach)[::-1]
        may_be_whole = not limb.asked and at_most(line.length, line.spacing) and line.empty()[0] < NEVER
        self.whole_cost: Cost | None = line.empty() if may_be_whole else None
        self.a = self.b = np.empty((0, 0), dtype=np.int64)
        if line.size:
            self._sweep()

    def _sweep(self) -> None:
        line, dead, asked = self.limb.line, self.limb.dead, self.limb.asked
        if dead[0]:
            a, b, starts = single_start(line)
        else:
            rows = np.arange(len(self.near))
            starts = self.near
            a = np.full((len(rows), line.size), NEVER, dtype=np.int64)
            b = np.zeros((len(rows), line.size), dtype=np.int64)
            a[rows, starts] = np.minimum(line.before_a[starts] + line.own_a[starts], NEVER)
            b[rows, starts] = line.before_b[starts] + line.own_b[starts]
        a[:, line.x > min((span.end for span in asked), default=line.length) + TOLERANCE] = NEVER
        self.found: Sweep = sweep(line, a, b, starts, asked)
        self.a = np.minimum(self.found.a[:, self.far] + line.after_a[self.far], NEVER)
        self.a[:, line.x[self.far] < max((span.start for span in asked), default=0.0) - TOLERANCE] = NEVER
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

    def joints_from(self, side: Side) -> Ints:
        """The candidates that may be the joint nearest to an end, nearest first."""
        return self.near if side == 0 else self.far

    def distances(self, side: Side) -> Floats:
        """How far those stand from the node."""
        x = self.limb.line.x[self.joints_from(side)]
        return x if side == 0 else self.limb.line.length - x

    def on_face(self, side: Side) -> list[bool]:
        """Whether those stand on the face that ends at the node, before any corner."""
        number = 0 if side == 0 else len(self.limb.line.segments) - 1
        return [bool(n == number) for n in self.limb.line.segment[self.joints_from(side)]]

    def cuts(self, rows: Sequence[Sequence[int]], columns: Sequence[Sequence[int]]) -> Cuts:
        """Best costs with rows and columns in those groups."""
        order = [r for group in rows for r in group], [c for group in columns for c in group]
        index = np.ix_(*order)
        a, b = self.a[index], self.b[index]
        ranked, rank = ranks(a, b)
        for groups, axis in ((rows, 0), (columns, 1)):
            at = 0
            for group in groups:
                part = rank[at : at + len(group)] if axis == 0 else rank[:, at : at + len(group)]
                np.minimum.accumulate(part, axis=axis, out=part)
                at += len(group)
        best = ranked[rank]
        row, column = np.array(order[0])[best // a.shape[1]], np.array(order[1])[best % a.shape[1]]
        return Cuts(a.ravel()[best], b.ravel()[best], row, column)

    def joints(self, row: int, column: int) -> list[tuple[str, float]]:
        """The joints of the best way with that first and last joint."""
        k = int(self.ends[row]) if self.limb.dead[1] else column
        last = int(self.far[k])
        return [self.limb.names[c] for c in self.found.joints(row, last)]


def arms_of(limbs: Sequence[Limb]) -> list[Arm]:
    """The arms of limbs; those of limbs that are alike are reckoned once."""
    known: dict[tuple[object, ...], Arm] = {}
    return [alike(limb, known, partial(Arm, limb)) for limb in limbs]


def alike(limb: Limb, known: dict[tuple[object, ...], A], make: Callable[[], A]) -> A:
    """An arm made before for a limb with the same costs, on this limb; else a new one."""
    key = (id(limb.line.x), limb.dead, limb.asked)
    if key not in known:
        known[key] = make()
    found = copy(known[key])
    found.limb = limb
    return found
