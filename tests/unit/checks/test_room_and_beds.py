"""Movement joints with too little masonry beside them, and beds that do not meet; each with its repair."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.coursing.model import Course
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [8090, 0], "top": 2700}
CORNER = [WALL, {"id": "B", "type": "garden", "start": [8090, 0], "end": [8090, 4490], "top": 2700}]


# joint-room


@pytest.mark.parametrize(("apart", "fails"), [(500, False), (118.5, False), (118.4, True), (20, True), (10, True)])
def test_two_joints_hold_half_a_brick_between_them(build: Build, found: Found, apart: float, fails: bool) -> None:
    """Half a brick is 102.5 mm; the joints are 16 mm wide."""
    findings = found(build([WALL], {"A/outer": [3000.0, 3000.0 + apart]}), "joint-room")
    expected = [("fail", ("J1", "J2"), pytest.approx(apart - 16), 102.5)] if fails else []
    assert [(f.severity, f.joints, f.measured, f.limit) for f in findings] == expected


@pytest.mark.parametrize("from_end", [False, True])
@pytest.mark.parametrize(("at", "fails"), [(110.5, False), (110.4, True), (8, True), (3, True)])
def test_a_joint_at_the_end_of_the_masonry(build: Build, found: Found, at: float, fails: bool, from_end: bool) -> None:
    findings = found(build([WALL], {"A/outer": [8090 - at if from_end else at]}), "joint-room")
    assert [(f.severity, f.joints, f.measured) for f in findings] == ([("fail", ("J1",), pytest.approx(at - 8))] if fails else [])


def test_blocks_need_more_room_than_bricks(build: Build, found: Found) -> None:
    """Half a block of 440 mm: 215 mm."""
    blocks = {"brick": {"zones": [{"unit": "brick_65", "to": 450}, {"unit": "dense_block_100"}]}}
    joints = {"A/outer": [3000.0, 3200.0]}
    assert not found(build([WALL], joints), "joint-room")
    (finding,) = found(build([WALL], joints, leaves=blocks, wall_types={"garden": {"outer": "brick"}}), "joint-room")
    assert finding.limit == pytest.approx(215)


def test_a_given_joint_past_the_masonry_of_one_leaf_is_not_lost_in_silence(build: Build, found: Found) -> None:
    """The inner leaf begins 202.5 mm in from the corner."""

    def findings(at: float, **leaf: str) -> list[tuple[str, str]]:
        first = {"id": "A", "type": "cavity", "start": [0, 0], "end": [8090, 0], "top": 2700, "joints": [{"at": at} | leaf]}
        last = {"id": "B", "type": "cavity", "start": [0, 4490], "end": [0, 0], "top": 2700}
        return [(f.severity, f.where) for f in found(build([first, last]), "joint-room")]

    assert findings(150) == [("fail", "A/inner joint at 150")]
    assert findings(150, leaf="outer") == []
    assert findings(400) == []


# beds-meet


def raised(design: Design, leaf: str, by: float, first: int = 1) -> Design:
    """The design with the courses of a leaf from a number up laid higher."""

    def lifted(course: Course) -> Course:
        return replace(course, level=course.level + by) if course.number >= first else course

    laid = [
        replace(c, courses=tuple(lifted(course) for course in c.courses)) if c.leaf == leaf else c for c in design.coursing.leaves
    ]
    return replace(design, coursing=replace(design.coursing, leaves=tuple(laid)))


@pytest.mark.parametrize(
    ("by", "severity"), [(0, "pass"), (10, "pass"), (10.1, "fail"), (37.5, "fail"), (-12, "fail"), (75, "pass")]
)
def test_beds_meet_at_a_bonded_corner(build: Build, found: Found, by: float, severity: str) -> None:
    """A whole course up they meet again."""
    (finding,) = found(raised(build(CORNER), "B/outer", by), "beds-meet", everything=True)
    assert (finding.severity, finding.leaves) == (severity, ("A/outer", "B/outer"))
    assert finding.measured == pytest.approx(min(abs(by), abs(75 - abs(by))))


def test_the_worst_bed_of_a_corner_is_named(build: Build, found: Found) -> None:
    """The tenth course from 675 mm up, its bricks from 685 mm: 20 mm higher."""
    (finding,) = found(raised(build(CORNER), "B/outer", 20, first=10), "beds-meet")
    assert "20 mm apart" in finding.text
    assert finding.measured == pytest.approx(20)
    (tenth,) = [c for c in build(CORNER).coursing.of("A/outer").courses if c.number == 10]
    assert tenth.level == pytest.approx(685)


def test_beds_need_not_meet_at_a_jointed_corner(build: Build, found: Found) -> None:
    parted = build(CORNER, junctions=[{"walls": ["A", "B"], "connection": "jointed"}])
    assert not found(raised(parted, "B/outer", 30), "beds-meet")


def test_a_base_lower_round_the_corner_by_less_than_a_course(build: Build, found: Found) -> None:
    low = [CORNER[0], CORNER[1] | {"base": -37.5}]
    assert [f.severity for f in found(build(low), "beds-meet")] == ["fail"]
    assert not found(build([CORNER[0], CORNER[1] | {"base": -75}]), "beds-meet")


def test_bricks_meet_blocks_at_every_third_bed(build: Build, found: Found) -> None:
    cavity = build([WALL | {"type": "cavity"}])
    assert [f.severity for f in found(cavity, "beds-meet", everything=True)] == ["pass"]
    (finding,) = found(raised(cavity, "A/inner", 37.5), "beds-meet")
    assert (finding.severity, finding.walls, finding.leaves, finding.measured) == ("warn", ("A",), (), pytest.approx(37.5))


def test_leaves_that_meet_often_enough_for_ties_are_noted(build: Build, found: Found) -> None:
    """One course of blocks raised: its bed meets none of the bricks', those 225 mm under and over it do."""
    cavity = build([WALL | {"type": "cavity"}])
    lifted = raised(raised(cavity, "A/inner", 30, first=5), "A/inner", -30, first=6)
    (finding,) = found(lifted, "beds-meet")
    assert (finding.severity, finding.measured) == ("note", pytest.approx(30))
    assert "450 mm" in finding.text
    assert finding.text.endswith("; apart at +0.940")
    two = raised(raised(cavity, "A/inner", 30, first=5), "A/inner", -30, first=7)
    assert [f.severity for f in found(two, "beds-meet")] == ["warn"]


def test_the_levels_at_which_two_leaves_do_not_meet_are_named(build: Build, found: Found) -> None:
    """Blocks 36 mm up: their undersides lie 271, 496, 721 ... mm up, where the bricks' lie 235 and 310, 460 and 535 ..."""
    (finding,) = found(raised(build([WALL | {"type": "cavity"}]), "A/inner", 36), "beds-meet")
    assert "; apart at +0.271, +0.496, +0.721, +0.946, +1.171 and 6 more levels up to +2.521" in finding.text
    low = WALL | {"type": "cavity", "top": 900}
    (few,) = found(raised(build([low]), "A/inner", 36), "beds-meet")
    assert few.text.endswith("; apart at +0.271, +0.496 and +0.721")
