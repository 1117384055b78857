"""The checks of what lies under lintels and of stack bond: a wall that breaks the rule, and the same one put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [4490, 0], "top": 1500}
WHOLE = {
    "overrides": [
        {"rule": key, "value": 0, "unit": "mm", "reason": "the bond kept whole", "by": "nobody"}
        for key in ("bond.opening.clear", "bond.lintel_end.clear")
    ]
}
"""Perpends need not keep off openings, so that the bond decides what stands at the reveals."""


def with_window(at: float, width: float) -> dict[str, Any]:
    return WALL | {"openings": [{"id": "V1", "kind": "window", "at": at, "width": width, "sill": 600, "height": 600}]}


# ---- lintel-seat


def test_one_reveal_on_a_half_that_takes_all_the_bearing_is_a_note(build: Build, found: Found) -> None:
    """1022.5 mm is a half more than whole bricks: where one reveal has a whole one the other has a half. Bearing 100 mm."""
    (finding,) = found(build([with_window(1677.5, 1022.5)], **WHOLE), "lintel-seat")
    assert (finding.severity, finding.where, finding.openings) == ("note", "A/outer/L-V1", ("V1",))
    assert finding.measured == pytest.approx(102.5)
    assert "bears on a piece of 102.5 mm at the" in finding.text
    assert "with all of its bearing" in finding.text


def test_one_reveal_on_a_half_shorter_than_the_bearing_is_a_warning(build: Build, found: Found) -> None:
    """Past 1.2 m a lintel bears 150 mm."""
    (finding,) = found(build([with_window(1452.5, 1472.5)], **WHOLE), "lintel-seat")
    assert (finding.severity, finding.measured) == ("warn", pytest.approx(102.5))
    assert "set the opening out so that a whole unit comes there" in finding.text


@pytest.mark.parametrize(("bearing", "severity"), [(112.5, "note"), (113.5, "warn")])
def test_a_half_with_its_joint_takes_a_nominal_bearing(build: Build, found: Found, bearing: float, severity: str) -> None:
    """As American bearings are: 4 in on half a brick, 3 5/8 in and its joint, or 8 in on half a block, 7 5/8 in and its joint."""
    nominal = {"value": bearing, "unit": "mm", "reason": "nominal", "by": "test"}
    rules = [nominal | {"rule": f"lintel.bearing.short.{kind}"} for kind in ("simple", "tray")]
    (finding,) = found(build([with_window(1677.5, 1022.5)], overrides=[*WHOLE["overrides"], *rules]), "lintel-seat")
    assert (finding.severity, finding.measured) == (severity, pytest.approx(102.5))


@pytest.mark.parametrize(("at", "width"), [(1790, 910), (1677.5, 1135), (1565, 1360)])
def test_an_opening_of_whole_bricks_has_whole_ones_under_its_lintel(build: Build, found: Found, at: float, width: float) -> None:
    (finding,) = found(build([with_window(at, width)], **WHOLE), "lintel-seat", everything=True)
    assert (finding.severity, finding.text) == ("pass", "whole units at the reveals under it")


def test_a_header_of_its_bond_is_as_good_as_a_whole_brick(build: Build, found: Found) -> None:
    """English bond, a brick thick: the course under the lintel may begin with headers at both reveals."""
    own = {"leaves": {"own": {"bond": "english", "zones": [{"unit": "brick_65"}]}}, "wall_types": {"own": {"outer": "own"}}}
    courses = {}
    for height in (600, 675):
        wall = with_window(1790, 910) | {"type": "own"}
        wall["openings"][0]["height"] = height
        design = build([wall], **WHOLE, **own)
        (finding,) = found(design, "lintel-seat", everything=True)
        assert finding.severity == "pass"
        (laid,) = design.coursing.leaves
        under = max(c.number for c in laid.courses if c.level < 600 + height - 1)
        (left, _) = sorted((p for p in laid.placements if p.course == under), key=lambda p: p.span)
        courses[height] = design.coursing.pattern(left.pattern).pieces[-1].laid
    assert set(courses.values()) == {"stretcher", "header"}


@pytest.mark.parametrize(("cavity", "off"), [(75, True), (122.5, False)])
def test_no_place_suits_both_leaves_where_the_inner_one_is_off_the_bond(
    build: Build, found: Found, cavity: float, off: bool
) -> None:
    """A leaf of 102.5 and a cavity of 75 put the inner corner 177.5 mm in, half units are 112.5; with 122.5 it is two of them."""
    own = {"own": {"zones": [{"unit": "brick_65"}]}}
    types = {"two": {"outer": "own", "inner": "own", "cavity": cavity}}
    window = {"id": "V1", "kind": "window", "at": 1790, "width": 1022.5, "sill": 600, "height": 600}
    here = {"type": "two", "top": 1500}
    walls = [
        here | {"id": "A", "start": [0, 0], "end": [4490, 0], "openings": [window]},
        here | {"id": "B", "start": [0, 3365], "end": [0, 0]},
    ]
    design = build(walls, leaves=own, wall_types=types, **WHOLE)
    told = {f.leaves: f.text for f in found(design, "lintel-seat")}
    assert "set the opening out" in told["A/outer",]
    inner = told["A/inner",]
    assert ("no place of the opening suits both leaves" in inner and "177.5 mm in" in inner) == off
    assert ("a whole unit is better where the bond allows one" in inner) != off


def test_a_wall_without_lintels_has_no_seats(build: Build, found: Found) -> None:
    assert found(build([WALL]), "lintel-seat", everything=True) == []


# ---- stack-bond


@pytest.fixture(scope="module")
def stacked(build: Build) -> Callable[..., Design]:
    """`stacked(every)`: a wall in stack bond with a bed reinforced every so many mm, or none."""

    def make(every: float | None) -> Design:
        leaf = {"bond": "stack", "zones": [{"unit": "brick_65"}], "reinforced_every": every}
        return build([WALL | {"type": "own"}], leaves={"own": leaf}, wall_types={"own": {"outer": "own"}})

    return make


def test_stack_bond_without_reinforcement_fails(stacked: Callable[..., Design], found: Found) -> None:
    bare = replace(stacked(None), fittings=replace(stacked(None).fittings, bed_reinforcement=()))
    (finding,) = found(bare, "stack-bond")
    (leaf,) = bare.building.leaves
    assert (finding.severity, finding.where, finding.measured) == ("fail", "A/outer", leaf.height - 10)
    assert "reinforce a bed every 450 mm at most" in finding.text


@pytest.mark.parametrize(("every", "built"), [(None, 450), (225, 225), (450, 450), (450.5, 450), (600, 450)])
def test_stack_bond_is_reinforced_and_for_an_engineer(
    stacked: Callable[..., Design], found: Found, every: float | None, built: float
) -> None:
    """As the leaf says, and no further apart than the rule has it whatever the leaf says."""
    (finding,) = found(stacked(every), "stack-bond")
    assert (finding.severity, finding.measured, finding.operator, finding.limit) == ("note", built, "<=", 450)
    assert finding.source is not None
    assert finding.source.status == "practice"
    assert "qualified engineer" in finding.text


def test_a_bed_of_stack_bond_left_bare(stacked: Callable[..., Design], found: Found) -> None:
    design = stacked(None)
    second = sorted({r.level for r in design.fittings.bed_reinforcement})[1]
    left = tuple(r for r in design.fittings.bed_reinforcement if r.level != second)
    (finding,) = found(replace(design, fittings=replace(design.fittings, bed_reinforcement=left)), "stack-bond")
    assert (finding.severity, finding.measured) == ("fail", pytest.approx(900))


@pytest.mark.parametrize("every", [None, 450, 600])
def test_without_the_limit_stack_bond_is_not_judged(
    stacked: Callable[..., Design], found: Found, lacking: Callable[..., Design], every: float | None
) -> None:
    (finding,) = found(lacking(stacked(every), "bond.stack.bed_spacing"), "stack-bond")
    assert (finding.severity, finding.measured) == ("not_checked", None)


def test_bonds_that_lap_pass_with_the_limit_or_without(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    for design in (build([WALL]), lacking(build([WALL]), "bond.stack.bed_spacing")):
        assert [f.severity for f in found(design, "stack-bond", everything=True)] == ["pass"]


def test_the_lap_of_stack_bond_is_left_to_its_own_check(stacked: Callable[..., Design], found: Found) -> None:
    (finding,) = found(stacked(450), "lap")
    assert (finding.severity, finding.measured) == ("note", None)
