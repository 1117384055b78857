"""Gauge rods: every course ticked at both ends, numbered and with its height; what has no room there goes into a table.

Where courses are nearer to one another on paper than their figures are high, figures stand in two or three columns by turns.
"""

from __future__ import annotations

from typing import Literal

from elevgen.core.geometry import TOLERANCE, Point, Span
from elevgen.coursing.model import Course
from elevgen.drawing.board import Board
from elevgen.drawing.dims import heights
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import DESCENT
from elevgen.drawing.scene import Polyline, Role, Text, View
from elevgen.drawing.tables import Column, Row, Table

LEFT_AT, RIGHT_AT = 0.6, 0.6
"""How far beside the wall each rod stands, paper mm; the string of heights stands beyond the one on the right."""
TICK, GAP, SIZE = 0.8, 0.3, 1.9
MOST_COLUMNS = 3
BETWEEN = 1.0
"""From one column of figures to the next, paper mm."""
TO_A_ROW = 3
"""Courses in one row of the table."""
_LOWER = SIZE * DESCENT / 2
"""A line between two figures is in the middle of what is clear when it is so much lower than half-way, paper mm."""
_PASS = 0.1
"""Between a figure and a line that passes it, paper mm."""
_STEPS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 20, 30, 40)
_Side = Literal["left", "right"]


def draw_gauge(board: Board, facts: LeafFacts, most_columns: int = MOST_COLUMNS) -> None:
    """Left: height above the bottom of the leaf. Right: level from datum. Sills, heads and tops in bold."""
    if not facts.coursing.courses:
        return
    marked = heights(facts)
    key = {c.number for c in facts.coursing.courses if any(abs(c.top - y) <= max(1.0, c.bed) for y in marked)}
    columns = columns_needed(facts, board.scale)
    shown: tuple[tuple[Course, ...], ...]
    if columns > most_columns:
        shown = (_thinned(facts.coursing.courses, key, _pitch(board.scale)),)
    else:
        shown = _columns(facts.coursing.courses, _pitch(board.scale))
    for side in ("left", "right"):
        _rod(board, facts, side, shown, key)


def columns_needed(facts: LeafFacts, scale: float) -> int:
    """How many columns it takes to write every course; the courses of a column stand clear of one another."""
    return max(1, len(_columns(facts.coursing.courses, _pitch(scale))))


def _columns(courses: tuple[Course, ...], pitch: float) -> tuple[tuple[Course, ...], ...]:
    """Courses from the bottom up, each in the first column where it is clear of the one before."""
    columns: list[list[Course]] = []
    for course in courses:
        free = (column for column in columns if course.top - column[-1].top >= pitch - TOLERANCE)
        column = next(free, None)
        if column is None:
            columns.append([course])
        else:
            column.append(course)
    return tuple(map(tuple, columns))


def _pitch(scale: float) -> float:
    """The least height from one figure to the next."""
    return (SIZE * (1 + DESCENT) + 0.3) * scale


def course_table(facts: LeafFacts, view: View | None = None) -> Table:
    """Every course with its height from the bottom and its level; nothing where a view's rods say all of that."""
    courses = facts.coursing.courses
    said = {p.text for p in view.primitives if isinstance(p, Text) and p.role is Role.LEVEL} if view else set()
    if all(_words(facts, c, "right", 0) in said for c in courses):
        return Table("Courses", (Column("course", 1),), ())
    columns = (Column("no.", 8, "right"), Column("height", 11, "right"), Column("level", 12, "right"))
    rows = []
    to_a_row = TO_A_ROW - facts.figures.in_feet
    depth = -(-len(courses) // to_a_row)
    for n in range(depth):
        cells: list[str] = []
        for course in courses[n::depth]:
            cells += [
                f"{course.number}",
                facts.figures.length(course.top - facts.face.bottom, 0),
                facts.figures.level(course.top),
            ]
        rows.append(Row((*cells, *[""] * (len(columns) * to_a_row - len(cells))), facts.leaf.id))
    return Table("Courses, height and level of their tops", columns * to_a_row, tuple(rows))


def _thinned(courses: tuple[Course, ...], key: set[int], pitch: float) -> tuple[Course, ...]:
    """The courses whose figures are written: the key ones first, then every so many, none nearer than `pitch` to another."""
    lowest = min(c.bed + c.height for c in courses)
    step = next((s for s in _STEPS if s * lowest >= pitch - TOLERANCE), _STEPS[-1])
    chosen: list[Course] = []
    for course in sorted(courses, key=lambda c: (c.number not in key, c.number)):
        regular = course.number % step == 0 or course.number == 1
        if (course.number in key or regular) and all(abs(course.top - c.top) >= pitch for c in chosen):
            chosen.append(course)
    return tuple(sorted(chosen, key=lambda c: c.number))


def _words(facts: LeafFacts, course: Course, side: _Side, digits: int) -> str:
    """`2700 18` at the left, `+2.475 18` at the right; the numbers of one column are given the same number of digits."""
    if side == "right":
        return f"{facts.figures.level(course.top)} {course.number}"
    # Two spaces are as wide as a digit: the heights stand under one another.
    number = f"{course.number}"
    return f"{facts.figures.length(course.top - facts.face.bottom, 0)} {'  ' * max(0, digits - len(number))}{number}"


def _rod(board: Board, facts: LeafFacts, side: _Side, columns: tuple[tuple[Course, ...], ...], key: set[int]) -> None:
    """The rod and its columns of figures; a fine line leads from the rod to those that stand further off."""
    way = -1 if side == "left" else 1
    x = facts.face.left - board.mm(LEFT_AT) if side == "left" else facts.face.right + board.mm(RIGHT_AT)
    source = facts.leaf.id
    board.polyline(Role.LEVEL, _comb(facts, x, way * board.mm(TICK)), source=source, title="gauge rod")
    align: Literal["left", "right"] = "left" if side == "right" else "right"
    begin = x + way * board.mm(TICK)
    at = begin + way * board.mm(GAP)
    for n, courses in enumerate(columns):
        digits = max((len(f"{c.number}") for c in courses), default=1)
        widest = 0.0
        for course in courses:
            words, bold = _words(facts, course, side, digits), course.number in key
            box = board.text(Role.LEVEL, (at, course.top), words, SIZE, align, "middle", bold=bold, source=source)
            widest = max(widest, box.width)
            if n == 1 and len(columns) == 2:
                lower = _between_figures(board, course.top - board.mm(_LOWER), columns[0])
                line = ((begin, course.top), (begin + way * board.mm(GAP), lower), (at - way * board.mm(GAP), lower))
                board.add(Polyline(Role.LEVEL, line, source=source))
        at += way * (widest + board.mm(BETWEEN))


def _between_figures(board: Board, y: float, courses: tuple[Course, ...]) -> float:
    """The level nearest to `y` at which a line passes the figures of a column: between two courses, over one cut low."""
    under, over = board.mm(SIZE * (0.5 + DESCENT) + _PASS), board.mm(SIZE / 2 + _PASS)
    taken = [Span(course.top - under, course.top + over) for course in courses]
    levels = [y, *(end for span in taken for end in (span.start, span.end))]
    free = [level for level in levels if not any(span.start < level < span.end for span in taken)]
    return min(free, key=lambda level: abs(level - y), default=y)


def _comb(facts: LeafFacts, x: float, tick: float) -> tuple[Point, ...]:
    """The rod as one line: up from the bottom of the leaf, out and back at the top of every course."""
    points: list[Point] = [(x + tick, facts.face.bottom), (x, facts.face.bottom)]
    for course in facts.coursing.courses:
        points += [(x, course.top), (x + tick, course.top), (x, course.top)]
    return tuple(points)
