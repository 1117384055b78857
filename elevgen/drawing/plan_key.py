"""The key under the plan's title: what its tints and marks stand for; only what is on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import cos, radians, sin
from typing import NamedTuple

from elevgen.core.geometry import Point, Rect
from elevgen.drawing.board import Board
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.scene import Role, Symbol
from elevgen.drawing.tints import run_tint
from elevgen.result import Design

SIZE, LINE = 2.0, 4.2
"""Text, and from line to line; paper mm."""
SWATCH, AFTER, APART = 6.0, 1.2, 5.0
"""How wide a swatch is, and the gaps after it and after its words; paper mm."""


class _Item(NamedTuple):
    words: str
    draw: Callable[[Board, Rect], None]


def draw_key(board: Board, design: Design, leaves: tuple[LeafFacts, ...], box: Rect) -> float:
    """The key in lines no wider than the box, from its top down. Returns the level of the next base line."""
    x, y = box.left, box.top
    for item in _items(board, design, leaves):
        wide = board.mm(SWATCH + AFTER) + board.fonts.width(item.words, board.mm(SIZE))
        if x > box.left and x + wide > box.right:
            x, y = box.left, y - board.mm(LINE)
        item.draw(board, Rect(x, y - board.mm(0.3), x + board.mm(SWATCH), y + board.mm(SIZE + 0.3)))
        board.text(Role.TEXT, (x + board.mm(SWATCH + AFTER), y), item.words, SIZE, source="key")
        x += wide + board.mm(APART)
    return y - board.mm(LINE - 0.2)


def _items(board: Board, design: Design, leaves: tuple[LeafFacts, ...]) -> Iterator[_Item]:
    figures = design.figures
    for number, run in enumerate(design.runs):
        ring = ", a ring" if run.closed else ""
        yield _Item(f"{run.id} {figures.run(run.length)}{ring}", _swatch(number, run.id))
    if design.plan.joints:
        yield _Item("movement joint, and how far along its run", _joint)
    yield _Item("corner, and how far along its run", _corner)
    yield _Item("setting-out end", _arrow)
    if any(facts.wall.openings for facts in leaves):
        yield _Item("opening", _opening)
    kinds = {feature.kind for facts in leaves for feature in facts.wall.features}
    if "downpipe" in kinds:
        yield _Item("downpipe", _round)
    if square := " or ".join(kind for kind in ("pier", "column") if kind in kinds):
        yield _Item(f"{square}, size not given", _square)
    if "recess" in kinds:
        yield _Item("recess, size not given", _square)


def _swatch(number: int, run: str) -> Callable[[Board, Rect], None]:
    def draw(board: Board, box: Rect) -> None:
        board.fill(run_tint(number), box, run)
        board.rectangle(Role.MARK, box, run, f"run {run}")

    return draw


def _joint(board: Board, box: Rect) -> None:
    x, half = (box.left + box.right) / 2, board.mm(0.5)
    board.rectangle(Role.MOVEMENT_JOINT, Rect(x - half, box.bottom, x + half, box.top), "key")


def _corner(board: Board, box: Rect) -> None:
    x, y, half = (box.left + box.right) / 2, (box.bottom + box.top) / 2, board.mm(0.7)
    board.polyline(Role.DIMENSION, ((x - half, y), (x, y - half), (x + half, y), (x, y + half)), True, "key")


def _arrow(board: Board, box: Rect) -> None:
    at = (box.right - board.mm(1.5), (box.bottom + box.top) / 2)
    board.add(Symbol(Role.DIMENSION, "arrow", at, 2.5, 90.0, "key", "setting-out end"))


def _opening(board: Board, box: Rect) -> None:
    board.fill("opening", box, "key")
    board.rectangle(Role.OPENING, box, "key")


def _round(board: Board, box: Rect) -> None:
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    board.polyline(Role.MARK, circle((x, y), board.mm(1.1)), True, "key")


def _square(board: Board, box: Rect) -> None:
    x, y, half = (box.left + box.right) / 2, (box.bottom + box.top) / 2, board.mm(1.1)
    board.rectangle(Role.MARK, Rect(x - half, y - half, x + half, y + half), "key")


def circle(centre: Point, radius: float) -> tuple[Point, ...]:
    """A round as a polygon of twelve sides: no primitive of ours is one."""
    return tuple((centre[0] + radius * cos(radians(t)), centre[1] + radius * sin(radians(t))) for t in range(0, 360, 30))
