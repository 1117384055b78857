"""One stretch set out: exact length, few cuts in the middle, laps. Judged by exhaustive search written separately."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.coursing.setout import set_out
from elevgen.coursing.stretch import End, Limits, Stretch

LIMITS = Limits(unit=215, joint=10, narrow=7, wide=15, lap=53.75, least=102.5, tip=20)
WHOLE, HALF = 215.0, 102.5
REVEAL = End(((WHOLE,), (HALF,)))
KINDS = (REVEAL, End(((WHOLE,),)), End((), raking=True))


def lengths_of(layout):
    return [length for length, count in layout.runs for _ in range(count)]


def lines_of(lengths, perpend):
    at, lines = 0.0, []
    for length in lengths[:-1]:
        at += length + perpend
        lines.append(at - perpend / 2)
    return lines


def short_laps(lines, below):
    return sum(any(abs(line - b) < 53.75 - 0.01 for b in below) for line in lines)


def interior_cuts(lengths):
    return sum(abs(x - WHOLE) > 0.01 for x in lengths[1:-1])


def filled(stretch):
    layout = set_out(stretch, LIMITS)
    lengths = lengths_of(layout)
    assert sum(lengths) + (len(lengths) - 1) * layout.perpend + sum(layout.rests) == pytest.approx(stretch.length, abs=1e-6)
    return lengths, layout


def fewest_interior_cuts(length):
    """Over every choice of end pieces and counts: the least number of cuts for which some perpend in range fits."""
    for cuts in range(4):
        for left, right, whole in product((WHOLE, HALF), (WHOLE, HALF), range(14)):
            spare = length - left - right - whole * WHOLE
            joints = whole + cuts + 1
            if cuts * HALF + joints * 6.99 <= spare <= cuts * WHOLE + joints * 15.01:
                return cuts
    return None


@pytest.mark.parametrize("seed", range(8))
def test_no_course_can_be_laid_with_fewer_cuts(seed):
    random = Random(seed)
    for _ in range(150):
        length = round(random.uniform(335, 2700), 1)
        fewest = fewest_interior_cuts(length)
        lengths, layout = filled(Stretch(length, REVEAL, REVEAL, ()))
        if fewest is not None:
            assert {round(lengths[0], 2), round(lengths[-1], 2)} <= {WHOLE, HALF}
            assert interior_cuts(lengths) == fewest, length
            assert min(lengths) >= HALF - 0.01
        assert 7 - 0.01 <= layout.perpend <= 15.01


def every_single_break(length):
    """Each course with equal perpends and at most one broken bond of one or two like pieces, spelled out piece by piece."""
    for left, right, whole, cuts in product((WHOLE, HALF), (WHOLE, HALF), range(13), range(3)):
        spare = length - left - right - whole * WHOLE
        joints = whole + cuts + 1
        if cuts == 0:
            if 7 - 0.01 <= spare / joints <= 15.01:
                yield [left, *[WHOLE] * whole, right], spare / joints, cuts
            continue
        cut = (spare - joints * 10) / cuts
        if HALF - 0.01 <= cut <= WHOLE + 0.01:
            for before in range(whole + 1):
                yield [left, *[WHOLE] * before, *[cut] * cuts, *[WHOLE] * (whole - before), right], 10.0, cuts


@pytest.mark.parametrize("seed", range(8))
def test_laps_and_cuts_against_every_course_there_is(seed):
    """The course below is itself set out from other obstacles, so that its perpends stand anywhere."""
    random = Random(100 + seed)
    for _ in range(40):
        length = round(random.uniform(900, 2600), 1)
        below: list[float] = []
        at = random.uniform(-200, 0)
        while at < length:
            below.append(at)
            at += random.choice([225, 225, 225, 112.5, 150, 173.4])
        below = [b for b in below if 0 < b < length]
        lengths, layout = filled(Stretch(length, REVEAL, REVEAL, tuple(below)))
        got = short_laps(lines_of(lengths, layout.perpend), below), interior_cuts(lengths)
        options = [(short_laps(lines_of(row, p), below), cuts) for row, p, cuts in every_single_break(length)]
        assert got <= min(options), (length, below)


@pytest.mark.parametrize("length", [1565.0, 1452.5, 2127.3, 1931.9, 777.0])
def test_two_courses_repeat_and_lap(length):
    rows = [()]
    below: tuple[float, ...] = ()
    for _ in range(6):
        lengths, layout = filled(Stretch(length, REVEAL, REVEAL, below))
        lines = tuple(lines_of(lengths, layout.perpend))
        assert short_laps(lines, below) == 0
        rows.append(lines)
        below = lines
    assert rows[1] == pytest.approx(rows[3])
    assert rows[2] == pytest.approx(rows[4])


def test_perpends_open_before_anything_is_cut():
    lengths, layout = filled(Stretch(2240 + 9 * 4.0, REVEAL, REVEAL, ()))
    assert lengths == [WHOLE] * 10
    assert layout.perpend == pytest.approx(14)


def test_a_broken_bond_stands_in_the_middle():
    lengths, _ = filled(Stretch(11 * 225 - 10 + 72.0 - 225, REVEAL, REVEAL, ()))
    places = [k for k, x in enumerate(lengths) if x not in (WHOLE, HALF)]
    assert places
    assert all(abs(k - (len(lengths) - 1) / 2) <= 1.5 for k in places)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(length=st.floats(1, 6000), seed=st.integers(0, 10**6), ends=st.tuples(*[st.sampled_from(KINDS)] * 2))
def test_any_stretch_is_filled_and_its_mirror_mirrors(length, seed, ends):
    random = Random(seed)
    below = tuple(sorted(random.uniform(0, length) for _ in range(int(length / 225))))
    stretch = Stretch(length, ends[0], ends[1], below)
    lengths, _ = filled(stretch)
    mirrored, _ = filled(stretch.mirrored())
    assert max(lengths) <= WHOLE + 0.01
    assert len(lengths) == len(mirrored)
    assert sum(x < WHOLE - 0.01 for x in lengths) == sum(x < WHOLE - 0.01 for x in mirrored)


@pytest.mark.parametrize("length", [12.0, 60.0, 102.5, 180.0, 215.0, 216.0, 229.0, 300.0, 331.0, 440.0, 452.0])
def test_short_stretches_are_filled_whatever_they_take(length):
    lengths, _ = filled(Stretch(length, REVEAL, REVEAL, ()))
    assert all(0 < x <= WHOLE + 0.01 for x in lengths)


def test_an_unruled_set_keeps_nominal_perpends():
    strict = Limits(215, 10, 10, 10, 0, 0, 0)
    layout = set_out(Stretch(1987.0, REVEAL, REVEAL, ()), strict)
    assert layout.perpend == 10
