"""The proof for a run with branches whose faces do not all allow the same spacing."""

from __future__ import annotations

from collections.abc import Collection

from elevgen.joints.fewer import OffBond
from elevgen.joints.problem import Candidate, Placed, Problem, Solution, spacing_of
from elevgen.joints.settle import Part, alike, given_joints, is_mixed, parts_at
from elevgen.joints.solve import lower_bound


def proven(problem: Problem, solution: Solution, off_bond: OffBond) -> Solution:
    """The solution, claiming no more than is proven of it.

    A part with branches is solved with the spacing of its strictest face, but a piece that has none of that face left may be
    longer. So where the faces of such a part with joints differ, fewer are only ruled out by the longest of their spacings,
    and that as many cannot stand better is not shown.
    """
    given = given_joints(problem)
    placed = set(solution.joints).difference(given)
    parts = parts_at(problem, given)
    if not any(is_mixed(part.problem) and _holds_any(part, placed) for part in parts):
        return solution
    bound = len(given) + sum(_least(part, off_bond) for part in parts)
    return solution._replace(optimal=False, lower_bound=min(bound, solution.lower_bound))


def _least(part: Part, off_bond: OffBond) -> int:
    """A number of joints that no answer undercuts in a part."""

    def price(edge: str, at: float) -> Candidate:
        return off_bond(part.origin[edge], at)

    mixed = is_mixed(part.problem)
    longest = max(spacing_of((face,), part.problem.spacing) for face in part.problem.faces)
    return lower_bound(alike(part.problem, longest) if mixed else part.problem, price)


def _holds_any(part: Part, joints: Collection[Placed]) -> bool:
    """Whether any of the joints stands in the part: at one of its places, or off the bond in one of its edges."""
    return any(part.origin[edge.id] == name and edge.span.contains(at) for edge in part.problem.edges for name, at in joints)
