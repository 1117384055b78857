"""An architectural detailing textbook: width and shape of sealant joints (JW-06).

Bibliography: architectural detailing textbook, title not recorded (inputs read; the sealant's figure is lost in print, so
both are worked out by us); least and greatest width of a sealant joint (read).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value
from elevgen.joints.movement import thermal_movement
from elevgen.joints.sealing import sealant_width

Said = Callable[[str, str], tuple[Value, str]]


@pytest.mark.parametrize(("capability", "width"), [(25, 1.111), (50, 0.618)])
@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_24_ft_over_180_degrees_derived(capability: float, width: float, inch: float) -> None:
    movement = thermal_movement(3.6e-6, 24 * 12 * inch, 180) + 0.06 * inch
    assert sealant_width(movement, capability, tolerance=0.125 * inch) / inch == pytest.approx(width, abs=0.0005)


def test_the_rule_set_carries_the_printed_widths(said: Said) -> None:
    assert said("architectural detailing textbook", "sealant.width.min") == (6.0, "read")
    assert said("architectural detailing textbook", "sealant.width.max") == (50.0, "read")
