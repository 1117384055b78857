"""A question-and-answer page: the blocks of a box of 20 x 16 x 8 ft, counted off its drawn walls.

Bibliography: a question-and-answer page on the web (quoted): check-values EST-11.
"""

from __future__ import annotations

from typing import Any

import pytest

DOCUMENT = "Question-and-answer page on block counts"


@pytest.mark.parametrize("short", [0.375, 0.0])
def test_52_whole_blocks_in_every_course_and_624(published: Any, basement: Any, block: Any, short: float) -> None:
    """15 + 15 + 11 + 11 in one course, 14 + 14 + 12 + 12 in the next. With 20 and 16 ft to the hair, perpends open a little."""
    walls = basement(20, 16, 8, short=short)
    pieces = [block.pieces(walls, k) for k in range(12)]
    assert [len(course) for course in pieces] == [52] * 12
    published("EST-11", "box of 20 x 16 ft, blocks a course", 52, len(pieces[0]), status="quoted")
    published("EST-11", "box of 20 x 16 x 8 ft, blocks", 624, sum(map(len, pieces)), status="quoted")
    assert {round(p.length / 25.4, 3) for course in pieces for p in course} == {15.625}
    by_wall = [[sum(p.kind != "return" for p in face.courses[k]) for face in walls] for k in (0, 1)]
    assert sorted(map(sorted, by_wall)) == [[11, 11, 15, 15], [12, 12, 14, 14]]
