"""Solve a placement problem: settle what must stand, then each part by the method its shape allows.

A part is solved at its candidates first. Where fewer joints might do off the bond it is solved again with the places
that would make them do.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from elevgen.core.geometry import at_most
from elevgen.joints.audit import corners_missed
from elevgen.joints.branched import over_branches
from elevgen.joints.chain import along_chain, round_ring
from elevgen.joints.fewer import OffBond, fewer_in_branches, fewer_on_line, with_places
from elevgen.joints.graph import directed_lines, has_branches, opened
from elevgen.joints.loose import fewest_anywhere
from elevgen.joints.problem import Candidate, Edge, Placed, Problem, Solution
from elevgen.joints.settle import Part, settle
from elevgen.joints.wanted import apart, with_wanted


class _Shape(NamedTuple):
    """The lines a part is made of, and whether it has branches or is one closed ring."""

    lines: list[list[tuple[Edge, bool]]]
    branched: bool
    closed: bool


def plain(edge_id: str, at: float) -> Candidate:
    """A place off the bond that nothing else is known of."""
    return Candidate(at, on_grid=False)


def solve(problem: Problem, off_bond: OffBond = plain, *, all_wanted: bool = True) -> Solution:
    """The best joints of a problem, by the cost in `elevgen.joints.problem`; `off_bond` tells what a free place is like.

    Not `all_wanted`: what is asked for on both sides of a branch is left out.
    """
    standing, parts = settle(problem)
    joints, optimal, bound = list(standing), True, len(standing)
    for part in parts:
        found = _solve_part(part, off_bond, all_wanted=all_wanted)
        joints += [(part.origin[edge], at) for edge, at in found.joints]
        optimal, bound = optimal and found.optimal, bound + found.lower_bound
    return Solution(tuple(sorted(joints)), optimal, bound)


def lower_bound(problem: Problem, off_bond: OffBond = plain) -> int:
    """A number of joints that no answer undercuts, wherever they stand, without looking for an answer where that takes long."""
    standing, parts = settle(problem)
    return len(standing) + sum(_least(part, off_bond) for part in parts)


def _least(part: Part, off_bond: OffBond) -> int:
    if _shape(part.problem).branched and any(e.free for e in part.problem.edges):
        return max(fewest_anywhere(part.problem).bound, apart(part.problem))
    return _solve_part(part, off_bond).lower_bound


def _solve_part(part: Part, off_bond: OffBond, *, all_wanted: bool = True) -> Solution:
    problem = part.problem
    shape = _shape(problem)
    if shape.branched and problem.wanted and all_wanted:
        return _with_wanted(part, off_bond)
    if _needs_none(problem):
        return Solution((), True, 0)
    first = _at_candidates(problem, shape)
    if len(first.joints) < 2 or not any(e.free for e in problem.edges):
        return first

    def price(edge_id: str, at: float) -> Candidate:
        return off_bond(part.origin[edge_id], at)

    if shape.branched:
        fewer = fewer_in_branches(problem, first.joints, price)
    else:
        fewer = fewer_on_line(problem, shape.lines[0], shape.closed, first.joints, price)
    if not fewer.places:
        return Solution(first.joints, first.optimal and fewer.bound == len(first.joints), fewer.bound)
    wider = with_places(problem, fewer.places, price)
    second = _at_candidates(wider, _shape(wider))
    better = min(first, second, key=lambda found: _rank(problem, found.joints))
    return Solution(better.joints, better.optimal and fewer.bound == len(better.joints), fewer.bound)


def _with_wanted(part: Part, off_bond: OffBond) -> Solution:
    """A part with branches that asks for joints near something."""

    def solver(problem: Problem) -> Solution:
        return solve(problem, lambda edge, at: off_bond(part.origin[edge], at), all_wanted=False)

    return with_wanted(part.problem, solver)


def _shape(problem: Problem) -> _Shape:
    lines = directed_lines(problem)
    ends = Counter(node for e in problem.edges for node in (e.a, e.b))
    return _Shape(lines, has_branches(problem.edges), all(met == 2 for met in ends.values()))


def _at_candidates(problem: Problem, shape: _Shape) -> Solution:
    """The best joints at a part's candidates."""
    if shape.branched:
        return over_branches(problem, opened(shape.lines))
    faces = {f.id: f for f in problem.faces}
    joints = (round_ring if shape.closed else along_chain)(shape.lines[0], faces, problem.spacing, problem.wanted)
    return Solution(joints, True, len(joints))


def _rank(problem: Problem, joints: Sequence[Placed]) -> tuple[float, int]:
    """By how far corner rules are missed, then by number."""
    return round(sum(b.measured - b.limit for b in corners_missed(problem, joints)), 1), len(joints)


def _needs_none(problem: Problem) -> bool:
    """True when the part is short all told, no panel too long for its height, and neither a standing joint nor else asks."""
    if problem.wanted or not at_most(sum(e.span.length for e in problem.edges), problem.spacing):
        return False
    for face in problem.faces:
        if not face.short_enough(face.span):
            return False
        kinds = {face.start, face.finish}
        if kinds == {"corner", "joint"} and face.corner_reach is not None and not at_most(face.span.length, face.corner_reach):
            return False
    return True
