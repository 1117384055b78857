"""The proof that fewer joints will not do, tried: where a spec with fewer joints keeps every rule, the proof was wrong."""

from __future__ import annotations

from typing import Any

import pytest

import elevgen
from elevgen.result import Design
from elevgen.spec.models import Spec

SPACING = 12000.0
"""Clay, Brick Development Association, Movement Joints, May 2014; as in the uk rules."""


def straight_wall(length: float, joints: Any = "place") -> Design:
    """A brick wall 5 m high, free at both ends; nothing but the spacing asks for joints below 15 m."""
    wall = {"id": "W1", "type": "half", "start": [0, 0], "end": [length, 0], "base": 0, "top": 5000, "joints": joints}
    return elevgen.design(
        Spec.model_validate(
            {
                "spec": 1,
                "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
                "wall_types": {"half": {"outer": "brick"}},
                "walls": [wall],
            }
        )
    )


def kept(design: Design) -> bool:
    rules = {"joint-spacing", "panel-ratio", "corner-distance", "joint-in-opening", "placement-relaxed"}
    return not [f for f in design.findings if f.code in rules and f.severity in ("fail", "warn")]


@pytest.mark.parametrize("length", [12000.0, 12000.5, 17233.0, 23905.0])
def test_as_few_as_the_length_asks(length: float) -> None:
    placed = straight_wall(length)
    assert kept(placed)
    assert len(placed.plan.joints) == (0 if length <= SPACING else 1)
    assert [(p.optimal, p.lower_bound) for p in placed.plan.placements] == [(True, len(placed.plan.joints))]


@pytest.mark.parametrize("length", [23925.0, 23950.0, 23990.0])
def test_one_joint_where_one_will_do_though_off_the_bond(length: float) -> None:
    """Joints off the grid are the last of all preferences, after the number of joints: one off the grid beats two on it."""
    assert kept(straight_wall(length, [{"at": length / 2}]))
    placed = straight_wall(length)
    assert [(len(p.joints), p.lower_bound) for p in placed.plan.placements] == [(1, 1)]
