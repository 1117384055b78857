"""Flags that name the movement joints, on stalks in rows over the wall."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board
from elevgen.drawing.facts import LeafFacts
from elevgen.joints.model import MovementJoint

FLAG_LIFT, FLAG_SIZE, FLAG_ROW = 3.5, 3.0, 6.5
"""A joint's flag: how far above the wall, its text, from one row of flags to the next; paper mm."""
MOST_ROWS = 3
"""Rows of flags that say width and place; where more would be needed, flags bear the name alone."""
_PAD, _PAST, _CLEAR = 1.2, 12.0, 1.5
"""Round a flag's text; how far a flag may stand past the end of the wall, over the gauge rod; from stalks; paper mm."""


def joint_flags(board: Board, facts: LeafFacts) -> tuple[tuple[MovementJoint, str, Rect], ...]:
    """A flag for every joint: name, width and place; the name alone where many joints would make a tower of flags."""
    short = [facts.short(j.id) for j in facts.joints]
    words = [
        f"{n}   {facts.figures.length(j.width.built)} wide   at {facts.figures.length(j.at)}"
        for n, j in zip(short, facts.joints, strict=True)
    ]
    boxes = _boxes(board, facts, words)
    if any(box.bottom >= _bottom(board, facts, MOST_ROWS) for box in boxes):
        words, boxes = short, _boxes(board, facts, short)
    return tuple(zip(facts.joints, words, boxes, strict=True))


def _boxes(board: Board, facts: LeafFacts, words: list[str]) -> list[Rect]:
    """For each joint the lowest place where its flag, on or beside its stalk, meets no other flag and no stalk.

    Flags are placed from the left: the stalks of those placed end at their flags, those still to come may go up to any row.
    """
    placed: list[tuple[float, Rect]] = []
    clear = board.mm(_CLEAR)
    for n, (joint, text) in enumerate(zip(facts.joints, words, strict=True)):
        to_come = [j.at for j in facts.joints[n + 1 :]]

        def free(box: Rect, at: float = joint.at, to_come: list[float] = to_come) -> bool:
            stalk = Rect(at - clear, facts.face.top, at + clear, box.bottom)
            over = [x for x, flag in placed if flag.bottom > box.bottom]
            off_stalks = all(x < box.left - clear or x > box.right + clear for x in (*to_come, *over))
            return off_stalks and not any(_meet(box, flag) or _meet(stalk, flag) for _, flag in placed)

        tried = list(_tries(board, facts, joint.at, text, rows=n + 1))
        placed.append((joint.at, next(filter(free, tried), tried[-1])))
    return [box for _, box in placed]


def _tries(board: Board, facts: LeafFacts, at: float, text: str, rows: int) -> Iterator[Rect]:
    """Where a flag may stand, the lowest row first, over the middle of its stalk before beside it; at last above all others."""
    wide = board.fonts.width(text, board.mm(FLAG_SIZE), bold=True) + 2 * board.mm(_PAD)
    tall, past = board.mm(FLAG_SIZE + 2 * _PAD), board.mm(_PAST)
    for row in range(rows):
        bottom = _bottom(board, facts, row)
        for share in (0.5, 0.3, 0.7, 0.1, 0.9, 0.0, 1.0):
            box = Rect(at - wide * share, bottom, at + wide * (1 - share), bottom + tall)
            if facts.face.left - past <= box.left and box.right <= facts.face.right + past:
                yield box
    yield Rect(at - wide / 2, _bottom(board, facts, rows), at + wide / 2, _bottom(board, facts, rows) + tall)


def _bottom(board: Board, facts: LeafFacts, row: int) -> float:
    return facts.face.top + board.mm(FLAG_LIFT + row * FLAG_ROW)


def _meet(a: Rect, b: Rect) -> bool:
    return a.along.overlaps(b.along) and a.levels.overlaps(b.levels)
