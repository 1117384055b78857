"""Joints asked for near corners and openings, where masonry has branches: which of their places to take.

Chains, rings and limbs are swept with what is asked of each (`chain`, `limbs`). What is asked for on both sides of a branch is
left out at first. Where such a stretch is left without a joint, each of its places is made to stand in turn and the rest is
solved again; the cheapest answer so far is always gone on with, by the order of cost in `problem`, so the first that has all
that is asked for is the best there is.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from heapq import heappop, heappush
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE
from elevgen.joints.audit import corners_missed
from elevgen.joints.problem import Candidate, Edge, Placed, Problem, Solution, Wanted

WORK = 5_000
"""Candidates of all the problems solved for one part, added up, before the best answer so far has to do."""
GOOD = 12
"""Places of one stretch that are tried: all where it has no more, else the best liked."""

Solver = Callable[[Problem], Solution]
"""Solves a problem, heeding what is asked of its chains, rings and limbs only."""

Cost = tuple[int, int, int, int, int, int]


class _Answer(NamedTuple):
    """Joints that stand, and the best there is with them; by its cost."""

    cost: Cost
    standing: tuple[Placed, ...]
    found: Solution


def unmet(problem: Problem, joints: Collection[Placed]) -> tuple[Wanted, ...]:
    """What is asked for and is not there."""
    face_of = {edge.id: edge.face for edge in problem.edges}
    return tuple(w for w in problem.wanted if not any(w.met_at(face_of[edge], at) for edge, at in joints))


def apart(problem: Problem) -> int:
    """How many of the stretches that ask for a joint share no place: so many joints there are at least."""
    chosen: list[Wanted] = []
    for one in sorted(problem.wanted, key=lambda w: (sum(span.length for _, span in w.stretches), w.stretches)):
        if not any(_share(one, other) for other in chosen):
            chosen.append(one)
    return len(chosen)


def _share(one: Wanted, other: Wanted) -> bool:
    pairs = ((a, b) for a in one.stretches for b in other.stretches)
    return any(f == g and min(a.end, b.end) - max(a.start, b.start) >= -2 * TOLERANCE for (f, a), (g, b) in pairs)


def with_wanted(problem: Problem, solver: Solver) -> Solution:
    """The best joints found that have all that is asked for.

    `optimal` only where all was tried and no fewer joints would do: the bound is that of the masonry without what is asked
    for, or the number of stretches that ask and share no place.
    """
    search = _Search(problem, solver)
    best, proven = search.run()
    bound = max(search.bound, apart(problem))
    joints = best.found.joints
    return Solution(joints, proven and best.found.optimal and bound == len(joints), min(bound, len(joints)))


class _Search:
    """Answers by rising cost; how many candidates may still be looked at, and whether any was passed over."""

    def __init__(self, problem: Problem, solver: Solver) -> None:
        self.problem, self.solver = problem, solver
        self.size = max(1, sum(len(edge.candidates) for edge in problem.edges))
        self.left, self.passed_over = WORK, False
        self.known: dict[tuple[Placed, ...], _Answer] = {}
        self.edges = {edge.id: edge for edge in problem.edges}
        self.bound = 0

    def run(self) -> tuple[_Answer, bool]:
        """The best answer, and whether it is known to be the best from these candidates."""
        first = self._with(())
        self.bound = first.found.lower_bound
        answers, tried = [first], {first.standing}
        while answers and self.left > 0:
            best = heappop(answers)
            missing = unmet(self.problem, best.found.joints)
            if not missing:
                return best, not self.passed_over
            hardest = min(missing, key=lambda w: (len(self._places(w)), w.stretches))
            for place in self._tried(hardest):
                standing = tuple(sorted({*best.standing, place}))
                if standing not in tried:
                    tried.add(standing)
                    heappush(answers, self._with(standing))
        return min(self._completed(answer) for answer in sorted(answers)[:GOOD]), False

    def _with(self, standing: tuple[Placed, ...]) -> _Answer:
        if standing not in self.known:
            self.left -= self.size
            found = self.solver(_standing(self.problem, standing))
            self.known[standing] = _Answer(cost(self.problem, found.joints), standing, found)
        return self.known[standing]

    def _completed(self, answer: _Answer) -> _Answer:
        """An answer with joints added until nothing is missing: each in as many stretches that ask as may be, then well liked."""
        while missing := unmet(self.problem, answer.found.joints):
            places = sorted({place for one in missing for place, _ in self._places(one)})
            liking = {(edge, c.at): _liking(c) for one in missing for (edge, _), c in self._places(one)}

            def worth(place: Placed, missing: Sequence[Wanted] = missing) -> int:
                return sum(one.met_at(self.edges[place[0]].face, place[1]) for one in missing)

            best = min(places, key=lambda place: (-worth(place), liking[place], place))
            answer = self._with(tuple(sorted({*answer.standing, best})))
        return answer

    def _places(self, one: Wanted) -> list[tuple[Placed, Candidate]]:
        found = ((edge, c) for edge in self.problem.edges for c in edge.candidates if one.met_at(edge.face, c.at))
        return [((edge.id, c.at), c) for edge, c in found]

    def _tried(self, one: Wanted) -> list[Placed]:
        """The places worth trying: all, or evenly spread ones of those liked best."""
        places = self._places(one)
        if len(places) <= GOOD:
            return [place for place, _ in places]
        self.passed_over = True
        chosen: list[Placed] = []
        for liking in sorted({_liking(c) for _, c in places}):
            alike = [place for place, c in places if _liking(c) == liking]
            room = GOOD - len(chosen)
            chosen += alike if len(alike) <= room else [alike[k * (len(alike) - 1) // max(room - 1, 1)] for k in range(room)]
        return chosen


def _liking(c: Candidate) -> tuple[int, bool, bool]:
    return c.crowding, not c.hidden, not c.on_grid


def _standing(problem: Problem, joints: Sequence[Placed]) -> Problem:
    """The problem with joints that stand whatever else does."""
    places = set(joints)

    def edge_with(edge: Edge) -> Edge:
        given = tuple(c._replace(given=True) if (edge.id, c.at) in places else c for c in edge.candidates)
        return edge._replace(candidates=given)

    return problem._replace(edges=tuple(edge_with(edge) for edge in problem.edges))


def cost(problem: Problem, joints: Collection[Placed]) -> Cost:
    """What an answer costs, in the order of `problem`: corner rules missed (0.1 mm), joints, crowding, joints not hidden,
    evenness (0.01 mm2), joints off the bond."""
    placed = set(joints)
    chosen = [c for edge in problem.edges for c in edge.candidates if (edge.id, c.at) in placed]
    missed = sum(int((b.measured - b.limit) * 10 + 0.5) for b in corners_missed(problem, joints))
    crowding, seen = sum(c.crowding for c in chosen), sum(not c.hidden for c in chosen)
    even = sum(int(length * 10 + 0.500001) ** 2 for length in _lengths(problem, placed))
    off_bond = len(placed) - sum(c.on_grid for c in chosen)
    return missed, len(placed), crowding, seen, even, off_bond


def _lengths(problem: Problem, joints: Collection[Placed]) -> Iterator[float]:
    """The straight lengths between joints, ends, corners and meetings."""
    ends = [node for edge in problem.edges for node in (edge.a, edge.b)]
    faces: dict[str, list[Edge]] = {}
    for edge in problem.edges:
        faces.setdefault(edge.face, []).append(edge)
    for mine in faces.values():
        marks = {at for edge in mine for at in (edge.span.start, edge.span.end) if _breaks(edge, at, ends, mine)}
        marks.update(at for name, at in joints if any(edge.id == name for edge in mine))
        yield from (v - u for u, v in pairwise(sorted(marks)))


def _breaks(edge: Edge, at: float, ends: Sequence[str], mine: Sequence[Edge]) -> bool:
    """Whether a length ends at the end of an edge: the face does, or other masonry meets it there."""
    node = edge.a if at == edge.span.start else edge.b
    outermost = at in (min(e.span.start for e in mine), max(e.span.end for e in mine))
    return outermost or ends.count(node) > 2
