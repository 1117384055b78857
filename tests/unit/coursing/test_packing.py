"""Lengths out of stock: exact against an integer programme solved by others, and against trying everything."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from elevgen.coursing.packing import Packing, pack

Case = tuple[dict[int, int], int, int]


def random_case(rng: random.Random) -> Case:
    """Few lengths from a seventh of the stock up, one to three thousand of each."""
    stock = rng.choice([2150, 4400, rng.randint(100, 3000)])
    least = max(1, stock // rng.choice([3, 5, 7]))
    lengths = [rng.randint(least, rng.choice([stock // 2, stock])) for _ in range(rng.randint(1, 7))]
    most = rng.choice([5, 40, 3000])
    return {length: rng.randint(1, most) for length in lengths}, stock, rng.choice([0, 40, rng.randint(0, 60)])


def ways(lengths: list[int], room: int, saw: int) -> Iterator[tuple[int, ...]]:
    """Every way to cut pieces, and a saw cut beside each, out of `room`."""
    if not lengths:
        yield ()
        return
    for count in range(room // (lengths[0] + saw) + 1):
        for rest in ways(lengths[1:], room - count * (lengths[0] + saw), saw):
            yield (count, *rest)


def fewest_by_programme(wanted: dict[int, int], stock: int, saw: int) -> int:
    lengths = sorted(wanted)
    table = np.array(list(ways(lengths, stock + saw, saw))).T
    enough = LinearConstraint(table, lb=[wanted[length] for length in lengths])
    number = table.shape[1]
    return round(milp(np.ones(number), constraints=enough, bounds=Bounds(0), integrality=np.ones(number)).fun)


def is_sound(packing: Packing, wanted: dict[int, int], stock: int, saw: int) -> None:
    """Every piece is there, and what comes out of one length fits into it with a saw cut between two pieces."""
    got: Counter[int] = Counter()
    for cut in packing.cuts:
        assert sum(cut.pieces) + saw * (len(cut.pieces) - 1) <= stock
        assert cut.number > 0 < len(cut.pieces)
        for piece in cut.pieces:
            got[piece] += cut.number
    assert got == Counter({length: number for length, number in wanted.items() if number})
    assert packing.least <= packing.number


@pytest.mark.parametrize("seed", range(10))
def test_as_few_as_an_integer_programme_finds_and_proven(seed: int) -> None:
    rng = random.Random(seed)
    for _ in range(120):
        case = random_case(rng)
        packing = pack(*case)
        is_sound(packing, *case)
        assert packing.number == packing.least == fewest_by_programme(*case), case


@settings(max_examples=200, deadline=None)
@given(st.lists(st.integers(8, 60), min_size=1, max_size=7), st.integers(60, 90), st.integers(0, 9))
def test_as_few_as_trying_everything_finds(pieces: list[int], stock: int, saw: int) -> None:
    @cache
    def fewest(left: tuple[int, ...]) -> int:
        """The first piece goes with every set of the others it may go with."""
        if not left:
            return 0
        first, others, best = left[0], left[1:], len(left)
        for chosen in range(2 ** len(others)):
            with_it = [p for i, p in enumerate(others) if chosen >> i & 1]
            if first + sum(with_it) + saw * len(with_it) <= stock:
                best = min(best, 1 + fewest(tuple(p for i, p in enumerate(others) if not chosen >> i & 1)))
        return best

    wanted = dict(Counter(pieces))
    packing = pack(wanted, stock, saw)
    is_sound(packing, wanted, stock, saw)
    assert packing.number == fewest(tuple(sorted(pieces)))


@pytest.mark.parametrize(
    ("pieces", "saw", "units"),
    [
        ({1025: 7}, 40, 4),  # two halves and a cut are 209 mm of 215
        ({1055: 2}, 40, 1),  # 105.5 + 4 + 105.5 is 215
        ({1056: 2}, 40, 2),
        ({507: 8}, 40, 2),  # four quarters and three cuts are 214.8
        ({508: 8}, 40, 3),
        ({1075: 6}, 0, 3),
        ({2150: 3, 1025: 1}, 40, 4),
        ({1000: 999, 500: 1998, 463: 1}, 40, 1000),
    ],
)
def test_bricks_of_215_by_hand(pieces: dict[int, int], saw: int, units: int) -> None:
    assert pack(pieces, 2150, saw).number == units


def test_longest_first_alone_would_take_more() -> None:
    """44 + 36 + 20 and 40 + 30 + 30 fill two of 100; the longest first makes 44 + 40, 36 + 30 + 30, 20."""
    wanted = {44: 1, 40: 1, 36: 1, 30: 2, 20: 1}
    assert (pack(wanted, 100, 0).number, pack(wanted, 100, 0, quick=True).number) == (2, 3)


def test_the_order_of_the_question_does_not_matter() -> None:
    wanted = {1610: 17, 463: 41, 1025: 30, 730: 5}
    assert pack(wanted, 2150, 40) == pack(dict(reversed(wanted.items())), 2150, 40)


@pytest.mark.parametrize("seed", range(4))
def test_many_short_lengths_are_proven_too(seed: int) -> None:
    """More ways of cutting than anybody writes down: the bound still meets what was found."""
    rng = random.Random(seed)
    for count in (8, 11, 14, 20):
        wanted = {rng.randint(250, 900): rng.randint(1, rng.choice([2, 8, 300])) for _ in range(count)}
        packing = pack(wanted, 2150, 40)
        is_sound(packing, wanted, 2150, 40)
        assert packing.number == packing.least


def test_quick_is_sound_and_never_better() -> None:
    rng = random.Random(3)
    for _ in range(200):
        case = random_case(rng)
        quick, packing = pack(*case, quick=True), pack(*case)
        is_sound(quick, *case)
        assert quick.least <= packing.number <= quick.number


@pytest.mark.parametrize("wanted", [{2151: 1}, {0: 1}, {-5: 2, 100: 1}])
def test_what_cannot_be_cut_is_refused(wanted: dict[int, int]) -> None:
    with pytest.raises(ValueError, match="out of 2150"):
        pack(wanted, 2150, 40)
    assert pack({9999: 0}, 2150, 40) == Packing((), 0)
