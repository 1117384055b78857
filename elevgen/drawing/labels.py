"""Placing labels: each has spots it likes, best first; none may overlap another text or a line that matters.

The most important labels choose first. A label with no free spot is set beside with a leader; where there is no room
even for that it is left out, the least important last in the queue: the tables on the sheet name everything anyhow.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, radians, sin
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Point, Rect
from elevgen.drawing.board import TEXT_SIZE, Board, Room, inset, text_box
from elevgen.drawing.scene import Align, Line, Role, Text, VAlign

_REACHES = (4.0, 6.5, 9.0, 12.0, 16.0)
"""How far off a label with a leader may stand, paper mm."""
_TURNS = (45, 135, 315, 225, 0, 180, 90, 270)
_MARGIN = 0.4
"""Clear space round a label, paper mm."""


class Spot(NamedTuple):
    """A place for a label: the point its text is aligned to."""

    at: Point
    align: Align = "centre"
    valign: VAlign = "middle"
    rotation: float = 0.0


class Label(NamedTuple):
    """A text and where it would like to stand. Priority 0 chooses first. `target` is what a leader would point at."""

    text: str
    role: Role
    spots: tuple[Spot, ...]
    target: Point
    priority: int
    height: float = TEXT_SIZE
    bold: bool = False
    source: str = ""
    leader: bool = True


def place_labels(
    board: Board, labels: Iterable[Label], within: Rect, soft: Room, barriers: Sequence[Rect] = ()
) -> tuple[Label, ...]:
    """Set the labels on the board, inside `within`. Returns those there was no room for.

    `soft` holds what is better left uncovered (ties), but may be covered; `barriers` what a leader is better not drawn
    across (movement joints): a label on the other side of one would seem to belong there.
    """
    queue = sorted(labels, key=lambda x: (x.priority, x.target[1], x.target[0], x.source, x.text))
    return tuple(label for label in queue if not _place(board, label, within, soft, tuple(barriers)))


def _place(board: Board, label: Label, within: Rect, soft: Room, barriers: tuple[Rect, ...]) -> bool:
    for rooms in ((board.room, soft), (board.room,)):
        for spot in label.spots:
            if _fits(board, _text(label, spot), within, rooms):
                _set(board, _text(label, spot))
                return True
    if not label.leader:
        return False
    texts = tuple(text_box(p, board.fonts, board.scale) for p in board.primitives if isinstance(p, Text))
    tried = dict.fromkeys(((barriers, texts), (barriers, ()), ((), ())))
    return any(_place_with_leader(board, label, within, soft, *off) for off in tried)


def _place_with_leader(
    board: Board, label: Label, within: Rect, soft: Room, barriers: tuple[Rect, ...], texts: tuple[Rect, ...]
) -> bool:
    """Beside its target, the leader across no barrier and through no text."""
    x, y = label.target
    for rooms in ((board.room, soft), (board.room,)):
        for reach in _REACHES:
            for turn in _TURNS:
                along = cos(radians(turn))
                at = (x + board.mm(reach) * along, y + board.mm(reach) * sin(radians(turn)))
                align: Align = "left" if along > 0.1 else "right" if along < -0.1 else "centre"
                text = _text(label, Spot(at, align))
                crossed = any(_crosses(label.target, at, b) for b in barriers) or any(
                    _strikes(label.target, at, t) for t in texts
                )
                if not crossed and _fits(board, text, within, rooms):
                    board.add(Line(Role.MARK, label.target, at, label.source))
                    _set(board, text)
                    return True
    return False


def _crosses(a: Point, b: Point, barrier: Rect) -> bool:
    """True when an upright barrier stands anywhere between the two ends of a line, at the line's levels."""
    beside = max(a[0], b[0]) < barrier.left or min(a[0], b[0]) > barrier.right
    return not (beside or max(a[1], b[1]) < barrier.bottom or min(a[1], b[1]) > barrier.top)


def _strikes(a: Point, b: Point, box: Rect) -> bool:
    """True when the straight line from a to b passes through a box."""
    enters, leaves = 0.0, 1.0
    for start, step, low, high in ((a[0], b[0] - a[0], box.left, box.right), (a[1], b[1] - a[1], box.bottom, box.top)):
        if abs(step) <= TOLERANCE:
            if not low < start < high:
                return False
            continue
        first, last = sorted(((low - start) / step, (high - start) / step))
        enters, leaves = max(enters, first), min(leaves, last)
    return enters < leaves


def _text(label: Label, spot: Spot) -> Text:
    return Text(label.role, spot.at, label.text, label.height, spot.align, spot.valign, spot.rotation, label.bold, label.source)


def _fits(board: Board, text: Text, within: Rect, rooms: tuple[Room, ...]) -> bool:
    box = _padded(board, text)
    if box.left < within.left or box.right > within.right or box.bottom < within.bottom or box.top > within.top:
        return False
    return all(room.free(box) for room in rooms)


def _set(board: Board, text: Text) -> None:
    """The text on a pale ground, so that the joints behind it do not run through the letters."""
    box = _padded(board, text)
    board.fill("panel", box, text.source)
    board.add(text)
    board.room.take(box)


def label_box(board: Board, label: Label, spot: Spot) -> Rect:
    """What a label takes at a spot."""
    return _padded(board, _text(label, spot))


def _padded(board: Board, text: Text) -> Rect:
    return inset(text_box(text, board.fonts, board.scale), -board.mm(_MARGIN))
