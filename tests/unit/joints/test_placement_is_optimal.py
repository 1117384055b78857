from random import Random

import pytest

from elevgen.joints.solve import solve


@pytest.mark.parametrize("shape", ["chain", "ring", "tee", "chord", "lollipop", "cross", "two rings", "far chord"])
def test_no_subset_of_candidates_is_better(oracle, shape):
    for seed in range(40):
        problem = oracle.random_problem(Random(f"{shape}{seed}"), shape, candidates=8)
        found = solve(problem)
        assert found.optimal
        assert found.lower_bound == len(found.joints) == len(set(found.joints))
        assert oracle.price(problem, set(found.joints)) == oracle.best(problem), (shape, seed)
