"""Concrete Block Association, Data Sheet 12, figures the uk rule set takes from it.

Bibliography: Concrete Block Association, Data Sheet 12, April 2007, with fig. 11 (read).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.core.sourced import Value
from elevgen.fittings.joint_parts import sealant_depth
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.spec.models import Spec

DOCUMENT = "Concrete Block Association, Data Sheet 12"

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.dense_concrete", 6000.0, "read", id="external from 6 m"),
        pytest.param("movement_joint.spacing.limit.dense_concrete", 9000.0, "read", id="external to 9 m"),
        pytest.param("movement_joint.width.nominal.dense_concrete", 10.0, "read", id="10 mm"),
        pytest.param("sealant.width_to_depth", 2.0, "read", id="fig. 11, sealant 1.0 : 0.5"),
        pytest.param("filler.allowed.dense_concrete", ("polyethylene_foam",), "read", id="polyethylene strip"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Concrete Block Association", key, printed, status)


def test_a_10_mm_joint_from_a_13_mm_strip(published: Any) -> None:
    """An external wall of aggregate block with a joint at 6 m."""
    design = pipeline.design(
        Spec.model_validate(
            {
                "spec": 1,
                "leaves": {"block": {"zones": [{"unit": "dense_block_100"}]}},
                "wall_types": {"single": {"outer": "block"}},
                "walls": [
                    {"id": "W1", "type": "single", "start": [0, 0], "end": [12000, 0], "top": 3000, "joints": [{"at": 6000}]}
                ],
            }
        )
    )
    (parts,) = design.fittings.joint_parts
    assert parts.filler == ("polyethylene_foam",)
    published("CBA-01", "joint of aggregate block, width", 10, parts.filler_width, unit="mm", clause="fig. 11")
    published("CBA-01", "strip pressed into it", 13, parts.filler_strip, unit="mm", clause="fig. 11")


@pytest.mark.parametrize("width", [10.0, 16.0, 22.0])
def test_sealant_is_half_as_deep_as_wide(published: Any, uk: RuleBook, width: float) -> None:
    """Fig. 11 by itself; the least depth for porous faces is another document's."""
    values = {key: value for key, value in uk.values.items() if key != "sealant.depth.min"}
    ours = width / sealant_depth(width, RuleReader(replace(uk, values=values)))
    published("CBA-01", f"sealant {width:g} wide, width to depth", 2, ours, clause="fig. 11")
