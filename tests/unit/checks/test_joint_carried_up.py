"""Joints that end at a wall over or under their own, and their repair."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
CODE = "joint-carried-up"


def storeys(**more: Any) -> list[dict[str, Any]]:
    """A wall on a wall; the upper one begins 1215 mm further on."""
    lower = {"id": "A", "type": "garden", "start": [0, 0], "end": [9110, 0], "top": 2700}
    upper = {"id": "B", "type": "garden", "start": [1215, 0], "end": [9110, 0], "base": 2700, "top": 5250}
    return [lower, upper | more]


def backwards(**more: Any) -> list[dict[str, Any]]:
    """The same, the upper wall drawn from right to left: its outside, and its line, are on the other side."""
    return storeys(**({"start": [9110, 102.5], "end": [1215, 102.5]} | more))


def test_a_joint_that_ends_at_the_storey_above(build: Build, found: Found) -> None:
    (fault,) = found(build(storeys(), {"A/outer": [4400.0]}), CODE)
    assert (fault.severity, fault.walls, fault.leaves, fault.joints) == ("fail", ("A", "B"), ("A/outer", "B/outer"), ("J1",))
    assert fault.text.startswith("ends at +2.700, where B stands on it without a joint in its line. Carry it on through B")


def test_its_repair_is_a_joint_over_it(build: Build, found: Found) -> None:
    """4400 along A is 3185 along B, and 4710 along B drawn the other way."""
    for walls, at in ((storeys(), 3185.0), (backwards(), 4710.0)):
        (passed,) = found(build(walls, {"A/outer": [4400.0], "B/outer": [at]}), CODE, everything=True)
        assert (passed.severity, passed.joints, passed.text) == ("pass", ("J1", "J1"), "goes on over +2.700 as J1")


@pytest.mark.parametrize(("aside", "fails"), [(0, 0), (8, 0), (8.1, 2), (450, 2)])
def test_gaps_share_half_the_narrower(build: Build, found: Found, aside: float, fails: int) -> None:
    """Both are 16 mm wide. Out of line, each of the two ends against the other wall."""
    findings = found(build(storeys(), {"A/outer": [4400.0], "B/outer": [3185.0 + aside]}), CODE)
    assert [f.severity for f in findings] == ["fail"] * fails
    assert all(f"{aside:g} mm aside" in f.text for f in findings)


def test_a_window_over_a_joint_is_named(build: Build, found: Found) -> None:
    window = {"id": "V1", "kind": "window", "at": 2600, "width": 1810, "sill": 3600, "height": 1210}
    (fault,) = found(build(storeys(openings=[window]), {"A/outer": [4400.0]}), CODE)
    assert fault.openings == ()
    assert "with V1 in its line" in fault.text


def test_a_joint_past_the_end_of_the_wall_above_ends_free(build: Build, found: Found) -> None:
    """The upper wall begins at 1215: a joint there, or before it, has nothing to go on in."""
    for at in (900.0, 1215.0, 1222.9):
        assert not found(build(storeys(), {"A/outer": [at]}), CODE)
    assert found(build(storeys(), {"A/outer": [1223.1]}), CODE)


def test_a_joint_of_the_upper_wall_only(build: Build, found: Found) -> None:
    (fault,) = found(build(storeys(), {"B/outer": [3185.0]}), CODE)
    assert (fault.severity, fault.leaves) == ("fail", ("B/outer", "A/outer"))
    assert fault.text.startswith("begins at +2.700, where A is under it without a joint in its line")


def test_a_joint_of_an_upper_wall_drawn_backwards(build: Build, found: Found) -> None:
    """4710 along B is 4400 along A, where its window is."""
    (fault,) = found(build(backwards(), {"B/outer": [4710.0]}), CODE)
    assert (fault.severity, fault.leaves) == ("fail", ("B/outer", "A/outer"))
    window = {"id": "V1", "kind": "window", "at": 4300, "width": 200, "sill": 900, "height": 900}
    lower, upper = backwards()
    (fault,) = found(build([lower | {"openings": [window]}, upper], {"B/outer": [4710.0]}), CODE)
    assert "with V1 in its line" in fault.text


def test_a_joint_of_the_upper_wall_at_the_end_of_the_lower(build: Build, found: Found) -> None:
    """The upper wall goes on past the lower one, over a lintel or nothing."""
    lower, upper = storeys(start=[0, 0])
    for at, fails in ((5000.0, False), (4992.1, False), (4991.9, True), (6000.0, False)):
        assert bool(found(build([lower | {"end": [5000, 0]}, upper], {"B/outer": [at]}), CODE)) == fails


def test_a_parapet_may_have_more_joints_than_the_wall_under_it(build: Build, found: Found) -> None:
    (passed,) = found(build(storeys(stands="parapet"), {"B/outer": [3185.0]}), CODE, everything=True)
    assert passed.severity == "pass"
    assert found(build(storeys(stands="parapet"), {"A/outer": [4400.0]}), CODE), "but not fewer"


def test_nothing_is_asked_of_masonry_under_the_damp_proof_course(build: Build, found: Found) -> None:
    lower = {"id": "A", "type": "garden", "start": [0, 0], "end": [9110, 0], "base": -450, "top": 0}
    upper = {"id": "B", "type": "garden", "start": [0, 0], "end": [9110, 0], "top": 2700}
    (passed,) = found(build([lower, upper], {"B/outer": [4400.0]}), CODE, everything=True)
    assert (passed.severity, "damp-proof course" in passed.text) == ("pass", True)
    (fault,) = found(build([lower, upper], {"A/outer": [4400.0]}), CODE)
    assert fault.severity == "fail", "a joint in the foundation goes on"


@pytest.mark.parametrize(("apart", "severity"), [(0, "fail"), (10, "fail"), (10.1, "note"), (225, "note")])
def test_what_is_not_drawn_between_two_walls_is_noted(build: Build, found: Found, apart: float, severity: str) -> None:
    """A bed of 10 mm between them is masonry on masonry."""
    (finding,) = found(build(storeys(base=2700 + apart, top=5250 + apart), {"A/outer": [4400.0]}), CODE)
    assert finding.severity == severity


def test_of_three_storeys_only_neighbours_are_compared(build: Build, found: Found) -> None:
    top = {"id": "C", "type": "garden", "start": [0, 0], "end": [9110, 0], "base": 5250, "top": 7800}
    joints = {"A/outer": [4400.0], "B/outer": [3185.0], "C/outer": [4400.0]}
    findings = found(build([*storeys(), top], joints), CODE, everything=True)
    assert [f.severity for f in findings if f.severity != "pass"] == []
    missing = found(build([*storeys(), top], {k: v for k, v in joints.items() if k[0] != "B"}), CODE)
    assert sorted((f.severity, f.leaves[-1]) for f in missing) == [("fail", "B/outer"), ("fail", "B/outer")]


def test_only_leaves_over_one_another_are_compared(build: Build, found: Found) -> None:
    """A cavity wall on a cavity wall: outer on outer and inner on inner. A garden wall 1 m behind it is no concern of theirs."""
    walls = [w | {"type": "cavity"} for w in storeys()]
    findings = found(build(walls, {"A/inner": [4400.0]}), CODE)
    assert [f.leaves for f in findings] == [("A/inner", "B/inner")]
    behind = storeys(start=[1215, 1000], end=[9110, 1000])
    assert not found(build(behind, {"A/outer": [4400.0]}), CODE)
    across = storeys(start=[4400, -3000], end=[4400, 3000])
    assert not found(build(across, {"A/outer": [4400.0]}), CODE)


@pytest.mark.parametrize(("back", "over"), [(0, True), (51, True), (52, False), (-51, True), (-52, False)])
def test_a_wall_set_back_by_more_than_half_its_thickness_is_another(build: Build, found: Found, back: float, over: bool) -> None:
    """Half of 102.5 mm: 51.25 mm."""
    walls = storeys(start=[1215, back], end=[9110, back])
    assert bool(found(build(walls, {"A/outer": [4400.0]}), CODE)) == over


def test_a_wall_at_a_small_angle_over_another_stands_on_it_at_one_place_only(build: Build, found: Found) -> None:
    assert not found(build(storeys(start=[0, 0], end=[9110, 800]), {"A/outer": [4400.0]}), CODE)


def test_masonry_on_one_side_of_a_step_is_enough(build: Build, found: Found) -> None:
    """The lower wall steps down by 300 mm at the joint; the upper stands on the higher part."""
    lower, upper = storeys(start=[0, 0])
    stepped = lower | {"top": [[0, 2700], [4400, 2700], [4400, 2400], [9110, 2400]]}
    (fault,) = found(build([stepped, upper], {"A/outer": [4400.0]}), CODE)
    assert fault.severity == "fail"


def test_masonry_under_a_joint_says_nothing_of_what_is_over_it(build: Build, found: Found) -> None:
    """Its joint goes on below; 225 mm over it a third wall, and nothing drawn between."""
    top = {"id": "C", "type": "garden", "start": [0, 0], "end": [9110, 0], "base": 5475, "top": 7800}
    findings = found(build([*storeys(), top], {"B/outer": [3185.0]}), CODE)
    assert [(f.severity, f.leaves) for f in findings] == [("fail", ("B/outer", "A/outer")), ("note", ("B/outer",))]
    assert "225 mm between that is not drawn" in findings[1].text


def test_a_joint_that_stops_short_of_its_own_top_is_told_by_that(build: Build, found: Found) -> None:
    good = build(storeys(), {"A/outer": [4400.0], "B/outer": [3185.0]})
    stopped = tuple(replace(j, levels=Span(0, 1800)) if j.leaf == "A/outer" else j for j in good.plan.joints)
    bad = replace(good, plan=replace(good.plan, joints=stopped))
    assert [f.severity for f in found(bad, "joint-full-height")] == ["fail"]
    assert [f.leaves[0] for f in found(bad, CODE)] == ["B/outer"], "and the one over it then begins on masonry without a joint"
