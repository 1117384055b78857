"""Against an oracle that tries every subset: same cost, item by item, on small graphs of every shape."""

from random import Random

import pytest

from elevgen.joints import branched
from elevgen.joints.problem import Problem
from elevgen.joints.solve import solve

SHAPES = ("chain", "ring", "tee", "chord", "lollipop", "cross", "two rings", "far chord", "ladder", "rooms", "small rooms")


@pytest.mark.parametrize("shape", SHAPES)
def test_no_subset_of_candidates_is_better(oracle, shape):
    for seed in range(40):
        problem = oracle.random_problem(Random(f"{shape}{seed}"), shape, candidates=7)
        found = solve(problem)
        assert found.optimal
        assert found.lower_bound == len(found.joints) == len(set(found.joints))
        assert oracle.price(problem, set(found.joints)) == oracle.best(problem), (shape, seed)


@pytest.mark.parametrize("shape", ("chain", "ring"))
def test_no_subset_is_better_where_faces_allow_unlike_lengths(oracle, shape):
    """Each piece by the strictest of its own faces; with fewer joints, sometimes, than if all of them kept to the strictest."""
    unlike = fewer = 0
    for seed in range(150):
        rng = Random(f"unlike {shape}{seed}")
        problem = oracle.unlike(oracle.random_problem(rng, shape, candidates=8), rng)
        found = solve(problem)
        assert found.optimal
        assert found.lower_bound == len(found.joints) == len(set(found.joints))
        assert oracle.price(problem, set(found.joints)) == oracle.best(problem), (shape, seed)
        alike = problem._replace(faces=tuple(f._replace(spacing=problem.spacing) for f in problem.faces))
        unlike += len({f.spacing for f in problem.faces}) > 1
        fewer += len(found.joints) < len(solve(alike).joints)
    assert unlike > 75
    assert fewer > 5


@pytest.mark.parametrize("shape", ("tee", "chord", "ladder", "rooms", "small rooms"))
def test_swept_to_and_fro_it_is_the_same(oracle, shape, monkeypatch):
    """Large parts are swept several times, with more looked at each time."""
    monkeypatch.setattr(branched, "SMALL", 0)
    for seed in range(25):
        problem = oracle.random_problem(Random(f"{shape}{seed}"), shape, candidates=7)
        found = solve(problem)
        assert found.optimal
        assert oracle.price(problem, set(found.joints)) == oracle.best(problem), (shape, seed)


@pytest.mark.parametrize("shape", ("tee", "chord", "ladder", "rooms"))
def test_with_candidates_left_out_every_rule_is_kept_and_nothing_is_claimed(oracle, shape, monkeypatch):
    """The way out for parts with too many nodes open at once."""
    monkeypatch.setattr(branched, "SMALL", 0)
    monkeypatch.setattr(branched, "LARGE", 6)
    thinned = 0
    for seed in range(12):
        problem = oracle.random_problem(Random(f"thin {shape}{seed}"), shape, candidates=24)
        found = solve(problem)
        exact = oracle.price(problem, set(solve_with_room(problem, monkeypatch).joints))
        assert oracle.paths_short_enough(problem, set(found.joints))
        assert oracle.price(problem, set(found.joints)) >= exact
        thinned += not found.optimal
        monkeypatch.setattr(branched, "LARGE", 6)
    assert thinned > 3


def solve_with_room(problem, monkeypatch):
    monkeypatch.setattr(branched, "LARGE", 4_000_000)
    return solve(problem)


@pytest.mark.parametrize("shape", SHAPES)
def test_mirror_and_shift_change_nothing(oracle, shape):
    for seed in range(12):
        problem = oracle.random_problem(Random(f"glass {shape}{seed}"), shape, candidates=40)
        found = solve(problem)
        price = oracle.price(problem, set(found.joints))
        glass = oracle.mirrored(problem)
        assert oracle.price(glass, set(solve(glass).joints)) == price
        there = oracle.shifted(problem, 4321.25)
        assert {(e, round(at - 4321.25, 6)) for e, at in solve(there).joints} == {(e, round(at, 6)) for e, at in found.joints}


def test_a_ring_is_the_same_from_whichever_corner_it_is_read(oracle):
    for seed in range(25):
        problem = oracle.random_problem(Random(f"turn {seed}"), "ring", candidates=30)
        found = solve(problem)
        for turn in (1, 2, 3):
            turned = Problem(problem.edges[turn:] + problem.edges[:turn], problem.faces[::-1], problem.spacing)
            assert solve(turned) == found


@pytest.mark.parametrize("shape", SHAPES)
def test_one_more_place_to_choose_from_never_makes_it_worse(oracle, shape):
    """Where every stretch can be kept short at all; else more places ask for more joints."""
    compared = 0
    for seed in range(40):
        rng = Random(f"more {shape}{seed}")
        full = oracle.random_problem(rng, shape, candidates=30)
        full = full._replace(faces=tuple(f._replace(panel=None) for f in full.faces))
        less_edge = rng.choice([e for e in full.edges if e.candidates])
        drop = rng.choice(less_edge.candidates)
        if drop.given:
            continue
        fewer = full._replace(
            edges=tuple(
                e._replace(candidates=tuple(c for c in e.candidates if e is not less_edge or c != drop)) for e in full.edges
            ),
        )
        given = {(e.id, c.at) for e in full.edges for c in e.candidates if c.given}
        if oracle.must(fewer) - given or oracle.must(full) - given:
            continue
        compared += 1
        assert oracle.price(full, set(solve(full).joints)) <= oracle.price(fewer, set(solve(fewer).joints))
    assert compared > 3
