"""The least of all choices together, against all of them tried."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from elevgen.coursing.choose import choose

Pairs = dict[tuple[int, int], np.ndarray]


def scene(seed: int) -> tuple[list[np.ndarray], Pairs]:
    random = np.random.default_rng(seed)
    sizes = random.integers(1, 4, random.integers(1, 8))
    single = [random.integers(0, 50, size) for size in sizes]
    pairs = {
        (i, j): random.integers(0, 50, (sizes[i], sizes[j])) for j in range(len(sizes)) for i in range(j) if random.random() < 0.5
    }
    return single, pairs


def cost(single: list[np.ndarray], pairs: Pairs, chosen: tuple[int, ...] | list[int]) -> int:
    alone = sum(int(costs[k]) for costs, k in zip(single, chosen, strict=True))
    return alone + sum(int(table[chosen[i], chosen[j]]) for (i, j), table in pairs.items())


@pytest.mark.parametrize("seed", range(60))
def test_no_other_choice_is_cheaper(seed: int) -> None:
    single, pairs = scene(seed)
    every = product(*(range(len(costs)) for costs in single))
    assert cost(single, pairs, choose(single, pairs)) == min(cost(single, pairs, chosen) for chosen in every)


def test_too_large_a_table_is_got_round() -> None:
    """A choice is still made, and no worse than the first of everything."""
    for seed in range(60):
        single, pairs = scene(seed)
        chosen = choose(single, pairs, largest=4)
        assert all(0 <= k < len(costs) for k, costs in zip(chosen, single, strict=True))
        assert cost(single, pairs, chosen) <= 2 * max(1, cost(single, pairs, [0] * len(single)))


def test_nothing_to_choose() -> None:
    assert choose([], {}) == []
