"""An architectural detailing textbook: width and shape of sealant joints (JW-06).

Bibliography: architectural detailing textbook, title not recorded (inputs read; the sealant's figure is lost in print, so
both are worked out by us); least and greatest width of a sealant joint (read).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.joints.movement import thermal_movement
from elevgen.joints.sealing import sealant_width

DOCUMENT = "Architectural detailing textbook"

Carried = Callable[..., None]


@pytest.mark.parametrize(("capability", "width"), [(25, 1.111), (50, 0.618)])
@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_24_ft_over_180_degrees_derived(published: Any, capability: float, width: float, inch: float) -> None:
    movement = thermal_movement(3.6e-6, 24 * 12 * inch, 180) + 0.06 * inch
    ours = sealant_width(movement, capability, tolerance=0.125 * inch) / inch
    given = f"24 ft of brick, 180 degF, 0.06 in of growth, sealant of {capability:g} %, width"
    published("JW-06", given, width, ours, unit="in", within=0.0005, status="derived")


def test_the_rule_set_carries_the_printed_widths(carried: Carried) -> None:
    carried("architectural detailing textbook", "sealant.width.min", 6.0, "read")
    carried("architectural detailing textbook", "sealant.width.max", 50.0, "read")
