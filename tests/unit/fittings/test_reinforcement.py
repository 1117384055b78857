"""Bed-joint reinforcement against a millimetre-by-millimetre oracle, and the cases a drawing shows."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import isclose

import pytest

from elevgen.building.model import Strip
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.beds import beds
from elevgen.fittings.edges import edges
from elevgen.fittings.reinforcement import bed_reinforcement
from elevgen.rules.book import RuleReader

REACH, MERGE, LAP, STOCK = 600, 450, 225, 2700


def fitted(made, reader, side="outer"):
    return tuple(r for r in everything(made, reader)[0] if r.leaf == made.leaf(side).id)


def everything(made, reader):
    """The lengths of the whole building, and the stock they come out of."""
    leaf_beds = {laid.leaf: beds(laid.courses) for laid in made.coursing.leaves}
    return bed_reinforcement(made.building, made.coursing, leaf_beds, made.plan, reader)


def without(reader, *keys):
    values = {k: v for k, v in reader.book.values.items() if k not in keys}
    return RuleReader(replace(reader.book, values=values))


def test_a_window_gets_two_beds_over_and_two_under(yard, reader):
    lengths = fitted(yard.wall(9000, [Rect(3000, 900, 4210, 2100)]), reader)
    # base -150: the sill at 900 is the top of course 14, the head at 2100 that of course 30
    assert [(r.course, r.level) for r in lengths] == [(12, 750), (13, 825), (31, 2175), (32, 2250)]
    assert {r.span for r in lengths} == {Span(2400, 4810)}
    assert all(r.serves == ("O1",) and r.pieces == (2410.0,) and r.laps == 0 for r in lengths)


def test_block_leaf_uses_its_own_beds(yard, reader):
    lengths = fitted(yard.wall(9000, [Rect(3000, 900, 4210, 2100)], base=-225), reader, "inner")
    # tops 450 and 675 under; over the head 2100..2250 is cut, 2250..2475 full: a bed on each
    assert [r.level for r in lengths] == [450, 675, 2250, 2475]
    assert all(r.leaf == "W1/inner" for r in lengths)


def test_close_windows_share_one_length_and_far_ones_do_not(yard, reader):
    near = [Rect(2000, 900, 3000, 2100), Rect(4600, 900, 5600, 2100)]  # 1600 between: reaches leave 400
    far = [Rect(2000, 900, 3000, 2100), Rect(4700, 900, 5700, 2100)]  # 1700: reaches leave 500
    assert {r.span for r in fitted(yard.wall(9000, near), reader)} == {Span(1400, 6200)}
    assert {r.serves for r in fitted(yard.wall(9000, near), reader)} == {("O1", "O2")}
    assert {r.span for r in fitted(yard.wall(9000, far), reader)} == {Span(1400, 3600), Span(4100, 6300)}


def test_a_joint_between_windows_stops_it_at_the_gap(yard, reader):
    made = yard.wall(9000, [Rect(2000, 900, 3000, 2100), Rect(4000, 900, 5000, 2100)], joints=[3400])
    assert {r.span for r in fitted(made, reader)} == {Span(1400, 3392), Span(3408, 5600)}
    assert not fitted(made, reader)[0].span.overlaps(made.plan.joints[0].gap)


def test_stops_at_a_neighbouring_void_and_at_the_end_of_the_face(yard, reader):
    made = yard.wall(9000, [Rect(300, 900, 1300, 2100), Rect(1750, 0, 2650, 2475)])
    over_first = [r for r in fitted(made, reader) if r.level in (2175, 2250)]
    assert [r.span for r in over_first] == [Span(0, 1750)] * 2


def test_no_masonry_under_a_door_at_the_base_gives_nothing_there(yard, reader):
    lengths = fitted(yard.wall(9000, [Rect(3000, 0, 3910, 2100)], base=0), reader)
    assert [r.level for r in lengths] == [2175, 2250]
    one_bed = fitted(yard.wall(9000, [Rect(3000, 0, 3910, 2100)], base=-150), reader)
    assert [r.level for r in one_bed] == [-75, 2175, 2250]


def test_a_sloping_top_cuts_it_off(yard, reader):
    made = yard.wall(6000, [Rect(2500, 900, 3500, 2100)], top=[(0, 1500), (3000, 3000), (6000, 1500)])
    # the bed at 2175..2185 lies under a top that reaches 2185 at 1370 and 4630
    low = next(r for r in fitted(made, reader) if r.level == 2175)
    assert low.span == Span(1900, 4100)
    steep = yard.wall(6000, [Rect(2500, 900, 3500, 2100)], top=[(0, 0), (3000, 3000), (6000, 0)])
    cut = next(r for r in fitted(steep, reader) if r.level == 2175)
    assert (cut.span.start, cut.span.end) == pytest.approx((2185, 3815))


def test_a_stacked_group_is_reinforced_over_its_top_and_under_its_foot(yard, reader):
    stack = [Rect(2000, 600, 2819, 1350), Rect(2000, 1425, 2819, 2100)]
    band = Strip("band", Rect(2000, 1350, 2819, 1425), ("O1", "O2"))
    lengths = fitted(yard.wall(6000, stack, strips=[band], groups=[[0, 1]]), reader)
    assert [r.level for r in lengths] == [450, 525, 2175, 2250]
    assert all(r.serves == ("O1", "O2") for r in lengths)


def test_heads_at_two_heights_in_one_group(yard):
    rects = [Rect(400, 75, 5200, 2475), Rect(5300, 0, 6100, 2400)]
    pier = Strip("pier", Rect(5200, 75, 5300, 2400), ("O1", "O2"))
    made = yard.wall(9000, rects, strips=[pier], groups=[[0, 1]])
    heads, sills = edges(made.wall, made.wall.groups[0])
    assert {(e.along, e.level, e.openings) for e in heads} == {
        (Span(400, 5200), 2475, ("O1",)),
        (Span(5200, 6100), 2400, ("O2",)),
    }
    assert {(e.along, e.level) for e in sills} == {(Span(400, 5300), 75), (Span(5300, 6100), 0)}


@pytest.mark.parametrize("seed", range(40))
def test_covers_what_the_oracle_asks_and_no_more(yard, reader, seed):
    made = yard.random(seed)
    for side in ("outer", "inner"):
        leaf, courses = made.leaf(side), made.courses(side)
        joints = [j.gap for j in made.plan.on_leaf(leaf.id)]
        lengths = fitted(made, reader, side)
        assert len({r.id for r in lengths}) == len(lengths)
        for k, course in enumerate(courses[:-1]):
            bed = (course.top, courses[k + 1].level)
            wanted, blocked = oracle(made, leaf, courses, k, bed, joints)
            here = [r for r in lengths if r.course == course.number]
            covered = {x for r in here for x in range(round(r.span.start), round(r.span.end))}
            assert wanted <= covered, (seed, side, course.number)
            assert not covered & blocked, (seed, side, course.number)
            assert all(run <= MERGE + 1 for run in stretches(covered - wanted)), (seed, side, course.number)
            ordered = sorted(r.span for r in here)
            for a, b in pairwise(ordered):
                free = not any(x in blocked for x in range(round(a.end), round(b.start)))
                assert not free or b.start - a.end > MERGE, "two lengths that nearly meet are one"
        for r in lengths:
            assert isclose(r.with_laps, r.span.length + r.laps * r.lap, abs_tol=0.01)
            assert r.laps == len(r.pieces) - 1
            assert r.serves


def oracle(made, leaf, courses, k, bed, joints):
    """The cells (1 mm) of one bed that openings ask for, walked outward one by one, and those nothing may lie in."""
    lo, hi = bed
    blocked = set()
    for hole in [v.along for v in leaf.voids if v.bottom <= hi and v.top >= lo] + joints:
        blocked |= set(range(int(hole.start + 0.5), int(hole.end + 0.5)))
    inside = range(round(leaf.span.start), round(leaf.span.end))
    wanted = set()
    for o in made.wall.openings:
        over = [i for i, c in enumerate(courses[:-1]) if c.top - o.rect.top >= 20][:2]
        under = [i for i in range(len(courses) - 1) if o.rect.bottom - courses[i + 1].level >= 20][-2:]
        if k not in (*over, *under):
            continue
        left, right = round(o.rect.left), round(o.rect.right)
        wanted |= {x for x in range(left, right) if x not in blocked}
        for step, first in ((-1, left - 1), (1, right)):
            if first - step in blocked:
                continue
            x = first
            while x in inside and x not in blocked and abs(x - first) < REACH:
                wanted.add(x)
                x += step
    return wanted, blocked


def stretches(cells):
    """Lengths of unbroken rows of cells."""
    run, previous = 0, None
    for x in sorted(cells):
        run = run + 1 if previous is not None and x == previous + 1 else 1
        previous = x
        yield run


@pytest.mark.parametrize("seed", range(12))
def test_a_mirrored_wall_has_mirrored_reinforcement(yard, reader, seed):
    made = yard.random(seed)
    length = made.wall.length

    def shape(lengths, flip):
        return sorted(
            (
                r.course,
                round(length - r.span.end if flip else r.span.start, 6),
                round(r.span.length, 6),
                r.pieces if r.laps else (),
                frozenset(r.serves),
            )
            for r in lengths
        )

    for side in ("outer", "inner"):
        there, back = fitted(made, reader, side), fitted(yard.mirrored(made), reader, side)
        plain = [(c, a, ln, len(p), s) for c, a, ln, p, s in shape(there, False)]
        assert plain == [(c, a, ln, len(p), s) for c, a, ln, p, s in shape(back, True)]


def test_no_rule_no_reinforcement_and_no_stock_no_cutting(yard, reader):
    made = yard.wall(9000, [Rect(1000, 900, 6000, 2100)])
    assert fitted(made, without(reader, "bed_reinforcement.reach")) == ()
    uncut = fitted(made, without(reader, "bed_reinforcement.stock_length"))
    assert {(r.pieces, r.laps) for r in uncut} == {((6200.0,), 0)}
    assert all("bed_reinforcement.stock_length" not in r.basis for r in uncut)


@pytest.mark.parametrize(("sill", "levels"), [(900, [750, 825]), (930, [825, 900]), (925, [750, 825])])
def test_under_a_sill_off_the_courses_a_cut_course_counts_if_it_can_be_laid(yard, reader, sill, levels):
    # a course of 65 starts at 910: at sill 930 it is cut to 20 and stands on the bed at 900; at 925 it is too thin to lay
    made = yard.wall(9000, [Rect(3000, sill, 4210, 2100)])
    assert [r.level for r in fitted(made, reader) if r.level < sill] == levels


@pytest.mark.parametrize(("head", "levels"), [(2100, [2175, 2250]), (2080, [2100, 2175]), (2085, [2175, 2250])])
def test_over_a_head_off_the_courses_a_cut_course_counts_if_it_can_be_laid(yard, reader, head, levels):
    # a course of 65 ends at 2100: over a head at 2080 it is cut to 20 and carries the bed at 2100; over 2085 too thin to lay
    made = yard.wall(9000, [Rect(3000, 900, 4210, head)])
    assert [r.level for r in fitted(made, reader) if r.level > head] == levels


def test_a_low_strip_of_masonry_is_reinforced_in_the_beds_it_has(yard, reader):
    under_the_top = yard.wall(9000, [Rect(3000, 900, 4210, 2100)], top=2260)  # two courses over the head: one bed
    assert [r.level for r in fitted(under_the_top, reader) if r.level > 2100] == [2175]
    assert [r.level for r in fitted(yard.wall(9000, [Rect(3000, 900, 4210, 2100)], top=2175), reader) if r.level > 2100] == []


def all_over(made, every, side="outer"):
    """The wall with every so many millimetres of a leaf's height reinforced."""
    return changed(made, side, reinforced_every=every)


def changed(made, side, **what):
    """The wall with one leaf made otherwise."""
    leaves = tuple(replace(x, **what) if x.side == side else x for x in made.building.leaves)
    return replace(made, building=replace(made.building, leaves=leaves))


@pytest.mark.parametrize(
    ("side", "every", "apart"), [("outer", 450, 450), ("outer", 225, 225), ("outer", 300, 300), ("inner", 300, 225)]
)
def test_a_leaf_reinforced_all_the_way_up(yard, reader, side, every, apart):
    made = yard.wall(5000, [], base=-225)
    made = all_over(made, every, side)
    leaf, lengths = made.leaf(side), fitted(made, reader, side)
    levels = [r.level for r in lengths]
    assert {round(b - a, 3) for a, b in pairwise(levels)} == {apart}
    assert levels[0] + 225 <= every, "the first within that of the foot"
    assert leaf.top.highest(leaf.span) - levels[-1] <= every + 10
    assert {r.span for r in lengths} == {leaf.span}
    assert all(r.serves == () for r in lengths)


def test_reinforcement_all_over_stops_at_openings_and_joints_and_takes_in_that_at_openings(yard, reader):
    made = yard.wall(9000, [Rect(3000, 900, 4210, 2100)], joints=[6000])
    lengths = fitted(all_over(made, 225), reader)
    through = {level: [r.span for r in lengths if r.level == level] for level in {r.level for r in lengths}}
    assert through[750] == [Span(0, 5992), Span(6008, 9000)]
    assert [r.serves for r in lengths if r.level == 750] == [("O1",), ()]
    assert any(spans[:2] == [Span(0, 3000), Span(4210, 5992)] for spans in through.values())
    plain = {r.level for r in fitted(made, reader)}
    assert plain <= set(through)


def test_beds_further_apart_than_asked_are_all_reinforced(yard, reader):
    made = yard.wall(5000, [], base=-225)
    assert len(fitted(all_over(made, 100, "inner"), reader, "inner")) == len(made.courses("inner")) - 1


def test_reinforcement_all_over_needs_no_rule_for_openings(yard, reader):
    made = yard.wall(5000, [Rect(3000, 900, 4210, 2100)])
    bare = without(reader, "bed_reinforcement.courses_above", "bed_reinforcement.reach")
    assert fitted(all_over(made, 450), bare)
