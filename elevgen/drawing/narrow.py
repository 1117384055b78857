"""Figures too wide for the stretch they tell of: in rows beyond the dimension line, apart, with a stalk where one had to move."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import inf
from typing import Literal, NamedTuple

from elevgen.core.geometry import TOLERANCE, Point, Span, merge
from elevgen.drawing.board import CUT_CLEAR, TEXT_SIZE, Board
from elevgen.drawing.scene import Polyline, Role

FIRST_ROW, ROW_PITCH = 3.9, 3.5
"""Base line of the first row beyond the line, from row to row; paper mm."""
MOST_ROWS, MOST_MOVED = 4, 3.5
"""As many rows as it takes for no figure to be moved farther than this (paper mm), but no more."""
MOST_AWAY = 11.0
"""From the middle of a stretch to the middle of its figure, where that stands along the line; paper mm."""
_CLEAR, _STALK = 0.9, 0.9
"""Between two figures of a row; what a stalk to a farther row takes of this one; paper mm."""
_STROKE = 0.9
"""Half of an end stroke, paper mm."""

Axis = Literal["x", "y"]


class Stretch(NamedTuple):
    """A stretch of a string and its figure, in model millimetres."""

    span: Span
    text: str


class Placed(NamedTuple):
    """Where a figure stands along the string: its row, its middle, and where its stalk passes each row before."""

    stretch: Stretch
    row: int
    at: float
    stalk: tuple[float, ...]


def draw_narrow(board: Board, axis: Axis, line_at: float, stretches: Sequence[Stretch], limits: Span, source: str) -> float:
    """Strokes and figures of short stretches, figures within limits along the string. Returns how far beyond it they reach."""

    def point(along: float, across: float) -> Point:
        return (along, line_at - across) if axis == "x" else (line_at + across, along)

    draw_strokes(board, axis, line_at, stretches, source)
    deepest = 0.0
    for placed in place_narrow(board, stretches, limits):
        base = board.mm(FIRST_ROW + placed.row * ROW_PITCH)
        turn = 90.0 if axis == "y" else 0.0
        board.text(Role.DIMENSION, point(placed.at, base), placed.stretch.text, align="centre", rotation=turn, source=source)
        deepest = max(deepest, base)
        moved = abs(placed.at - placed.stretch.span.middle)
        if placed.row or moved > (placed.stretch.span.length + figure_width(board, placed.stretch)) / 2:
            knees = [
                point(x, board.mm(FIRST_ROW + n * ROW_PITCH + up))
                for n, x in enumerate(placed.stalk)
                for up in (-TEXT_SIZE - 0.2, 0.7)
            ]
            tip = point(placed.at, base - board.mm(TEXT_SIZE + 0.2))
            board.add(Polyline(Role.DIMENSION, (point(placed.stretch.span.middle, 0.0), *knees, tip), source=source))
    return deepest


def draw_strokes(board: Board, axis: Axis, line_at: float, stretches: Sequence[Stretch], source: str) -> None:
    """The dimension line of each stretch and the strokes at its ends."""
    half = board.mm(_STROKE)
    for stretch in stretches:
        ends = [(x, line_at) if axis == "x" else (line_at, x) for x in (stretch.span.start, stretch.span.end)]
        board.line(Role.DIMENSION, ends[0], ends[1], source)
        for x, y in ends:
            board.line(Role.DIMENSION, (x - half, y - half), (x + half, y + half), source)


def place_between(
    board: Board, stretches: Sequence[Stretch], strokes: Sequence[Span], figures: Sequence[Span]
) -> tuple[tuple[Stretch, float], ...] | None:
    """The middle of every figure as near to its stretch as it is free along the line, in their order; None where one is too far.

    A figure stands wholly to one side of the middle of its stretch, so that a stalk leads to it, past no other figure.
    """
    found: list[tuple[Stretch, float]] = []
    blocked = merge((*strokes, *figures))
    others = list(figures)
    least = -inf
    for stretch in stretches:
        half, middle = figure_width(board, stretch) / 2 + board.mm(_CLEAR / 2), stretch.span.middle
        ends = [at for gap in blocked for at in (gap.start - half, gap.end + half)]
        free = [
            at
            for at in (middle - half - board.mm(_CLEAR), middle + half + board.mm(_CLEAR), *ends)
            if at - half >= least and abs(at - middle) > half and not any(b.overlaps(Span(at - half, at + half)) for b in blocked)
        ]
        at = min(free, key=lambda at: (abs(at - middle), at), default=None)
        stalk = Span(min(middle, at), max(middle, at)) if at is not None else stretch.span
        if at is None or abs(at - middle) > board.mm(MOST_AWAY) or any(stalk.overlaps(f) for f in others):
            return None
        found.append((stretch, at))
        others.append(Span(at - half, at + half))
        blocked = merge((*blocked, Span(at - half, at + half), stalk))
        least = at + half
    return tuple(found)


def place_narrow(board: Board, stretches: Sequence[Stretch], limits: Span) -> tuple[Placed, ...]:
    """Every figure in a row, with the fewest rows in which none is moved too far; all on their own side of every match line."""
    clear = board.mm(CUT_CLEAR)
    bounds = [(-inf, limits.start), *((cut, cut + clear) for cut in board.cuts), (inf, inf)]
    found: list[Placed] = []
    for (start, first), (end, _) in pairwise(bounds):
        here = [s for s in stretches if start <= s.span.middle < end]
        found += _in_fewest_rows(board, here, Span(first, min(end - clear, limits.end)))
    return tuple(found)


def _in_fewest_rows(board: Board, stretches: Sequence[Stretch], limits: Span) -> tuple[Placed, ...]:
    placed: tuple[Placed, ...] = ()
    for rows in range(1, MOST_ROWS + 1):
        placed = _in_rows(board, stretches, rows, limits)
        inside = all(p.at + figure_width(board, p.stretch) / 2 <= limits.end + TOLERANCE for p in placed)
        if inside and all(abs(p.at - p.stretch.span.middle) <= board.mm(MOST_MOVED) for p in placed):
            break
    return placed


def _in_rows(board: Board, stretches: Sequence[Stretch], rows: int, limits: Span) -> tuple[Placed, ...]:
    """Figures by turns in so many rows; the stalks of those farther off pass between the figures of the rows before."""
    stalks: dict[int, tuple[float, ...]] = dict.fromkeys(range(len(stretches)), ())
    places = [s.span.middle for s in stretches]
    found: dict[int, Placed] = {}
    for row in range(rows):
        here = [n for n in range(len(stretches)) if n not in found]
        widths = [figure_width(board, stretches[n]) if n % rows == row else board.mm(_STALK) for n in here]
        moved = apart([places[n] for n in here], widths, board.mm(_CLEAR), limits)
        for n, at in zip(here, moved, strict=True):
            places[n] = at
            if n % rows == row:
                found[n] = Placed(stretches[n], row, at, stalks[n])
            else:
                stalks[n] = (*stalks[n], at)
    return tuple(found[n] for n in sorted(found))


def figure_width(board: Board, stretch: Stretch) -> float:
    """How wide the figure of a stretch is, model mm."""
    return board.fonts.width(stretch.text, board.mm(TEXT_SIZE))


def apart(places: Sequence[float], widths: Sequence[float], clear: float, limits: Span) -> tuple[float, ...]:
    """Middles of things of these widths moved as little as possible (least squares) so that none is nearer than `clear` to the
    next, all within limits if there is room."""
    if not places:
        return ()
    steps = [0.0]
    for a, b in pairwise(widths):
        steps.append(steps[-1] + (a + b) / 2 + clear)
    last = limits.end - widths[-1] / 2 - steps[-1]
    first = limits.start + widths[0] / 2
    return tuple(max(min(at, last + step), first + step) for at, step in zip(settled(places, steps), steps, strict=True))


def settled(places: Sequence[float], steps: Sequence[float]) -> tuple[float, ...]:
    """Places moved as little as possible (least squares) so that each is as far from the first as its step, or farther from the
    one before.

    Neighbours that would meet are pooled into blocks that share the move.
    """
    blocks: list[tuple[float, int]] = []
    for place, step in zip(places, steps, strict=True):
        total, count = place - step, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            total, count = total + blocks[-1][0], count + blocks[-1][1]
            blocks.pop()
        blocks.append((total, count))
    shifted = [total / count for total, count in blocks for _ in range(count)]
    return tuple(base + step for base, step in zip(shifted, steps, strict=True))
