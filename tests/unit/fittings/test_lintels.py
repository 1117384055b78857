"""Lintels: which openings share one, and the bearing each really gets."""

from __future__ import annotations

from dataclasses import replace

import pytest

from elevgen.building.model import Strip
from elevgen.core.geometry import Rect, Span
from elevgen.core.sourced import Sourced
from elevgen.coursing.seats import seats_of
from elevgen.fittings.lintels import lintels
from elevgen.rules.book import RuleReader


def over(made, reader, side="outer"):
    leaf = made.leaf(side)
    return lintels((seat for seat in seats_of(made.building, made.plan, reader) if seat.leaf == leaf.id), made.building, reader)


def stepped(reader, step):
    values = {**reader.book.values, "lintel.length_step": Sourced("lintel.length_step", step, "mm", "test", "", "", "practice")}
    return RuleReader(replace(reader.book, values=values))


def test_bearing_by_span_and_leaf(yard, reader):
    made = yard.wall(9000, [Rect(1000, 900, 2200, 2100), Rect(5000, 900, 6201, 2100)])
    outer, inner = over(made, reader), over(made, reader, "inner")
    assert [(x.id, x.openings, x.level, x.bearing_start, x.bearing_end) for x in outer] == [
        ("W1/outer/L-O1", ("O1",), 2100, 150, 150),
        ("W1/outer/L-O2", ("O2",), 2100, 150, 150),
    ]
    assert [x.bearing_start for x in inner] == [100, 150]
    assert [x.length for x in inner] == [1400, 1501]
    assert all(x.depth is None for x in outer), "the section is an engineer's"


@pytest.mark.parametrize(("pier", "count"), [(514, 1), (515, 2), (700, 2)])
def test_openings_nearer_than_two_bearings_and_a_pier_share_one(yard, reader, pier, count):
    made = yard.wall(9000, [Rect(2000, 900, 2900, 2100), Rect(2900 + pier, 900, 4600 + pier, 2100)])
    found = over(made, reader)
    assert len(found) == count
    if count == 1:
        assert found[0].clear == Span(2000, 4600 + pier)
        assert (found[0].openings, found[0].id) == (("O1", "O2"), "W1/outer/L-O1")


def test_a_shared_lintel_bears_as_its_longest_span_asks_for(yard, reader):
    # inside, 900 and 1000 ask for 100 each: 414 apart they share, and the pier between carries it: 100 as before
    made = yard.wall(9000, [Rect(2000, 900, 2900, 2100), Rect(3314, 900, 4314, 2100), Rect(4764, 900, 5664, 2100)])
    shared, alone = over(made, reader, "inner")
    assert (shared.openings, alone.openings) == (("O1", "O2"), ("O3",))
    assert (shared.clears, shared.clear) == ((Span(2000, 2900), Span(3314, 4314)), Span(2000, 4314))
    assert (shared.bearing_start, shared.bearing_end, shared.length) == (100, 100, 2514)
    # 1300 asks for 150, which the whole lintel gets, and so the three share: 449 < 150 + 100 + 215
    wide = yard.wall(9000, [Rect(2000, 900, 2900, 2100), Rect(3314, 900, 4614, 2100), Rect(5063, 900, 5963, 2100)])
    (all_three,) = over(wide, reader, "inner")
    assert [x.length for x in all_three.clears] == [900, 1300, 900]
    assert (all_three.bearing_start, all_three.bearing_end) == (150, 150)


def test_a_row_of_windows_over_piers_is_no_long_span(yard, reader):
    rects = [Rect(1000 + k * 1350, 900, 1900 + k * 1350, 2100) for k in range(5)]
    (ribbon,) = over(yard.wall(9000, rects), reader)
    assert (ribbon.clear.length, [x.length for x in ribbon.clears]) == (6300, [900] * 5)
    assert ribbon.bearing_start == 150, "for the tray; a span over 1.2 m is not the reason"
    assert "lintel.bearing.short.tray" in ribbon.basis


@pytest.mark.parametrize(("lower", "count"), [(2025, 1), (2024, 2)])
def test_heads_share_within_one_course(yard, reader, lower, count):
    made = yard.wall(9000, [Rect(2000, 900, 2900, 2100), Rect(3300, 900, 4200, lower)])
    found = over(made, reader)
    assert len(found) == count
    assert max(x.level for x in found) == 2100


def test_a_joint_between_keeps_them_apart_and_cuts_the_bearing(yard, reader):
    rects = [Rect(2000, 900, 2900, 2100), Rect(3150, 900, 4400, 2100)]
    assert len(over(yard.wall(9000, rects), reader)) == 1
    first, second = over(yard.wall(9000, rects, joints=[3000]), reader)
    assert (first.bearing_start, first.bearing_end) == (150, 92)
    assert (second.bearing_start, second.bearing_end) == (142, 150)


def test_bearing_is_cut_short_at_the_end_of_the_leaf_and_at_a_taller_hole(yard, reader):
    made = yard.wall(4000, [Rect(60, 900, 1000, 2100), Rect(2600, 900, 3700, 2100), Rect(3830, 0, 3990, 2400)])
    first, second, third = over(made, reader)
    assert (first.bearing_start, first.bearing_end) == (60, 150)
    assert (second.bearing_start, second.bearing_end) == (150, 130)
    assert (third.bearing_start, third.bearing_end) == (150, 10)


def test_a_stock_step_lengthens_both_bearings_as_far_as_masonry_goes(yard, reader):
    made = yard.wall(6000, [Rect(200, 900, 1110, 2100), Rect(3000, 900, 3910, 2100)])
    first, second = over(made, stepped(reader, 150.0))
    assert (second.length, second.bearing_start, second.bearing_end) == (1350, 220, 220)
    assert (first.length, first.bearing_start, first.bearing_end) == (1350, 200, 240)
    assert "lintel.length_step" in first.basis
    even = yard.wall(6000, [Rect(3000, 900, 3900, 2100)])
    assert [x.length for x in over(even, stepped(reader, 150.0))] == [1200], "a whole step already"


def test_two_heads_of_one_group_have_a_lintel_each(yard, reader):
    rects = [Rect(1000, 0, 2000, 2100), Rect(2000, 900, 3200, 3000)]
    made = yard.wall(6000, rects, top=4800, groups=[[0, 1]], strips=[Strip("head", Rect(1000, 2100, 2000, 2400), ("O1",))])
    found = over(made, reader)
    assert [(x.id, x.clear, x.level, x.openings) for x in found] == [
        ("W1/outer/L-O1", Span(1000, 2000), 2400, ("O1",)),
        ("W1/outer/L-O2", Span(2000, 3200), 3000, ("O2",)),
    ]
    assert (found[0].bearing_start, found[0].bearing_end) == (150, 0), "no masonry at the taller opening"


@pytest.mark.parametrize("seed", range(20))
def test_a_mirrored_wall_has_mirrored_lintels(yard, reader, seed):
    made = yard.random(seed)
    for side in ("outer", "inner"):
        there = {(x.openings, x.level, x.clear.start, x.bearing_start, x.bearing_end) for x in over(made, reader, side)}
        back = {
            (tuple(reversed(x.openings)), x.level, made.wall.length - x.clear.end, x.bearing_end, x.bearing_start)
            for x in over(yard.mirrored(made), reader, side)
        }
        assert rounded(there) == rounded(back)
        every = [name for x in over(made, reader, side) for name in x.openings]
        assert sorted(every) == sorted(o.id for o in made.wall.openings), "each opening under one lintel"


def rounded(rows):
    return sorted((names, *(round(x, 6) for x in figures)) for names, *figures in rows)
