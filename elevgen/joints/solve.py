"""Solve a placement problem: settle what must stand, then each part by the method its shape allows."""

from __future__ import annotations

from elevgen.core.geometry import at_most
from elevgen.joints.chain import along_chain, round_ring
from elevgen.joints.graph import directed_lines, limbs
from elevgen.joints.problem import Placed, Problem, Solution
from elevgen.joints.settle import Part, settle


def solve(problem: Problem) -> Solution:
    """The best joints of a problem, by the cost in `elevgen.joints.problem`."""
    standing, parts = settle(problem)
    joints, optimal, bound = list(standing), True, len(standing)
    for part in parts:
        found, proven, least = _solve_part(part)
        joints += [(part.origin[edge], at) for edge, at in found]
        optimal, bound = optimal and proven, bound + least
    return Solution(tuple(sorted(joints)), optimal, bound)


def _solve_part(part: Part) -> tuple[tuple[Placed, ...], bool, int]:
    problem = part.problem
    if _needs_none(problem):
        return (), True, 0
    faces = {f.id: f for f in problem.faces}
    lines = directed_lines(problem)
    ends = [node for e in problem.edges for node in (e.a, e.b)]
    if len(lines) > 1 or any(ends.count(n) > 2 for n in ends):
        from elevgen.joints.branched import over_branches  # a third of the package, for branches only

        found = over_branches(problem, limbs(problem, lines))
        return found.joints, found.optimal, found.bound
    closed = all(ends.count(n) == 2 for n in ends)
    joints = (round_ring if closed else along_chain)(lines[0], faces, problem.spacing)
    return joints, True, len(joints)


def _needs_none(problem: Problem) -> bool:
    """True when the part is short all told, no panel is too long for its height, and no standing joint wants a corner's joint."""
    if not at_most(sum(e.span.length for e in problem.edges), problem.spacing):
        return False
    for face in problem.faces:
        if not face.short_enough(face.span):
            return False
        kinds = {face.start, face.finish}
        if kinds == {"corner", "joint"} and face.corner_reach is not None and not at_most(face.span.length, face.corner_reach):
            return False
    return True
