"""Joints that stop short, that something lies across, or that stand in the bearing of a lintel or in a wall that meets theirs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WINDOW = {"id": "V1", "kind": "window", "at": 4072.5, "width": 1810, "sill": 900, "height": 1210}
WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [9090, 0], "base": -225, "top": 2700}


def reaching(design: Design, start: float, end: float) -> Design:
    """The design with its joints over other levels."""
    return replace(
        design, plan=replace(design.plan, joints=tuple(replace(j, levels=Span(start, end)) for j in design.plan.joints))
    )


# joint-full-height


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        (-225, 2400, "ends at +2.400, 300 mm under the top of the leaf: carry it on to +2.700"),
        (0, 2700, "ends at ±0.000, 225 mm over its base: carry it on to -0.225"),
        (0, 2400, "ends at +2.400, 300 mm under the top of the leaf and ends at ±0.000, 225 mm over its base"),
    ],
)
def test_where_a_joint_stops_short(build: Build, found: Found, start: float, end: float, words: str) -> None:
    (finding,) = found(reaching(build([WALL], {"A/outer": [3000.0]}), start, end), "joint-full-height")
    assert (finding.severity, finding.text.startswith(words)) == ("fail", True), finding.text


def test_a_joint_that_ends_where_the_units_change(build: Build, found: Found) -> None:
    leaves = {"brick": {"zones": [{"unit": "brick_65", "to": 450}, {"unit": "dense_block_100"}]}}
    design = build([WALL], {"A/outer": [3000.0]}, leaves=leaves, wall_types={"garden": {"outer": "brick"}})
    assert not found(design, "joint-full-height")
    (finding,) = found(reaching(design, -225, 450), "joint-full-height")
    assert "ends at +0.450, where brick 65 ends and dense block 100 begins, 2250 mm under the top" in finding.text


def test_a_joint_stops_under_the_parapet_of_its_own_wall(build: Build, found: Found) -> None:
    """A wall whose top rises into a parapet past the step: the joint beyond it goes to the higher top."""
    top = [[0, 2700], [5015, 2700], [5015, 3375], [9090, 3375]]
    design = build([WALL | {"top": top}], {"A/outer": [6500.0]})
    assert not found(design, "joint-full-height")
    (finding,) = found(reaching(design, -225, 2700), "joint-full-height")
    assert "675 mm under the top" in finding.text


# joint-bridged


def test_every_course_is_open_at_a_joint(build: Build, found: Found) -> None:
    """Laid for a joint at 3000; with the joint moved 700 mm on, the courses go through it: 39 of 75 mm from -225 to 2700."""
    good = build([WALL], {"A/outer": [3000.0]})
    assert not found(good, "joint-bridged")
    moved = replace(good, plan=replace(good.plan, joints=tuple(replace(j, at=3700.0) for j in good.plan.joints)))
    (finding,) = found(moved, "joint-bridged")
    assert (finding.severity, finding.measured) == ("fail", 39)
    assert finding.text == "39 courses built across it, the lowest course 1: keep it open through every course"
    low = reaching(moved, -225, 60)
    (finding,) = found(low, "joint-bridged")
    assert finding.measured == 4, "only the courses it passes: three under the datum and the one on it"


def test_units_cut_to_a_slope_count_too(build: Build, found: Found) -> None:
    gable = WALL | {"top": [[0, 900], [4545, 3600], [9090, 900]]}
    good = build([gable], {"A/outer": [3000.0]})
    assert not found(good, "joint-bridged")
    upper = reaching(
        replace(good, plan=replace(good.plan, joints=tuple(replace(j, at=1500.0) for j in good.plan.joints))), 1760, 1830
    )
    assert found(upper, "joint-bridged")


def test_a_tray_across_a_joint(build: Build, found: Found) -> None:
    walls = [WALL | {"type": "cavity", "openings": [WINDOW]}]
    good = build(walls, {"A/outer": [3500.0], "A/inner": [3300.0]})
    assert not found(good, "joint-bridged")
    (tray,) = good.fittings.trays
    longer = replace(good, fittings=replace(good.fittings, trays=(replace(tray, span=Span(3400.0, tray.span.end)),)))
    (finding,) = found(longer, "joint-bridged")
    assert (finding.severity, finding.leaves, finding.openings) == ("warn", ("A/outer",), ("V1",))
    inner = replace(good, fittings=replace(good.fittings, trays=(replace(tray, span=Span(3250.0, 3350.0)),)))
    assert not found(inner, "joint-bridged"), "the joint at 3300 is in the inner leaf"


# reinforcement-crosses-joint


def test_reinforcement_stops_as_far_short_of_a_joint_as_asked(build: Build, found: Found) -> None:
    """50 mm, by an override: the set has no figure. Laid so; then 20 mm further."""
    asked = {"rule": "bed_reinforcement.joint_clearance", "value": 50, "unit": "mm", "reason": "maker's advice", "by": "engineer"}
    good = build([WALL | {"openings": [WINDOW]}], {"A/outer": [3700.0]}, overrides=[asked])
    assert not found(good, "reinforcement-crosses-joint")
    laid = good.fittings.bed_reinforcement
    assert {r.span.start for r in laid} == {3708.0 + 50}
    nearer = tuple(replace(r, span=Span(r.span.start - 20, r.span.end)) for r in laid)
    findings = found(replace(good, fittings=replace(good.fittings, bed_reinforcement=nearer)), "reinforcement-crosses-joint")
    assert [(f.severity, f.measured, f.limit) for f in findings] == [("warn", pytest.approx(30), 50)] * len(laid)
    unasked = build([WALL | {"openings": [WINDOW]}], {"A/outer": [3700.0]})
    assert not found(unasked, "reinforcement-crosses-joint")


# joint-in-opening


def test_a_lintel_longer_than_it_need_be_lies_across_a_joint(build: Build, found: Found) -> None:
    """150 mm of bearing is asked for, and the joint is 400 mm from the reveal; the lintel as placed has 450 mm."""
    good = build([WALL | {"openings": [WINDOW]}], {"A/outer": [4072.5 - 400 - 8]})
    assert not found(good, "joint-in-opening")
    (lintel,) = good.fittings.lintels
    for start, fails in ((400.0, False), (450.0, True)):
        placed = replace(good, fittings=replace(good.fittings, lintels=(replace(lintel, bearing_start=start),)))
        assert [f.severity for f in found(placed, "joint-in-opening")] == (["fail"] if fails else [])
    (finding,) = found(placed, "joint-in-opening")
    assert (finding.openings, finding.text) == (
        ("V1",),
        "the lintel over V1 goes 450 mm past the reveal and across it: move the joint clear",
    )


def test_the_other_end_of_a_lintel_is_no_concern_of_a_joint(build: Build, found: Found) -> None:
    good = build([WALL | {"openings": [WINDOW]}], {"A/outer": [4072.5 - 400 - 8]})
    (lintel,) = good.fittings.lintels
    placed = replace(good, fittings=replace(good.fittings, lintels=(replace(lintel, bearing_end=450.0),)))
    assert not found(placed, "joint-in-opening")


def test_a_frame_in_the_line_of_a_joint_is_named_by_what_it_is(build: Build, found: Found) -> None:
    (finding,) = found(build([WALL | {"openings": [WINDOW]}], {"A/outer": [4900.0]}), "joint-in-opening")
    assert finding.text == "runs through window V1: a joint cannot pass a frame, move it clear of the lintel's bearing"


# joint-at-meeting


def tee(connection: str, at: float = 4310.0, **more: Any) -> dict[str, Any]:
    """A host with a stem of 102.5 mm against its inside, and their connection."""
    stem = {"id": "B", "type": "garden", "start": [at, 102.5], "end": [at, 3600], "line": "centre", "top": 2700} | more
    return {"walls": [WALL, stem], "junctions": [{"walls": ["A", "B"], "connection": connection}]}


@pytest.mark.parametrize("connection", ["bonded", "tied"])
@pytest.mark.parametrize(("at", "fails"), [(4310, True), (4369.2, True), (4250.8, True), (4369.3, False), (4250.7, False)])
def test_a_joint_within_a_wall_that_meets_its_own(build: Build, found: Found, connection: str, at: float, fails: bool) -> None:
    """Half of 102.5 mm and half of the joint's 16 mm: 59.25 mm from the middle of the stem."""
    findings = [f for f in found(build(**tee(connection), joints={"A/outer": [at]}), "joint-at-meeting") if f.severity == "fail"]
    assert [(f.walls, f.leaves) for f in findings] == ([(("A", "B"), ("A/outer", "B/outer"))] if fails else [])


@pytest.mark.parametrize("connection", ["jointed", "free"])
def test_a_wall_that_holds_nothing_may_hide_a_joint(build: Build, found: Found, connection: str) -> None:
    assert not found(build(**tee(connection), joints={"A/outer": [4310.0]}), "joint-at-meeting")


@pytest.mark.parametrize(("clear", "severity"), [(102.5, "pass"), (102.4, "warn"), (20, "warn")])
def test_a_bonded_wall_wants_a_piece_that_bonds_beside_it(build: Build, found: Found, clear: float, severity: str) -> None:
    """Half a brick, 102.5 mm; a tied one needs none."""
    joints = {"A/outer": [4310 + 51.25 + clear + 8]}
    (finding,) = found(build(**tee("bonded"), joints=joints), "joint-at-meeting", everything=True)
    assert (finding.severity, finding.measured, finding.limit) == (severity, pytest.approx(clear), 102.5)
    assert not found(build(**tee("tied"), joints=joints), "joint-at-meeting")


def test_a_joint_that_its_leaf_only_stops_at_has_nothing_to_bond_beyond(build: Build, found: Found) -> None:
    """B stops against A's outer leaf with a joint; A's inner leaf, of brick and bonded into B, is 82.75 mm from it."""
    walls = [WALL | {"type": "cavity"}, {"id": "B", "type": "garden", "start": [9090, 0], "end": [9090, 3600], "top": 2700}]
    makings = {
        "wall_types": {"cavity": {"outer": "brick", "inner": "brick", "cavity": 100}, "garden": {"outer": "brick"}},
        "junctions": [{"walls": ["A", "B"], "leaf": "outer", "connection": "jointed"}],
    }
    design = build(walls, {"B/outer": [110.5]}, **makings)
    assert [(m.kind, m.connection) for m in design.building.meetings] == [("corner", "jointed"), ("tee", "bonded")]
    assert [f.severity for f in found(design, "joint-at-meeting", everything=True)] == ["pass"]
    assert [f.severity for f in found(build(walls, {"B/outer": [400.0]}, **makings), "joint-at-meeting")] == ["warn"]


def test_a_slanting_wall_covers_more(build: Build, found: Found) -> None:
    """At 45 degrees 102.5 mm cover 144.96 mm of the host."""
    slanting = tee("tied", end=[7300, 3092.5])
    (finding,) = found(build(**slanting, joints={"A/outer": [4310.0]}), "joint-at-meeting")
    assert "within the 145 mm that B covers" in finding.text


def test_a_wall_through_the_leaf_has_no_joint_in_it(build: Build, found: Found) -> None:
    """Met by the same check from both sides: the leaf that runs through, and the one it interrupts."""
    through = {"id": "B", "type": "garden", "start": [4310, -2000], "end": [4310, 3600], "top": 2700}
    design = build([WALL, through], {"A/outer": [4300.0]})
    assert [f.severity for f in found(design, "joint-at-meeting")] == ["fail"]
    cut = build([through, WALL], {"A/outer": [4300.0]})
    assert any(leaf.crossings for leaf in cut.building.leaves if leaf.wall == "A")
    assert [f.severity for f in found(cut, "joint-at-meeting")] == ["fail"]
    assert not [f for f in found(cut, "joint-in-opening") if f.joints], "it is no opening"


def test_without_the_least_piece_a_joint_beside_a_bonded_wall_is_not_checked(
    build: Build, found: Found, lacking: Callable[..., Design]
) -> None:
    bare = lacking(build(**tee("bonded"), joints={"A/outer": [4600.0]}), "bond.piece.min_fraction")
    assert [f.severity for f in found(bare, "joint-at-meeting", everything=True)] == ["not_checked"]
    within = lacking(build(**tee("bonded"), joints={"A/outer": [4310.0]}), "bond.piece.min_fraction")
    assert [f.severity for f in found(within, "joint-at-meeting")] == ["fail"], "that needs no rule"
