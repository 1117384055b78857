"""DIN 1053-1, calculation values of movement that stand beside the uk ranges.

Bibliography: DIN 1053-1, on a trade web page and a clay portal (quoted).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed"),
    [
        ("movement.thermal.low.clay", 0.006),
        ("movement.thermal.high.calcium_silicate", 0.008),
        ("movement.thermal.high.dense_concrete", 0.010),
        ("movement.thermal.high.lightweight_concrete", 0.010),
        ("movement.moisture.low.clay", 0.0),
        ("movement.moisture.high.clay", 0.0),
    ],
)
def test_the_rule_set_carries_the_calculation_value_quoted(carried: Carried, key: str, printed: Value) -> None:
    carried("DIN 1053-1", key, printed, "quoted")
