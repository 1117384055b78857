"""From spec to files where walls stop with a joint: nothing is laid, tied or reinforced in the gap, and the face adds up."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from buildings import mirrored

from elevgen import pipeline
from elevgen.result import Design
from elevgen.spec.models import Spec

WINDOW = {"id": "N1", "kind": "window", "at": 3497.5, "width": 1210, "sill": 900, "height": 1200}
NEAR_END = {"id": "N2", "kind": "window", "at": 672.5, "width": 1210, "sill": 900, "height": 1200}
NEW_AGAINST_OLD: dict[str, Any] = {
    "spec": 1,
    "leaves": {
        "brick": {"zones": [{"unit": "brick_65"}]},
        "block": {"zones": [{"unit": "dense_block_100"}]},
        "aircrete": {"zones": [{"unit": "aircrete_block_100"}]},
    },
    "wall_types": {
        "cavity": {"outer": "brick", "inner": "block", "cavity": 100},
        "partition": {"outer": "aircrete"},
        "garden": {"outer": "brick"},
    },
    "walls": [
        # an old house wall, a lower new one in line with it, its return, a partition off that, a garden wall off the house
        {"id": "W1", "type": "cavity", "start": [0, 0], "end": [5400, 0], "top": 5100, "existing": True, "base": -150},
        {
            "id": "W2",
            "type": "cavity",
            "start": [5400, 0],
            "end": [11700, 0],
            "top": 2700,
            "openings": [NEAR_END, WINDOW],
            "base": -150,
        },
        {"id": "W3", "type": "cavity", "start": [11700, 0], "end": [11700, 5175], "top": 2700, "base": -150},
        {"id": "P1", "type": "partition", "start": [11397.5, 2500], "end": [8100, 2500], "top": 2700, "line": "face"},
        {"id": "G1", "type": "garden", "start": [2250, -4500], "end": [2250, 0], "top": 1800, "line": "face", "base": -150},
    ],
    "junctions": [{"walls": ["W3", "P1"], "connection": "jointed"}],
}


@pytest.fixture(scope="module")
def design() -> Design:
    return pipeline.design(Spec.model_validate(NEW_AGAINST_OLD), "new-against-old")


def at_ends(design: Design) -> dict[str, str]:
    """Leaf and words of the joints at meetings."""
    return {j.leaf: j.reason for j in design.plan.joints if j.reason.startswith("junction")}


def test_every_meeting_that_parts_has_its_joint(design: Design) -> None:
    assert at_ends(design) == {
        "W2/outer": "junction with W1, jointed; new masonry meets old; the wall steps 2.40 m in height",
        "W2/inner": "junction with W1, jointed; new masonry meets old; the wall steps 2.40 m in height",
        "P1/outer": "junction with W3, jointed",
        "G1/outer": "junction with W1, jointed; new masonry meets old",
    }
    for joint in design.plan.joints:
        if joint.leaf in at_ends(design):
            leaf = design.building.leaf(joint.leaf)
            assert leaf.span.start - 0.01 <= joint.gap.start
            assert joint.gap.end <= leaf.span.end + 0.01


def test_no_check_fails_it(design: Design) -> None:
    assert [f"{f.id}: {f.text}" for f in design.findings if f.severity == "fail"] == []
    passed = {(f.code, f.leaves) for f in design.findings if f.severity == "pass"}
    for leaf in at_ends(design):
        assert ("area-balance", (leaf,)) in passed
        assert ("joint-full-height", (leaf,)) in passed
        assert ("joint-room", (leaf,)) in passed


def test_nothing_is_laid_or_reinforced_in_the_gap(design: Design) -> None:
    laid = {c.leaf: c for c in design.coursing.leaves}
    seen = 0
    for joint in design.plan.joints:
        for placement in laid[joint.leaf].placements:
            assert not placement.span.overlaps(joint.gap), (joint.id, placement)
            seen += abs(placement.span.start - joint.gap.end) < 0.01 or abs(placement.span.end - joint.gap.start) < 0.01
        for length in design.fittings.bed_reinforcement:
            assert length.leaf != joint.leaf or not length.span.overlaps(joint.gap)
    assert seen > 100, "courses begin and end right at the joints"


def test_ties_stand_beside_it_and_none_in_it(design: Design) -> None:
    (wall,) = [t for t in design.fittings.ties if t.wall == "W2"]
    joints = [j for j in design.plan.joints if j.wall == "W2" and j.reason.startswith("junction")]
    beside = [t for t in wall.ties if t.at - max(j.gap.end for j in joints) <= 225]
    assert not any(j.gap.contains(t.at) for j in joints for t in wall.ties)
    levels = sorted({t.level for t in beside})
    assert max(b - a for a, b in pairwise(levels)) <= 300.01
    assert {t.kind for t in beside} >= {"joint"}


def test_it_takes_sealant_and_filler_like_any_joint(design: Design) -> None:
    parts = {p.joint: p for p in design.fittings.joint_parts}
    assert set(parts) == {j.id for j in design.plan.joints}
    garden = next(j for j in design.plan.joints if j.leaf == "G1/outer")
    assert parts[garden.id].length == pytest.approx(1950)


def test_the_mirrored_building_has_it_in_the_same_leaves(design: Design) -> None:
    image = pipeline.design(Spec.model_validate(mirrored(NEW_AGAINST_OLD)), "image")
    assert at_ends(image) == at_ends(design)
    lengths = {leaf.id: leaf.span for leaf in design.building.leaves}
    for joint in design.plan.joints:
        if joint.leaf in at_ends(design):
            other = next(j for j in image.plan.on_leaf(joint.leaf) if j.reason == joint.reason)
            span = image.building.leaf(joint.leaf).span
            assert other.at - span.start == pytest.approx(lengths[joint.leaf].end - joint.at)


@pytest.mark.parametrize("kind", ["svg", "json"])
def test_it_is_drawn(design: Design, tmp_path: Path, kind: str) -> None:
    files = pipeline.write(design, tmp_path, (kind,))
    text = "".join(p.read_text(encoding="utf-8") for p in files if p.suffix == f".{kind}")
    for joint in design.plan.joints:
        assert joint.id in text


@pytest.mark.parametrize(
    ("rules", "unit", "lengths"),
    [
        ("us", "modular_brick", (12180.0, 12195.175)),
        ("us", "concrete_block_8", (12180.0, 12192.0)),
        ("uk", "brick_65", (13491.0, 14300.0)),
    ],
)
def test_joints_stand_on_the_bond_of_the_masonry_and_the_gap_is_no_part_of_it(
    rules: str, unit: str, lengths: tuple[float, ...]
) -> None:
    """A new wall in line with an old one: whole and half units from one end of its masonry come to the joint's middle."""
    for length in lengths:
        spec = {
            "spec": 1,
            "rules": rules,
            "leaves": {"a": {"zones": [{"unit": unit}]}},
            "wall_types": {"single": {"outer": "a"}},
            "walls": [
                {"id": "H", "type": "single", "start": [0, 0], "end": [6000, 0], "top": 2400, "existing": True},
                {"id": "G", "type": "single", "start": [6000, 0], "end": [6000 + length, 0], "top": 2400},
            ],
        }
        made = pipeline.design(Spec.model_validate(spec))
        end, *others = [j for j in made.plan.joints if j.wall == "G"]
        assert others and end.gap.start == pytest.approx(0.0)
        leaf = made.building.leaf("G/outer")
        brick = leaf.zones[0].unit
        half = brick.module / 2
        for joint in others:
            from_ends = (joint.at + brick.joint / 2 - end.gap.end, leaf.span.end - joint.at + brick.joint / 2)
            assert min(abs(x / half - round(x / half)) * half for x in from_ends) < 0.01, (length, joint.at)
