"""Stock lengths cut for lapped lengths: by trying every way, against a mixed-integer programme, and as a drawing shows it."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest
from stock_oracle import by_programme, by_trying, fewest_pieces

from elevgen.fittings.stock_cutting import StockPlan, cut_stock, least_piece, pieced


def small(seed: int) -> tuple[list[int], int, int]:
    """One to four lengths in whole numbers, many of them a little longer than whole pieces reach."""
    draw = Random(seed)
    stock, lap = draw.randint(9, 16), draw.randint(1, 3)
    lengths = []
    for _ in range(draw.randint(1, 4)):
        stub = stock + (stock - lap) * draw.randint(0, 1) + draw.randint(1, lap)
        lengths.append(draw.choice((draw.randint(1, stock), draw.randint(1, 3 * stock - 2 * lap), stub, stub)))
    return lengths, stock, lap


def larger(seed: int) -> tuple[list[int], int, int]:
    """Four to six lengths in millimetres."""
    draw = Random(seed)
    stock, lap = draw.choice((2700, 3000, 6000)), draw.choice((150, 225, 450))
    lengths = []
    for _ in range(draw.randint(4, 6)):
        stub = stock + draw.randint(1, 2 * lap)
        lengths.append(draw.choice((draw.randint(200, 2 * stock), stub, draw.randint(300, stock))))
    return lengths, stock, lap


def assert_cut(plan: StockPlan, lengths: list[int], stock: int, lap: int) -> None:
    """Every length of its fewest pieces, none too long or too short, laps no shorter than asked; all of them out of the bars."""
    for length, pieces in zip(lengths, plan.pieces, strict=True):
        assert len(pieces) == fewest_pieces(length, stock, lap)
        assert sum(pieces) == length + (len(pieces) - 1) * lap
        assert max(pieces) <= stock
        assert len(pieces) == 1 or min(pieces) >= least_piece(stock, lap)
    cut = Counter(piece for bar in plan.cuts for piece in bar.pieces * bar.number)
    assert cut == Counter(piece for pieces in plan.pieces for piece in pieces)
    assert all(sum(bar.pieces) <= stock for bar in plan.cuts)


def test_500_small_lists_are_cut_as_well_as_by_trying_everything() -> None:
    stubs = 0
    for seed in range(500):
        lengths, stock, lap = small(seed)
        plan = cut_stock(lengths, stock, lap)
        assert_cut(plan, lengths, stock, lap)
        least = by_trying(lengths, stock, lap, least_piece(stock, lap))
        assert (plan.number, plan.least) == (least, least), (lengths, stock, lap)
        stubs += any(pieced(length, stock, lap, least_piece(stock, lap)).stub for length in lengths)
    assert stubs > 40, "lists in which laps have to slide"


def test_12_larger_lists_are_cut_as_well_as_by_a_programme() -> None:
    check_larger(range(12))


@pytest.mark.bench
def test_100_larger_lists_are_cut_as_well_as_by_a_programme() -> None:
    check_larger(range(100, 200))


def check_larger(seeds: range) -> None:
    for seed in seeds:
        lengths, stock, lap = larger(seed)
        plan = cut_stock(lengths, stock, lap)
        assert_cut(plan, lengths, stock, lap)
        assert plan.number == plan.least == by_programme(lengths, stock, lap, least_piece(stock, lap), plan.number), seed


def test_off_cuts_are_used_again() -> None:
    # 3800 takes a whole 2700 and 1325; two rests share a bar
    plan = cut_stock([3800, 3800], 2700, 225)
    assert plan.pieces == ((2700, 1325), (2700, 1325))
    assert [(bar.pieces, bar.number) for bar in plan.cuts] == [((2700,), 2), ((1325, 1325), 1)]
    assert plan.number == plan.least == 3


def test_a_lap_slides_where_that_saves_a_length() -> None:
    # 2775 is 3000 with its lap: 2550 and 450 leave 150 and 2250 of two bars, no room for 1300 and 1100; 1600 and 1400 leave it
    plan = cut_stock([2775, 1300, 1100], 2700, 225)
    assert plan.number == plan.least == 2
    assert plan.pieces[0] == (1600, 1400)


def test_lengths_at_the_edge_of_one_piece_more() -> None:
    assert cut_stock([2700], 2700, 225).pieces == ((2700,),)
    assert cut_stock([2700 + 2475], 2700, 225).pieces == ((2700, 2700),)
    assert cut_stock([2700 + 2475 + 100], 2700, 225).pieces == ((2700, 2575, 450),)
    assert cut_stock([2700 + 1], 2700, 225).pieces == ((2476, 450),)


def test_nothing_to_cut_and_what_cannot_be() -> None:
    assert cut_stock([], 2700, 225) == StockPlan((), (), 0)
    with pytest.raises(ValueError, match="cannot lap"):
        cut_stock([3000], 200, 225)
    with pytest.raises(ValueError, match="out of"):
        cut_stock([0], 2700, 225)


def test_many_alike_are_cut_at_once() -> None:
    """Thirty beds of a wall reinforced all over: 8 m of four pieces, three whole and 575."""
    plan = cut_stock([8000] * 30, 2700, 225)
    assert plan.number == plan.least == 90 + 8, "four rests of 575 to a bar"
