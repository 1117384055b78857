"""Thermal movement over temperature ranges that are from memory (JW-11): regression values, not published ones.

Bibliography: none; BRE Digest 228 and CIRIA TN 107 ranges from memory, sums worked out by us.
"""

from __future__ import annotations

from typing import Any

import pytest

from elevgen.joints.movement import thermal_movement

DOCUMENT = "None: ranges from memory"


@pytest.mark.parametrize(
    ("coefficient", "length", "swing", "movement"),
    [(6e-6, 12_000, 70, 5.0), (8e-6, 12_000, 85, 8.2), (10e-6, 6000, 70, 4.2)],
)
def test_ranges_from_memory_sums_derived(
    published: Any, coefficient: float, length: float, swing: float, movement: float
) -> None:
    ours = thermal_movement(coefficient, length, swing)
    published(
        "JW-11", f"{length / 1000:g} m, {coefficient:g}, {swing} K", movement, ours, unit="mm", within=0.05, status="derived"
    )
