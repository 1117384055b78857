"""An engineers' forum: expansion of 25 ft of brickwork (JW-09).

Bibliography: engineers' forum, arithmetic only (quoted).
"""

from __future__ import annotations

import pytest

from elevgen.core.ranges import Range
from elevgen.joints.movement import Masonry, Side, joint_movement


@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_moisture_and_50_degrees_quoted(inch: float) -> None:
    """300 x 3e-4 + 300 x 50 x 4e-6."""
    warmed, growth, nothing = Range(50, 50), Range(3e-4, 3e-4), Range(0, 0)
    panel = Side(300 * inch, (Masonry("clay", Range(4e-6, 4e-6), warmed, nothing, growth, nothing),))
    found = joint_movement((panel, panel))
    assert found.closing.movement.high / inch == pytest.approx(0.15, abs=0.005)
    assert found.opening.movement.high == 0
