"""Ends, corners, joints and laps of whole leaves; a mirrored leaf is laid as the mirror image."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.building.model import LeafEnd
from elevgen.core.geometry import Rect


def corner(near, far, even=True, connection="bonded"):
    return LeafEnd("corner", near, far, "W2/outer", connection, even)


def test_stopped_ends_alternate_whole_and_half(leaf, laid):
    found = laid(leaf(length=3365))
    odd, even = found.pieces(1), found.pieces(2)
    assert [x for _, x, _ in odd] == pytest.approx([215] * 15)
    assert [x for _, x, _ in even] == pytest.approx([102.5, *[215] * 14, 102.5])
    assert found.pieces(3) == odd
    assert found.short_laps == 0
    assert len(found.coursing.patterns) == 2
    assert (found.work.counts[0].full, found.work.counts[0].cut) == (7 * 15 + 7 * 14, 7 * 2)


def test_a_convex_corner_runs_through_and_shows_the_return_in_turn(leaf, laid):
    found = laid(leaf(start=corner(102.5, 0, True), finish=corner(3262.5, 3365, False)))
    first, second = found.pieces(1), found.pieces(2)
    assert first[0] == (0, 215, "full")
    assert first[-1][2] == "return"
    assert (first[-1][0], first[-1][1]) == pytest.approx((3262.5, 102.5))
    assert (second[0][0], second[0][1], second[0][2]) == (0, 102.5, "return")
    assert second[1][0] == pytest.approx(112.5)
    assert second[-1][0] + second[-1][1] == pytest.approx(3365)
    assert found.short_laps == 0
    shown = sum(len(found.pieces(c.number)) for c in found.work.courses)
    count = found.work.counts[0]
    assert count.full + count.cut == shown - len(found.work.courses)


def test_a_re_entrant_corner_hides_the_through_unit(leaf, laid):
    found = laid(leaf(finish=corner(3365, 3467.5, True)))
    (through,) = found.in_course(1)
    assert through[1].hidden == (0, 102.5)
    assert through[1].pieces[-1].kind == "full"
    assert through[1].pieces[-1].length == pytest.approx(112.5)
    (stopping,) = found.in_course(2)
    assert stopping[1].hidden == (0, 0)
    last = stopping[1].perpends[-1]
    assert last.at + last.width == pytest.approx(3365)
    assert {round(p.width, 6) for p in stopping[1].perpends} == {round(last.width, 6)}
    assert found.short_laps == 0


def test_a_corner_that_is_not_bonded_belongs_to_one_leaf(leaf, laid):
    owner = laid(leaf(finish=corner(3262.5, 3365, True, "tied")))
    other = laid(leaf(finish=corner(3262.5, 3365, False, "tied")))
    assert {owner.pieces(k)[-1][2] == "return" for k in range(1, 15)} == {False}
    assert {other.pieces(k)[-1][2] for k in range(1, 15)} == {"return"}


def test_an_opening_in_the_corner_leaves_no_room_for_the_return(leaf, laid):
    found = laid(leaf(start=corner(102.5, 0), voids=(Rect(90, 300, 900, 760),)))
    assert found.pieces(6)[0][:2] == pytest.approx((0, 90))


def test_both_sides_of_a_movement_joint_are_ends(leaf, laid):
    found = laid(leaf(length=6200), (2470.0,), 20.0)
    for number in (1, 2, 5, 8):
        spans = [p.span for p, _ in found.in_course(number)]
        assert [(s.start, s.end) for s in spans] == [(0, 2460), (2480, 6200)]
        at_joint = {round(x, 3) for at, x, _ in found.pieces(number) if abs(at + x - 2460) < 0.01 or abs(at - 2480) < 0.01}
        assert at_joint <= {215, 102.5}
    assert found.short_laps == 0


def test_blocks_at_a_corner_lap_a_quarter(leaf, laid, block):
    found = laid(leaf(length=4440, height=1800, unit=block, start=corner(100, 0)))
    assert found.short_laps == 0
    assert found.pieces(2)[0][:2] == (0, 100)


def test_a_second_reading_gives_the_same(leaf, laid):
    make = leaf(voids=(Rect(703, 237, 1419, 811),))
    assert laid(make, (2287.0,)).coursing == laid(make, (2287.0,)).coursing


def mirror(leaf, length):
    def end(e):
        return LeafEnd(e.kind, length - e.near, length - e.far, e.other, e.connection, e.through_on_even)

    turned = [Rect(length - v.right, v.bottom, length - v.left, v.top) for v in reversed(leaf.voids)]
    top = tuple((length - x, y) for x, y in reversed(leaf.top.points))
    base = tuple((length - x, y) for x, y in reversed(leaf.base.points))
    return {"voids": tuple(turned), "top": top, "base": base, "start": end(leaf.finish_end), "finish": end(leaf.start_end)}


MIRRORED = {
    "stopped": {"voids": (Rect(703, 237, 1419, 811), Rect(2100, 300, 2600, 760))},
    "one corner": {"start": corner(102.5, 0), "voids": (Rect(1703, 237, 2419, 811),)},
    "both corners": {"start": corner(0, -102.5, False), "finish": corner(3262.5, 3365)},
    "gable": {"top": ((0, 700), (1200, 1600), (3365, 800)), "voids": (Rect(1000, 300, 1600, 760),)},
    "half brick over": {"voids": (Rect(600, 0, 1050, 760),), "length": 3477.5},
}


@pytest.mark.parametrize("case", MIRRORED)
def test_a_mirrored_leaf_gives_mirrored_pieces(leaf, laid, case):
    given_ = dict(MIRRORED[case])
    length = given_.setdefault("length", 3365.0)
    joint = 2765.3
    plain = leaf(**given_)
    one = laid(plain, (joint,))
    two = laid(leaf(**{**given_, **mirror(plain, length)}), (length - joint,))
    for course in one.work.courses:
        turned = sorted((length - at - x, x, kind) for at, x, kind in two.pieces(course.number))
        for (at, x, kind), (at2, x2, kind2) in zip(one.pieces(course.number), turned, strict=True):
            assert (at, x) == pytest.approx((at2, x2), abs=1e-3)
            assert kind == kind2
    assert len(one.work.rakes) == len(two.work.rakes)
    assert one.work.counts == two.work.counts
    assert one.work.mortar_area == pytest.approx(two.work.mortar_area)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(length=st.integers(1500, 9000), at=st.floats(0.25, 0.75), wide=st.integers(450, 900))
def test_one_opening_costs_no_sliver_and_no_lap(length, at, wide, request):
    """No piece below the least and every lap kept, the courses on the sill and under the head included."""
    make, lay_it = request.getfixturevalue("leaf"), request.getfixturevalue("laid")
    left = round(length * at - wide / 2)
    if min(left, length - left - wide) < 900:
        return
    found = lay_it(make(length=length, voids=(Rect(left, 300, left + wide, 760),)))
    assert min(x for p in found.coursing.patterns for x in (q.length for q in p.pieces)) >= 102.4
    assert found.short_laps == 0
