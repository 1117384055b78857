"""Materials for Architects and Builders, figures the uk rule set takes from it.

Bibliography: Materials for Architects and Builders, clay brick chapter (read; the author's name, Lyons, is from memory).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.limit.clay", 15000.0, "read", id="clay 15 m at most, restrained"),
        pytest.param("movement_joint.width.per_metre.clay", 1.0, "read", id="clay 1 mm a metre"),
        pytest.param("bed_reinforcement.cover", 25.0, "read", id="cover 25 outside"),
        pytest.param("movement.thermal.low.clay", 0.005, "read", id="thermal from 5 per million"),
        pytest.param("movement.thermal.high.clay", 0.008, "read", id="thermal to 8 per million"),
        pytest.param("movement.moisture.high.clay", 1.0, "read", id="irreversible moisture to 0.1 per cent"),
        pytest.param("movement.reversible.low.clay", 0.2, "read", id="reversible moisture 0.02 per cent"),
        pytest.param(
            "filler.allowed.clay", ("polyethylene_foam", "polyurethane_foam", "foam_rubber"), "read", id="fillers in clay"
        ),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Materials for Architects and Builders", key, printed, status)
