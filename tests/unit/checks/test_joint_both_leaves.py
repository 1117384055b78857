"""A joint in one leaf of a cavity wall that was taken for a joint in both, and its repair."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.core.geometry import Span
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WALL: dict[str, Any] = {"id": "A", "type": "cavity", "start": [0, 0], "end": [11510, 0], "top": 4800}
CODE = "joint-both-leaves"


def test_a_joint_of_the_bricks_only_leaves_the_blocks_too_long(build: Build, found: Found) -> None:
    """Aircrete: 6 m. The blocks are 11.51 m in one piece past the joint of the bricks."""
    (note,) = found(build([WALL], {"A/outer": [5400.0]}), CODE)
    assert (note.severity, note.joints, note.leaves) == ("note", ("J1",), ("A/outer", "A/inner"))
    assert (note.measured, note.limit) == (pytest.approx(11510), 6000)
    assert note.text.startswith("J1 parts the outer leaf only: the inner leaf, of aircrete, goes on past it")
    assert "near 5400 mm along the wall" in note.text
    assert note.source is not None
    assert note.source.key == "movement_joint.spacing.normal.aircrete"


def test_its_repair_is_a_joint_in_each(build: Build, found: Found) -> None:
    (passed,) = found(build([WALL], {"A/outer": [5400.0], "A/inner": [5700.0]}), CODE, everything=True)
    assert (passed.severity, passed.where) == ("pass", "A")
    assert passed.text == "outer leaf, clay: up to 6.11 m in one piece; inner leaf, aircrete: up to 5.81 m in one piece"


def test_each_leaf_by_its_own_material(build: Build, found: Found) -> None:
    """The blocks need a joint, the bricks do not: no joint is lacking outside."""
    assert not found(build([WALL], {"A/inner": [5700.0]}), CODE)
    swapped = {"cavity": {"outer": "block", "inner": "brick", "cavity": 100}}
    (note,) = found(build([WALL], {"A/inner": [5700.0]}, wall_types=swapped), CODE)
    assert (note.leaves, note.limit) == (("A/inner", "A/outer"), 6000)
    assert note.text.startswith("J1 parts the inner leaf only: the outer leaf, of aircrete")


def test_a_joint_within_a_block_of_the_other_is_the_same_joint(build: Build, found: Found) -> None:
    """The blocks stay too long beyond it, but nobody took one joint for two. A block is 450 mm with its perpend."""
    for apart, told in ((440.0, False), (460.0, True)):
        design = build([WALL], {"A/outer": [3000.0], "A/inner": [3000.0 - apart]})
        assert found(design, "joint-spacing")
        assert bool(found(design, CODE)) == told


def test_joints_that_part_the_same_piece_are_told_together(build: Build, found: Found) -> None:
    (note,) = found(build([WALL], {"A/outer": [3000.0, 8400.0]}), CODE)
    assert note.joints == ("J1", "J2")
    assert "J1 and J2 part the outer leaf only" in note.text
    assert "near 3000 and 8400 mm" in note.text


def test_a_joint_that_stops_short_parts_no_leaf(build: Build, found: Found) -> None:
    good = build([WALL], {"A/outer": [5400.0], "A/inner": [5700.0]})
    short = tuple(replace(j, levels=Span(0, 2400)) if j.leaf == "A/inner" else j for j in good.plan.joints)
    (note,) = found(replace(good, plan=replace(good.plan, joints=short)), CODE)
    assert note.leaves == ("A/outer", "A/inner")
    outer = build([WALL], {"A/outer": [5400.0]})
    stopped = tuple(replace(joint, levels=Span(0, 2400)) for joint in outer.plan.joints)
    assert not found(replace(outer, plan=replace(outer.plan, joints=stopped)), CODE), "nor is it counted on"


def test_a_list_that_names_one_leaf_only(build: Build, found: Found) -> None:
    """Given joints for the outer leaf: what the spec says of the one is not taken for both."""
    given = WALL | {"joints": [{"at": 5400, "leaf": "outer"}]}
    spec = build([given], {}).spec
    (note,) = [f for f in pipeline.design(spec).findings if f.code == CODE and f.severity != "pass"]
    assert note.joints == ("MJ1",)
    both = build([WALL | {"joints": [{"at": 5700}]}], {}).spec
    assert not [f for f in pipeline.design(both).findings if f.code == CODE and f.severity != "pass"]


def test_a_building_of_single_leaves_has_nothing_to_look_at(build: Build, found: Found) -> None:
    (passed,) = found(build([WALL | {"type": "garden"}], {"A/outer": [5400.0]}), CODE, everything=True)
    assert (passed.severity, passed.text) == ("pass", "no wall of two leaves")


@pytest.mark.parametrize(("material", "leaf"), [("clay", "A/outer"), ("aircrete", "A/inner")])
def test_a_leaf_without_a_spacing_is_not_checked(
    build: Build, found: Found, lacking: Callable[..., Design], material: str, leaf: str
) -> None:
    bare = lacking(build([WALL], {"A/outer": [5400.0], "A/inner": [5700.0]}), f"movement_joint.spacing.normal.{material}")
    assert [(f.severity, f.where) for f in found(bare, CODE, everything=True)] == [("not_checked", leaf)]
