"""Beds over thousands of random heights: one bed throughout a zone, and no bed that lands more levels than the one chosen.

The oracle tries every bed of the tolerance in steps of 0.05 mm and counts by itself what lands.
"""

from __future__ import annotations

from math import floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.building.model import Zone
from elevgen.core.geometry import Rect, Span

NEAR = 0.01


def lands(height: float, gauge: float, reach: float = 0.0) -> bool:
    over = height - floor((height + NEAR) / gauge) * gauge
    return over <= reach + NEAR


def landed(bed: float, height: float, rects: tuple[Rect, ...], unit_height: float) -> int:
    """How many levels of sills, of heads and of the top of a leaf from 0 to `height` land with these beds, each counted once."""
    gauge = unit_height + bed
    heads, others = {r.top for r in rects}, {height, *(r.bottom for r in rects)}
    return sum(lands(y, gauge, bed) for y in heads) + sum(lands(y, gauge) for y in others)


levels = st.integers(1, 24).flatmap(lambda n: st.sampled_from([75.0 * n, 76.0 * n, 74.5 * n, 75.0 * n + 10, 75.0 * n + 31]))
odd = st.floats(60, 1900).map(lambda y: round(y, 1))


@st.composite
def faces(draw: st.DrawFn) -> tuple[float, tuple[Rect, ...]]:
    """The height of a leaf and up to three windows side by side, none at its base or its top."""
    height = draw(st.one_of(levels.filter(lambda y: y > 400), odd.filter(lambda y: y > 400)))
    rects = []
    for n in range(draw(st.integers(0, 3))):
        ends = sorted((draw(st.one_of(levels, odd)), draw(st.one_of(levels, odd))))
        bottom, top = ends[0], min(ends[1], height - 60)
        if bottom >= 60 and top - bottom > 100:
            rects.append(Rect(400 + 1400.0 * n, bottom, 1100 + 1400.0 * n, top))
    return height, tuple(rects)


@settings(max_examples=750, deadline=None, derandomize=True)
@given(faces(), st.sampled_from(["brick", "block"]))
def test_no_bed_lands_more_levels(request: pytest.FixtureRequest, face: tuple[float, tuple[Rect, ...]], name: str) -> None:
    make, lay, unit = (request.getfixturevalue(x) for x in ("leaf", "laid", name))
    height, rects = face
    work = lay(make(length=5165, height=height, voids=rects, unit=unit)).work
    best = max(landed(5 + k / 20, height, rects, unit.height) for k in range(201))
    if len(work.courses) > 1:
        bed = work.courses[0].bed
        assert 5 - NEAR <= bed <= 15 + NEAR
        assert landed(bed, height, rects, unit.height) >= best
        if landed(10.0, height, rects, unit.height) == landed(bed, height, rects, unit.height):
            assert bed == 10


@settings(max_examples=600, deadline=None, derandomize=True)
@given(faces(), st.integers(2, 12))
def test_the_same_bed_throughout_a_zone(
    request: pytest.FixtureRequest, face: tuple[float, tuple[Rect, ...]], courses: int
) -> None:
    """Two zones: bricks, then blocks. Only the course under a zone's top may have another bed, made up or thinned to it."""
    make, lay, brick, block = (request.getfixturevalue(x) for x in ("leaf", "laid", "brick", "block"))
    height, rects = face
    change = min(75.0 * courses, height - 100)
    zones = (Zone(brick, Span(0, change)), Zone(block, Span(change, height)))
    made = lay(make(length=5165, height=height, voids=rects, zones=zones)).work
    for zone in zones:
        beds = [c.bed for c in made.courses if zone.levels.start - NEAR <= c.level - c.bed < zone.levels.end - NEAR]
        assert max(beds[:-1], default=0) - min(beds[:-1], default=0) < 1e-6
        if len(beds) > 1 and abs(beds[-1] - beds[0]) > 1e-6:
            top = zone.levels.end
            assert any(abs(m.level - top) < NEAR and m.made_up is not None for m in made.misfits)
            assert beds[0] < beds[-1] < beds[0] + beds[0] + 20 + NEAR
