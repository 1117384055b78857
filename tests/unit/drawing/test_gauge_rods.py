"""Every course is told with its height at both ends, on the rods where the scale has room, else in a table."""

from itertools import combinations

import pytest
from reading import built

from elevgen.core.geometry import Rect, Span
from elevgen.core.measures import level, millimetres
from elevgen.coursing.model import Course
from elevgen.drawing.board import Board, text_box
from elevgen.drawing.elevation import elevation
from elevgen.drawing.facts import LeafFacts, leaf_facts
from elevgen.drawing.font import DESCENT, Fonts
from elevgen.drawing.gauge import SIZE, _between_figures, columns_needed, course_table
from elevgen.drawing.scene import Role, Text, View
from elevgen.drawing.schedules import schedules
from elevgen.result import Design

FONTS = Fonts()


def rod_texts(view: View) -> list[Text]:
    return [p for p in view.primitives if isinstance(p, Text) and p.role is Role.LEVEL]


def wanted(facts: LeafFacts) -> tuple[set[tuple[str, str]], set[tuple[str, str]]]:
    """Of every course (height from the bottom, number) and (level, number)."""
    base = facts.face.bottom
    courses = facts.coursing.courses
    left = {(millimetres(c.top - base, 0), f"{c.number}") for c in courses}
    return left, {(level(c.top), f"{c.number}") for c in courses}


@pytest.mark.parametrize("leaf", ["W1/outer", "W5/inner", "P1/outer"])
def test_at_one_to_fifty_every_course_is_written_at_both_ends(studio: Design, leaf: str) -> None:
    facts = next(f for f in leaf_facts(studio) if f.leaf.id == leaf)
    view = elevation(facts, FONTS, 50, ())
    said = {tuple(t.text.split()) for t in rod_texts(view)}
    left, right = wanted(facts)
    assert left <= said and right <= said
    assert not course_table(facts, view).rows


def test_figures_stand_level_with_their_courses_and_clear_of_one_another(duplex: Design) -> None:
    facts = next(f for f in leaf_facts(duplex) if f.leaf.id == "W1/outer")
    assert len(facts.coursing.courses) > 80 and columns_needed(facts, 50) == 2
    view = elevation(facts, FONTS, 50, ())
    top = {f"{c.number}": c.top for c in facts.coursing.courses}
    texts = [t for t in rod_texts(view) if len(t.text.split()) == 2]
    assert len(texts) == 2 * len(top)
    assert all(t.at[1] == top[t.text.split()[1]] for t in texts)
    boxes = [text_box(t, FONTS, 50) for t in texts]
    assert not any(_meet(a, b) for a, b in combinations(boxes, 2))
    assert all(b.right < facts.face.left or b.left > facts.face.right for b in boxes)


def _meet(a: Rect, b: Rect) -> bool:
    return min(a.right, b.right) > max(a.left, b.left) and min(a.top, b.top) > max(a.bottom, b.bottom)


def test_where_the_rods_have_no_room_a_table_tells_every_course() -> None:
    (facts,) = leaf_facts(built([{"id": "W1", "start": [0, 0], "end": [31040, 0], "top": 2625}]))
    view = elevation(facts, FONTS, 100, ())
    assert columns_needed(facts, 100) > 3
    assert len(rod_texts(view)) < 2 * len(facts.coursing.courses)
    table = next(t for t in schedules(facts, view) if t.title.startswith("Courses"))
    told = [row.cells[n : n + 3] for row in table.rows for n in range(0, len(row.cells), 3) if row.cells[n]]
    left, right = wanted(facts)
    assert {(height, number) for number, height, _ in told} == left
    assert {(at, number) for number, _, at in told} == right
    assert len(told) == len(facts.coursing.courses)


def test_on_paper_too_narrow_for_two_columns_some_are_left_out_and_listed(studio: Design) -> None:
    facts = next(f for f in leaf_facts(studio) if f.leaf.id == "W1/outer")
    whole = elevation(facts, FONTS, 50, ())
    narrow = Rect(0.0, 0.0, whole.extents.width / 50 - 1, 500.0)
    view = elevation(facts, FONTS, 50, (), rooms=(narrow,))
    assert view.extents.width <= narrow.width * 50
    assert len(course_table(facts, view).rows) > 0


def test_a_line_to_a_far_figure_passes_those_before_it() -> None:
    """Courses of 75 mm at 1:50, two columns of figures, and one cut to 35 mm over them: its line may not run through the last."""
    board = Board(FONTS, 50)
    tops = [75.0 * n for n in range(1, 9)] + [635.0]
    courses = tuple(Course(n, "brick", top - 65.0, 10.0, 65.0, Span(0.0, 900.0)) for n, top in enumerate(tops, 1))
    low, high = SIZE * (0.5 + DESCENT) * 50, SIZE / 2 * 50
    for wanted in (150.0, 300.0, 621.2):
        level = _between_figures(board, wanted, courses[1::2])
        assert all(level <= c.top - low or level >= c.top + high for c in courses[1::2])
        assert abs(level - wanted) < low + high
    assert _between_figures(board, 211.0, courses[1::2]) == 211.0, "where it is free it stays"
