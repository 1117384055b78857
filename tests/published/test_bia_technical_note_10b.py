"""BIA Technical Notes 10B, vertical coursing of modular brick: heights of courses read off drawn walls.

Bibliography: Brick Industry Association, Technical Notes on Brick Construction 10B, June 1993 (read; cells without a fraction
only, exact): check-values TN10B-01 to -04. How the table spells fractions, to the nearest 1/16 in, is from memory: TN10B-05.
Units are as high as their module less a 3/8 in joint, exactly (derived). A brick of 2 1/4 in takes beds of 5/12 in to keep
3C=8in: a wall of such bricks is there too.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

import pytest

DOCUMENT = "BIA Technical Notes 10B"

INCH = 25.4
Draw = Callable[..., Mapping[str, Any]]
MODULES = {
    # module: (height of the unit, of 100 courses)
    "3C=8in": ("2 7/24 in", "22' 2 2/3\""),
    "5C=16in": ("2 33/40 in", "26' 8\""),
    "1C=4in": ("3 5/8 in", "33' 4\""),
    "2C=4in": ("1 5/8 in", "16' 8\""),
    "3C=16in": ("4 23/24 in", "44' 5 1/3\""),
}
READ = {
    # check id, module: courses to (feet, inches); read
    ("TN10B-01", "3C=8in"): {
        3: (0, 8), 6: (1, 4), 9: (2, 0), 12: (2, 8), 15: (3, 4), 18: (4, 0), 21: (4, 8), 24: (5, 4), 27: (6, 0), 30: (6, 8),
        33: (7, 4), 36: (8, 0), 39: (8, 8), 42: (9, 4), 45: (10, 0), 48: (10, 8),
    },
    ("TN10B-02", "5C=16in"): {
        5: (1, 4), 10: (2, 8), 15: (4, 0), 20: (5, 4), 25: (6, 8), 30: (8, 0), 35: (9, 4), 40: (10, 8), 45: (12, 0), 50: (13, 4),
        100: (26, 8),
    },
    ("TN10B-03", "1C=4in"): {1: (0, 4), 8: (2, 8), 13: (4, 4), 25: (8, 4), 37: (12, 4), 50: (16, 8), 100: (33, 4)},
    ("TN10B-04", "2C=4in"): {1: (0, 2), 7: (1, 2), 24: (4, 0), 31: (5, 2), 50: (8, 4), 100: (16, 8)},
}  # fmt: skip
FROM_MEMORY = [
    # TN10B-05: module, courses, as printed to the nearest 1/16 in
    ("3C=8in", 1, Fraction(43, 16)),
    ("3C=16in", 1, Fraction(85, 16)),
    ("5C=16in", 1, Fraction(51, 16)),
    ("5C=16in", 2, Fraction(102, 16)),
    ("5C=16in", 3, Fraction(154, 16)),
]


@pytest.fixture(scope="module")
def tops(draw: Draw) -> Callable[[str], list[float]]:
    """`tops(module)`: the tops of the courses of a wall 100 courses high, inches; each wall drawn once."""
    known: dict[str, list[float]] = {}

    def of(module: str) -> list[float]:
        if module not in known:
            height, top = MODULES[module]
            unit = {"material": "clay", "length": "7 5/8 in", "height": height, "width": "3 5/8 in", "joint": "3/8 in"}
            wall = {"start": [0, 0], "end": ["3' 11 5/8\"", 0], "top": top}
            face = draw([wall], unit="modular", units={"modular": unit})["W1/outer"]
            assert len({round(p.top - p.bottom, 3) for p in face.pieces}) == 1
            known[module] = [course[0].top / INCH for course in face.courses]
        return known[module]

    return of


@pytest.mark.parametrize(
    ("module", "courses", "feet", "inches"),
    [
        pytest.param(module, courses, *height, id=f"{check}-{courses}")
        for (check, module), rows in READ.items()
        for courses, height in rows.items()
    ],
)
def test_courses_to_heights(published: Any, tops: Any, module: str, courses: int, feet: int, inches: int) -> None:
    check = next(check for check, name in READ if name == module)
    ours = tops(module)[courses - 1]
    published(check, f"{module}, {courses} courses, height", 12 * feet + inches, ours, unit="in", within=1e-6)


@pytest.mark.parametrize("courses", [3, 6, 9, 12, 15, 18, 21, 24])
def test_bricks_of_two_and_a_quarter_inches_keep_three_courses_to_eight(published: Any, draw: Draw, courses: int) -> None:
    """TN10B-01: the wall is given its height in feet and inches, the gauge finds 5/12 in beds by itself."""
    feet, inches = READ["TN10B-01", "3C=8in"][courses]
    unit = {"material": "clay", "length": "7 5/8 in", "height": "2 1/4 in", "width": "3 5/8 in", "joint": "3/8 in"}
    wall = {"start": [0, 0], "end": ["3' 11 5/8\"", 0], "top": f"{feet}' {inches}\""}
    face = draw([wall], unit="modular", units={"modular": unit})["W1/outer"]
    assert len(face.courses) == courses
    given = f"{courses} courses of bricks 2 1/4 in high, gauge found"
    published("TN10B-01", given, 12 * feet + inches, face.height / INCH, unit="in")
    beds = [under[0].bottom - (face.courses[k - 1][0].top if k else 0) for k, under in enumerate(face.courses)]
    assert [bed / INCH for bed in beds] == pytest.approx([5 / 12] * courses)


def test_a_hundred_courses_of_three_to_eight_inches(tops: Any) -> None:
    """TN10B-01: 22 ft 2 in and a fraction (2 2/3, derived)."""
    assert len(tops("3C=8in")) == 100
    assert divmod(tops("3C=8in")[-1], 12) == (22, pytest.approx(2 + 2 / 3))


@pytest.mark.parametrize(("module", "courses", "printed"), FROM_MEMORY)
def test_fractions_to_the_nearest_sixteenth_from_memory(
    published: Any, tops: Any, module: str, courses: int, printed: Fraction
) -> None:
    ours = Fraction(round(tops(module)[courses - 1] * 16), 16)
    published("TN10B-05", f"{module}, {courses} courses, to 1/16", float(printed), float(ours), unit="in", status="memory")
