"""Damp-proof courses: where they lie, what they are lapped at, what of them a spec's own make unneeded."""

from __future__ import annotations

from dataclasses import replace

import pytest

from elevgen.building.given import Given, GivenDampCourse
from elevgen.building.model import Profile
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.beds import beds
from elevgen.fittings.damp_proof import damp_courses
from elevgen.fittings.model import Laps
from elevgen.rules.book import RuleReader


def laid(made, reader, side="outer", wall=None, leaf=None):
    leaf = leaf or made.leaf(side)
    return damp_courses(wall or made.wall, leaf, beds(made.courses(side)), made.plan.on_leaf(leaf.id), reader)


def test_one_along_the_whole_face_under_doors_too(yard, reader):
    made = yard.wall(6000, [Rect(1000, 0, 1910, 2100)])
    (dpc,) = laid(made, reader)
    assert (dpc.id, dpc.level, dpc.span, dpc.width, dpc.lap) == ("W1/outer/DPC", 0, Span(0, 6000), 102.5, 100)
    assert [d.span for d in laid(made, reader, "inner")] == [Span(202.5, 5797.5)]


@pytest.mark.parametrize(("base", "count"), [(-150, 1), (0, 1), (150, 0), (2700, 0)])
def test_only_where_the_leaf_is_founded_at_or_below_the_datum(yard, reader, base, count):
    assert len(laid(yard.wall(6000, base=base, top=5400), reader)) == count


def test_it_goes_up_the_steps_of_a_base_that_rises_past_the_datum(yard, reader):
    made = yard.wall(6000, base=[(0, 300), (1500, 300), (1500, -150), (4000, -150), (4000, 75), (6000, 75)])
    found = laid(made, reader)
    assert [(d.level, d.span) for d in found] == [(450, Span(0, 1500)), (0, Span(1500, 4000)), (225, Span(4000, 6000))]
    assert [d.extra for d in found] == [450, 0, 225], "the upper length goes down each step"
    assert [d.lapped.steps for d in found] == [1, 0, 1]
    assert [d.length for d in found] == [1950, 2500, 2225]


def test_on_rising_ground_it_lies_high_enough_above_it_in_the_first_bed(yard, reader):
    made = yard.wall(6000, base=[(0, -150), (3500, -150), (3500, 300), (6000, 300)])
    ground = Profile(((0, -200), (3500, -200), (3500, 400), (6000, 400)))
    found = laid(made, reader, wall=replace(made.wall, ground=ground))
    assert [(d.level, d.span.start) for d in found] == [(0, 0), (600, 3500)], "400 + 150 lies between the beds at 525 and 600"


def test_a_wall_founded_higher_has_one_where_its_ground_is_known(yard, reader):
    made = yard.wall(6000, base=1050, top=5400)
    assert laid(made, reader) == ()
    found = laid(made, reader, wall=replace(made.wall, ground=Profile(((0, 1200), (6000, 1200)))))
    assert [d.level for d in found] == [1350]


def test_none_through_an_opening_that_reaches_below_it(yard, reader):
    made = yard.wall(6000, [Rect(1000, -150, 1910, 1350), Rect(4000, 0, 4910, 2100)], base=-300)
    assert [d.span for d in laid(made, reader)] == [Span(0, 1000), Span(1910, 6000)]


def test_each_corner_is_lapped_once_and_a_leaf_built_into_another_once(yard, reader):
    made = yard.wall(6000)
    leaf = made.leaf()
    ring = [
        replace(
            leaf,
            id=f"W{k}/outer",
            start_end=replace(leaf.start_end, other=f"W{(k - 2) % 4 + 1}/outer"),
            finish_end=replace(leaf.finish_end, other=f"W{k % 4 + 1}/outer"),
        )
        for k in range(1, 5)
    ]
    assert sum(d.lapped.corners for one in ring for d in laid(made, reader, leaf=one)) == 4
    assert [d.laps for d in laid(yard.wall(6000, ends=("stopped", "stopped")), reader)] == [0]
    stem = replace(leaf, start_end=replace(leaf.start_end, kind="abutting", connection="bonded"), finish_end=leaf.finish_end)
    free = replace(stem, start_end=replace(stem.start_end, connection="free"))
    assert [d.lapped.corners for one in (stem, free) for d in laid(made, reader, leaf=one)] == [2, 1]


def test_it_runs_on_through_movement_joints_and_is_lapped_there(yard, reader):
    made = yard.wall(9000, joints=[3000, 5990], ends=("stopped", "stopped"))
    (dpc,) = laid(made, reader)
    assert (dpc.span, dpc.folded, dpc.lapped) == (Span(0, 9000), ("J1", "J2"), Laps(joints=2))
    at_end = yard.wall(9000, joints=[8992], ends=("stopped", "stopped"))
    assert [d.folded for d in laid(at_end, reader)] == [()], "a joint that fills the very end is not passed"


@pytest.mark.parametrize(
    ("length", "laps"), [(5000, 0), (30_000, 0), (30_001, 1), (59_900, 1), (59_901, 2), (89_800, 2), (89_801, 3)]
)
def test_rolls_of_30_m_each_after_the_first_adds_29_9(yard, reader, length, laps):
    (dpc,) = laid(yard.wall(float(length), ends=("stopped", "stopped")), reader)
    assert dpc.lapped == Laps(rolls=laps)


def test_no_roll_laps_where_the_rule_set_has_no_roll(yard, reader):
    values = {key: value for key, value in reader.book.values.items() if key != "dpc.roll_length"}
    bare = RuleReader(replace(reader.book, values=values))
    assert [d.laps for d in laid(yard.wall(70_000, ends=("stopped", "stopped")), bare)] == [0]


@pytest.mark.parametrize("stands", ["parapet", "free_standing"])
def test_under_the_coping_of_a_wall_that_stands_free_across_all_of_it(yard, reader, stands):
    made = yard.wall(6000, base=-150, top=[(0, 1800), (2500, 1800), (2500, 1350), (6000, 1350)])
    wall = replace(made.wall, stands=stands, thickness=302.5)
    foot, *coping = laid(made, reader, wall=wall)
    assert foot.place == "base"
    assert [(d.id, d.level, d.span, d.width) for d in coping] == [
        ("W1/outer/DPC-C1", 1800, Span(0, 2500), 302.5),
        ("W1/outer/DPC-C2", 1350, Span(2500, 6000), 302.5),
    ]
    assert [d.extra for d in coping] == [450, 0] and [d.lapped.steps for d in coping] == [1, 0]
    assert {d.barred for d in coping} == {("polyethylene",)} and foot.barred == ()
    assert [d.place for d in laid(made, reader, "inner", wall)] == ["base"], "the outer leaf's goes over the cavity"


def test_under_a_sloping_coping_it_is_as_long_as_the_slope(yard, reader):
    made = yard.wall(4000, top=[(0, 1000), (4000, 4000)])
    *_, coping = laid(made, reader, wall=replace(made.wall, stands="parapet"))
    assert (coping.level, coping.length) == (1000, pytest.approx(5000))


def test_listed_ones_are_kept_and_the_rest_of_the_foot_is_given_its_own(yard, reader):
    made = yard.wall(6000)
    listed = (GivenDampCourse("outer", 0, 0, 2000), GivenDampCourse(None, 75, 5000, 1000), GivenDampCourse("inner", 0, 300, 90))
    among = laid(made, reader, wall=replace(made.wall, damp_courses=Given(listed, True)))
    assert [(d.id, d.level, d.span, d.given) for d in among] == [
        ("W1/outer/DPC-G1", 0, Span(0, 2000), True),
        ("W1/outer/DPC-G2", 75, Span(5000, 6000), True),
        ("W1/outer/DPC", 0, Span(2000, 6000), False),
    ], "the one at 75 is a course up and serves nothing at 0"
    alone = laid(made, reader, wall=replace(made.wall, damp_courses=Given(listed, False)))
    assert [d.id for d in alone] == ["W1/outer/DPC-G1", "W1/outer/DPC-G2"]
