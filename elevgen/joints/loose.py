"""Limbs of a branched part with their joints anywhere, not only at candidates: counts that no real answer undercuts.

The joint nearest to a branch node is only known to stand between one candidate and the next. Seen from the node it counts
as standing at the nearer one, seen from the next joint on the limb at the further one. What lies between the first and
the last joint of a limb is exact: joints pushed on as far as they go.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import NamedTuple

import numpy as np

from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.branched import across
from elevgen.joints.eased import within_reach
from elevgen.joints.frontier import TooLarge
from elevgen.joints.graph import Limb, directed_lines, limbs, opened
from elevgen.joints.limbs import Arm, alike
from elevgen.joints.line import NEVER, ONE_JOINT, Floats, Ints, joints_in
from elevgen.joints.problem import Edge, Face, Placed, Problem
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
        step(self.way, 0, -1, 0, Reached(0.0, None), begun)
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
                done = step(self.way, 0, number, 0, last, onward)
                if self.limb.dead[1]:
                    at_end = np.array([done])
                    if done:
                        self.ended.setdefault(row, last)
                else:
                    bare = self.way[number].may_leave(last.at) and all(s.empty is not None for s in self.way[number + 1 :])
                    at_end = (self.columns == number) & (self.low <= last.at) & bare
                self.a[row][at_end & (self.a[row] >= NEVER)] = count * ONE_JOINT
            begun = onward

    def alone(self) -> int:
        """The joints it needs when it meets nothing at either end."""
        return 0 if self.whole_cost is not None or not self.a.size else joints_in(int(self.a.min()))

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
    lines = opened(directed_lines(eased))
    arms = _loose_arms(limbs(eased, lines), lines)
    alone = sum(arm.alone() for arm in arms if all(arm.limb.dead))
    try:
        joints = across(eased, [arm for arm in arms if not all(arm.limb.dead)]) or ()
        return Loose(len(joints) + alone, joints)
    except TooLarge:
        return Loose(sum(fewest_anywhere(half).bound for half in halves(problem, lines)) if len(lines) > 1 else 0, ())


def _loose_arms(limbs: Sequence[Limb], lines: Sequence[Sequence[tuple[Edge, bool]]]) -> list[LooseArm]:
    known: dict[tuple[object, ...], LooseArm] = {}
    arms = [alike(limb, known, partial(LooseArm, limb, edges)) for limb, edges in zip(limbs, lines, strict=True)]
    for arm, edges in zip(arms, lines, strict=True):
        arm.edges = edges
    return arms


def halves(problem: Problem, lines: Sequence[Sequence[tuple[Edge, bool]]]) -> Iterator[Problem]:
    """A part taken in two by its lines, as if they did not meet: the joints in each half keep every rule asked of it."""
    order = sorted(lines, key=lambda line: sorted(node for edge, _ in line for node in (edge.a, edge.b)))
    for half in (order[: len(order) // 2], order[len(order) // 2 :]):
        strips: list[list[Edge]] = []
        for edge in sorted((edge for line in half for edge, _ in line), key=lambda e: (e.face, e.span)):
            last = strips[-1][-1] if strips else None
            if last and last.face == edge.face and abs(last.span.end - edge.span.start) <= TOLERANCE:
                strips[-1].append(edge)
            else:
                strips.append([edge])
        faces = [_strip_of(problem.face(edges[0].face), edges, f"{n}") for n, edges in enumerate(strips)]
        kept = [edge._replace(face=face.id) for face, edges in zip(faces, strips, strict=True) for edge in edges]
        yield Problem(tuple(kept), tuple(faces), problem.spacing)


def _strip_of(face: Face, edges: Sequence[Edge], name: str) -> Face:
    """The part of a face along edges that follow on each other; nothing is asked at an end where the face went on."""
    span = Span(edges[0].span.start, edges[-1].span.end)
    start = face.start if abs(span.start - face.span.start) <= TOLERANCE else "stem"
    finish = face.finish if abs(span.end - face.span.end) <= TOLERANCE else "stem"
    return face._replace(id=name, span=span, start=start, finish=finish)


def _further(x: Floats, segment: Ints, left: Sequence[float]) -> Floats:
    """For each of falling positions the next one of the same segment, or the segment's end."""
    found = np.array([left[int(n)] for n in segment], dtype=np.float64)
    same = segment[1:] == segment[:-1]
    found[:-1][same] = x[1:][same]
    return found
