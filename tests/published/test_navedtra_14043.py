"""NAVEDTRA 14043: the blocks of a basement, counted off its drawn walls course by course.

Bibliography: Builder training manual NAVEDTRA 14043 (read): check-values EST-10. The corner rule, feet round the outside x 0.75
less 2 (EST-12), is arithmetic (derived); it is compared with what is laid, not reckoned instead of it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import Any

import pytest

DOCUMENT = "NAVEDTRA 14043"


@pytest.fixture(scope="module")
def walls(basement: Callable[..., Any]) -> Any:
    """22 x 32 ft outside, ten courses of 8 in; a joint less, as modular sizes are built."""
    return basement(22, 32, 80 / 12)


def test_79_blocks_in_every_course_and_790_in_ten(published: Any, walls: Any, block: Any) -> None:
    """EST-10 (read). Cut blocks count by their length."""
    courses = [block.count(walls, k) for k in range(10)]
    assert courses == pytest.approx([79] * 10)
    published("EST-10", "basement of 22 x 32 ft, blocks a course", 79, courses[0])
    published("EST-10", "the same, ten courses", 790, sum(courses))
    assert {len(face.courses) for face in walls} == {10}


def test_as_pieces_a_course_is_78_whole_and_two_halves_or_76_and_four_three_quarters(walls: Any, block: Any) -> None:
    """22 ft is 16 1/2 blocks, so the bond turns over once in each short wall. Two halves in both courses would leave a
    straight joint beside them; so every other course has two three-quarter blocks there, and takes 80 blocks to cut from.
    """
    odd, even = (Counter(round(p.length / 25.4, 3) for p in block.pieces(walls, k)) for k in (0, 1))
    assert odd == {15.625: 78, 7.625: 2}
    assert even == {15.625: 76, 11.625: 4}
    assert odd[15.625] + odd[7.625] / 2 == 79
    assert even[15.625] + even[11.625] == 80


@pytest.mark.parametrize(("along", "across", "known"), [(22, 32, 79), (20, 16, 52), (28, 48, 112), (24, 36, 88)])
def test_the_corner_rule_agrees_derived(
    published: Any, basement: Any, block: Any, along: float, across: float, known: float
) -> None:
    """EST-12: each corner is turned by half a block of either wall; 2 a course are counted twice by the length outside."""
    walls = basement(along, across, 4)
    assert 2 * (along + across) * 0.75 - 2 == known
    for k in range(6):
        assert block.count(walls, k) == pytest.approx(known)
    published("EST-12", f"{along} x {across} ft, blocks a course", known, block.count(walls, 0), status="derived")
