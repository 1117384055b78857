"""NAVEDTRA 14045: blocks by the rule of 3/4 a foot and 1 1/2 courses a foot, and where it leaves corners out.

Bibliography: Builder training manual NAVEDTRA 14045 (read): check-values EST-07, EST-08.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest

DOCUMENT = "NAVEDTRA 14045"

FOOT = 304.8


def test_a_wall_of_100_by_10_feet(published: Any, draw: Callable[..., Mapping[str, Any]], block: Any) -> None:
    """EST-07: 75 x 15 = 1125. Every other course has a half at each end, which are one block."""
    wall = {"start": [0, 0], "end": [100 * FOOT - block.joint, 0], "top": 10 * FOOT}
    face = draw([wall], unit="block", units=block.spec)["W1/outer"]
    assert len(face.courses) == 15
    counts = [block.count([face], k) for k in range(15)]
    assert counts == pytest.approx([75] * 15)
    published("EST-07", "100 x 10 ft, blocks a course", 75, counts[0])
    published("EST-07", "100 x 10 ft, blocks", 1125, sum(counts))
    assert [sum(p.kind == "cut" for p in course) for course in face.courses[:2]] in ([0, 2], [2, 0])


def test_a_room_of_20_by_8_by_8_feet_with_its_corners(published: Any, basement: Any, block: Any) -> None:
    """EST-08 prints 56 ft x 3/4 = 42 a course, 504 in twelve: without deduction for corners. Laid, it takes 2 less a course."""
    printed_a_course, printed = 42, 504
    walls = basement(20, 8, 8)
    counts = [block.count(walls, k) for k in range(12)]
    assert counts == pytest.approx([40] * 12)
    assert printed_a_course - 2 == 40
    assert sum(counts) == pytest.approx(printed - 2 * 12) == pytest.approx(480)
    why = "the manual takes nothing off at the corners, two blocks a course"
    published("EST-08", "20 x 8 x 8 ft, blocks a course", printed_a_course, counts[0], differs=why)
    published("EST-08", "20 x 8 x 8 ft, blocks", printed, sum(counts), differs=why)
