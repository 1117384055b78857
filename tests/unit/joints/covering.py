"""An outside judge: placement as a covering problem, solved to proven optimality by scipy's integer programming.

Every path longer than the spacing must hold a joint. It is enough to ask it of the paths that begin right after a
candidate or a node and end where the spacing is used up. What the rules of a face ask is added in the same form.
Evenness has no place in it: the counts are proven, the even spread is left to the caller.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil, inf
from typing import NamedTuple

import numpy as np

from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.line import Floats
from elevgen.joints.problem import Candidate, Edge, Face, Placed, Problem

_Cover = frozenset[int]
_NONE: _Cover = frozenset()
_Row = tuple[Sequence[int], Sequence[float], float]
"""Unknowns, their factors, and the least they may add up to."""

_WEIGHT = 1 << 11
"""More crowding, or joints not hidden, than this in one part would let a later preference outweigh an earlier one."""


MOST_BRANCHES = 4000
"""Branches after which the search for fewest joints stops."""


class Covered(NamedTuple):
    """Joints that cover every path, how many they must at least be, and whether nothing cheaper covers them."""

    joints: tuple[Placed, ...]
    bound: int
    proven: bool


def fewest(problem: Problem, branches: int = MOST_BRANCHES) -> Covered:
    """The joints that miss corner rules least, then are fewest, then least crowded, then best hidden.

    After `branches` branches, the best found so far; every candidate if there is none. Counted, not timed: the same walls
    get the same joints on any machine.
    """
    places = [(edge, c) for edge in problem.edges for c in edge.candidates]
    number = {(edge.id, c.at): n for n, (edge, c) in enumerate(places)}
    covers = _least({cover for cover in (*_paths(problem, number), *_panels(problem, number)) if cover})
    corners = list(_corners(problem, number))
    rows: list[_Row] = [(sorted(c), [1.0] * len(c), 1.0) for c in covers]
    for k, (own, nearer, _) in enumerate(corners):
        one = [1.0] * (len(nearer) + 1)
        if own is None:
            rows.append(([len(places) + k, *nearer], one, 1.0))
        else:
            rows.append(([len(places) + k, *nearer, own], [*one, -1.0], 0.0))
    whole = [True] * len(places) + [False] * len(corners)
    missed = [0.0] * len(places) + [m for _, _, m in corners]
    proven = True
    if corners:
        best = _minimum(missed, rows, whole, branches)
        proven = best.proven
        rows.append((range(len(places), len(whole)), [-m for m in missed[len(places) :]], -best.value - TOLERANCE / 2))
    best = _minimum([_cost(c) for _, c in places] + [0.0] * len(corners), rows, whole, branches)
    joints = tuple((places[n][0].id, places[n][1].at) for n in range(len(places)) if best.x[n] > 0.5)
    bound = ceil(best.bound / _cost(max((c for _, c in places), key=_cost)) - 1e-6)
    return Covered(joints, len(joints) if best.proven else max(bound, 0), proven and best.proven)


class _Minimum(NamedTuple):
    x: Floats
    value: float
    bound: float
    proven: bool


def _minimum(cost: Sequence[float], rows: Sequence[_Row], whole: Sequence[bool], branches: int) -> _Minimum:
    """The least cost with every row at least its limit, unknowns between 0 and 1."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    data = [v for _, values, _ in rows for v in values]
    columns = [c for found, _, _ in rows for c in found]
    starts = np.cumsum([0, *(len(found) for found, _, _ in rows)])
    matrix = csr_array((data, columns, starts), shape=(len(rows), len(cost)))
    limits = LinearConstraint(matrix, [low for _, _, low in rows], inf)
    found = milp(
        np.array(cost),
        integrality=np.array(whole, dtype=int),
        bounds=Bounds(0, 1),
        constraints=limits,
        options={"mip_rel_gap": 0.0, "node_limit": branches},
    )
    if found.x is None:
        return _Minimum(np.ones(len(cost)), sum(cost), 0.0, False)
    return _Minimum(found.x, float(found.fun), float(found.mip_dual_bound or 0.0), bool(found.success))


def _cost(c: Candidate) -> float:
    return float(_WEIGHT * _WEIGHT + _WEIGHT * c.crowding + (not c.hidden))


def _least(covers: set[_Cover]) -> list[_Cover]:
    """Covers that hold no other cover of the same first or last candidate: those others ask for more."""
    by_member: dict[int, list[_Cover]] = {}
    kept: list[_Cover] = []
    for cover in sorted(covers, key=lambda c: (len(c), sorted(c))):
        if not any(small <= cover for n in cover for small in by_member.get(n, ())):
            kept.append(cover)
            by_member.setdefault(min(cover), []).append(cover)
    return kept


class _Walk(NamedTuple):
    """The map a path is walked on, and where it began: an edge and a position, a candidate's or a node's."""

    at: Mapping[str, Sequence[tuple[Edge, bool]]]
    number: Mapping[Placed, int]
    begin: Placed

    def along(
        self, edge: Edge, forward: bool, start: float, left: float, held: _Cover = _NONE, passed: frozenset[str] = frozenset()
    ) -> Iterator[_Cover]:
        """Candidates on each path from `start` on an edge and onwards that just exceeds `left`.

        Positions are negative when the edge is walked backwards. A path that comes back to where it began ends there.
        """
        end = edge.span.end if forward else -edge.span.start
        back = bool(passed) and self.begin[0] == edge.id
        if back:
            end = self.begin[1] if forward else -self.begin[1]
        here = [(c.at if forward else -c.at, self.number[edge.id, c.at]) for c in edge.candidates]
        held = held | {n for x, n in here if start < x < end and x <= start + left + TOLERANCE}
        if end - start > left + TOLERANCE:
            yield held
            return
        node = edge.b if forward else edge.a
        if back or node in passed:
            return
        for onward, way in self.at[node]:
            if onward.id != edge.id:
                begin = onward.span.start if way else -onward.span.end
                yield from self.along(onward, way, begin, left - (end - start), held, passed | {node})


def _paths(problem: Problem, number: Mapping[Placed, int]) -> Iterator[_Cover]:
    """Candidates on each path that just exceeds the spacing."""
    at: dict[str, list[tuple[Edge, bool]]] = {}
    for edge in problem.edges:
        at.setdefault(edge.a, []).append((edge, True))
        at.setdefault(edge.b, []).append((edge, False))
    for edge in problem.edges:
        for forward in (True, False):
            node = edge.span.start if forward else edge.span.end
            for begin in (node, *(c.at for c in edge.candidates)):
                walk = _Walk(at, number, (edge.id, begin))
                yield from walk.along(edge, forward, begin if forward else -begin, problem.spacing)


def _panels(problem: Problem, number: Mapping[Placed, int]) -> Iterator[_Cover]:
    """Candidates in each stretch of a face that is just too long for its height; the next one where there are none."""
    for face in problem.faces:
        if face.panel is None:
            continue
        mine = _on(face, problem, number)
        for start in (face.span.start, *(at for at, _ in mine)):
            ahead = [(at, n) for at, n in mine if at > start]
            held = [n for at, n in ahead if face.short_enough(Span(start, at))]
            if held and len(held) == len(ahead) and face.short_enough(Span(start, face.span.end)):
                continue
            if ahead and not (not held and face.short_enough(Span(start, face.span.end))):
                yield frozenset(held or [ahead[0][1]])


def _corners(problem: Problem, number: Mapping[Placed, int]) -> Iterator[tuple[int | None, list[int], float]]:
    """For each candidate too far from a corner of its face: itself, those nearer, and by how much it would miss.

    None for itself: a joint that already stands at the far end of the face.
    """
    for face in problem.faces:
        if face.corner_reach is None:
            continue
        mine = _on(face, problem, number)
        for kind, other, corner, order in (
            (face.start, face.finish, face.span.start, mine),
            (face.finish, face.start, face.span.end, mine[::-1]),
        ):
            if kind != "corner":
                continue
            far: list[tuple[float, int | None]] = [(abs(at - corner), n) for at, n in order]
            if other == "joint":
                far.append((face.span.length, None))
            for k, (away, n) in enumerate(far):
                if away > face.corner_reach + TOLERANCE:
                    yield n, [m for _, m in order[:k]], away - face.corner_reach


def _on(face: Face, problem: Problem, number: Mapping[Placed, int]) -> list[tuple[float, int]]:
    return sorted((c.at, number[e.id, c.at]) for e in problem.edges if e.face == face.id for c in e.candidates)
