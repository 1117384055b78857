"""Materials for Architects and Builders, figures the uk rule set takes from it.

Bibliography: Materials for Architects and Builders, clay brick chapter (read; the author's name, Lyons, is from memory).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Said = Callable[[str, str], tuple[Value, str]]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.limit.clay", 15000.0, "read", id="clay 15 m at most, restrained"),
        pytest.param("movement_joint.width.per_metre.clay", 1.0, "read", id="clay 1 mm a metre"),
        pytest.param("bed_reinforcement.cover", 25.0, "read", id="cover 25 outside"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(said: Said, key: str, printed: Value, status: str) -> None:
    assert said("Materials for Architects and Builders", key) == (printed, status)
