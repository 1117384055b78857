"""Counts held against scipy's integer programming: a covering problem that shares no code with the sweep."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from random import Random

import pytest

from elevgen.joints.settle import settle
from elevgen.joints.solve import solve

pytest.importorskip("scipy")
_spec = importlib.util.spec_from_file_location("covering", Path(__file__).with_name("covering.py"))
assert _spec is not None and _spec.loader is not None
covering = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(covering)


@pytest.mark.parametrize(
    "shape", ("chain", "ring", "tee", "chord", "lollipop", "cross", "two rings", "far chord", "ladder", "rooms", "small rooms")
)
def test_missed_corners_counts_crowding_and_hiding_are_the_same(oracle, shape):
    for seed in range(12):
        problem = oracle.random_problem(Random(f"cover {shape}{seed}"), shape, candidates=14)
        standing, parts = settle(problem)
        joints = set(standing)
        for part in parts:
            covered = covering.fewest(part.problem)
            assert covered.proven
            assert covered.bound == len(covered.joints)
            joints |= {(part.origin[edge], at) for edge, at in covered.joints}
        exact = oracle.price(problem, set(solve(problem).joints))
        assert oracle.price(problem, joints)[:4] == exact[:4], (shape, seed)
