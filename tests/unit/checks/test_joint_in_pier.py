"""Joints that run into a pier, at the very side of it, and where they are placed. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

import elevgen
from elevgen.result import Design, Finding
from elevgen.spec.models import Spec

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

PIER = {"kind": "pier", "at": 5960}
WALL: dict[str, Any] = {
    "id": "A",
    "type": "garden",
    "start": [0, 0],
    "end": [13170, 0],
    "base": 0,
    "top": 5100,
    "features": [PIER],
}
SIDE = 5960 + 215 + 10
"""Where a pier of two bricks ends: a brick and a perpend from its middle."""


@pytest.mark.parametrize(("at", "severity"), [(5960.0, "warn"), (SIDE + 7.0, "warn"), (SIDE + 8.0, "pass"), (5727.0, "pass")])
def test_in_a_pier_and_at_its_side(build: Build, found: Found, at: float, severity: str) -> None:
    (finding,) = found(build([WALL], {"A/outer": [at]}), "joint-in-pier", everything=True)
    assert (finding.severity, finding.joints) == (severity, ("J1",))
    assert ("the pier at 5960" in finding.text) == (severity == "warn")


def test_a_downpipe_is_no_pier(build: Build, found: Found) -> None:
    pipe = WALL | {"features": [PIER | {"kind": "downpipe"}]}
    assert not found(build([pipe], {"A/outer": [5960.0]}), "joint-in-pier")


def test_a_joint_is_placed_beside_the_pier() -> None:
    """13.17 m of clay, usual 12 m: one joint, which keeps out of the pier and hides at a side of it."""
    leaves = {"brick": {"zones": [{"unit": "brick_65"}]}}
    spec = {"spec": 1, "leaves": leaves, "wall_types": {"garden": {"outer": "brick"}}, "walls": [WALL]}
    (joint,) = elevgen.design(Spec.model_validate(spec)).plan.joints
    assert 225 <= min(abs(joint.gap.start - 5960), abs(joint.gap.end - 5960)) <= 225 + 108
    assert "beside the pier" in joint.reason
