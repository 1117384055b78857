"""Units that do and do not suit their bond. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.result import Design, Finding
from elevgen.takeoff.measure import measure

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WALL: dict[str, Any] = {"id": "A", "type": "own", "start": [0, 0], "end": [3590, 0], "top": 900}


@pytest.mark.parametrize(
    ("bond", "unit", "severity", "measured"),
    [
        ("third", "brick_65", "warn", 327.5),
        ("third", {"length": 290, "height": 65, "width": 90}, "pass", None),
        ("quarter", "dense_block_100", "pass", None),
        ("quarter", "brick_65", "warn", 440.0),
        ("english", "brick_65", "pass", None),
        ("english", {"length": 440, "height": 215, "width": 100}, "warn", 210.0),
        ("flemish", {"length": 224.9, "height": 65, "width": 102.5}, "pass", None),
        ("flemish", {"length": 225.1, "height": 65, "width": 102.5}, "warn", 215.0),
        ("stretcher", {"length": 333, "height": 65, "width": 100}, "pass", None),
    ],
)
def test_widths_that_make_up_a_length(
    build: Build, found: Found, bond: str, unit: str | dict[str, float], severity: str, measured: float | None
) -> None:
    units = {} if isinstance(unit, str) else {"own_unit": {"material": "clay", **unit}}
    leaves = {"own": {"bond": bond, "zones": [{"unit": unit if isinstance(unit, str) else "own_unit"}]}}
    design = build([WALL], leaves=leaves, units=units, wall_types={"own": {"outer": "own"}})
    (finding,) = found(design, "bond-unit", everything=True)
    assert (finding.severity, finding.measured) == (severity, measured)


def test_a_half_brick_leaf_cuts_its_headers_and_suits_any_unit(build: Build, found: Found) -> None:
    leaves = {"own": {"bond": "flemish", "build": "half_brick", "zones": [{"unit": "dense_block_100"}]}}
    design = build([WALL], leaves=leaves, wall_types={"own": {"outer": "own"}})
    assert not found(design, "bond-unit")


@pytest.mark.parametrize(
    ("leaf", "words"),
    [
        ({"bond": "stretcher", "build": "one_brick", "zones": [{"unit": "brick_65"}]}, "no header goes through"),
        ({"bond": "english", "zones": [{"unit": "brick_65", "to": 300}, {"unit": "long"}]}, "does not go through"),
        ({"bond": "stretcher", "build": "one_brick", "zones": [{"unit": "dense_block_100"}]}, "do not fill the thickness"),
    ],
)
def test_a_leaf_one_brick_thick_is_held_together(build: Build, found: Found, leaf: dict[str, Any], words: str) -> None:
    units = {"long": {"material": "clay", "length": 290, "height": 65, "width": 140}}
    design = build([WALL], leaves={"own": leaf}, units=units, wall_types={"own": {"outer": "own"}})
    assert any(words in f.text and f.severity == "warn" for f in found(design, "bond-unit"))


def test_mortar_between_stretchers_is_never_less_than_none(build: Build) -> None:
    """Units wider than half their length: two do not fit, which is said, and nothing is taken off the mortar for it."""
    units = {"wide": {"material": "clay", "length": 300, "height": 140, "width": 290}}
    leaves = {"own": {"bond": "english", "zones": [{"unit": "wide"}]}}
    design = build([WALL | {"top": 750}], leaves=leaves, units=units, wall_types={"own": {"outer": "own"}})
    assert all(q.net > 0 for q in measure(design).quantities)
