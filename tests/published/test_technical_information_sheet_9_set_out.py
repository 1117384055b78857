"""Technical Information Sheet 9, Brickwork Dimensions: its table reproduced by laying walls, not by a formula.

Printed rows (read; check-values 1.5, TIS9-01 to -04): n bricks, coordinating size CO; an opening of n bricks is CO + 10,
a pier or panel between openings CO - 10. Rows marked derived there are named so here.
Gauge: four courses of 65 mm brick are 300 mm (quoted, bricklaying glossary; GAUG-01).
"""

from __future__ import annotations

import pytest

from elevgen.building.model import Building, Leaf, LeafEnd, Profile, Unit, Wall, Zone
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.lay import lay
from elevgen.coursing.model import Coursing
from elevgen.joints.model import JointPlan
from elevgen.rules.book import RuleBook, RuleReader

PRINTED = {
    0.5: 112.5,
    1: 225,
    1.5: 337.5,
    2: 450,
    2.5: 562.5,
    3: 675,
    3.5: 787.5,
    4: 900,
    4.5: 1012.5,
    5: 1125,
    5.5: 1237.5,
    6: 1350,
    34: 7650,
    35: 7875,
    36.5: 8212.5,
    38: 8550,
    39: 8775,
    67.5: 15187.5,
    72: 16200,
}
DERIVED = {
    7: 1575,
    8: 1800,
    9: 2025,
    10: 2250,
    12: 2700,
    15: 3375,
    20: 4500,
    25: 5625,
    30: 6750,
    45: 10125,
    50: 11250,
}
HEIGHTS_DERIVED = {1: 75, 2: 150, 4: 300, 10: 750, 28: 2100, 50: 3750}
BLOCKS_DERIVED = {0.5: 215, 1: 440, 2: 890, 3: 1340, 5: 2240, 10: 4490}


def build(uk: RuleBook, unit: Unit, length: float, height: float, voids: tuple[Rect, ...] = ()) -> Coursing:
    span = Span(0, length)
    ends = LeafEnd("stopped", 0, 0), LeafEnd("stopped", length, length)
    flat = Profile(((0, 0), (length, 0))), Profile(((0, height), (length, height)))
    zone = Zone(unit, Span(0, height))
    leaf = Leaf("W/outer", "W", "outer", (zone,), "stretcher", unit.width, 0, span, *ends, *flat, voids, True)
    wall = Wall("W", "", "t", (0, 0), (length, 0), length, "face", (leaf.id,), None, unit.width, False, (), (), (), "place")
    return lay(Building((wall,), (leaf,), (), (unit,)), JointPlan((), (), ()), RuleReader(uk))


@pytest.fixture
def brick(uk: RuleBook) -> Unit:
    found = uk.units["brick_65"]
    return Unit("brick_65", "clay", found.length, found.height, found.width, uk.get("joint.nominal").number)


@pytest.fixture
def block(uk: RuleBook) -> Unit:
    found = uk.units["dense_block_100"]
    return Unit("dense_block_100", "dense_concrete", found.length, found.height, found.width, uk.get("joint.nominal").number)


def bricks_in(coursing: Coursing, course: int, unit: Unit) -> tuple[float, set[float]]:
    """How many units long a course is, halves counted as halves, and the widths of its perpends."""
    patterns = [coursing.pattern(p.pattern) for p in coursing.leaves[0].placements if p.course == course]
    half = (unit.length - unit.joint) / 2
    units = 0.0
    for piece in (x for p in patterns for x in p.pieces):
        assert min(abs(piece.length - unit.length), abs(piece.length - half)) < 0.01
        units += 1 if abs(piece.length - unit.length) < 0.01 else 0.5
    return units, {round(x.width, 6) for p in patterns for x in p.perpends}


@pytest.mark.parametrize(
    ("bricks", "co"), [*PRINTED.items(), *(pytest.param(n, co, id=f"derived-{n}-{co}") for n, co in DERIVED.items())]
)
def test_a_panel_of_co_minus_takes_its_bricks_at_nominal_perpends(uk: RuleBook, brick: Unit, bricks: float, co: float) -> None:
    coursing = build(uk, brick, co - 10, 300)
    for course in (1, 2, 3, 4):
        units, perpends = bricks_in(coursing, course, brick)
        assert units == bricks
        assert perpends <= {10}


@pytest.mark.parametrize(("bricks", "co"), PRINTED.items())
def test_an_opening_of_co_plus_leaves_piers_that_course_in(uk: RuleBook, brick: Unit, bricks: float, co: float) -> None:
    """Panels of 4 bricks and 6 1/2 bricks either side of an opening n bricks wide: everything at nominal perpends."""
    left, right = 890.0, 6.5 * 225 - 10
    wide = co + 10
    coursing = build(uk, brick, left + wide + right, 600, (Rect(left, 150, left + wide, 460),))
    assert bricks_in(coursing, 1, brick) == (4 + bricks + 6.5, {10})
    for course in (3, 4, 5, 6):
        assert bricks_in(coursing, course, brick) == (10.5, {10})


@pytest.mark.parametrize(("courses", "height"), HEIGHTS_DERIVED.items())
def test_courses_to_heights_gauge_of_four_courses_to_300_derived(uk: RuleBook, brick: Unit, courses: int, height: float) -> None:
    leaf = build(uk, brick, 1115, height).leaves[0]
    assert len(leaf.courses) == courses
    assert leaf.courses[-1].top == pytest.approx(height)
    assert {c.bed for c in leaf.courses} == {10}
    assert leaf.misfits == ()


@pytest.mark.parametrize(("blocks", "length"), BLOCKS_DERIVED.items())
def test_blocks_to_lengths_derived(uk: RuleBook, block: Unit, blocks: float, length: float) -> None:
    coursing = build(uk, block, length, 450)
    for course in (1, 2):
        units, perpends = bricks_in(coursing, course, block)
        assert units == blocks
        assert perpends <= {10}


def test_a_tie_plane_of_450_is_six_brick_courses_and_two_of_block(uk: RuleBook, brick: Unit, block: Unit) -> None:
    """Quoted (bricklaying textbook; GAUG-04)."""
    assert build(uk, brick, 1115, 450).leaves[0].courses[-1].number == 6
    assert build(uk, block, 1340, 450).leaves[0].courses[-1].number == 2
