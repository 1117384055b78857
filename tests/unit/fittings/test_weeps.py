"""Weep holes against every choice there is, on small rows of perpends."""

from __future__ import annotations

from itertools import combinations, pairwise
from random import Random

import pytest

from elevgen.core.geometry import Span
from elevgen.fittings.weeps import weep_holes

ALONG = Span(0, 2400)


def gaps(places):
    return [b - a for a, b in pairwise(places)]


def best_of_all(perpends, spacing, least):
    """The fewest perpends, the first and last among them, that serve; and the least longest step that so many can have."""
    for count in range(max(least, 2), len(perpends) + 1):
        found = [
            max(gaps(chosen))
            for chosen in combinations(perpends, count)
            if chosen[0] == perpends[0] and chosen[-1] == perpends[-1] and max(gaps(chosen)) <= spacing + 0.01
        ]
        if found:
            return count, min(found)
    return None


@pytest.mark.parametrize("seed", range(400))
def test_as_few_as_serve_and_as_even_as_so_many_can_be(seed):
    rng = Random(seed)
    perpends = sorted(rng.sample(range(20, 2380), rng.randint(2, 9)))
    spacing = max(gaps((0, *perpends, 2400))) * rng.choice((1, 1.2, 1.7, 2.5))
    least = rng.randint(1, min(4, len(perpends)))
    best = best_of_all(perpends, spacing, least)
    holes = weep_holes(perpends, ALONG, spacing, least)
    assert holes.cut == ()
    assert (len(holes.at), max(gaps(holes.at))) == (best[0], pytest.approx(best[1], abs=0.01))
    assert (holes.at[0], holes.at[-1]) == (perpends[0], perpends[-1])


@pytest.mark.parametrize("seed", range(400))
def test_where_perpends_are_too_far_apart_weeps_are_cut_and_told(seed):
    rng = Random(1000 + seed)
    length = rng.randint(300, 6000)
    perpends = sorted(rng.sample(range(10, length - 10), rng.randint(0, min(5, length // 100))))
    spacing, least = rng.choice((450, 900)), rng.randint(1, 5)
    holes = weep_holes(perpends, Span(0, length), spacing, least)
    assert len(holes.at) >= least and list(holes.at) == sorted(set(holes.at))
    assert max(gaps((0, *holes.at, length))) <= spacing + 0.01
    assert set(holes.at) - set(holes.cut) <= set(perpends)
    assert not set(holes.cut) & set(perpends)
    widest = max(gaps((0, *perpends, length)))
    if widest <= spacing and len(perpends) >= least:
        assert holes.cut == ()


@pytest.mark.parametrize("seed", range(60))
def test_as_many_from_the_other_end(seed):
    rng = Random(seed)
    perpends = sorted(rng.sample(range(20, 2380), rng.randint(1, 12)))
    mirrored = [2400 - at for at in reversed(perpends)]
    one, two = (weep_holes(row, ALONG, 600, 2) for row in (perpends, mirrored))
    assert (len(one.at), len(one.cut)) == (len(two.at), len(two.cut))


def test_none_to_be_had_in_a_perpend_are_cut_evenly():
    assert weep_holes([], Span(700, 1910), 900, 2) == ((700, 1305, 1910), (700, 1305, 1910))
    assert weep_holes([], Span(0, 300), 900, 1) == ((150,), (150,))
