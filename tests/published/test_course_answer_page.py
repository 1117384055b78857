"""A course's answer page: a brick wall of 24 ft warmed by 120 degrees Fahrenheit (JW-07, JW-08).

Bibliography: course answer page, title not recorded (quoted).
"""

from __future__ import annotations

from typing import Any

import pytest

from elevgen.joints.movement import thermal_movement
from elevgen.joints.sealing import sealant_width

DOCUMENT = "Course answer page"


@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_movement_of_an_eighth_quoted(published: Any, inch: float) -> None:
    movement = thermal_movement(3.6e-6, 24 * 12 * inch, 120)
    published("JW-07", "24 ft, 3.6e-6, 120 degF", 0.124, movement / inch, unit="in", within=0.0005, status="quoted")
    assert round(movement / inch * 8) == 1, "1/8 in"
    assert round(movement / inch * 25.4) == 3, "3 mm"


@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_half_an_inch_with_a_sealant_of_a_quarter_quoted(published: Any, inch: float) -> None:
    width = sealant_width(thermal_movement(3.6e-6, 24 * 12 * inch, 120), 25) / inch
    assert round(width * 8) == 4
    published("JW-08", "the same with a sealant of 25 %", 0.5, round(width * 8) / 8, unit="in", status="quoted")
    assert round(width * 25.4) == 13, "13 mm"
