"""Trays over lower roofs: level and stepped, by the line they are over; and properties of random lines."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest

from elevgen.building.given import Given, GivenTray
from elevgen.building.model import Profile
from elevgen.core.geometry import Rect, Span, subtract
from elevgen.fittings.abutment_trays import abutment_trays
from elevgen.fittings.beds import beds
from elevgen.fittings.tray_walls import TrayWall

ABOVE, LEAST, LAP = 150.0, 225.0, 75.0


def trays_over(made, *lines, reader, given=()):
    wall = replace(made.wall, abutments=tuple(Profile(tuple(line)) for line in lines), trays=Given(tuple(given)))
    where = TrayWall(
        *(wall, made.leaf(), made.leaf("inner"), beds(made.courses()), beds(made.courses("inner"))),
        *(made.coursing.of("W1/outer"), {}, made.plan.on_leaf("W1/outer")),
    )
    return abutment_trays(where, reader)


def test_a_level_line_has_one_straight_tray_in_the_first_bed_high_enough(yard, reader):
    (tray,) = trays_over(yard.wall(9000, top=5400), [(1000, 2400), (4200, 2400)], reader=reader)
    assert (tray.kind, tray.level, tray.span, tray.stop_ends) == ("abutment", 2560, Span(1000, 4200), 2)
    assert (tray.id, tray.opening, tray.openings) == ("W1/outer/AT1-1", "", ())
    assert tray.upper == 2775 and len(tray.weeps) >= 2
    (at_a_bed,) = trays_over(yard.wall(9000, top=5400), [(1000, 2410), (4200, 2410)], reader=reader)
    assert at_a_bed.level == 2560, "150 mm and not a hair more"


def test_a_gentle_slope_steps_down_course_by_course(yard, reader):
    """Down 300 in 3000: a course of 75 every 750. 150 over the line is 2560 at 1100, a bed's upper edge, then at 1850 ..."""
    trays = trays_over(yard.wall(9000, top=5400), [(1000, 2420), (4000, 2120)], reader=reader)
    assert [t.level for t in trays] == [2635, 2560, 2485, 2410, 2335]
    assert [t.kind for t in trays] == ["step"] * 5
    assert [(t.span.start, t.span.end) for t in trays[1:]] == [(1025, 1850), (1775, 2600), (2525, 3350), (3275, 4000)]
    assert (trays[0].span.start, trays[0].span.end) == (875, 1100), "100 long would be too short: it goes on past the line"
    assert [t.stop_ends for t in trays] == [1, 1, 1, 1, 2]
    assert [bool(t.weeps) for t in trays] == [False, False, False, False, True]


def test_a_steep_slope_steps_by_as_many_courses_as_make_a_tray_long_enough(yard, reader):
    """45 degrees: three courses down for 225 along."""
    trays = trays_over(yard.wall(9000, top=5400), [(2000, 1200), (3800, 3000)], reader=reader)
    assert {round(b.level - a.level) for a, b in pairwise(trays)} <= {75, 150, 225}
    assert all(t.span.length >= LEAST - 0.01 for t in trays)
    assert [t.stop_ends for t in trays] == [2, *[1] * (len(trays) - 1)]


def test_over_a_ridge_the_top_tray_runs_off_both_ways(yard, reader):
    trays = trays_over(yard.wall(9000, top=6000), [(2000, 2400), (4000, 3400), (6000, 2400)], reader=reader)
    assert [t.stop_ends for t in trays].count(0) == 1 and [t.stop_ends for t in trays].count(2) == 2
    assert max(trays, key=lambda t: t.level).stop_ends == 0
    assert (trays[0].stop_ends, trays[-1].stop_ends) == (2, 2)


def test_in_a_valley_the_lowest_tray_is_a_catch_with_a_weep(yard, reader):
    trays = trays_over(yard.wall(9000, top=6000), [(2000, 3400), (4000, 2400), (6000, 3400)], reader=reader)
    lowest = min(trays, key=lambda t: t.level)
    assert lowest.stop_ends == 2 and lowest.weeps
    assert [t.stop_ends for t in trays if t is not lowest] == [1] * (len(trays) - 1)


def test_a_movement_joint_parts_the_row_and_both_parts_are_stopped(yard, reader):
    made = yard.wall(9000, top=5400, joints=[2600])
    trays = trays_over(made, [(1000, 2420), (4000, 2120)], reader=reader)
    gap = made.plan.joints[0].gap
    assert all(not t.span.overlaps(gap) for t in trays)
    (left,) = [t for t in trays if abs(t.span.end - gap.start) < 0.1]
    assert left.stop_ends == 2 and left.weeps, "nothing runs off across the joint"


def test_an_opening_in_the_way_stops_it_at_its_reveals(yard, reader):
    made = yard.wall(9000, [Rect(2000, 2000, 2910, 3000)], top=5400)
    trays = trays_over(made, [(1000, 2400), (4200, 2400)], reader=reader)
    assert [(t.span, t.stop_ends) for t in trays] == [(Span(1000, 2000), 2), (Span(2910, 4200), 2)]


def test_none_where_the_wall_ends_too_low(yard, reader):
    assert trays_over(yard.wall(9000, top=2500), [(1000, 2400), (4200, 2400)], reader=reader) == ()


def test_what_a_listed_tray_lies_over_gets_no_other(yard, reader):
    made = yard.wall(9000, top=5400)
    assert trays_over(made, [(1000, 2400), (4200, 2400)], reader=reader, given=[GivenTray(2560, 900, 3400, 2)]) == ()
    assert trays_over(made, [(1000, 2400), (4200, 2400)], reader=reader, given=[GivenTray(2560, 900, 3000, 2)])


def checked_by_points(made, line, trays):
    """Every point of the line, joints, openings and the top left out, has a tray over it, high enough; none is too high."""
    leaf, profile = made.leaf(), Profile(tuple(line))
    tops = [bed.levels.end for bed in beds(made.courses())]
    gaps = [joint.gap for joint in made.plan.joints]
    lo, hi = line[0][0], line[-1][0]
    for n in range(401):
        at = lo + (hi - lo) * (n + 0.5) / 401
        needed = max(profile.level_left_of(at), profile.level_right_of(at)) + ABOVE
        if any(gap.grown(1).contains(at) for gap in gaps) or needed > tops[-1]:
            continue
        if any(v.along.contains(at) and v.bottom - 300 < needed < v.top + 75 for v in leaf.voids):
            continue
        over = [t for t in trays if t.span.contains(at) and t.level >= needed - 0.02]
        assert over, f"{at} of {line}"


@pytest.mark.parametrize("seed", range(150))
def test_random_lines_are_covered_stopped_and_drained(yard, reader, seed):
    judge_random(yard, reader, seed)


@pytest.mark.bench
@pytest.mark.parametrize("hundred", range(10, 50))
def test_thousands_of_random_lines(yard, reader, hundred):
    for seed in range(100 * hundred, 100 * hundred + 100):
        judge_random(yard, reader, seed)


def judge_random(yard, reader, seed):
    rng = Random(seed)
    length = float(rng.randint(5000, 12000))
    joints = sorted(rng.sample(range(1500, int(length) - 1500), rng.randint(0, 2)))
    made = yard.wall(
        length, joints=[float(at) for at in joints] if len(joints) < 2 or joints[1] - joints[0] > 600 else [], top=6000
    )
    points = sorted(rng.sample(range(100, int(length) - 100), rng.randint(2, 5)))
    line = [(float(at), float(rng.randint(300, 5600))) for at in points]
    if rng.random() < 0.3:
        line = [(at, line[0][1]) for at, _ in line]
    trays = trays_over(made, line, reader=reader)
    checked_by_points(made, line, trays)
    undersides = {round(bed.levels.end, 3) for bed in beds(made.courses())}
    for tray in trays:
        assert round(tray.level, 3) in undersides
        assert not any(tray.span.overlaps(joint.gap) for joint in made.plan.joints)
        assert not subtract(tray.span, [made.leaf().span])
        lower = [t for t in trays if t.level < tray.level - 0.01]
        ends = (tray.span.start, tray.span.end)
        open_ends = sum(any(t.span.start < at - 0.01 and at + 0.01 < t.span.end for t in lower) for at in ends)
        assert tray.stop_ends >= 2 - open_ends
        if tray.stop_ends == 2:
            assert tray.weeps
    for one, two in pairwise(sorted(trays, key=lambda t: (t.level, t.span))):
        if one.level == two.level:
            assert not one.span.overlaps(two.span), "no two trays in one place"
