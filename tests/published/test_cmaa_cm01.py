"""CMAA CM01: bricks and blocks in a piece of wall of 600 x 600 mm, counted off its drawing.

Bibliography: Concrete Masonry Association of Australia, manual CM01 (read): check-values AU-04.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest

DOCUMENT = "CMAA manual CM01"


@pytest.mark.parametrize(
    ("length", "height", "width", "courses", "a_course", "count"),
    [
        pytest.param(230, 76, 110, 7, 2.5, 17.5, id="AU-04-brick"),
        pytest.param(390, 190, 190, 3, 1.5, 4.5, id="AU-04-block"),
    ],
)
def test_units_in_600_by_600(
    published: Any,
    draw: Callable[..., Mapping[str, Any]],
    reading: Any,
    length: float,
    height: float,
    width: float,
    courses: int,
    a_course: float,
    count: float,
) -> None:
    """600 long with a joint at one end, 600 high with its beds."""
    unit = {"material": "dense_concrete", "length": length, "height": height, "width": width, "joint": 10}
    face = draw([{"start": [0, 0], "end": [590, 0], "top": 600}], unit="unit", units={"unit": unit})["W1/outer"]
    assert [reading.in_units(course, length, 10) for course in face.courses] == pytest.approx([a_course] * courses)
    published("AU-04", f"units of {length} x {height} in 600 x 600", count, reading.in_units(face.pieces, length, 10))
    assert face.height == pytest.approx(600)
