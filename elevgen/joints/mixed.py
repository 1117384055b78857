"""The proof for a run whose faces do not all allow the same spacing."""

from __future__ import annotations

from collections.abc import Collection

from elevgen.joints.fewer import OffBond
from elevgen.joints.problem import Placed, Problem, Solution
from elevgen.joints.settle import Part, given_joints, parts_at
from elevgen.joints.solve import lower_bound


def proven(problem: Problem, solution: Solution, off_bond: OffBond) -> Solution:
    """The solution, claiming no more than is proven of it.

    A part is solved with the spacing of its strictest face, but a piece that has none of that face left may be longer. So
    where the faces of a part with joints differ, fewer are only ruled out by the longest of their spacings, and that as many
    cannot stand better is not shown.
    """
    if len({face.spacing for face in problem.faces}) == 1:
        return solution
    given = given_joints(problem)
    placed = set(solution.joints).difference(given)
    if not any(_is_mixed(part) and _holds_any(part, placed) for part in parts_at(problem, given)):
        return solution
    longest = max(face.spacing for face in problem.faces)
    loose = problem._replace(faces=tuple(f._replace(spacing=longest) for f in problem.faces), spacing=longest)
    bound = lower_bound(loose, off_bond)
    return solution._replace(optimal=False, lower_bound=min(bound, solution.lower_bound))


def _is_mixed(part: Part) -> bool:
    return len({face.spacing for face in part.problem.faces}) > 1


def _holds_any(part: Part, joints: Collection[Placed]) -> bool:
    """Whether any of the joints stands in the part: at one of its places, or off the bond in one of its edges."""
    return any(part.origin[edge.id] == name and edge.span.contains(at) for edge in part.problem.edges for name, at in joints)
