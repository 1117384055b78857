"""What the rest must cost at least, from a sweep the other way in which less is looked at."""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from elevgen.joints.frontier import Table
from elevgen.joints.limbs import Arm
from elevgen.joints.line import NEVER, ONE_JOINT, Ints


class Look(NamedTuple):
    """A sweep in which only the costs from `unit` on are looked at; and the later ones, evenness and cuts, or not."""

    unit: int
    all: bool

    def at(self, arm: Arm) -> Arm:
        """A limb that costs no more than that."""
        if self.all:
            return arm
        found = copy(arm)
        found.a = arm.a & ~(self.unit - 1)
        found.b = np.zeros_like(arm.b)
        found.whole_cost = None if arm.whole_cost is None else (arm.whole_cost[0] & ~(self.unit - 1), 0)
        return found


LOOKS = (Look(ONE_JOINT, all=False), Look(1, all=False), Look(1, all=True))
"""Missed corner rules and numbers of joints; also crowding and joints not hidden; everything."""


class Ahead:
    """What a sweep from the other end found that the rest costs after each step of the sweep to come.

    `limit`: the longest path allowed (0.001 mm). `unit`: what that sweep looked at.
    """

    def __init__(self, swept: Sequence[Sequence[Table]], limit: int, unit: int) -> None:
        (whole,) = swept[-1]
        self.best = int(whole.a)
        self.unit = unit
        self.tables = [*swept[-2::-1], swept[-1]]
        self.limit = limit

    def pruned(self, table: Table, step: int) -> Table:
        """The table after a step without what cannot lead to an answer as good as the best one of that sweep."""
        if not table.stands:
            return table
        rest = np.full(table.a.shape, NEVER, dtype=np.int64)
        for other in self.tables[step]:
            np.minimum(rest, self._beyond(table, other), out=rest)
        return replace(table, a=np.where(table.a + rest >= self.best + self.unit, NEVER, table.a))

    def _beyond(self, table: Table, other: Table) -> Ints:
        """For each entry the least that the other side costs with paths that leave room for this side's."""
        costs = other.a
        for axis, node in enumerate(other.shape.nodes):
            paths = np.array([stand.path for stand in other.stands[axis]], dtype=np.int64)
            rising = np.argsort(paths, kind="stable")
            best = np.minimum.accumulate(costs.take(rising, axis), axis=axis)
            best = np.concatenate([best, np.full_like(best.take([0], axis), NEVER)], axis)
            here = table.stands[table.shape.nodes.index(node)]
            left = np.array([self.limit - stand.path for stand in here], dtype=np.int64)
            costs = best.take(np.searchsorted(paths[rising], left, "right") - 1, axis)
        return costs.transpose([other.shape.nodes.index(node) for node in table.shape.nodes])
