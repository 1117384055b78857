"""Flags that name the movement joints, on stalks in rows over the wall."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board, inset
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
    full = [
        f"{n}   {facts.figures.length(j.width.built)} wide   at {facts.figures.length(j.at)}"
        for n, j in zip(short, facts.joints, strict=True)
    ]
    low = _bottom(board, facts, MOST_ROWS)
    tried = [(words, _boxes(board, facts, words, order)) for words in (full, short) for order in (1, -1)]
    tidy = (t for t in tried if t[1].clear and all(box.bottom < low for box in t[1].boxes))
    words, found = next(tidy, None) or next((t for t in tried if t[1].clear), tried[-1])
    return tuple(zip(facts.joints, words, found.boxes, strict=True))


class _Flags(NamedTuple):
    """The flags in the order of the joints, and whether all stand clear of one another and of all stalks."""

    boxes: tuple[Rect, ...]
    clear: bool


def _boxes(board: Board, facts: LeafFacts, words: list[str], order: int) -> _Flags:
    """For each joint the lowest place where its flag, on or beside its stalk, meets no other flag and no stalk.

    Flags are placed from the left (`order` 1) or from the right: the stalks of those placed end at their flags, those still to
    come may go up to any row.
    """
    placed: list[tuple[float, Rect]] = []
    clear = board.mm(_CLEAR)
    tidy = True
    queue = list(zip(facts.joints, words, strict=True))[::order]
    for n, (joint, text) in enumerate(queue):
        to_come = [j.at for j, _ in queue[n + 1 :]]

        def free(box: Rect, at: float = joint.at, to_come: list[float] = to_come) -> bool:
            off = min((clear, *(0.4 * abs(j.at - at) for j in facts.joints if j.at != at)))
            stalk = Rect(at - off, facts.face.top, at + off, box.bottom)
            over = [x for x, flag in placed if flag.bottom > box.bottom]
            off_stalks = all(x < box.left - off or x > box.right + off for x in (*to_come, *over))
            apart = inset(box, -off)
            met = any(apart.overlaps(flag) or stalk.overlaps(flag) for _, flag in placed)
            return off_stalks and not met and not board.is_cut(box.along)

        tried = list(_tries(board, facts, joint.at, text, rows=n + 1))
        box = next(filter(free, tried), None)
        tidy = tidy and box is not None
        placed.append((joint.at, box or tried[-1]))
    return _Flags(tuple(box for _, box in placed[::order]), tidy)


def _tries(board: Board, facts: LeafFacts, at: float, text: str, rows: int) -> Iterator[Rect]:
    """Where a flag may stand, the lowest row first, over the middle of its stalk before beside it; at last as far past
    the end of the wall as it takes, or above all others."""
    wide = board.fonts.width(text, board.mm(FLAG_SIZE), bold=True) + 2 * board.mm(_PAD)
    tall, past = board.mm(FLAG_SIZE + 2 * _PAD), board.mm(_PAST)
    for row in range(rows):
        bottom = _bottom(board, facts, row)
        for share in (0.5, 0.3, 0.7, 0.1, 0.9, 0.0, 1.0):
            box = Rect(at - wide * share, bottom, at + wide * (1 - share), bottom + tall)
            if facts.face.left - past <= box.left and box.right <= facts.face.right + past:
                yield box
    for row in range(rows + 1):
        bottom = _bottom(board, facts, row)
        for share in (0.0, 1.0, 0.5):
            yield Rect(at - wide * share, bottom, at + wide * (1 - share), bottom + tall)


def _bottom(board: Board, facts: LeafFacts, row: int) -> float:
    """Over everything that reaches over the wall: its top course, a lintel as deep as it is."""
    tops = [facts.face.top, *(c.top for c in facts.coursing.courses[-1:])]
    tops += [x.underside + x.depth for x in facts.lintels if x.depth is not None]
    return max(tops) + board.mm(FLAG_LIFT + row * FLAG_ROW)
