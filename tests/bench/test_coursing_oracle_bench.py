"""Thousands of courses against the oracle and thousands of random walls. Run with -m bench -s: half an hour on one core."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from random import Random

import pytest

TESTS = Path(__file__).parents[1]
sys.path[:0] = [str(TESTS / "unit" / "coursing"), str(TESTS / "whole")]

from buildings import mirrored  # noqa: E402
from course_oracle import Faults, faults_of, fewest_faults  # noqa: E402
from leaf_measures import NEAR, in_the_way, lap_lack, leaves_of, shortest_lack  # noqa: E402
from random_courses import FAMILIES, FINE, FLEMISH, HEADER, Family  # noqa: E402
from random_leaves import designed, random_wall  # noqa: E402
from test_leaf_properties import judge, same_in_a_mirror  # noqa: E402

from elevgen import pipeline  # noqa: E402
from elevgen.coursing.setout import set_out  # noqa: E402

pytestmark = pytest.mark.bench


@pytest.mark.parametrize("family", [*FAMILIES, FINE], ids=[f.name for f in (*FAMILIES, FINE)])
def test_a_thousand_courses(family: Family) -> None:
    """How often a course is worse than the best there is, and in what; where all laps can be kept hardly ever."""
    random = Random(101)
    closed = family._replace(ends=tuple(e for e in family.ends if not e.open))
    tally: Counter[str] = Counter()
    for _ in range(200 if family is FINE else 1000):
        stretch = closed.draw(random)
        best = fewest_faults(stretch, family.limits, family.step / 2)
        found = faults_of(set_out(stretch, family.limits).lengths, stretch, family.limits)
        group = ("short" if best.laps else "lapping") + (" at a corner" if stretch.left.hidden + stretch.right.hidden else "")
        tally[group] += 1
        if found > best:
            kind = next(k for k in range(4) if found[k] != best[k])
            tally[f"{group}: worse {Faults._fields[kind]}"] += 1
            tally[f"{group}: worse"] += 1
        assert found.laps == best.laps or family is HEADER
    print(f"\n{family.name}: {dict(sorted(tally.items()))}")
    assert tally["lapping: worse"] <= tally["lapping"] // (30 if family in (HEADER, FLEMISH) else 100)


def test_two_thousand_walls() -> None:
    """Every property of `test_leaf_properties`; how many fall short of a rule and say so."""
    words, tally = pipeline.vocabulary(), Counter[str]()
    for seed in range(10**6, 10**6 + 2000):
        spec = random_wall(seed)
        design = designed(spec, words)
        if design is None:
            tally["refused"] += 1
            continue
        judge(design)
        same_in_a_mirror(design, designed(mirrored(spec), words))
        for laid in leaves_of(design):
            tally["leaves"] += 1
            tally["with short laps"] += laid.leaf.bond != "stack" and lap_lack(laid) > NEAR
            tally["with short pieces"] += shortest_lack(laid) > NEAR
            tally["openings"] += len(design.building.wall(laid.leaf.wall).openings)
            tally["openings with a perpend in the way"] += len(in_the_way(laid))
    print(f"\n{dict(tally)}")
