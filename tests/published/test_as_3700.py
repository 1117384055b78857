"""AS 3700: the gap of a movement joint in clay brickwork (AU-07, AU-08).

Bibliography: AS 3700 cl. 4.8 in Bricks & Pavers Technical Manual, section 1.209 (quoted).
"""

from __future__ import annotations

from typing import Any

from elevgen.core.ranges import Range
from elevgen.joints.sealing import Sealing, length_served, movement_allowed, width_for, width_left_open

DOCUMENT = "AS 3700"


def test_4_8_closing_15_and_5_left_is_built_20_to_25_quoted(published: Any) -> None:
    published(
        "AU-07", "closes by 15 mm, 5 mm left, least width", 20, width_left_open(15, 5), unit="mm", status="quoted", clause="4.8"
    )
    built = range(20, 26)
    sealing = Sealing(None, "installed_width", 0.0, left_open=5)
    assert width_for(Range(15, 15), "closing", sealing) == Range(20, 20)
    closing = [movement_allowed(width, "closing", sealing) for width in built]
    assert closing == [15, 16, 17, 18, 19, 20], "every width it names leaves 5 mm of a joint that closes by 15"
    assert movement_allowed(19, "closing", sealing) == 14


def test_growth_of_1_mm_to_the_metre_alone_takes_15_m_derived(published: Any) -> None:
    published(
        "AU-08", "growth 1 mm/m, 15 mm to close, spacing", 15_000, length_served(15, 1.0 / 1000), unit="mm", status="derived"
    )
