"""How long it takes to lay 59,000 bricks, and how little it grows with area. Run with -m bench -s."""

from __future__ import annotations

import tracemalloc
from random import Random
from time import perf_counter

import pytest

from elevgen.building.model import Building, Leaf, LeafEnd, Profile, Unit, Wall, Zone
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.lay import lay
from elevgen.coursing.model import Coursing
from elevgen.joints.model import JointPlan
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book

pytestmark = pytest.mark.bench


def irregular(count: int, length: float, height: float) -> tuple[Rect, ...]:
    """Openings in three storeys, none on a module, none touching another."""
    random = Random(7)
    rows = 3
    bay = length / (count / rows)
    found = []
    for k in range(count):
        row, column = k % rows, k // rows
        left = round(column * bay + random.uniform(400, bay - 2600), 1)
        bottom = round(row * height / rows + random.uniform(400, 900), 1)
        found.append(Rect(left, bottom, left + round(random.uniform(600, 2100), 1), bottom + round(random.uniform(700, 1500), 1)))
    return tuple(found)


def build(length: float, height: float, voids: tuple[Rect, ...]) -> Coursing:
    unit = Unit("brick", "clay", 215, 65, 102.5, 10)
    ends = LeafEnd("stopped", 0, 0), LeafEnd("stopped", length, length)
    flat = Profile(((0, 0), (length, 0))), Profile(((0, height), (length, height)))
    zone = Zone(unit, Span(0, height))
    leaf = Leaf("W/outer", "W", "outer", (zone,), "stretcher", 102.5, 0, Span(0, length), *ends, *flat, voids, True)
    wall = Wall("W", "", "t", (0, 0), (length, 0), length, "face", (leaf.id,), None, 102.5, False, (), (), (), "place")
    return lay(Building((wall,), (leaf,), (), (unit,)), JointPlan((), (), ()), RuleReader(load_book("uk")))


def timed(length: float, height: float, voids: tuple[Rect, ...] = ()) -> float:
    times = []
    for _ in range(3):
        start = perf_counter()
        coursing = build(length, height, voids)
        times.append(perf_counter() - start)
    count = coursing.leaves[0].counts[0]
    print(
        f"\n{length / 1000:g} x {height / 1000:g} m, {len(voids)} openings: {min(times):.3f} s, {count.full + count.cut} bricks, "
        f"{len(coursing.patterns)} patterns, {len(coursing.leaves[0].placements)} placements"
    )
    return min(times)


def test_a_long_wall_and_its_openings():
    plain = timed(100_000, 10_000)
    holed = timed(100_000, 10_000, irregular(30, 100_000, 10_000))
    assert plain < 0.25
    assert holed < 1.0


def test_time_hardly_grows_with_area_at_the_same_openings():
    voids = irregular(9, 30_000, 10_000)
    small = timed(30_000, 10_000, voids)
    large = timed(90_000, 10_000, voids)
    assert large < 4 * small


def test_memory_stays_small():
    tracemalloc.start()
    build(100_000, 10_000, irregular(30, 100_000, 10_000))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    print(f"\npeak {peak / 1e6:.1f} MB")
    assert peak < 100e6
