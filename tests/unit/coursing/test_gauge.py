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
        (295, 760, (("sill of O1", 295, 225, 300),)),
        (300, 745, (("head of O1", 745, 685, 750),)),
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


def test_a_sill_and_a_head_may_outvote_a_top(leaf, laid):
    """Courses of 73.75 land a sill at 295 and a head at 745; those of 75 land the top at 1,050 only."""
    work = laid(leaf(voids=(Rect(700, 295, 1600, 745),))).work
    assert {c.bed for c in work.courses[:-1]} == {8.75}
    assert [m.what for m in work.misfits] == ["top of the wall"]


@pytest.mark.parametrize(
    ("height", "void", "level", "course", "cut_to", "made_up"),
    [
        (337, None, 337, 5, 27, None),
        (326, None, 326, 4, None, 36),
        (329.9, None, 329.9, 4, None, 39.9),
        (330, None, 330, 5, 20, None),
        (1050, (350, 760), 350, 5, 40, None),
        (1050, (322, 760), 322, 5, None, 22),
        (1050, (307, 760), 307, 5, None, 7),
        (1050, (300, 790), 790, 11, 35, None),
        (1050, (300, 810), 810, 12, None, 25),
    ],
)
def test_the_course_that_pays_is_named(leaf, laid, height, void, level, course, cut_to, made_up):
    """Units cut to the level, or mortar made up to it where they would be cut lower than 20 mm: as the courses are drawn."""
    voids = (Rect(700, void[0], 1600, void[1]),) if void else ()
    found = laid(leaf(height=height, voids=voids))
    (missed,) = found.work.misfits
    assert (missed.level, missed.course) == (level, course)
    assert (missed.cut_to, missed.made_up) == (
        pytest.approx(cut_to) if cut_to else None,
        pytest.approx(made_up) if made_up else None,
    )
    drawn = [(p.level, p.level + x.height) for p, x in found.in_course(course)]
    if cut_to:
        assert min(top - under for under, top in drawn) == pytest.approx(cut_to)
        assert any(level == pytest.approx(edge) for ends in drawn for edge in ends)
    elif void is None:
        assert found.work.courses[course - 1].bed == pytest.approx(made_up)


def test_a_step_of_the_base_cuts_the_course_over_it(leaf, laid):
    """The ground steps up 97 mm: course 2, from 85 to 150 mm, is cut to 53 over it."""
    work = laid(leaf(base=((0, 0), (1500, 0), (1500, 97), (3365, 97)))).work
    (missed,) = work.misfits
    assert (missed.what, missed.course, missed.cut_to, missed.down, missed.up) == ("step of the base", 2, 53, 75, 150)


@pytest.mark.parametrize(
    ("height", "void", "needed", "barred", "loses"),
    [
        (337, None, 337 / 5 - 65, "tolerance", None),
        (1071, (300, 750), 11.5, "others", 2),
        (1050, (295, 760), 8.75, "others", 2),
    ],
)
def test_the_bed_that_would_land_a_level_and_why_it_is_not_laid(leaf, laid, height, void, needed, barred, loses):
    voids = (Rect(700, void[0], 1600, void[1]),) if void else ()
    (missed,) = laid(leaf(height=height, voids=voids)).work.misfits
    assert (missed.bed, missed.barred, missed.loses) == (10, barred, loses)
    assert missed.bed_needed == pytest.approx(needed)


def test_the_bed_a_head_needs_is_the_nearest_that_brings_it_into_a_bed(leaf, laid):
    """767 over ten courses: 10 x 65 and eleven beds of 10.636 mm; it would lose the top and the sill."""
    (missed,) = laid(leaf(voids=(Rect(700, 300, 1600, 767),))).work.misfits
    assert missed.bed_needed == pytest.approx((767 - 650) / 11)
    assert (missed.barred, missed.loses) == ("others", 2)
