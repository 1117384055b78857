"""Technical Information Sheet 9, Brickwork Dimensions: its table read off drawn walls, not reckoned by a formula.

Bibliography: Technical Information Sheet 9, Brickwork Dimensions (read): CO, CO+ and CO- of n bricks of 215 mm with 10 mm joints,
check-values TIS9-01 to -04. TIS9-05 and the heights GAUG-02 are derived; tests of them say so.
What the columns are for: an opening is CO+, a pier or a panel between openings CO-, a panel between an opening or an outer corner
and a return that faces it CO (meaning quoted from an architects' page, and read in the sheet).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest

DOCUMENT = "Technical Information Sheet 9, Brickwork Dimensions"

BRICK, JOINT = 215.0, 10.0
PRINTED = [
    # bricks, CO, CO+ (opening), CO- (pier), check id; read
    (0.5, 112.5, 122.5, 102.5, "TIS9-01"),
    (1, 225, 235, 215, "TIS9-01"),
    (1.5, 337.5, 347.5, 327.5, "TIS9-01"),
    (2, 450, 460, 440, "TIS9-01"),
    (2.5, 562.5, 572.5, 552.5, "TIS9-01"),
    (3, 675, 685, 665, "TIS9-01"),
    (3.5, 787.5, 797.5, 777.5, "TIS9-02"),
    (4, 900, 910, 890, "TIS9-02"),
    (4.5, 1012.5, 1022.5, 1002.5, "TIS9-02"),
    (5, 1125, 1135, 1115, "TIS9-02"),
    (5.5, 1237.5, 1247.5, 1227.5, "TIS9-02"),
    (6, 1350, 1360, 1340, "TIS9-02"),
    (34, 7650, 7660, 7640, "TIS9-03"),
    (35, 7875, 7885, 7865, "TIS9-03"),
    (36.5, 8212.5, 8222.5, 8202.5, "TIS9-04"),
    (38, 8550, 8560, 8540, "TIS9-03"),
    (39, 8775, 8785, 8765, "TIS9-03"),
    (67.5, 15187.5, 15197.5, 15177.5, "TIS9-03"),
    (72, 16200, 16210, 16190, "TIS9-04"),
]
DERIVED = [
    # the same columns; derived
    (7, 1575, 1585, 1565, "TIS9-05"),
    (8, 1800, 1810, 1790, "TIS9-05"),
    (9, 2025, 2035, 2015, "TIS9-05"),
    (10, 2250, 2260, 2240, "TIS9-05"),
    (12, 2700, 2710, 2690, "TIS9-05"),
    (15, 3375, 3385, 3365, "TIS9-05"),
    (20, 4500, 4510, 4490, "TIS9-05"),
    (25, 5625, 5635, 5615, "TIS9-05"),
    (30, 6750, 6760, 6740, "TIS9-05"),
    (45, 10125, 10135, 10115, "TIS9-05"),
    (50, 11250, 11260, 11240, "TIS9-05"),
]
ROWS = [pytest.param(*row, id=f"{row[-1]}-{row[0]}") for row in PRINTED]
DERIVED_ROWS = [pytest.param(*row, id=f"{row[-1]}-{row[0]}-derived") for row in DERIVED]
HEIGHTS_PRINTED_ELSEWHERE = {1: (85, 75, 65), 2: (160, 150, 140), 4: (310, 300, 290), 10: (760, 750, 740), 28: (2110, 2100, 2090)}
HEIGHTS_PRINTED_ELSEWHERE |= {50: (3760, 3750, 3740)}

Draw = Callable[..., Mapping[str, Any]]


@pytest.fixture(scope="module")
def long_wall(draw: Draw) -> Any:
    """75 bricks, four courses: no row's length is given to it."""
    return draw([{"start": [0, 0], "end": [16865, 0], "top": 300}])["W1/outer"]


@pytest.mark.parametrize(("bricks", "co", "co_plus", "co_minus", "check"), [*ROWS, *DERIVED_ROWS])
def test_n_bricks_are_as_long_as_the_sheet_says(
    published: Any, long_wall: Any, reading: Any, bricks: float, co: float, co_plus: float, co_minus: float, check: str
) -> None:
    """Between the outlines of the first n bricks of a long wall: without, with one and with both of the joints beside them."""
    ours = reading.read(long_wall.courses[:2], bricks, BRICK)
    status = "derived" if check == "TIS9-05" else "read"
    for name, printed, got in zip(("CO-", "CO", "CO+"), (co_minus, co, co_plus), ours, strict=True):
        published(check, f"{bricks} bricks, {name}", printed, got, unit="mm", within=0.001, status=status)


@pytest.mark.parametrize(("bricks", "co", "co_plus", "co_minus", "check"), [*ROWS, *DERIVED_ROWS])
def test_a_pier_of_co_minus_is_n_bricks(
    draw: Draw, reading: Any, bricks: float, co: float, co_plus: float, co_minus: float, check: str
) -> None:
    """Every course of a panel CO- long is n bricks, halves as halves, at nominal perpends."""
    face = draw([{"start": [0, 0], "end": [co_minus, 0], "top": 300}])["W1/outer"]
    assert len(face.courses) == 4
    for course in face.courses:
        assert reading.in_units(course, BRICK, JOINT) == pytest.approx(bricks, abs=1e-4)
        assert {round(p.length, 3) for p in course} <= {215, 102.5}
        assert {round(gap, 3) for gap in reading.gaps(course)} <= {10}


@pytest.mark.parametrize(("bricks", "co", "co_plus", "co_minus", "check"), ROWS)
def test_an_opening_of_co_plus_is_n_bricks_left_out(
    published: Any, draw: Draw, reading: Any, bricks: float, co: float, co_plus: float, co_minus: float, check: str
) -> None:
    """Piers of 4 and 6 1/2 bricks: the opening between their drawn ends is CO+, and n bricks fill it in the course below."""
    left, right = 890.0, 1452.5
    window = {"id": "V1", "kind": "window", "at": left, "width": co_plus, "sill": 150, "height": 310}
    face = draw([{"start": [0, 0], "end": [left + co_plus + right, 0], "top": 600, "openings": [window]}])["W1/outer"]
    ours = max(reading.gaps(face.courses[2]))
    published(check, f"opening in place of {bricks} bricks", co_plus, ours, unit="mm", within=0.001)
    assert reading.in_units(face.courses[2], BRICK, JOINT) == pytest.approx(10.5, abs=1e-4)
    assert reading.in_units(face.courses[1], BRICK, JOINT) == pytest.approx(10.5 + bricks, abs=1e-4)
    for course in (face.courses[0], face.courses[1], face.courses[6]):
        assert {round(gap, 3) for gap in reading.gaps(course)} == {10}


@pytest.mark.parametrize(("bricks", "co", "co_plus", "co_minus", "check"), [row for row in ROWS if row.values[0] < 40])
def test_a_panel_from_a_reveal_to_a_return_is_co(
    draw: Draw, reading: Any, bricks: float, co: float, co_plus: float, co_minus: float, check: str
) -> None:
    """The wall turns towards the reader at its end. From the reveal to the face of the return: n bricks and n joints."""
    wall, turn = {"start": [0, 0], "end": [9500, 0], "top": 600}, {"start": [9500, 0], "end": [9500, -3000], "top": 600}
    shown = max(p.right for p in draw([wall, turn])["W1/outer"].pieces)
    window = {"id": "V1", "kind": "window", "at": shown - co - 460, "width": 460, "sill": 75, "height": 235}
    face = draw([wall | {"openings": [window]}, turn])["W1/outer"]
    for course in face.courses[1:4]:
        panel = [p for p in course if p.left > shown - co - 1]
        assert panel[0].left == pytest.approx(shown - co)
        ends = panel[-1].right
        assert ends == pytest.approx(shown) or shown - ends == pytest.approx(JOINT)
        joints = [*reading.gaps(panel), shown - ends] if shown - ends > 1 else reading.gaps(panel)
        assert {round(gap, 3) for gap in joints} <= {10}
        shortened = 0 if shown - ends > 1 else JOINT  # a brick toothed into the return shows a joint more than its half
        assert reading.in_units(panel, BRICK, JOINT) - shortened / (BRICK + JOINT) == pytest.approx(bricks, abs=1e-4)


@pytest.fixture(scope="module")
def high_wall(draw: Draw) -> Any:
    return draw([{"start": [0, 0], "end": [1115, 0], "top": 3825}])["W1/outer"]


@pytest.mark.parametrize("courses", range(1, 51))
def test_one_to_fifty_courses_derived(published: Any, high_wall: Any, courses: int) -> None:
    """GAUG-02 and the rows between: an opening of k courses from bed to unit (CO+), k courses, and a pier's units only (CO-)."""
    rows = high_wall.courses
    under, over = rows[0], rows[courses]
    assert over[0].bottom - under[0].bottom == pytest.approx(75 * courses)
    top = rows[courses - 1][0].top
    read = (over[0].bottom, top, top - under[0].bottom)
    assert read == pytest.approx((75 * courses + 10, 75 * courses, 75 * courses - 10))
    if courses in HEIGHTS_PRINTED_ELSEWHERE:
        for name, printed, ours in zip(("CO+", "CO", "CO-"), HEIGHTS_PRINTED_ELSEWHERE[courses], read, strict=True):
            published("GAUG-02", f"{courses} courses, {name}", printed, ours, unit="mm", status="derived")
