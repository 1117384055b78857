"""Heights: courses, beds that land the top, split courses, and levels that do not land."""

from __future__ import annotations

import pytest

from elevgen.building.model import Zone
from elevgen.core.geometry import Rect, Span


def test_nominal_courses_land(leaf, laid):
    work = laid(leaf(height=1050)).work
    assert [c.number for c in work.courses] == list(range(1, 15))
    assert [c.level for c in work.courses] == pytest.approx([10 + 75 * k for k in range(14)])
    assert {c.bed for c in work.courses} == {10}
    assert work.misfits == ()


def test_the_same_bed_throughout_lands_the_top(leaf, laid):
    work = laid(leaf(height=1071)).work
    assert len(work.courses) == 14
    assert [c.bed for c in work.courses] == pytest.approx([11.5] * 14)
    assert work.courses[-1].top == pytest.approx(1071)
    assert work.misfits == ()


def test_a_top_out_of_reach_splits_the_last_course(leaf, laid):
    found = laid(leaf(height=337))
    assert [c.height for c in found.work.courses] == pytest.approx([65] * 4 + [27])
    assert [p.split for _, p in found.in_course(5)] == [True]
    assert [(m.what, m.level, m.down, m.up) for m in found.work.misfits] == [("top of the wall", 337, 300, 375)]
    assert found.work.counts[0].cut >= 15


def test_less_than_a_split_is_made_up_in_the_bed(leaf, laid):
    work = laid(leaf(height=326)).work
    assert [c.height for c in work.courses] == [65] * 4
    assert [c.bed for c in work.courses] == pytest.approx([10, 10, 10, 36])
    assert work.courses[-1].top == pytest.approx(326)


@pytest.mark.parametrize(
    ("bottom", "top", "missed"),
    [
        (300, 750, ()),
        (300, 760, ()),
        (300, 755, ()),
        (307, 760, (("sill of O1", 307, 300, 375),)),
        (300, 767, (("head of O1", 767, 760, 825),)),
        (295, 745, (("sill of O1", 295, 225, 300), ("head of O1", 745, 685, 750))),
    ],
)
def test_sills_land_on_courses_and_heads_in_the_bed_above(leaf, laid, bottom, top, missed):
    work = laid(leaf(voids=(Rect(700, bottom, 1600, top),))).work
    assert tuple((m.what, m.level, m.down, m.up) for m in work.misfits) == missed


def test_edges_without_masonry_are_not_judged(leaf, laid):
    door, band = Rect(700, 0, 1600, 311), Rect(700, 311, 1600, 377)
    window = Rect(700, 377, 1600, 760)
    work = laid(leaf(voids=(door, band, window))).work
    assert work.misfits == ()


def test_a_top_is_not_bought_with_every_sill_and_head(leaf, laid):
    """A bed that lands 1071 would lose the sill and the head that land at the nominal one."""
    work = laid(leaf(height=1071, voids=(Rect(700, 300, 1600, 750),))).work
    assert {round(c.bed, 6) for c in work.courses[:-1]} == {10}
    assert [m.what for m in work.misfits] == ["top of the wall"]


def test_zone_that_does_not_land_is_named_with_its_nearest_levels(leaf, laid, brick, block):
    zones = (Zone(brick, Span(0, 190)), Zone(block, Span(190, 1090)))
    work = laid(leaf(height=1090, zones=zones)).work
    assert [(m.what, m.down, m.up) for m in work.misfits] == [("top of brick", 150, 225)]
    assert [c.unit for c in work.courses] == ["brick"] * 3 + ["block"] * 4
    assert work.courses[2].height == pytest.approx(30)


def test_a_void_over_part_of_a_course_leaves_lower_units(leaf, laid):
    """A sill 40 mm up the units of course 5 leaves them 40 high under the window; 12 mm is made up in mortar."""
    found = laid(leaf(voids=(Rect(700, 350, 1600, 760),)))
    heights = sorted(p.height for _, p in found.in_course(5))
    assert heights == pytest.approx([40, 65, 65])
    found = laid(leaf(voids=(Rect(700, 322, 1600, 760),)))
    assert sorted(p.height for _, p in found.in_course(5)) == pytest.approx([65, 65])


def test_a_perpend_stands_between_units_of_unequal_height(leaf, laid):
    found = laid(leaf(voids=(Rect(700, 350, 1600, 760),)))
    (under,) = [(p, x) for p, x in found.in_course(5) if x.height < 65]
    assert (under[0].span.start, under[0].span.end) == pytest.approx((700, 1600))
    assert next(x.at for x in under[1].perpends) == 0
    assert under[1].perpends[-1].at + under[1].perpends[-1].width == pytest.approx(900)
