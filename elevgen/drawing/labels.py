"""Placing labels: each has spots it likes, best first; none may overlap another text or a line that matters.

The most important labels choose first. A label with no free spot is set where there is room nearby, with a leader that
crosses no text. What has no room even so is given back: the caller numbers it (`left_out`) and lists it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Point, Rect
from elevgen.drawing.board import TEXT_SIZE, Board, Room, inset, text_box, written
from elevgen.drawing.font import DESCENT
from elevgen.drawing.free_space import FreeSpace
from elevgen.drawing.scene import Align, Line, Role, Text, VAlign

_MARGIN = 0.4
"""Clear space round a label, paper mm."""
_EDGE = 0.6
"""How far past the edge of where labels may stand a leader may begin, paper mm."""
_FAR = 8.0
"""Farther off than this (paper mm) a label is set rather over what is better left uncovered, where that halves the way."""
_SHORTEST = 1.2
"""A leader shorter than this points at nothing, paper mm."""


class Spot(NamedTuple):
    """A place for a label: the point its text is aligned to."""

    at: Point
    align: Align = "centre"
    valign: VAlign = "middle"
    rotation: float = 0.0


class Label(NamedTuple):
    """A text and where it would like to stand. Priority 0 chooses first.

    `target` is what a leader would point at, `targets` what it may point at as well. `short` is what may be said in its place
    where there is no room for the whole, a table telling the rest.
    """

    text: str
    role: Role
    spots: tuple[Spot, ...]
    target: Point
    priority: int
    height: float = TEXT_SIZE
    bold: bool = False
    source: str = ""
    leader: bool = True
    targets: tuple[Point, ...] = ()
    short: str = ""


def place_labels(
    board: Board, labels: Iterable[Label], within: Rect, soft: Room, barriers: Sequence[Rect] = (), walls: Sequence[Rect] = ()
) -> tuple[Label, ...]:
    """Set the labels on the board, inside `within`. Returns those there was no room for.

    `soft` holds what is better left uncovered (ties), but may be covered; `barriers` what a leader is better not drawn
    across (movement joints): a label on the other side of one would seem to belong there; `walls` what it never is (match
    lines).
    """
    return Placing(board, within, soft, tuple(barriers), tuple(walls)).place_all(labels)


class Placing:
    """One board while its labels are placed: `place_labels` says what it is given.

    Texts and free space are looked up once and kept up to date.
    """

    def __init__(self, board: Board, within: Rect, soft: Room, barriers: tuple[Rect, ...], walls: tuple[Rect, ...]) -> None:
        self.board, self.within = board, within
        self.rooms = ((board.room, soft), (board.room,))
        self.barriers, self.walls = barriers, walls
        self._spaces: list[FreeSpace] = []
        self._texts: list[Rect] = []
        self._read = 0

    def place_all(self, labels: Iterable[Label]) -> tuple[Label, ...]:
        """The most important first. Returns those there was no room for."""
        queue = sorted(labels, key=lambda x: (x.priority, x.target[1], x.target[0], x.source, x.text))
        return tuple(label for label in queue if not self.place(label))

    def place(self, label: Label) -> bool:
        """Set a label at the first of its spots that is free, else nearby with a leader. False where there is no room."""
        for rooms in self.rooms:
            for spot in label.spots:
                if _fits(self.board, _text(label, spot), self.within, rooms):
                    _set(self.board, _text(label, spot))
                    return True
        if label.leader and self._with_leader(label, (*self.barriers, *self.walls)):
            return True
        if label.short:
            return self.place(label._replace(text=label.short, short=""))
        return label.leader and bool(self.barriers) and self._with_leader(label, self.walls)

    def _with_leader(self, label: Label, barriers: tuple[Rect, ...]) -> bool:
        """Where there is room nearby, the leader through no text and across no barrier."""
        board = self.board
        tall, pad = board.mm(label.height), board.mm(_MARGIN)
        wide = board.fonts.width(label.text, tall, label.bold) + 2 * pad
        high = tall * (1 + DESCENT) + 2 * pad
        targets = [t for t in dict.fromkeys((label.target, *label.targets)) if self._may_lead_to(t)]
        best: tuple[float, int, Rect] | None = None
        for space in self._free_spaces():
            if best and best[0] <= board.mm(_FAR):
                break
            leading = (
                (away, n, box)
                for away, n, box in sorted(space.near(targets, wide, high))
                if away > 0 and self._leads(targets[n], _attached(targets[n], box), barriers)
            )
            nearest = next(leading, None)
            if nearest and (best is None or nearest[0] < best[0] / 2):
                best = nearest
        if best is None:
            return False
        _, n, box = best
        target, end = targets[n], _attached(targets[n], box)
        board.add(Line(Role.MARK, target, end, label.source))
        board.keep_off(target, end)
        _set(board, _text(label, Spot((box.left + pad, box.bottom + pad + tall * DESCENT), "left", "base")))
        return True

    def _leads(self, target: Point, end: Point, barriers: tuple[Rect, ...]) -> bool:
        """True for a leader that is long enough to be seen, across no barrier and through no text."""
        if max(abs(end[0] - target[0]), abs(end[1] - target[1])) < self.board.mm(_SHORTEST):
            return False
        return not any(_crosses(target, end, b) for b in barriers) and not any(strikes(target, end, t) for t in self._boxes())

    def _may_lead_to(self, target: Point) -> bool:
        """True for a place on the drawing that no text covers."""
        (x, y), edge = target, self.board.mm(_EDGE)
        near = self.within.left - edge <= x <= self.within.right + edge
        return near and not any(box.left <= x <= box.right and box.bottom <= y <= box.top for box in self._boxes())

    def _free_spaces(self) -> list[FreeSpace]:
        if not self._spaces:
            self._spaces = [FreeSpace(self.board, self.within, rooms) for rooms in self.rooms]
        return self._spaces

    def _boxes(self) -> list[Rect]:
        """The boxes of all texts on the board so far."""
        primitives = self.board.primitives
        new = written(primitives[self._read :], self.board.scale)
        self._texts += [text_box(text, self.board.fonts, self.board.scale) for text in new]
        self._read = len(primitives)
        return self._texts


def _attached(target: Point, box: Rect) -> Point:
    """Where a leader from the target meets a box: the middle of the end it comes from; from above or below, straight."""
    x, y = target
    if x < box.left or x > box.right:
        return (box.left if x < box.left else box.right, box.levels.middle)
    return (x, box.bottom if y < box.bottom else box.top)


def _crosses(a: Point, b: Point, barrier: Rect) -> bool:
    """True when an upright barrier stands anywhere between the two ends of a line, at the line's levels."""
    beside = max(a[0], b[0]) < barrier.left or min(a[0], b[0]) > barrier.right
    return not (beside or max(a[1], b[1]) < barrier.bottom or min(a[1], b[1]) > barrier.top)


def strikes(a: Point, b: Point, box: Rect) -> bool:
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
