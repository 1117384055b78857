"""Dimensions along the bottom and up the side: running figures from the setting-out end, openings and piers, panels, overall."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import OpeningGroup
from elevgen.core.geometry import TOLERANCE, Span, merge
from elevgen.core.measures import level, millimetres
from elevgen.drawing.board import TEXT_SIZE, Board, text_box
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.scene import Dimension, Polyline, Role, Symbol, Text

RUNNING_GAP = 3.4
"""Least distance between running figures, paper mm."""
RUNNING_TOP, RUNNING_TEXT, FIRST_LINE, LINE_PITCH = 1.5, 5.5, 22.5, 8.0
"""Below the wall: where the running ticks start, where their figures start, the first dimension line, the next ones; paper mm."""
HEIGHTS_AT = 4.0
"""How far beside the wall the string of heights stands, paper mm."""
NAME_SIZE = 1.8
_NARROW_LIFTS = (-3.3, -6.1)
"""Where a figure too wide for its stretch stands, from the dimension line, paper mm."""


class Figure(NamedTuple):
    """A place on the wall that is set out: how far from the setting-out end, what it is."""

    at: float
    source: str
    joint: bool = False


def setting_out(facts: LeafFacts) -> tuple[Figure, ...]:
    """Every place a bricklayer marks along the wall: ends, reveals, joints; in order, each once."""
    figures = [Figure(j.at, j.id, joint=True) for j in facts.joints]
    figures += [Figure(facts.face.left, facts.leaf.id), Figure(facts.face.right, facts.leaf.id)]
    for group in facts.groups:
        figures += [Figure(group.clear.left, group.id), Figure(group.clear.right, group.id)]
    found: list[Figure] = []
    for figure in sorted(figures, key=lambda f: (f.at, not f.joint)):
        inside = facts.face.left - TOLERANCE <= figure.at <= facts.face.right + TOLERANCE
        if inside and not (found and figure.at - found[-1].at < 0.05 and not figure.joint):
            found.append(figure)
    return tuple(found)


def draw_running(board: Board, facts: LeafFacts) -> None:
    """Running figures from the start of the wall line, turned upright, drawn apart where they would meet."""
    figures = setting_out(facts)
    places = spread([f.at for f in figures], board.mm(RUNNING_GAP))
    bottom = facts.face.bottom
    tick, knee, text = bottom - board.mm(RUNNING_TOP), bottom - board.mm(3.5), bottom - board.mm(RUNNING_TEXT)
    for figure, place in zip(figures, places, strict=True):
        role = Role.MOVEMENT_JOINT if figure.joint else Role.DIMENSION
        line = ((figure.at, tick), (figure.at, knee), (place, text + board.mm(0.6)))
        board.add(Polyline(Role.DIMENSION, line, source=figure.source))
        at = (place + board.mm(TEXT_SIZE / 2), text)
        board.text(role, at, millimetres(figure.at), align="right", rotation=90.0, bold=figure.joint, source=figure.source)
    start = (0.0, bottom - board.mm(RUNNING_TOP))
    if facts.face.left - TOLERANCE <= 0.0 <= facts.face.right:
        board.add(Symbol(Role.DIMENSION, "arrow", start, 2.0, 180.0, facts.wall.id, "setting-out end"))


def draw_strings(board: Board, facts: LeafFacts) -> float:
    """Openings and piers by storey, joint panels, overall; from the wall outwards. Returns the level of the last line."""
    face = facts.face
    at = face.bottom - board.mm(FIRST_LINE)
    strings: list[tuple[str, tuple[float, ...], str]] = [(name, places, facts.leaf.id) for name, places in opening_strings(facts)]
    if facts.joints:
        strings.append(("panels", (face.left, *(j.at for j in facts.joints), face.right), facts.leaf.id))
    strings.append(("overall", (face.left, face.right), facts.leaf.id))
    for name, places, source in strings:
        board.text(Role.DIMENSION, (face.left - board.mm(1.2), at), name, NAME_SIZE, "right", "middle", source=source)
        draw_string(board, places, at, source)
        at -= board.mm(LINE_PITCH)
    return at + board.mm(LINE_PITCH)


def opening_strings(facts: LeafFacts) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """A string for each band of openings one above the other: its name by sill level, and the places along the wall."""
    found: dict[tuple[float, ...], str] = {}
    for band in bands(facts.groups):
        reveals = merge(g.clear.along for g in band)
        inner = [x for span in reveals for x in (span.start, span.end) if facts.face.left < x < facts.face.right]
        places = tuple(dict.fromkeys((facts.face.left, *inner, facts.face.right)))
        found.setdefault(places, f"at {level(min(g.clear.bottom for g in band))}")
    return tuple((name, places) for places, name in found.items())


def bands(groups: Sequence[OpeningGroup]) -> tuple[tuple[OpeningGroup, ...], ...]:
    """Opening groups that share levels, together; lowest band first."""
    found: list[list[OpeningGroup]] = []
    top = float("-inf")
    for group in sorted(groups, key=lambda g: (g.clear.bottom, g.clear.left)):
        if found and group.clear.bottom < top - TOLERANCE:
            found[-1].append(group)
        else:
            found.append([group])
        top = max(top, group.clear.top)
    return tuple(tuple(band) for band in found)


def draw_string(board: Board, places: Sequence[float], line_at: float, source: str) -> None:
    """Dimensions end to end on one line. A figure wider than its stretch stands below the line, where it is free."""
    for a, b in pairwise(places):
        text = millimetres(b - a)
        if board.fonts.width(text, board.mm(TEXT_SIZE)) + board.mm(1.0) <= b - a:
            above = line_at + board.mm(2.6)
            board.dimension(Dimension(Role.DIMENSION, (a, above), (b, above), "x", line_at, text, TEXT_SIZE, source))
        else:
            draw_narrow(board, Span(a, b), line_at, text, source)


def draw_narrow(board: Board, span: Span, line_at: float, text: str, source: str) -> None:
    """A stretch too short for its figure: the same line and end strokes, the figure below it."""
    half = board.mm(0.9)
    board.line(Role.DIMENSION, (span.start, line_at), (span.end, line_at), source)
    for x in (span.start, span.end):
        board.line(Role.DIMENSION, (x - half, line_at - half), (x + half, line_at + half), source)
    for lift in _NARROW_LIFTS:
        figure = Text(Role.DIMENSION, (span.middle, line_at + board.mm(lift)), text, TEXT_SIZE, "centre", source=source)
        if board.room.free(text_box(figure, board.fonts, board.scale)):
            board.text(figure.role, figure.at, text, align="centre", source=source)
            return


def heights(facts: LeafFacts) -> tuple[float, ...]:
    """The levels of the string of heights: base, sills, heads, top; each once."""
    face = facts.face
    levels = {face.bottom, face.top}
    levels |= {y for g in facts.groups for y in (g.clear.bottom, g.clear.top) if face.bottom < y < face.top}
    found: list[float] = []
    for y in sorted(levels):
        if not found or y - found[-1] > 1.0:
            found.append(y)
    return tuple(found)


def draw_heights(board: Board, facts: LeafFacts) -> None:
    """Heights beside the right-hand end. Stretches too short for a figure keep their strokes: the gauge rod gives the level."""
    x = facts.face.right + board.mm(HEIGHTS_AT)
    levels = heights(facts)
    for a, b in pairwise(levels):
        text = millimetres(b - a)
        if board.fonts.width(text, board.mm(TEXT_SIZE)) + board.mm(1.0) <= b - a:
            beside = x - board.mm(2.6)
            dim = Dimension(Role.DIMENSION, (beside, a), (beside, b), "y", x, text, TEXT_SIZE, facts.leaf.id)
            board.dimension(dim)
        else:
            board.line(Role.DIMENSION, (x, a), (x, b), facts.leaf.id)


def below(facts: LeafFacts) -> float:
    """How far the dimensions reach below the wall, paper mm."""
    strings = len(opening_strings(facts)) + bool(facts.joints) + 1
    return FIRST_LINE + (strings - 1) * LINE_PITCH


def spread(places: Sequence[float], gap: float) -> tuple[float, ...]:
    """Places moved as little as possible (least squares) so that each stands at least `gap` after the one before.

    Neighbours that would meet are pooled into blocks that share the move.
    """
    blocks: list[tuple[float, int]] = []
    for k, place in enumerate(places):
        total, count = place - k * gap, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            total, count = total + blocks[-1][0], count + blocks[-1][1]
            blocks.pop()
        blocks.append((total, count))
    shifted = [total / count for total, count in blocks for _ in range(count)]
    return tuple(base + k * gap for k, base in enumerate(shifted))
