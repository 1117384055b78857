"""Brick Development Association, figures the uk rule set takes from it, and what the checks make of them.

Bibliography: Brick Development Association, Movement Joints, May 2014 (read); Designing for Movement in Brickwork (read). The
width to the metre is printed by an Eden District Council note (read), which gives the same 16 mm at 12 m.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.core.sourced import Value
from elevgen.result import Design, Finding
from elevgen.spec.models import Spec

DOCUMENT = "Brick Development Association"

Carried = Callable[..., None]


def clay(walls: Sequence[dict[str, Any]]) -> Design:
    """Single-leaf clay walls high enough that only their length counts."""
    return pipeline.design(
        Spec.model_validate(
            {
                "spec": 1,
                "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
                "wall_types": {"single": {"outer": "brick"}},
                "walls": [{"type": "single", "top": 6000, "line": "face", **wall} for wall in walls],
            }
        )
    )


def joint_between(spacing: float, width: float | None = None) -> Design:
    """A joint with a panel of the spacing on each side."""
    joint = {"at": spacing} | ({} if width is None else {"width": width})
    return clay([{"id": "W1", "start": [0, 0], "end": [2 * spacing, 0], "joints": [joint]}])


def judged(design: Design, code: str) -> Finding:
    (finding,) = [f for f in design.findings if f.code == code and f.severity != "not_checked"]
    return finding


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.clay", 12000.0, "read", id="clay 12 m"),
        pytest.param("movement_joint.width.nominal.clay", 16.0, "read", id="clay about 16 mm at 12 m"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Brick Development Association", key, printed, status)


def test_about_16_mm_at_12_m(published: Any) -> None:
    (joint,) = joint_between(12000).plan.joints
    published("BDA-01", "clay at 12 m, width about", 16, joint.width.rule_of_thumb, unit="mm", within=0.5)
    assert joint.width.built == 16
    needed = judged(joint_between(12000, 16), "joint-width")
    assert needed.severity == "pass"
    assert needed.limit == pytest.approx(16, abs=0.5)


def test_about_10_mm_at_7_m(published: Any) -> None:
    needed = judged(joint_between(7000, 10), "joint-width")
    assert needed.severity == "pass"
    published("BDA-02", "clay at 7 m, width about (9.1, rounded up)", 10, needed.limit, unit="mm", within=1)
    assert needed.limit is not None
    assert ceil(needed.limit) == 10
    assert judged(joint_between(7000, 9), "joint-width").severity == "fail"


@pytest.mark.parametrize(("spacing", "width"), [(6000, 7.8), (8000, 10.4), (10000, 13.0), (15000, 19.5)])
def test_1_3_mm_to_the_metre_derived(published: Any, spacing: float, width: float) -> None:
    ours = judged(joint_between(spacing, 20), "joint-width").limit
    published("BDA-03", f"clay at {spacing / 1000:g} m, 1.3 mm a metre", width, ours, unit="mm", within=0.05, status="derived")


def test_the_run_is_measured_round_the_corner(published: Any) -> None:
    """12 m at an external return: 7.5 m and 4.5 m keep it, a millimetre more does not."""

    def round_a_corner(other: float) -> Finding:
        walls = [{"id": "W1", "start": [0, 0], "end": [7500, 0]}, {"id": "W2", "start": [7500, 0], "end": [7500, other]}]
        return judged(clay([wall | {"joints": []} for wall in walls]), "joint-spacing")

    assert round_a_corner(4500).severity == "pass"
    published("BDA-04", "7.5 and 4.5 m round a corner: the run", 12000, round_a_corner(4500).measured, unit="mm")
    assert round_a_corner(4501).severity == "warn"


@pytest.mark.parametrize(("off", "severity"), [(6000, "pass"), (6001, "warn")])
def test_the_first_joint_within_6_m_of_a_corner(published: Any, off: float, severity: str) -> None:
    walls = [
        {"id": "W1", "start": [0, 0], "end": [9000, 0], "joints": [{"at": 9000 - off}]},
        {"id": "W2", "start": [9000, 0], "end": [9000, 3000], "joints": []},
    ]
    (finding,) = [f for f in clay(walls).findings if f.code == "corner-distance" and f.joints]
    assert finding.severity == severity
    published("BDA-04", "first joint off a corner, at most", 6000, finding.limit, unit="mm")
