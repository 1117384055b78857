"""Rules that gave way are said in plain words, and only where a place for a joint was looked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.joints.model import Relaxed, RunPlacement
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

A: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [13340, 0], "top": 4800}
B: dict[str, Any] = {"id": "B", "type": "garden", "start": [13340, 0], "end": [13340, 4265], "top": 4800}
GIVEN = {"joints": [{"at": 4300}]}


def placed(design: Design, *relaxed: Relaxed, joints: tuple[str, ...] = ("J1",)) -> Design:
    """The design with one run in which these rules gave way."""
    (run,) = design.runs
    placement = RunPlacement(run.id, True, joints, len(joints), relaxed)
    return replace(design, plan=replace(design.plan, placements=(placement,)))


@pytest.mark.parametrize(
    ("rule", "measured", "limit", "text"),
    [
        (
            "movement_joint.spacing.normal.clay",
            13104.0,
            12000.0,
            "no place for a joint keeps the usual spacing in clay, 12 m: 13.1 m without one",
        ),
        (
            "movement_joint.panel_ratio.dense_concrete",
            9120.0,
            8100.0,
            "no place for a joint keeps a panel in dense concrete to the 8.1 m its height allows: it is 9.12 m long",
        ),
        (
            "movement_joint.corner.fraction",
            6410.0,
            6000.0,
            "no place for the first joint within 6 m of the corner: it is 6.41 m from it",
        ),
        (
            "movement_joint.parapet.corner",
            2310.0,
            1500.0,
            "no place for the first joint within 1.5 m of the corner: it is 2.31 m from it",
        ),
        (
            "movement_joint.parapet.fraction",
            6410.0,
            6000.0,
            "no place for a joint keeps the spacing in a parapet, 6 m: 6.41 m without one",
        ),
        (
            "movement_joint.free_standing.spacing.clay",
            8100.0,
            7000.0,
            "no place for a joint keeps the spacing in a free-standing wall, 7 m: 8.1 m without one",
        ),
        (
            "movement_joint.spacing.reinforced_450.over_140.dense_concrete",
            14600.0,
            14000.0,
            "no place for a joint keeps the spacing for reinforced beds in dense concrete, 14 m: 14.6 m without one",
        ),
        (
            "movement_joint.change_of_height",
            1500.0,
            900.0,
            "no place for the joint that a step of 1.5 m in the wall's height needs: over 0.9 m",
        ),
        (
            "movement_joint.short_return.clay",
            220.0,
            675.0,
            "no place for the joint that a return in clay shorter than 675 mm needs: it is 220 mm",
        ),
    ],
)
def test_what_gave_way_is_said_in_metres_without_keys(
    build: Build, found: Found, rule: str, measured: float, limit: float, text: str
) -> None:
    design = placed(build([A, B]), Relaxed(rule, "A/outer 230 to 13340, B/outer 0 to 17", measured, limit))
    (finding,) = found(design, "placement-relaxed")
    assert (finding.severity, finding.text, finding.leaves) == ("warn", text, ("A/outer", "B/outer"))
    assert finding.source is not None
    assert finding.source.key == rule


def test_nothing_gave_way_where_joints_are_given(build: Build, found: Found) -> None:
    corner = Relaxed("movement_joint.corner.fraction", "A/outer 4300 to 13340", 9040.0, 6000.0)
    along = Relaxed("movement_joint.spacing.normal.clay", "A/outer 4300 to 13340, B/outer 0 to 4265", 13305.0, 12000.0)
    mixed = build([A | GIVEN, B])
    assert found(placed(mixed, corner), "placement-relaxed") == []
    (passed,) = found(placed(mixed, corner), "placement-relaxed", everything=True)
    assert passed.text == "1 joint, and fewer will not do; every rule kept except where joints are given"
    assert [f.where for f in found(placed(mixed, corner, along), "placement-relaxed")] == [along.where]
    every = build([A | GIVEN, B | {"joints": []}])
    (passed,) = found(placed(every, corner, along), "placement-relaxed", everything=True)
    assert (passed.severity, passed.text) == ("pass", "joints as given, no place was looked for")
    assert [f.where for f in found(placed(build([A, B]), corner), "placement-relaxed")] == [corner.where]


@pytest.mark.parametrize(
    ("joints", "words"), [(("J1",), "1 joint, every"), (("J1", "J2"), "2 joints, every"), ((), "0 joints, every")]
)
def test_joints_are_counted_in_plain_words(build: Build, found: Found, joints: tuple[str, ...], words: str) -> None:
    (passed,) = found(placed(build([A, B]), joints=joints), "placement-relaxed", everything=True)
    assert passed.text.startswith(words)
