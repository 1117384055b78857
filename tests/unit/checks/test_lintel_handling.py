"""Heavy lintels and those on props: told with their mass; steel and unknown ones are not."""

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.drawing.cautions import lintel_cautions
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]


def wall_with(build: Build, lintel: dict[str, Any], width: float = 1360) -> Design:
    leaves = {"brick": {"zones": [{"unit": "brick_65"}], "lintel": lintel}, "block": {"zones": [{"unit": "aircrete_block_100"}]}}
    opening = {"id": "O1", "at": 2260, "width": width, "sill": 760, "height": 1275}
    wall = {"id": "A", "type": "garden", "start": [0, 0], "end": [7865, 0], "top": 2700, "openings": [opening]}
    return build([wall], leaves=leaves, wall_types={"garden": {"outer": "brick"}})


def test_a_concrete_lintel_too_heavy_for_one_is_told_with_its_mass(build: Build, found: Found) -> None:
    design = wall_with(build, {"kind": "concrete", "depth": 140})
    (lintel,) = design.fittings.lintels
    kg = lintel.length * 140 * 102.5 * 2500 / 1e9
    assert lintel.mass == pytest.approx(kg)
    heavy, props = found(design, "lintel-handling")
    assert (heavy.severity, heavy.measured, heavy.limit) == ("note", pytest.approx(kg), 20)
    assert "1 lintel over 20 kg: lift with two people or a machine" in heavy.text
    assert (props.measured, props.limit) == (1360, 1200)
    (caution,) = lintel_cautions(design.figures, design.fittings.lintels, design.coursing.masses)
    assert f"up to {kg:.0f} kg" in caution


def test_a_short_light_one_is_not(build: Build, found: Found) -> None:
    design = wall_with(build, {"kind": "concrete", "depth": 65}, width=685)
    assert found(design, "lintel-handling") == []
    assert [f.severity for f in found(design, "lintel-handling", everything=True)] == ["pass", "pass"]
    assert not list(lintel_cautions(design.figures, design.fittings.lintels, design.coursing.masses))


@pytest.mark.parametrize("lintel", [{}, {"kind": "pressed_steel", "depth": 140}, {"kind": "concrete"}])
def test_nothing_is_said_of_what_is_not_known(build: Build, found: Found, lintel: dict[str, Any]) -> None:
    design = wall_with(build, lintel)
    assert [x.mass for x in design.fittings.lintels] == [None]
    assert [f.severity for f in found(design, "lintel-handling", everything=True)] == ["pass"]


@pytest.mark.parametrize(("gone", "left"), [("lifting.mass", 2), ("lintel.density.concrete", 2), ("lintel.prop.spacing", 2)])
def test_without_its_rule_it_is_not_checked(
    build: Build, found: Found, lacking: Callable[..., Design], gone: str, left: int
) -> None:
    findings = found(lacking(wall_with(build, {"kind": "concrete", "depth": 140}), gone), "lintel-handling")
    assert len(findings) == left
    assert "not_checked" in {f.severity for f in findings}
