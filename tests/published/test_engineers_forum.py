"""An engineers' forum: expansion of 25 ft of brickwork (JW-09).

Bibliography: engineers' forum, arithmetic only (quoted).
"""

from __future__ import annotations

from typing import Any

import pytest

from elevgen.core.ranges import Range
from elevgen.joints.movement import Masonry, Side, joint_movement

DOCUMENT = "Engineers' forum"


@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_moisture_and_50_degrees_quoted(published: Any, inch: float) -> None:
    """300 x 3e-4 + 300 x 50 x 4e-6."""
    warmed, growth, nothing = Range(50, 50), Range(3e-4, 3e-4), Range(0, 0)
    panel = Side(300 * inch, (Masonry("clay", Range(4e-6, 4e-6), warmed, nothing, growth, nothing),))
    found = joint_movement((panel, panel))
    ours = found.closing.movement.high / inch
    published("JW-09", "25 ft, growth 3e-4, 50 degF at 4e-6", 0.15, ours, unit="in", within=0.005, status="quoted")
    assert found.opening.movement.high == 0
