"""Gauge rods: every course ticked at both ends, numbered and with its height, as many as the scale has room for."""

from __future__ import annotations

from typing import Literal

from elevgen.core.geometry import TOLERANCE, Point
from elevgen.coursing.model import Course
from elevgen.drawing.board import Board
from elevgen.drawing.dims import heights
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import DESCENT
from elevgen.drawing.scene import Role

LEFT_AT, RIGHT_AT = 0.6, 0.6
"""How far beside the wall each rod stands, paper mm; the string of heights stands beyond the one on the right."""
TICK, GAP, SIZE = 0.8, 0.3, 1.9
_STEPS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 20, 30, 40)


def draw_gauge(board: Board, facts: LeafFacts) -> None:
    """Left: height above the bottom of the leaf. Right: level from datum. Sills, heads and tops in bold."""
    courses = facts.coursing.courses
    if not courses:
        return
    marked = heights(facts)
    key = {c.number for c in courses if any(abs(c.top - y) <= max(1.0, c.bed) for y in marked)}
    shown = _shown(courses, key, board.mm(SIZE * (1 + DESCENT) + 0.3))
    base = facts.face.bottom
    _rod(board, facts, "left", [(c, facts.figures.length(c.top - base, 0), c.number in key) for c in shown])
    _rod(board, facts, "right", [(c, facts.figures.level(c.top), c.number in key) for c in shown])


def _shown(courses: tuple[Course, ...], key: set[int], pitch: float) -> tuple[Course, ...]:
    """The courses whose figures are written: the key ones first, then every so many, none nearer than `pitch` to another."""
    lowest = min(c.bed + c.height for c in courses)
    step = next((s for s in _STEPS if s * lowest >= pitch - TOLERANCE), _STEPS[-1])
    chosen: list[Course] = []
    for course in sorted(courses, key=lambda c: (c.number not in key, c.number)):
        regular = course.number % step == 0 or course.number == 1
        if (course.number in key or regular) and all(abs(course.top - c.top) >= pitch for c in chosen):
            chosen.append(course)
    return tuple(sorted(chosen, key=lambda c: c.number))


def _rod(board: Board, facts: LeafFacts, side: Literal["left", "right"], figures: list[tuple[Course, str, bool]]) -> None:
    way = -1 if side == "left" else 1
    x = facts.face.left - board.mm(LEFT_AT) if side == "left" else facts.face.right + board.mm(RIGHT_AT)
    source = facts.leaf.id
    comb = _comb(facts, x, way * board.mm(TICK))
    board.polyline(Role.LEVEL, comb, source=source, title="gauge rod")
    most = max((len(f"{c.number}") for c, _, _ in figures), default=1)
    at = x + way * board.mm(TICK + GAP)
    for course, text, bold in figures:
        number = f"{course.number}"
        # Two spaces are as wide as a digit: the heights stand under one another.
        words = f"{text} {'  ' * (most - len(number))}{number}" if side == "left" else f"{text} {number}"
        align: Literal["left", "right"] = "left" if side == "right" else "right"
        board.text(Role.LEVEL, (at, course.top), words, SIZE, align, "middle", bold=bold, source=source)


def _comb(facts: LeafFacts, x: float, tick: float) -> tuple[Point, ...]:
    """The rod as one line: up from the bottom of the leaf, out and back at the top of every course."""
    points: list[Point] = [(x + tick, facts.face.bottom), (x, facts.face.bottom)]
    for course in facts.coursing.courses:
        points += [(x, course.top), (x + tick, course.top), (x, course.top)]
    return tuple(points)
