"""Limbs of a branched part with their joints anywhere, not only at candidates: counts that no real answer undercuts.

The joint nearest to a branch node is only known to stand between one candidate and the next. Seen from the node it counts
as standing at the nearer one, seen from the next joint on the limb at the further one. What lies between the first and
the last joint of a limb is exact: joints pushed on as far as they go.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from elevgen.core.geometry import TOLERANCE
from elevgen.joints.branched import best_first
from elevgen.joints.eased import within_reach
from elevgen.joints.eliminate import TooLarge
from elevgen.joints.graph import Limb, directed_lines, limbs
from elevgen.joints.limbs import Arm
from elevgen.joints.line import NEVER, ONE_JOINT, Floats, Ints
from elevgen.joints.problem import Edge, Placed, Problem
from elevgen.joints.pushing import Reached, Reaches, step
from elevgen.joints.stretch import on_edges, stretches


class LooseArm(Arm):
    """A limb cut by as few joints as can be, by the cells its first (rows) and last joint (columns) stand in."""

    def __init__(self, limb: Limb, edges: Sequence[tuple[Edge, bool]]) -> None:
        self.edges = edges
        self.way = [s._replace(cut=0, empty=None if s.empty is None else 0) for s in stretches(limb.line.segments, edges)]
        self.reached: dict[tuple[int, int, int], Reached] = {}
        self.ended: dict[int, Reached] = {}
        super().__init__(limb)
        if self.whole_cost is not None:
            self.whole_cost = (0, 0)

    def _sweep(self) -> None:
        dead = self.limb.dead
        rows = 1 if dead[0] else len(self.near)
        self.a = np.full((rows, 1 if dead[1] else len(self.far)), NEVER, dtype=np.int64)
        self.b = np.zeros_like(self.a)
        self.columns = self.limb.line.segment[self.far]
        line = self.limb.line
        low = _further(line.x[self.far], self.columns, [s.left for s in self.way])
        self.low = np.maximum(low + TOLERANCE, line.length - line.spacing - TOLERANCE)
        tops = -_further(-line.x[self.near], line.segment[self.near], [-s.right for s in self.way]) - 2 * TOLERANCE
        for row in range(rows):
            self._push(row, self._from_end() if dead[0] else self._from_cell(int(self.near[row]), float(tops[row])))

    def _from_end(self) -> Reaches:
        begun: Reaches = {}
        step(self.way, self.limb.line.spacing, 0, -1, 0, Reached(0.0, None), begun)
        return begun

    def _from_cell(self, candidate: int, top: float) -> Reaches:
        """The first joint as far on in its cell as it may stand."""
        number = int(self.limb.line.segment[candidate])
        here = self.way[number]
        at = here.furthest(here.left, min(top, here.first, self.limb.line.spacing))
        bare = all(s.empty is not None for s in self.way[:number])
        fits = bare and at is not None and at >= float(self.limb.line.x[candidate]) - TOLERANCE
        return {(number, 0): Reached(at, Reached(0.0, None))} if fits and at is not None else {}

    def _push(self, row: int, begun: Reaches) -> None:
        """Fills a row: joints added one at a time until they reach the end of the limb."""
        count = 0
        while begun and (self.a[row] >= NEVER).any():
            count += 1
            onward: Reaches = {}
            for (number, _), last in begun.items():
                self.reached[row, count, number] = last
                done = step(self.way, self.limb.line.spacing, 0, number, 0, last, onward)
                if self.limb.dead[1]:
                    at_end = np.array([done])
                    if done:
                        self.ended.setdefault(row, last)
                else:
                    bare = self.way[number].may_leave(last.at) and all(s.empty is not None for s in self.way[number + 1 :])
                    at_end = (self.columns == number) & (self.low <= last.at) & bare
                self.a[row][at_end & (self.a[row] >= NEVER)] = count * ONE_JOINT
            begun = onward

    def joints(self, row: int, column: int) -> list[Placed]:
        """Joints of that many, the last one at its candidate."""
        if self.limb.dead[1]:
            return list(on_edges(self.edges, self.ended[row].joints()[1:]))
        count = int(self.a[row, column]) // ONE_JOINT
        last = self.reached[row, count, int(self.columns[column])]
        return list(on_edges(self.edges, (*last.joints()[1:-1], float(self.limb.line.x[self.far[column]]))))


class Loose(NamedTuple):
    """Fewer joints than `bound` will not do wherever they stand; about where they would, as far as that is known."""

    bound: int
    joints: tuple[Placed, ...]


def fewest_anywhere(problem: Problem) -> Loose:
    """The fewest joints of a part with branches, each in a cell between two candidates: finer candidates prove more."""
    free = {face.id: [s for e in problem.edges if e.face == face.id for s in e.free] for face in problem.faces}
    eased = problem._replace(faces=tuple(within_reach(face, free[face.id]) for face in problem.faces))
    lines = directed_lines(eased)
    arms = [LooseArm(limb, edges) for limb, edges in zip(limbs(eased, lines), lines, strict=True)]
    try:
        joints = best_first(arms, problem.spacing)
        return Loose(len(joints), joints)
    except TooLarge:
        least = sum(min(cost for cost, _ in arm.choices())[0] for arm in arms)
        return Loose(least // ONE_JOINT, ())


def _further(x: Floats, segment: Ints, left: Sequence[float]) -> Floats:
    """For each of falling positions the next one of the same segment, or the segment's end."""
    found = np.array([left[int(n)] for n in segment], dtype=np.float64)
    same = segment[1:] == segment[:-1]
    found[:-1][same] = x[1:][same]
    return found
