"""The width of movement joints against their calculated movement: wrong, put right, figures missing, the stage's own sum."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from random import Random
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.checks._movement import Beside, Need, NoNeed, need
from elevgen.joints.model import JointPlan
from elevgen.result import Design, Finding
from elevgen.spec.models import Spec

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [11500, 0], "top": 4800}


def given(rule: str, value: float | str) -> dict[str, Any]:
    return {"rule": rule, "value": value, "reason": "data sheet", "by": "maker"}


SEALANT, BRICK = given("sealant.movement_capability", 50), given("movement.moisture.clay", 0.15)


def calculated(findings: list[Finding]) -> list[Finding]:
    return [f for f in findings if "by calculation" in f.text]


@pytest.mark.parametrize(("width", "severity"), [(12.55, "pass"), (12.5, "fail"), (11, "fail")])
def test_a_joint_is_as_wide_as_its_movement_asks(build: Build, found: Found, width: float, severity: str) -> None:
    """Half of 4.3 m and of 7.2 m of clay: 60 K, growth 0.15, wetting 0.2 mm/m; sealant 50 %, 3 mm for building: 12.545 mm."""
    design = build([WALL], {"A/outer": [4300.0]}, width=width, overrides=[SEALANT, BRICK])
    (finding,) = calculated(found(design, "joint-width", everything=True))
    assert finding.severity == severity
    assert finding.limit == pytest.approx(5.75 * 0.83 * 2 + 3)
    assert "closes by up to 4.8 mm" in finding.text
    assert ("needs" in finding.text) == (severity == "fail")
    assert finding.source is not None
    assert finding.source.document == "override by maker"


def test_a_joint_too_narrow_is_put_right_by_width_by_more_joints_or_by_another_sealant(build: Build, found: Found) -> None:
    stiff = given("sealant.movement_capability", 25)

    def failing(joints: list[float], width: float, *overrides: dict[str, Any]) -> list[Finding]:
        design = build([WALL], {"A/outer": joints}, width=width, overrides=[BRICK, *overrides])
        return [f for f in calculated(found(design, "joint-width")) if f.severity == "fail"]

    (bad,) = failing([4300.0], 16, stiff)
    assert (bad.where, bad.measured) == ("A/outer/J1", 16)
    assert not failing([4300.0], 23, stiff)
    assert not failing([2900.0, 5700.0, 8600.0], 16, stiff)
    assert not failing([4300.0], 16, SEALANT)


def test_without_a_figure_the_need_is_said_not_to_be_checked_once_for_all_joints(
    build: Build, found: Found, lacking: Callable[..., Design]
) -> None:
    bare = build([WALL], {"A/outer": [3000.0, 7300.0]})
    (finding,) = [f for f in found(bare, "joint-width") if f.severity == "not_checked"]
    assert (finding.joints, finding.leaves) == (("J1", "J2"), ("A/outer",))
    assert "calculated width of 2 joints not checked: no value in the rules 'uk' for how far the sealant may move" in finding.text
    full = build([WALL], {"A/outer": [3000.0, 7300.0]}, overrides=[SEALANT, BRICK])
    assert not found(full, "joint-width")
    for key in (
        "movement.thermal.high.clay",
        "movement.reversible.low.clay",
        "movement.temperature_range",
        "movement_joint.tolerance",
    ):
        (finding,) = found(lacking(full, key), "joint-width")
        assert finding.severity == "not_checked"
        assert key in finding.text


@pytest.mark.parametrize(
    ("width", "words"), [(5, "too narrow to be sealed"), (6, ""), (50, ""), (51, "wider than sealant spans")]
)
def test_a_joint_no_sealant_fills_is_pointed_out(build: Build, found: Found, width: float, words: str) -> None:
    """Architectural detailing textbook (read): 6 mm at least, 25 to 50 at most."""
    design = build([WALL | {"end": [3000, 0]}], {"A/outer": [1500.0]}, width=width)
    warned = [f for f in found(design, "joint-width") if f.severity == "warn"]
    assert [words in f.text for f in warned] == ([True] if words else [])


def test_what_must_be_left_open_stands_in_for_the_sealant(build: Build, found: Found) -> None:
    """AS 3700 cl. 4.8 (quoted): 5 mm left of the joint when it has closed."""
    design = build([WALL], {"A/outer": [4300.0]}, width=13, overrides=[BRICK, given("movement_joint.left_open", 5)])
    (finding,) = calculated(found(design, "joint-width", everything=True))
    assert (finding.severity, finding.limit) == ("pass", pytest.approx(5.75 * 0.83 + 5 + 3))


def _random_spec(seed: int) -> Spec:
    """A cavity building with a partition, its walls of mixed zones and colours, and some of the products' figures given."""
    rng = Random(seed)
    units = [
        "brick_65",
        "dense_block_100",
        "aircrete_block_100",
        "lightweight_block_100",
        "calcium_silicate_brick_65",
        "stone_100",
    ]
    length, depth = rng.uniform(9000, 21000), rng.uniform(5000, 14000)

    def leaf() -> dict[str, Any]:
        zones = [{"unit": rng.choice(units), "to": 600}, {"unit": rng.choice(units)}]
        colour = rng.choice([None, "light", "medium", "dark"])
        return {"zones": zones if rng.random() < 0.5 else zones[1:]} | ({"colour": colour} if colour else {})

    overrides = [given("sealant.movement_capability", rng.choice([20, 25, 50]))]
    choices = [
        given("movement.temperature.air.hottest", rng.uniform(28, 38)),
        given("movement.moisture.clay", rng.uniform(-0.1, 0.9)),
        given("movement.thermal.aircrete", rng.uniform(0.0071, 0.0079)),
        given("movement.reversible.high.dense_concrete", rng.uniform(0.5, 0.9)),
        given("movement.other", rng.uniform(0.5, 4)),
        given("movement_joint.left_open", rng.uniform(2, 30)),
        given("movement_joint.tolerance", rng.uniform(0.1, 2)),
        given("sealant.capability_of", "closed_width"),
        given("movement.temperature_range.inside", rng.uniform(15, 40)),
    ]
    overrides += [choice for choice in choices if rng.random() < 0.4]
    if any(o["rule"].endswith("hottest") for o in overrides):
        overrides.append(given("movement.temperature.air.coldest", -rng.uniform(2, 20)))
    corners = [[0, 0], [length, 0], [length, depth], [0, depth], [0, 0]]
    walls = [
        {"id": f"W{n}", "type": "cavity", "start": a, "end": b, "top": 5000} for n, (a, b) in enumerate(pairwise(corners), 1)
    ]
    middle = rng.uniform(3000, length - 3000)
    walls.append({"id": "P", "type": "partition", "start": [middle, 302.5], "end": [middle, depth - 302.5], "top": 2700})
    return Spec.model_validate(
        {
            "spec": 1,
            "overrides": overrides,
            "leaves": {"outer": leaf(), "inner": leaf(), "across": leaf()},
            "wall_types": {"cavity": {"outer": "outer", "inner": "inner", "cavity": 100}, "partition": {"outer": "across"}},
            "walls": walls,
        }
    )


@pytest.mark.parametrize("seed", range(12))
def test_the_check_sums_up_what_the_stage_did_and_calls_a_narrower_joint_by_its_name(found: Found, seed: int) -> None:
    design = pipeline.design(_random_spec(seed))
    judged = {f.joints[0]: f for f in calculated(found(design, "joint-width", everything=True))}
    assert judged
    for joint in design.plan.joints:
        assert joint.width.calculated is not None
        leaf = design.building.leaf(joint.leaf)
        to_an_end = any(j.gap.contains(at) for j in design.plan.on_leaf(leaf.id) for at in (leaf.span.start, leaf.span.end))
        # of a joint in a leaf's end the stage measures to the end, the check to the middle of the joint
        assert judged[joint.id].limit == pytest.approx(joint.width.calculated, rel=5e-3 if to_an_end else 1e-6)
        assert judged[joint.id].severity == "pass"
    short = [replace(j, width=replace(j.width, built=(j.width.calculated or 0.0) * 0.994 - 0.05)) for j in design.plan.joints]
    narrow = replace(design, plan=JointPlan(tuple(short), design.plan.placements, design.plan.panels))
    assert {f.joints[0] for f in calculated(found(narrow, "joint-width")) if f.severity == "fail"} == set(judged)


def test_a_need_names_every_key_it_lacks(build: Build, lacking: Callable[..., Design]) -> None:
    design = build([WALL], {"A/outer": [4300.0]}, overrides=[SEALANT])
    leaf = design.building.leaves[0]
    sides = (Beside(4300, (leaf,)), Beside(7200, (leaf,)))
    assert isinstance(need(design, sides), Need)
    less = lacking(design, "movement.moisture.low.clay", "sealant.capability_of")
    assert need(less, sides) == NoNeed(("movement.moisture.low.clay", "sealant.capability_of"))
