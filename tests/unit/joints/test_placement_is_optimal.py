"""Against an oracle that tries every subset: same cost, item by item, on small graphs of every shape."""

from random import Random

import pytest

from elevgen.joints.cover import fewest
from elevgen.joints.problem import Problem
from elevgen.joints.settle import settle
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


@pytest.mark.parametrize("shape", SHAPES)
def test_integer_programming_finds_the_same_counts(oracle, shape):
    """The way out for graphs with very many branches, against the exact methods on graphs they can do."""
    for seed in range(12):
        problem = oracle.random_problem(Random(f"cover {shape}{seed}"), shape, candidates=14)
        standing, parts = settle(problem)
        joints = set(standing)
        for part in parts:
            covered = fewest(part.problem)
            assert covered.proven
            assert covered.bound == len(covered.joints)
            joints |= {(part.origin[edge], at) for edge, at in covered.joints}
        exact = oracle.price(problem, set(solve(problem).joints))
        assert oracle.price(problem, joints)[:4] == exact[:4], (shape, seed)


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
