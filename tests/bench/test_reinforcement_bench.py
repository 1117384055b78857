"""Speed of cutting reinforcement: stock for a thousand lengths of a wall, ten times as many alike. Run with -m bench."""

from __future__ import annotations

from random import Random
from time import perf_counter

import pytest

from elevgen.fittings.stock_cutting import cut_stock

pytestmark = pytest.mark.bench


def lengths(number: int, kinds: int) -> list[int]:
    draw = Random(7)
    sizes = [draw.randint(300, 9000) for _ in range(kinds)]
    return [sizes[n % kinds] for n in range(number)]


def seconds(of: list[int]) -> float:
    start = perf_counter()
    plan = cut_stock(of, 2700, 225)
    assert plan.least <= plan.number <= plan.least + 1
    return perf_counter() - start


def test_ten_times_as_many_alike_take_hardly_longer() -> None:
    few, many = seconds(lengths(100, 12)), seconds(lengths(1000, 12))
    print(f"\n100 lengths of 12 kinds {few:.3f} s, 1000 {many:.3f} s")
    assert many < 10 * few + 0.5


def test_a_hundred_lengths_all_unlike() -> None:
    taken = seconds(lengths(100, 100))
    print(f"\n100 unlike lengths {taken:.2f} s")
    assert taken < 10
