"""TM 5-809-3 / NAVFAC DM-2.9 (1992): expansion of brickwork that nothing holds, eq. 4-1 (TM-01).

Bibliography: TM 5-809-3 / NAVFAC DM-2.9, 1992, eq. 4-1 (read); the worked figure is ours.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.ranges import Range
from elevgen.core.sourced import Value
from elevgen.joints.movement import Masonry, Side, joint_movement, moisture_movement, thermal_movement

Said = Callable[[str, str], tuple[Value, str]]


@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_eq_4_1_at_25_ft_and_100_degrees_fahrenheit_derived(inch: float) -> None:
    """(0.0003 + 0.000004 x 100) x 300 in."""
    length = 25 * 12 * inch
    free = moisture_movement(0.0003, length) + thermal_movement(4e-6, length, 100)
    assert free / inch == pytest.approx(0.21, abs=0.005)
    nothing = Range(0, 0)
    panel = Side(length, (Masonry("clay", Range(4e-6, 4e-6), Range(100, 100), nothing, Range(3e-4, 3e-4), nothing),))
    assert joint_movement((panel, panel)).closing.movement.high == pytest.approx(free), "half of each panel beside a joint"


def test_its_growth_stands_beside_the_uk_range(said: Said) -> None:
    assert said("TM 5-809-3", "movement.moisture.high.clay") == (0.3, "read")
