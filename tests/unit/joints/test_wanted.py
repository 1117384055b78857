"""Joints asked for near something, against an oracle that tries every subset of the candidates."""

from __future__ import annotations

from itertools import chain, combinations
from random import Random

import pytest

from elevgen.core.geometry import Span
from elevgen.joints.problem import Candidate, Edge, Face, Problem, Wanted
from elevgen.joints.solve import solve
from elevgen.joints.wanted import apart, cost, unmet

SHAPES = ("chain", "ring", "tee", "chord", "lollipop", "cross", "two rings", "ladder", "rooms", "small rooms")


def asking(problem: Problem, rng: Random) -> Problem:
    """The problem with a few stretches that ask for a joint: along one face, or on both sides of a corner."""
    places = [(e, c) for e in problem.edges for c in e.candidates]
    wanted = []
    for _ in range(rng.randint(1, 3)):
        edge, c = rng.choice(places)
        face = problem.face(edge.face)
        near = Span(c.at - rng.randint(0, 900), c.at + rng.randint(0, 900)).common(face.span)
        if near is not None:
            wanted.append(Wanted(((face.id, near),), "rule", "near it", 900))
    corners: dict[str, list[tuple[str, Span]]] = {}
    within = float(rng.randint(700, 3000))
    for face in problem.faces:
        mine = [e for e in problem.edges if e.face == face.id]
        ends = ((face.start, mine[0].a, face.span.start, 1), (face.finish, mine[-1].b, face.span.end, -1))
        for kind, node, at, way in ends:
            if kind == "corner":
                near = Span(*sorted((at, at + way * min(within, face.span.length))))
                corners.setdefault(node, []).append((face.id, near))
    for node in sorted(corners):
        one = Wanted(tuple(corners[node]), "corner", "near the corner", within)
        if len(corners[node]) == 2 and rng.random() < 0.5 and any(one.met_at(e.face, c.at) for e, c in places):
            wanted.append(one)
    return problem._replace(wanted=tuple(wanted))


def best(oracle, problem: Problem):
    """The least cost of all subsets that have what is asked for."""
    forced = oracle.must(problem)
    free = sorted({(e.id, c.at) for e in problem.edges for c in e.candidates} - forced)
    subsets = chain.from_iterable(combinations(free, k) for k in range(len(free) + 1))
    having = (s for subset in subsets if not unmet(problem, s := forced | set(subset)))
    return min(price for joints in having if (price := oracle.price(problem, joints)) is not None)


@pytest.mark.parametrize("shape", ("chain", "ring"))
def test_nor_where_faces_allow_unlike_lengths(oracle, shape):
    for seed in range(80):
        rng = Random(f"asked unlike {shape}{seed}")
        problem = asking(oracle.unlike(oracle.random_problem(rng, shape, candidates=8), rng), rng)
        found = solve(problem)
        assert found.optimal
        assert not unmet(problem, found.joints), (shape, seed)
        assert found.lower_bound == len(found.joints)
        assert oracle.price(problem, set(found.joints)) == best(oracle, problem), (shape, seed)


@pytest.mark.parametrize("shape", SHAPES)
def test_no_subset_that_has_all_that_is_asked_for_is_better(oracle, shape):
    more = 0
    for seed in range(40):
        rng = Random(f"asked {shape}{seed}")
        problem = asking(oracle.random_problem(rng, shape, candidates=7), rng)
        found = solve(problem)
        assert not unmet(problem, found.joints), (shape, seed)
        assert oracle.price(problem, set(found.joints)) == best(oracle, problem), (shape, seed)
        assert found.lower_bound <= len(found.joints)
        assert found.lower_bound == len(found.joints) or not found.optimal
        more += len(found.joints) > len(solve(problem._replace(wanted=())).joints)
    assert more > 2, "what is asked for must matter"


@pytest.mark.parametrize("shape", ("chain", "ring"))
def test_chains_and_rings_are_proven(oracle, shape):
    for seed in range(40):
        rng = Random(f"proven {shape}{seed}")
        found = solve(asking(oracle.random_problem(rng, shape, candidates=7), rng))
        assert found.optimal
        assert found.lower_bound == len(found.joints)


@pytest.mark.parametrize("shape", SHAPES)
def test_the_cost_is_the_stated_one(oracle, shape):
    for seed in range(20):
        rng = Random(f"cost {shape}{seed}")
        problem = oracle.random_problem(rng, shape, candidates=7)
        joints = set(solve(problem).joints)
        assert cost(problem, joints) == oracle.price(problem, joints)


def wall(length: float, free: Span, wanted: tuple[Wanted, ...] = ()) -> Problem:
    """A straight wall with one free stretch whose only candidates are its ends."""
    ends = tuple(Candidate(at, on_grid=False) for at in (free.start, free.end))
    edge = Edge("A0", "A", "n0", "n1", Span(0, length), ends, (free,))
    return Problem((edge,), (Face("A", Span(0, length), "free", "free"),), 6000, wanted)


def test_fewer_off_the_bond_are_found_where_they_have_what_is_asked_for_too():
    """Two ends of a free stretch serve a window each; one place between serves both."""
    near = (Wanted((("A", Span(1000, 2600)),), "r", "", 0), Wanted((("A", Span(2400, 4000)),), "r", "", 0))
    found = solve(wall(5000, Span(1500, 3500), near))
    ((_, at),) = found.joints
    assert 2400 <= at <= 2600
    assert (found.optimal, found.lower_bound) == (True, 1)


def test_stretches_that_share_no_place_raise_the_bound():
    spans = (Span(0, 900), Span(1500, 2500), Span(2400, 3100))
    problem = wall(5000, Span(100, 4900), tuple(Wanted((("A", span),), "r", "", 0) for span in spans))
    assert apart(problem) == 2


@pytest.mark.parametrize("shape", ("chain", "ring", "lollipop"))
def test_no_fewer_do_off_the_bond(oracle, shape):
    """Free stretches with their ends as candidates, against places every 40 mm in them: never fewer than proven."""
    fewer = 0
    for seed in range(25):
        rng = Random(f"off {shape}{seed}")
        problem = oracle.random_problem(rng, shape, candidates=8)
        edges, fine = [], []
        for e in problem.edges:
            ats = [c.at for c in e.candidates if not c.given]
            free = tuple(Span(u, v) for u, v in zip(ats[::2], ats[1::2], strict=False) if v - u > 100)
            ends = sorted({at for span in free for at in (span.start, span.end)})
            edges.append(e._replace(candidates=tuple(Candidate(at, on_grid=False) for at in ends), free=free))
            steps = {
                span.start + (span.end - span.start) * k / n
                for span in free
                for n in [int((span.length) // 40) + 1]
                for k in range(n + 1)
            }
            fine.append(e._replace(candidates=tuple(Candidate(at, on_grid=False) for at in sorted(steps)), free=()))
        faces = tuple(f._replace(panel=None, corner_reach=None) for f in problem.faces)
        coarse = problem._replace(edges=tuple(edges), faces=faces, wanted=())
        if not any(e.candidates for e in coarse.edges):
            continue
        asked = asking(coarse, rng)
        found, on_grid = solve(asked), solve(asked._replace(edges=tuple(fine)))
        assert not unmet(asked, found.joints), (shape, seed)
        assert found.lower_bound <= len(on_grid.joints), (shape, seed)
        if shape != "lollipop":
            assert len(found.joints) == found.lower_bound, (shape, seed)
        fewer += len(found.joints) < len(solve(asked._replace(edges=tuple(e._replace(free=()) for e in edges))).joints)
    assert fewer or shape == "lollipop"
