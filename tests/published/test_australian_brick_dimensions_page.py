"""Australian brick dimensions: lengths 240n - 10 and 240n + 10, heights 86k, read off drawn walls.

Bibliography: a trade web page on brick dimensions (quoted): check-values AU-01, AU-02, AU-03, for bricks of 230 x 110 x 76 mm
with joints of 10 mm. AU-05 is where it and CMAA CM01 (read) differ: seven courses are 602 or 600 mm. AU-06: a trade web page
(quoted). Blocks of 390 x 190 x 190 on a module of 400 x 200: arithmetic (derived).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest

DOCUMENT = "Trade web page on brick dimensions (Australia)"

Draw = Callable[..., Mapping[str, Any]]
BRICK, JOINT = 230.0, 10.0
UNITS = {
    "brick": {"material": "clay", "length": 230, "height": 76, "width": 110, "joint": 10},
    "block": {"material": "dense_concrete", "length": 390, "height": 190, "width": 190, "joint": 10},
}
AU_01 = {1.5: 350, 2: 470, 3.5: 830, 5: 1190, 8.5: 2030, 10: 2390, 12.5: 2990, 16: 3830, 20: 4790, 23.5: 5630, 25: 5990}
AU_02 = {2: 490, 3: 730, 5: 1210, 7: 1690, 10: 2410, 15: 3610, 20: 4810, 25: 6010}
AU_03 = {1: 86, 7: 602, 10: 860, 14: 1204, 20: 1720, 25: 2150, 28: 2408, 30: 2580, 35: 3010}


@pytest.fixture(scope="module")
def wall(draw: Draw) -> Any:
    """Thirty bricks long, forty courses high."""
    return draw([{"start": [0, 0], "end": [7190, 0], "top": 3440}], unit="brick", units=UNITS)["W1/outer"]


@pytest.mark.parametrize(("bricks", "printed"), AU_01.items(), ids=lambda x: f"AU-01-{x}")
def test_walls(published: Any, wall: Any, draw: Draw, reading: Any, bricks: float, printed: float) -> None:
    """Read off a longer wall; and a wall so long is that many bricks at nominal perpends, halves as halves."""
    ours = reading.read(wall.courses[:2], bricks, BRICK).co_minus
    published("AU-01", f"wall of {bricks} bricks of 230", printed, ours, unit="mm", status="quoted")
    alone = draw([{"start": [0, 0], "end": [printed, 0], "top": 172}], unit="brick", units=UNITS)["W1/outer"]
    for course in alone.courses:
        assert reading.in_units(course, BRICK, JOINT) == pytest.approx(bricks, abs=1e-4)
        assert {round(gap, 3) for gap in reading.gaps(course)} <= {10}


@pytest.mark.parametrize(("bricks", "printed"), AU_02.items(), ids=lambda x: f"AU-02-{x}")
def test_openings(published: Any, wall: Any, draw: Draw, reading: Any, bricks: float, printed: float) -> None:
    """Between piers of 3 and 4 1/2 bricks, the bricks left out counted against the course below."""
    ours = reading.read(wall.courses[:2], bricks, BRICK).co_plus
    published("AU-02", f"opening of {bricks} bricks of 230", printed, ours, unit="mm", status="quoted")
    window = {"id": "V1", "kind": "window", "at": 710, "width": printed, "sill": 172, "height": 354}
    pierced = {"start": [0, 0], "end": [710 + printed + 1070, 0], "top": 688, "openings": [window]}
    face = draw([pierced], unit="brick", units=UNITS)["W1/outer"]
    assert max(reading.gaps(face.courses[3])) == pytest.approx(printed)
    assert reading.in_units(face.courses[3], BRICK, JOINT) == pytest.approx(7.5, abs=1e-4)
    assert reading.in_units(face.courses[1], BRICK, JOINT) == pytest.approx(7.5 + bricks, abs=1e-4)


@pytest.mark.parametrize(("courses", "printed"), AU_03.items(), ids=lambda x: f"AU-03-{x}")
def test_heights(published: Any, wall: Any, courses: int, printed: float) -> None:
    published(
        "AU-03", f"{courses} courses of brick 76 high", printed, wall.courses[courses - 1][0].top, unit="mm", status="quoted"
    )


@pytest.mark.parametrize(("top", "bed"), [(602, 10), (600, 600 / 7 - 76)])
def test_seven_courses_where_the_documents_differ(published: Any, draw: Draw, top: float, bed: float) -> None:
    """AU-05, a conflict: 602 at the gauge of 86 (quoted), 600 at 85.7 (read). Both are built, each with its own bed."""
    face = draw([{"start": [0, 0], "end": [1190, 0], "top": top}], unit="brick", units=UNITS)["W1/outer"]
    assert len(face.courses) == 7
    which = {602: ("quoted", DOCUMENT), 600: ("read", "CMAA manual CM01")}[top]
    published("AU-05", f"seven courses, beds of {bed:.4g} mm", top, face.height, unit="mm", status=which[0], document=which[1])
    assert [c[0].bottom - (face.courses[k - 1][0].top if k else 0) for k, c in enumerate(face.courses)] == pytest.approx(
        [bed] * 7
    )


@pytest.mark.parametrize("blocks", [0.5, 1, 2.5, 6, 11.5, 20])
def test_blocks_on_a_module_of_400_by_200_derived(draw: Draw, reading: Any, blocks: float) -> None:
    face = draw([{"start": [0, 0], "end": [9990, 0], "top": 2400}], unit="block", units=UNITS)["W1/outer"]
    lengths = reading.read(face.courses[:2], blocks, 390)
    assert tuple(lengths) == pytest.approx((400 * blocks - 10, 400 * blocks, 400 * blocks + 10))
    assert [course[0].top for course in face.courses] == pytest.approx([200 * k for k in range(1, 13)])


def test_800_blocks_are_64_square_metres(published: Any, draw: Draw, reading: Any) -> None:
    """AU-06: forty blocks long and twenty high."""
    face = draw([{"start": [0, 0], "end": [15990, 0], "top": 4000}], unit="block", units=UNITS)["W1/outer"]
    assert reading.in_units(face.pieces, 390, 10) == pytest.approx(800)
    area = (max(p.right for p in face.pieces) + 10) * face.height / 1e6
    published(
        "AU-06",
        "800 blocks of 390 x 190",
        64,
        area,
        unit="m2",
        status="quoted",
        document="Trade web page on block counts (Australia)",
    )
