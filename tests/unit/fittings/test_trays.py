"""Trays over lintels: where they reach, what stops them, which are one; and those a spec lists."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from elevgen.building.given import Given, GivenTray
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.beds import beds
from elevgen.fittings.model import Lintel
from elevgen.fittings.tray_walls import TrayWall
from elevgen.fittings.trays import given_trays, opening_trays


def lintel(start, end, bearing=150.0, level=2100.0, over="O1", depth=None, kind=None, bed=0.0):
    clear = Span(start + bearing, end - bearing)
    return Lintel(f"W1/outer/L-{over}", "W1", "W1/outer", (over,), level, clear, bearing, bearing, depth, (), kind=kind, bed=bed)


def where(made, wall=None, **outer):
    inner = made.leaf("inner") if made.wall.cavity else None
    return TrayWall(
        wall or made.wall,
        replace(made.leaf(), **outer),
        inner,
        beds(made.courses()),
        beds(made.courses("inner")) if inner else (),
        made.coursing.of("W1/outer"),
        {},
        made.plan.on_leaf("W1/outer"),
    )


def test_heads_at_one_level_but_for_what_arithmetic_leaves_have_a_tray_each(yard, reader):
    """Levels in inches add up to a last digit more or less: the one on the right must not be taken for the lowest and first."""
    lintels = [lintel(700, 2010, level=2100.0 + 1e-9), lintel(4000, 5310, level=2100.0, over="O2")]
    first, second = opening_trays(where(yard.wall(6000)), lintels, reader)
    assert (first.openings, second.openings) == (("O1",), ("O2",))
    assert first.span.contains(700)
    assert not first.span.overlaps(second.span)


def test_a_tray_runs_past_its_lintel_unless_joint_or_end_stops_it(yard, reader):
    made = yard.wall(6000, joints=[2028])
    lintels = [lintel(700, 2010), lintel(3000, 4210, over="O2"), lintel(4800, 5990, over="O3")]
    beside, free, at_end = opening_trays(where(made), lintels, reader)
    assert (free.span, free.stop_ends, free.level, free.opening, free.leaf) == (Span(2975, 4235), 2, 2100, "O2", "W1/outer")
    assert beside.span == Span(675, 2020)
    assert at_end.span == Span(4775, 6000)
    assert free.id == "W1/outer/T-O2"


@pytest.mark.parametrize(("apart", "number"), [(0, 1), (49, 1), (50, 1), (51, 2)])
def test_neighbours_that_meet_or_overlap_are_one_tray(yard, reader, apart, number):
    lintels = [lintel(1000, 2200), lintel(2200 + apart, 3400, over="O2")]
    trays = opening_trays(where(yard.wall(6000)), lintels, reader)
    assert len(trays) == number
    assert trays[0].openings == (("O1", "O2") if number == 1 else ("O1",))
    assert trays[-1].span.end == 3425


def test_neighbours_at_two_levels_stay_two(yard, reader):
    lintels = [lintel(1000, 2200), lintel(2200, 3400, over="O2", level=2175)]
    assert [t.level for t in opening_trays(where(yard.wall(6000)), lintels, reader)] == [2100, 2175]


def test_a_joint_over_an_opening_parts_its_tray(yard, reader):
    """A joint given there: each part has its own two stop ends."""
    trays = opening_trays(where(yard.wall(6000, joints=[3500])), [lintel(3000, 4210)], reader)
    assert [(t.id[-4:], t.span, t.stop_ends) for t in trays] == [
        ("T-O1", Span(2975, 3492), 2),
        ("O1-2", Span(3508, 4235), 2),
    ]


def test_its_upper_edge_is_the_first_bed_of_the_inner_leaf_high_enough(yard, reader):
    made = yard.wall(6000)
    (tray,) = opening_trays(where(made), [lintel(3000, 4210, level=2100)], reader)
    assert tray.upper == 2325, "2100 + 150 is just over the bed at 2100, the next is at -150 + 11 x 225"
    assert tray.width == pytest.approx(102.5 + hypot(100, 225) + 100)


def test_no_upper_edge_where_an_opening_or_the_top_is_in_the_way(yard, reader):
    over = yard.wall(6000, [Rect(3300, 2200, 3900, 2500)])
    low = yard.wall(6000, top=2250)
    for made in (over, low):
        (tray,) = opening_trays(where(made), [lintel(3000, 4210)], reader)
        assert tray.upper is None
        assert tray.width == pytest.approx(102.5 + hypot(100, 150)), "up the face only"


@pytest.mark.parametrize(("kind", "level"), [("pressed_steel", 2100), ("steel_angle", 2100), ("concrete", 2260), ("stone", 2260)])
def test_on_a_deep_lintel_and_under_the_first_course_on_a_steel_one(yard, reader, kind, level):
    (tray,) = opening_trays(where(yard.wall(6000)), [lintel(3000, 4210, depth=150.0, kind=kind, bed=10.0)], reader)
    assert tray.level == level, "on a deep one: its bed, and its depth"


def test_listed_trays_are_kept_and_what_they_lie_over_gets_no_other(yard, reader):
    made = yard.wall(9000)
    lintels = [lintel(1000, 2200), lintel(3000, 4210, over="O2"), lintel(6000, 7210, over="O3")]
    listed = (GivenTray(2100, 1100, 1000, 1), GivenTray(2250, 3000, 1210, 2), GivenTray(2175, 6100, 1050, 0))
    at = where(made, replace(made.wall, trays=Given(listed)))
    given = given_trays(at, lintels, reader)
    assert [(t.id, t.span, t.level, t.stop_ends, t.openings, t.given) for t in given] == [
        ("W1/outer/T-1", Span(1100, 2100), 2100, 1, ("O1",), True),
        ("W1/outer/T-2", Span(3000, 4210), 2250, 2, (), True),
        ("W1/outer/T-3", Span(6100, 7150), 2175, 0, ("O3",), True),
    ], "the second is two courses up"
    assert [t.opening for t in opening_trays(at, lintels, reader)] == ["O2"]


def test_no_polyethylene(yard, reader):
    (tray,) = opening_trays(where(yard.wall(6000)), [lintel(3000, 4210)], reader)
    assert tray.barred == ("polyethylene",)
