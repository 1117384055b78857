"""Heavy units are named with how heavy they are; the repair; and what is said where a value is missing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

CODE = "unit-mass"
WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [4490, 0], "top": 1500}


def built(build: Build, unit: str = "dense_block_140", **own: Any) -> Design:
    """A wall of two kinds of unit: a brick below, and the one asked for."""
    units = {"units": {unit: {"material": "dense_concrete", "length": 440, "height": 215, "width": 140} | own}} if own else {}
    leaf = {"zones": [{"unit": "brick_65", "to": 600}, {"unit": unit}]}
    return build([WALL], leaves={"only": leaf}, wall_types={"garden": {"outer": "only"}}, **units)


def test_a_heavy_block_by_its_size_is_noted_and_a_lighter_one_repairs_it(build: Build, found: Found) -> None:
    """440 x 215 x 140 at 2300 kg/m3, practice: 30.5 kg."""
    (finding,) = found(built(build), CODE)
    assert (finding.severity, finding.operator, finding.limit, finding.unit) == ("note", "<=", 20, "kg")
    assert finding.measured == pytest.approx(0.440 * 0.215 * 0.140 * 2300)
    assert finding.leaves == ("A/outer",)
    assert finding.source is not None and finding.source.status == "memory"
    assert found(built(build, "lightweight_block_100"), CODE) == []
    passed = found(built(build, "lightweight_block_100"), CODE, everything=True)
    assert [f.where for f in passed] == ["unit brick_65", "unit lightweight_block_100"]


@pytest.mark.parametrize(("mass", "severity"), [(20.0, "pass"), (20.25, "warn"), (31.0, "warn"), (3.5, "pass")])
def test_a_mass_that_is_told_is_used_and_warned_of(build: Build, found: Found, mass: float, severity: str) -> None:
    (finding,) = (f for f in found(built(build, "own", mass=mass), CODE, everything=True) if "own" in f.where)
    assert (finding.severity, finding.measured) == (severity, mass)
    assert "may" not in finding.text


def test_without_the_limit_nothing_passes(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    (finding,) = found(lacking(built(build), "lifting.mass"), CODE, everything=True)
    assert finding.severity == "not_checked"


def test_without_a_density_a_unit_is_not_checked_unless_its_mass_is_told(
    build: Build, found: Found, lacking: Callable[..., Design]
) -> None:
    bare = lacking(built(build), "unit.density.dense_concrete")
    assert [(f.severity, f.where) for f in found(bare, CODE, everything=True)] == [
        ("not_checked", "unit dense_block_140"),
        ("pass", "unit brick_65"),
    ]
    told = lacking(built(build, "own", mass=24.0), "unit.density.dense_concrete")
    assert [f.severity for f in found(told, CODE)] == ["warn"]


def test_the_stages_say_the_same_mass(build: Build, found: Found) -> None:
    design = built(build, "own", mass=24.0)
    findings = {f.where.removeprefix("unit "): f for f in found(design, CODE, everything=True)}
    assert {m.unit: (m.mass, m.limit, m.heavy) for m in design.coursing.masses} == {
        name: (pytest.approx(f.measured), f.limit, f.severity != "pass") for name, f in findings.items()
    }
    assert [(m.unit, m.given) for m in design.coursing.masses] == [("brick_65", False), ("own", True)]
