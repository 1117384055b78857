"""Fewer joints will not do wherever they stand: against exhaustive searches over places every few millimetres.

Lengths, free stretches and limits are multiples of the fine step, so that whatever can be placed at all can be placed on it.
"""

from __future__ import annotations

from itertools import combinations, pairwise
from random import Random

import numpy as np
import pytest

from elevgen.building.model import Profile
from elevgen.core.geometry import Span
from elevgen.joints.graph import directed_lines
from elevgen.joints.loose import fewest_anywhere, halves
from elevgen.joints.problem import Candidate, Edge, Face, Problem
from elevgen.joints.solve import solve
from elevgen.joints.windows import windows

STEP = 10
SPACING = 900.0


def random_faces(rng: Random, count: int, closed: bool, step: int = STEP, lengths=(300, 1700)):
    """Unequal faces laid end to end: span, free stretches, panel limit; and one corner reach that can be kept."""
    faces = []
    for n in range(count):
        length = rng.randrange(*lengths, step)
        start = rng.choice((0, -730, 1240))
        bounds = sorted(rng.sample(range(step, length, step), 2 * rng.randint(0 if count > 1 else 1, min(3, length // 200))))
        free = [(start + u, start + v) for u, v in zip(bounds[::2], bounds[1::2], strict=True)]
        panel = rng.randrange(300, 900, step) if rng.random() < 0.4 else None
        faces.append((f"F{n}", start, length, free, panel))
    ends = [(n, f[3][0][0] - f[1]) for n, f in enumerate(faces) if f[3] and (closed or n > 0)]
    ends += [(n, f[1] + f[2] - f[3][-1][1]) for n, f in enumerate(faces) if f[3] and (closed or n < count - 1)]
    least = max((d for _, d in ends), default=0)
    reach = rng.choice((None, max(least, SPACING / 2), least + rng.randrange(0, 300, step)))
    return faces, reach


def problem_of(faces, reach, closed: bool, rng: Random, spacings=None) -> Problem:
    """Candidates on a bond's grid of 262.5 mm and at the ends of free stretches."""
    allowed = spacings or [SPACING] * len(faces)
    edges, sides, origin = [], [], rng.uniform(0, 250)
    for n, (name, start, length, free, panel) in enumerate(faces):
        span = Span(float(start), float(start + length))
        grid = [start + origin + 262.5 * k for k in range(length // 250)]
        cs: dict[float, Candidate] = {}
        for u, v in free:
            cs |= {float(x): Candidate(float(x), on_grid=False) for x in (u, v)}
            cs |= {x: Candidate(x) for x in grid if u < x < v}
        stretches = tuple(Span(float(u), float(v)) for u, v in free)
        ends = (f"n{n}", f"n{(n + 1) % len(faces) if closed else n + 1}")
        edges.append(Edge(name, name, *ends, span, tuple(cs[x] for x in sorted(cs)), stretches))
        kinds = ("corner" if closed or n else "free", "corner" if closed or n < len(faces) - 1 else "free")
        profile = None if panel is None else Profile(((span.start, float(panel)), (span.end, float(panel))))
        sides.append(Face(name, span, *kinds, reach, profile, allowed[n]))
    return Problem(tuple(edges), tuple(sides), min(allowed))


class Fine:
    """Every place of a chain or a ring, a step apart, and which two of them may be neighbours."""

    def __init__(self, faces, reach, closed: bool, laps: int = 1, spacings=None) -> None:
        self.faces, self.reach, self.closed = faces, reach, closed
        self.spacings = (spacings or [SPACING] * len(faces)) * laps
        self.corners, self.places, x = [0], [], 0
        for _ in range(laps):
            for _, start, length, free, _ in faces:
                for u, v in free:
                    self.places += list(range(x + u - start, x + v - start + 1, STEP))
                x += length
                self.corners.append(x)
        self.end = x

    def panel(self, u: float) -> float | None:
        n = next(k for k in range(len(self.corners) - 1) if self.corners[k] <= u + 0.02 < self.corners[k + 1])
        return self.faces[n % len(self.faces)][4]

    def kept(self, u: float, v: float) -> bool:
        """Whether two joints, or a joint and the chain's end, or the two ends, may follow on each other."""
        sides = zip(pairwise(self.corners), self.spacings, strict=True)
        if v - u > min(limit for (a, b), limit in sides if min(v, b) - max(u, a) > 0.02) + 0.01:
            return False
        marks = [u, *(c for c in self.corners if u + 0.02 < c < v - 0.02), v]
        for a, b in pairwise(marks):
            limit = self.panel(a)
            if limit is not None and b - a > limit + 0.01 and any(a + 0.02 < p < b - 0.02 for p in self.places):
                return False
            ends = [m for m in (a, b) if m in self.corners]
            outer = [m for m in ends if not self.closed and m in (0, self.end)]
            if self.reach is not None and len(ends) == 1 and not outer and b - a > self.reach + 0.01:
                return False
        return True

    def legal(self, joints) -> bool:
        """Whether these joints, and no others, keep every rule; on a ring the first stands again after the last, a lap on."""
        marks = list(joints) if self.closed else [0, *joints, self.end]
        return all(self.kept(u, v) for u, v in pairwise(marks))


def fewest_on_fine_chain(fine: Fine) -> int | None:
    places = [0, *fine.places, fine.end]
    reached, count = {0}, -1
    onward = {u: [v for v in places if u < v <= u + max(fine.spacings) and fine.kept(u, v)] for u in places[:-1]}
    while reached:
        reached = {v for u in reached if u < fine.end for v in onward[u]}
        count += 1
        if fine.end in reached:
            return count
    return None


def fewest_on_fine_ring(faces, reach, spacings=None) -> int | None:
    two = Fine(faces, reach, True, laps=2, spacings=spacings)
    here = len(two.places) // 2
    nexts = np.zeros((2 * here, 2 * here), dtype=np.float32)
    for i, u in enumerate(two.places[:here]):
        for j, v in enumerate(two.places):
            if u < v <= u + max(two.spacings) and two.kept(u, v):
                nexts[i, j] = 1
                if j < here:
                    nexts[i + here, j + here] = 1
    reached, count = np.eye(here, 2 * here, dtype=np.float32), 0
    one_lap = np.triu(np.ones((here, 2 * here), dtype=np.float32)) - np.triu(
        np.ones((here, 2 * here), dtype=np.float32), here + 1
    )
    while reached.any():
        reached, count = np.minimum(reached @ nexts, 1) * one_lap, count + 1
        if reached.diagonal(here).any():
            return count
    return None


def along(problem: Problem, joints) -> list[float]:
    left, found = 0.0, []
    for edge in problem.edges:
        found += [left + at - edge.span.start for name, at in joints if name == edge.id]
        left += edge.span.length
    return sorted(found)


def on_grid_only(problem: Problem) -> Problem:
    return problem._replace(edges=tuple(e._replace(free=()) for e in problem.edges))


def test_no_fewer_on_a_chain() -> None:
    compared = fewer = 0
    for seed in range(150):
        rng = Random(f"fine chain {seed}")
        faces, reach = random_faces(rng, rng.randint(1, 4), False)
        problem, fine = problem_of(faces, reach, False, rng), Fine(faces, reach, False)
        least = fewest_on_fine_chain(fine)
        if least is None:
            continue
        found = solve(problem)
        assert (len(found.joints), found.lower_bound, found.optimal) == (least, least, True), seed
        assert fine.legal(along(problem, found.joints)), seed
        compared += 1
        fewer += least < len(solve(on_grid_only(problem)).joints)
    assert compared > 60
    assert fewer >= 8


def test_no_fewer_round_a_ring() -> None:
    compared = fewer = 0
    for seed in range(50):
        rng = Random(f"fine ring {seed}")
        faces, reach = random_faces(rng, 4, True, lengths=(200, 900))
        least = fewest_on_fine_ring(faces, reach)
        if least is None or sum(f[2] for f in faces) <= SPACING:
            continue
        problem, fine = problem_of(faces, reach, True, rng), Fine(faces, reach, True, laps=2)
        found = solve(problem)
        assert (len(found.joints), found.lower_bound, found.optimal) == (least, least, True), seed
        joints = along(problem, found.joints)
        assert fine.legal([*joints, joints[0] + fine.end / 2]), seed
        compared += 1
        fewer += least < len(solve(on_grid_only(problem)).joints)
    assert compared > 25
    assert fewer >= 3


@pytest.mark.parametrize("closed", (False, True))
def test_no_fewer_where_faces_allow_unlike_lengths(closed: bool) -> None:
    compared = fewer = stricter = 0
    for seed in range(100 if closed else 150):
        rng = Random(f"fine unlike {closed} {seed}")
        faces, reach = random_faces(
            rng, 4 if closed else rng.randint(2, 4), closed, lengths=(200, 900) if closed else (300, 1700)
        )
        spacings = [rng.choice((600.0, 900.0, 1300.0)) for _ in faces]
        fine = Fine(faces, reach, closed, laps=2 if closed else 1, spacings=spacings)
        least = fewest_on_fine_ring(faces, reach, spacings) if closed else fewest_on_fine_chain(fine)
        if least is None or sum(f[2] for f in faces) <= min(spacings):
            continue
        problem = problem_of(faces, reach, closed, rng, spacings)
        found = solve(problem)
        assert (len(found.joints), found.lower_bound, found.optimal) == (least, least, True), seed
        joints = along(problem, found.joints)
        assert fine.legal([*joints, joints[0] + fine.end / 2] if closed else joints), seed
        compared += 1
        fewer += least < len(solve(on_grid_only(problem)).joints)
        alike = tuple(f._replace(spacing=problem.spacing) for f in problem.faces)
        stricter += least < len(solve(problem._replace(faces=alike)).joints)
    assert compared > 25
    assert fewer >= 3
    assert stricter >= 3


BRANCHED = {
    "tee": (("A", "n0", "t"), ("A", "t", "n1"), ("B", "t", "n2")),
    "tee with a corner": (("A", "n0", "t"), ("A", "t", "n1"), ("B", "t", "n2"), ("C", "n1", "n3")),
    "ring with a partition": (
        ("A", "n0", "t"),
        ("A", "t", "n1"),
        ("B", "n1", "n2"),
        ("C", "n2", "u"),
        ("C", "u", "n0"),
        ("P", "t", "u"),
    ),
}


def branched_problem(rng: Random, shape: str, step: int) -> tuple[Problem, Problem]:
    """Walls that meet, with candidates on a coarse grid; and the same with a candidate at every step."""
    at: dict[str, int] = {}
    coarse, fine, ends = [], [], {}
    for k, (face, a, b) in enumerate(BRANCHED[shape]):
        start, length = (
            at.setdefault(face, rng.choice((0, -700, 1250))),
            rng.randrange(300, 1000 - 80 * len(BRANCHED[shape]), step),
        )
        at[face] = start + length
        bounds = [step, length - step]
        for _ in range(rng.randint(0, 2)):
            u = rng.randrange(step, length - step, step)
            bounds += [u, min(u + rng.randrange(step, 300, step), length - step)]
        bounds = sorted(set(bounds))
        free = [(start + u, start + v) for u, v in zip(bounds[::2], bounds[1::2], strict=False)]
        origin = start + rng.uniform(0, 400)
        every = sorted({x for u, v in free for x in range(u, v + 1, step)})
        places = {float(x): Candidate(float(x), on_grid=False) for pair in free for x in pair}
        places |= {x: Candidate(x) for x in (origin + 412.5 * n for n in range(3)) if any(u < x < v for u, v in free)}
        edge = Edge(f"{face}{k}", face, a, b, Span(float(start), float(at[face])))
        coarse.append(
            edge._replace(candidates=tuple(places[x] for x in sorted(places)), free=tuple(Span(*map(float, f)) for f in free))
        )
        fine.append(edge._replace(candidates=tuple(Candidate(float(x)) for x in every)))
        ends.setdefault(face, [a, b])[1] = b
    faces = []
    for face, (a, b) in sorted(ends.items()):
        mine = [e.span for e in coarse if e.face == face]
        dead = [sum(node in edge[1:] for edge in BRANCHED[shape]) == 1 for node in (a, b)]
        kinds = ["free" if d else "corner" if n.startswith("n") else "stem" for n, d in zip((a, b), dead, strict=True)]
        span = Span(mine[0].start, mine[-1].end)
        panel = rng.choice((None, None, float(rng.randrange(600, 900, step))))
        profile = None if panel is None else Profile(((span.start, panel), (span.end, panel)))
        faces.append(Face(face, span, kinds[0], kinds[1], None, profile))
    return Problem(tuple(coarse), tuple(faces), SPACING), Problem(tuple(fine), tuple(faces), SPACING)


@pytest.mark.parametrize("shape", ["tee", "tee with a corner"])
def test_no_fewer_where_walls_meet(oracle, shape: str) -> None:
    """Every pair of places tried where three joints are placed, every single one where two are."""
    compared = 0
    for seed in range(60):
        rng = Random(f"fine {shape} {seed}")
        problem, fine = branched_problem(rng, shape, 50)
        places = [(e.id, c.at) for e in fine.edges for c in e.candidates]
        if oracle.must(problem) or len(places) > 60:
            continue
        found = solve(problem)
        if len(found.joints) not in (2, 3):
            continue
        compared += 1
        assert found.lower_bound == len(found.joints) or not found.optimal
        assert oracle.price(with_candidates(fine, found.joints), set(found.joints)) is not None
        for joints in (joints for count in range(found.lower_bound) for joints in combinations(places, count)):
            assert oracle.price(fine, set(joints)) is None, (seed, joints)
    assert compared > 10


@pytest.mark.parametrize("shape", BRANCHED)
def test_as_few_as_among_places_a_step_apart(oracle, shape: str) -> None:
    """The solver at candidates is held against every subset of them elsewhere; given all places, it must not find fewer.

    Nor must it miss corner rules less, which here cannot always be kept.
    """
    compared = fewer = proven = 0
    for seed in range(50):
        rng = Random(f"steps {shape} {seed}")
        problem, fine = branched_problem(rng, shape, STEP)
        faces = tuple(f._replace(corner_reach=rng.choice((None, 450.0, float(rng.randrange(50, 400, STEP))))) for f in fine.faces)
        problem, fine = problem._replace(faces=faces), fine._replace(faces=faces)
        if oracle.must(problem):
            continue
        found, finest = solve(problem), solve(fine)
        price = oracle.price(with_candidates(fine, found.joints), set(found.joints))
        least = oracle.price(fine, set(finest.joints))
        assert price is not None
        assert price[0] <= least[0], seed
        if price[0] == least[0]:
            assert found.lower_bound <= least[1], seed
            assert price[1] <= least[1] or not found.optimal, seed
        compared += 1
        proven += found.optimal
        fewer += len(found.joints) < len(solve(on_grid_only(problem)).joints)
    assert compared > 40
    assert fewer >= 1
    assert proven >= 0.9 * compared


@pytest.mark.parametrize("shape", BRANCHED)
def test_halves_ask_no_more_than_the_whole(oracle, shape: str) -> None:
    """What is proven of a part with too many branches: the sum over parts of it."""
    proven = 0
    for seed in range(25):
        problem, _ = branched_problem(Random(f"halves {shape} {seed}"), shape, STEP)
        if oracle.must(problem):
            continue
        bounds = [fewest_anywhere(half).bound for half in halves(problem, directed_lines(problem))]
        assert len(bounds) == 2
        assert sum(bounds) <= fewest_anywhere(problem).bound <= len(solve(problem).joints), seed
        proven += sum(bounds)
    assert proven > 10


def test_a_joint_off_the_bond_only_where_it_saves_one() -> None:
    """Evenness ranks above the bond, yet a wall that can be cut on the bond is; one that cannot, in the middle of its room."""

    def cut(length: float) -> list[Candidate]:
        grid = tuple(Candidate(107.5 + 112.5 * k) for k in range(int((length - 200) / 112.5)))
        ends = (Candidate(100.0, on_grid=False), Candidate(length - 100, on_grid=False))
        edge = Edge("w", "w", "a", "b", Span(0.0, length), (ends[0], *grid, ends[1]), (Span(100.0, length - 100),))
        found = solve(Problem((edge,), (Face("w", edge.span, "free", "free"),), 12000.0))
        assert found.optimal
        return [c for c in grid if ("w", c.at) in found.joints] or [Candidate(at, on_grid=False) for _, at in found.joints]

    (on_bond,) = cut(23800.0)
    assert (on_bond.at - 107.5) % 112.5 == 0
    assert on_bond.at != 11900
    (off_bond,) = cut(23990.0)
    assert off_bond.at == pytest.approx(11995)
    assert not off_bond.on_grid


def test_windows_are_as_wide_as_the_rules_leave() -> None:
    """A tee by hand: the joints of two arms 500 mm apart at most, one arm with a corner 300 mm off its joint at most."""
    edges = (
        Edge("l", "A", "n0", "t", Span(0.0, 400.0), (), (Span(50.0, 390.0),)),
        Edge("r", "A", "t", "n1", Span(400.0, 800.0), (), (Span(410.0, 760.0),)),
        Edge("b", "B", "t", "n2", Span(0.0, 120.0)),
    )
    faces = (Face("A", Span(0.0, 800.0), "free", "corner", 300.0), Face("B", Span(0.0, 120.0), "stem", "free"))
    room = windows(Problem(edges, faces, 500.0), (("l", 390.0), ("r", 600.0)))
    assert room is not None
    # the left joint keeps its free stretch, the right one its corner; at 450 the stub and the left joint bind too
    assert [(w.start, w.end) for w in room] == [pytest.approx((50, 390)), pytest.approx((500, 760))]
    narrow = windows(Problem(edges, faces, 450.0), (("l", 390.0), ("r", 600.0)))
    assert narrow is not None
    assert [(w.start, w.end) for w in narrow] == [pytest.approx((70, 390)), pytest.approx((500, 730))]
    assert windows(Problem(edges, faces, 100.0), (("l", 390.0), ("r", 600.0))) is None


def with_candidates(problem: Problem, joints) -> Problem:
    """The problem with candidates at the joints too."""
    edges = []
    for edge in problem.edges:
        more = {at: Candidate(at) for name, at in joints if name == edge.id} | {c.at: c for c in edge.candidates}
        edges.append(edge._replace(candidates=tuple(more[x] for x in sorted(more))))
    return problem._replace(edges=tuple(edges))
