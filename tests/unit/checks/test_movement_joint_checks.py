"""Each check of movement joints: a building that breaks the rule, and the same one put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.joints.model import JointPlan, Relaxed, RunPlacement
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

LONG, SHORT = 13340.0, 4265.0


def wall(wall_id: str, start: tuple[float, float], end: tuple[float, float], **more: Any) -> dict[str, Any]:
    return {"id": wall_id, "type": "garden", "start": list(start), "end": list(end), "top": 4800} | more


CORNER = [wall("A", (0, 0), (LONG, 0)), wall("B", (LONG, 0), (LONG, SHORT))]
STRAIGHT = [wall("A", (0, 0), (LONG, 0))]
WINDOW = {"id": "V1", "kind": "window", "at": 6072.5, "width": 1810, "sill": 900, "height": 1210}


@pytest.mark.parametrize(
    ("length", "severity"), [(12000, "pass"), (12000.5, "warn"), (15000, "pass or warn"), (15000.5, "fail"), (31000, "fail")]
)
def test_spacing_is_within_at_its_limits(build: Build, found: Found, length: float, severity: str) -> None:
    design = build([wall("A", (0, 0), (length, 0))])
    (finding,) = found(design, "joint-spacing", everything=True)
    assert finding.severity in severity
    assert finding.measured == pytest.approx(length)


def test_spacing_goes_round_a_bonded_corner_and_stops_at_a_jointed_one(build: Build, found: Found) -> None:
    (bad,) = found(build(CORNER), "joint-spacing")
    assert (bad.severity, bad.measured) == ("fail", pytest.approx(LONG + SHORT))
    assert bad.source is not None
    assert bad.source.key == "movement_joint.spacing.limit.clay"
    (parted,) = found(build(CORNER, junctions=[{"walls": ["A", "B"], "connection": "jointed"}]), "joint-spacing")
    assert (parted.severity, parted.measured) == ("warn", pytest.approx(LONG))
    assert not found(build(CORNER, {"A/outer": [7225.0]}), "joint-spacing")


def test_a_door_does_not_break_a_run(build: Build, found: Found) -> None:
    door = {"id": "D1", "kind": "door", "at": 7100, "width": 910, "sill": 0, "height": 2110}
    (finding,) = found(build([wall("A", (0, 0), (LONG, 0), openings=[door])]), "joint-spacing")
    assert finding.measured == pytest.approx(LONG)


def test_the_stricter_material_of_a_leaf_governs(build: Build, found: Found) -> None:
    leaves = {"brick": {"zones": [{"unit": "brick_65", "to": 600}, {"unit": "dense_block_100"}]}}
    long = [wall("A", (0, 0), (9400, 0))]
    assert not found(build(long), "joint-spacing")
    mixed = build(long, leaves=leaves, wall_types={"garden": {"outer": "brick"}})
    (finding,) = found(mixed, "joint-spacing")
    assert finding.limit == 9000


def test_a_joint_that_stops_short_is_none(build: Build, found: Found) -> None:
    good = build(CORNER, {"A/outer": [7225.0]})
    (joint,) = good.plan.joints
    stopped = replace(joint, levels=Span(0, 2400))
    bad = replace(good, plan=JointPlan((stopped,), (), ()))
    assert [f.severity for f in found(bad, "joint-full-height")] == ["fail"]
    assert [f.severity for f in found(bad, "joint-spacing")] == ["fail"]
    assert not found(good, "joint-full-height")


@pytest.mark.parametrize(("at", "severity"), [(7340, "pass"), (7339.9, "warn"), (5840, "warn"), (5839.9, "fail")])
def test_the_first_joint_from_a_corner(build: Build, found: Found, at: float, severity: str) -> None:
    """Half of 12 m and half of 15 m from the corner at 13340."""
    (finding,) = [f for f in found(build(CORNER, {"A/outer": [at]}), "corner-distance", everything=True) if f.joints]
    assert (finding.severity, finding.measured) == (severity, pytest.approx(LONG - at))


@pytest.mark.parametrize(("length", "severity"), [(6000, "pass"), (6001, "note")])
def test_a_wall_without_a_joint_is_said_at_its_corner(build: Build, found: Found, length: float, severity: str) -> None:
    """Silence would read as a pass: B has no first joint, and is short enough for none or held to the spacing alone."""
    walls = [wall("A", (0, 0), (13340, 0)), wall("B", (13340, 0), (13340, length))]
    (finding,) = [f for f in found(build(walls, {"A/outer": [9000]}), "corner-distance", everything=True) if not f.joints]
    assert (finding.where, finding.severity) == ("B/outer corner with A/outer", severity)
    assert (finding.measured, finding.limit) == (pytest.approx(length), 6000)
    assert ("the spacing alone is held to" in finding.text) == (severity == "note")


def test_the_masonry_of_a_wall_without_a_joint_ends_at_a_gate(build: Build, found: Found) -> None:
    gate = {"id": "G1", "kind": "opening", "at": 4100, "width": 1210, "sill": 0, "height": 4800}
    walls = [wall("A", (0, 0), (13340, 0)), wall("B", (13340, 0), (13340, 9000), openings=[gate])]
    (finding,) = [f for f in found(build(walls, {"A/outer": [9000]}), "corner-distance", everything=True) if not f.joints]
    assert (finding.severity, finding.measured) == ("pass", pytest.approx(4100))


def test_a_free_end_and_a_straight_meeting_are_no_corners(build: Build, found: Found) -> None:
    assert not found(build(STRAIGHT, {"A/outer": [6600.0]}), "corner-distance", everything=True)
    in_line = [wall("A", (0, 0), (8000, 0)), wall("B", (8000, 0), (16100, 0))]
    assert not found(build(in_line, {"A/outer": [1000.0]}), "corner-distance", everything=True)


@pytest.mark.parametrize(
    ("unit", "top", "severity"),
    [
        ("brick_65", 3000, "pass"),
        ("brick_65", 2990, "fail"),
        ("dense_block_100", 4500, "pass"),
        ("dense_block_100", 4490, "warn"),
    ],
)
def test_panels_are_not_too_long_for_their_height(build: Build, found: Found, unit: str, top: float, severity: str) -> None:
    leaves = {"brick": {"zones": [{"unit": unit}]}}
    design = build([wall("A", (0, 0), (9000, 0), top=top)], leaves=leaves, wall_types={"garden": {"outer": "brick"}})
    (finding,) = found(design, "panel-ratio", everything=True)
    assert (finding.severity, finding.measured) == (severity, pytest.approx(9000 / top))


def test_a_panel_under_a_slope_counts_its_mean_height(build: Build, found: Found) -> None:
    (finding,) = found(build([wall("A", (0, 0), (6000, 0), top=[[0, 1000], [6000, 2600]])]), "panel-ratio", everything=True)
    assert finding.measured == pytest.approx(6000 / 1800)
    good = build([wall("A", (0, 0), (6000, 0), top=[[0, 1000], [6000, 2600]])], {"A/outer": [1800.0]})
    ratios = {f.where: f.measured for f in found(good, "panel-ratio", everything=True)}
    assert ratios == {"A/outer 0 to 1800": pytest.approx(1800 / 1240), "A/outer 1800 to 6000": pytest.approx(4200 / 2040)}


@pytest.mark.parametrize("storey", [0, 2550])
def test_a_joint_through_an_opening_on_any_storey(build: Build, found: Found, storey: float) -> None:
    above = WINDOW | {"sill": 900 + storey, "id": "V2"}
    (finding,) = found(build([wall("A", (0, 0), (LONG, 0), openings=[above])], {"A/outer": [7000.0]}), "joint-in-opening")
    assert finding.severity == "fail"
    assert "V2" in finding.text


@pytest.mark.parametrize(("clear", "severity"), [(150, "pass"), (149.9, "fail")])
def test_a_joint_keeps_clear_of_a_lintels_bearing(build: Build, found: Found, clear: float, severity: str) -> None:
    """1810 mm is over 1.2 m, so 150 mm of bearing; the joint is 16 mm wide."""
    walls = [wall("A", (0, 0), (LONG, 0), openings=[WINDOW])]
    (finding,) = found(build(walls, {"A/outer": [6072.5 - clear - 8]}), "joint-in-opening", everything=True)
    assert (finding.severity, finding.measured) == (severity, pytest.approx(clear))


@pytest.mark.parametrize(("width", "severity"), [(9.4, "pass"), (9.3, "fail")])
def test_a_joint_is_as_wide_as_the_masonry_beside_it_asks(build: Build, found: Found, width: float, severity: str) -> None:
    """7.2 m on the longer side: 1.3 x 7.2 = 9.36 mm."""
    walls = [wall("A", (0, 0), (11500, 0))]
    findings = found(build(walls, {"A/outer": [4300.0]}, width=width), "joint-width", everything=True)
    (finding,) = [f for f in findings if f.severity != "not_checked"]
    assert (finding.severity, finding.limit) == (severity, pytest.approx(9.36))


def test_a_short_return_between_two_corners(build: Build, found: Found) -> None:
    def step(depth: float) -> list[dict[str, Any]]:
        last = wall("C", (3000, depth), (6100, depth))
        return [wall("A", (0, 0), (3000, 0)), wall("B", (3000, 0), (3000, depth)), last]

    depths = {500: ["fail"], 700: ["warn"], 1300: []}
    for depth, severities in depths.items():
        findings = found(build(step(depth)), "short-return")
        assert [f.severity for f in findings] == severities
    (finding,) = found(build(step(500)), "short-return")
    assert finding.where == "B/outer"
    assert finding.measured is not None
    assert not found(build(step(500), {"B/outer": [250.0]}), "short-return")
    parted = build(step(500), junctions=[{"walls": ["B", "C"], "connection": "jointed"}])
    assert not found(parted, "short-return")


def test_rules_that_had_to_give_way_are_named(build: Build, found: Found) -> None:
    design = build(STRAIGHT, {"A/outer": [6600.0]})
    gave = Relaxed("movement_joint.spacing.normal.clay", "A/outer", 13100.0, 12000.0)
    bad = replace(design, plan=replace(design.plan, placements=(RunPlacement("R1", True, ("J1",), 1, (gave,)),)))
    (finding,) = found(bad, "placement-relaxed")
    assert (finding.severity, finding.where, finding.measured, finding.limit) == ("warn", "A/outer", 13100.0, 12000.0)
    for joints, bound, words in (
        (("J1", "J2", "J3"), 1, "not proven that fewer would not do"),
        (("J1",), 1, "fewer will not do; not proven that as many"),
        ((), 0, "not proven that none are needed"),
    ):
        unproven = replace(design, plan=replace(design.plan, placements=(RunPlacement("R1", False, joints, bound, ()),)))
        (note,) = found(unproven, "placement-relaxed")
        assert note.severity == "note"
        assert words in note.text
    good = replace(design, plan=replace(design.plan, placements=(RunPlacement("R1", True, ("J1",), 1, ()),)))
    assert [f.severity for f in found(good, "placement-relaxed", everything=True)] == ["pass"]
