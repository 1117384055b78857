"""One course over the perpends it must lap, against every course there is on a lattice of an eighteenth of a module.

All that decides a course (units, halves, joints, the lap, the perpends below) lies on the lattice here, so no course off it
laps better with fewer cuts. The search below knows nothing of broken bonds: any piece may stand anywhere.
"""

from __future__ import annotations

from functools import cache
from random import Random

import numpy as np
import pytest

from elevgen.coursing.setout import set_out
from elevgen.coursing.stretch import End, Ground, Limits, Stretch

STEP = 12.5
UNIT, HALF, JOINT, LAP = 215.0, 102.5, 10.0, 50.0
LIMITS = Limits(unit=UNIT, joint=JOINT, narrow=JOINT, wide=JOINT, lap=LAP, least=HALF, tip=20)
REVEAL, QUOIN = End(((UNIT,), (HALF,))), End(((UNIT,),))
Faults = tuple[int, ...]
"""Perpends that lap too little, pieces too short, how short together (mm), cuts at an end, cuts."""


def faults_of(lengths: list[float], ends: tuple[End, End], below: tuple[float, ...]) -> Faults:
    at, clashes = 0.0, 0
    for length in lengths[:-1]:
        at += length + JOINT
        clashes += any(abs(at - JOINT / 2 - b) < LAP - 0.01 for b in below)
    cut, at_end = [], 0
    for k, length in enumerate(lengths):
        end = ends[0] if k == 0 else ends[1] if k == len(lengths) - 1 else None
        if not any(abs(length - x) < 0.01 for x in (sum(end.rows, ()) if end else (UNIT,))):
            cut.append(length)
            at_end += end is not None
    short = [HALF - x for x in cut if x < HALF - 0.01]
    return clashes, len(short), round(sum(short)), at_end, len(cut)


def fewest_faults(steps: int, ends: tuple[End, End], below: tuple[float, ...]) -> Faults:
    """Over every row of pieces with perpends on the lattice, each 20 mm at least."""

    @cache
    def best_from(start: int) -> Faults:
        found = []
        for finish in range(start + 1, min(steps, start + 18) + 1):
            length = STEP * (finish - start) - JOINT
            if length < 20 or (start == 0 and finish == steps):
                continue
            end = ends[0] if start == 0 else ends[1] if finish == steps else None
            cut = length not in (sum(end.rows, ()) if end else (UNIT,))
            clash = finish < steps and any(abs(STEP * finish - JOINT / 2 - b) < LAP - 0.01 for b in below)
            short = cut and length < HALF
            here = int(clash), int(short), round(HALF - length) if short else 0, int(cut and end is not None), int(cut)
            if finish == steps:
                found.append(here)
            elif rest := best_from(finish):
                found.append(tuple(a + b for a, b in zip(here, rest, strict=True)))
        return min(found, default=())

    return best_from(0)


def course(random: Random, most: int) -> tuple[int, tuple[End, End], tuple[float, ...]]:
    """A length of up to so many modules, its ends and the perpends below, some out of step."""
    steps = random.randint(19, 18 * most)
    below, at = [], random.randint(0, 17)
    while at < steps:
        below += [STEP * at - JOINT / 2] if at else []
        at += random.choice([18, 18, 18, 9, 12, 13, 15])
    return steps, (random.choice([REVEAL, REVEAL, QUOIN]), random.choice([REVEAL, QUOIN])), tuple(below)


@pytest.mark.parametrize("seed", range(6))
def test_no_row_of_pieces_does_better(seed: int) -> None:
    random = Random(seed)
    for _ in range(60):
        steps, ends, below = course(random, 8)
        length = STEP * steps - JOINT
        layout = set_out(Stretch(length, *ends, below), LIMITS)
        lengths = [x for x, count in layout.runs for _ in range(count)]
        assert sum(lengths) + JOINT * (len(lengths) - 1) == pytest.approx(length, abs=1e-6)
        assert faults_of(lengths, ends, below) == fewest_faults(steps, ends, below), (length, ends, below)


def test_a_lap_is_long_enough_at_its_limit() -> None:
    ground = Ground(Stretch(900.0, REVEAL, REVEAL, (220.0, 445.0)), LIMITS)
    assert [bool(cost) for cost in ground.cost(np.array([107.5, 170.0, 320.0, 395.0]))] == [False] * 4
    assert [bool(cost) for cost in ground.cost(np.array([170.1, 269.9, 394.9, 495.0]))] == [True, True, False, False]
    nearer, near = ground.cost(np.array([215.0, 200.0]))
    assert nearer > near
