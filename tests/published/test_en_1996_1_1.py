"""EN 1996-1-1, figures the uk rule set carries: those from memory are no published evidence.

Bibliography: EN 1996-1-1, 8.1.5, 8.2.2, 8.5.2.2(2), and moisture of 3.7.4, not seen (from memory); thermal coefficients of 3.7.4
in a Polish lexicon (quoted).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("perpend.max", 15.0, "memory", id="8.1.5 perpends to 15, from memory"),
        pytest.param("bed_reinforcement.cover", 15.0, "memory", id="8.2.2 cover 15, from memory"),
        pytest.param("tie.density", 2.0, "memory", id="8.5.2.2 two ties a square metre, from memory"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("EN 1996-1-1", key, printed, status)


@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        ("clay", 4, 8),
        ("calcium_silicate", 7, 11),
        ("dense_concrete", 6, 12),
        ("lightweight_concrete", 6, 12),
        ("aircrete", 7, 9),
    ],
)
def test_3_7_4_thermal_per_million_quoted(carried: Carried, material: str, low: float, high: float) -> None:
    carried("EN 1996-1-1", f"movement.thermal.low.{material}", low / 1000, "quoted")
    carried("EN 1996-1-1", f"movement.thermal.high.{material}", high / 1000, "quoted")


@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        ("clay", -0.2, 1.0),
        ("calcium_silicate", -0.4, -0.1),
        ("dense_concrete", -0.6, -0.1),
        ("lightweight_concrete", -1.0, -0.2),
        ("aircrete", -0.4, 0.2),
        ("stone", -0.4, 0.7),
    ],
)
def test_3_7_4_moisture_from_memory(carried: Carried, material: str, low: float, high: float) -> None:
    carried("EN 1996-1-1", f"movement.moisture.low.{material}", low, "memory")
    carried("EN 1996-1-1", f"movement.moisture.high.{material}", high, "memory")


def test_3_7_4_thermal_of_metamorphic_stone_from_memory(carried: Carried) -> None:
    carried("EN 1996-1-1", "movement.thermal.low.stone", 0.001, "memory")
    carried("EN 1996-1-1", "movement.thermal.high.stone", 0.018, "memory")
