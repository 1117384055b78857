"""The title block, bottom right, with the key plan and the cautions over it."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.plan import arrow_turn, footprint, plan_bounds
from elevgen.drawing.scene import Fill, Polyline, Role, Symbol
from elevgen.result import Design

WIDTH = 180.0
"""A title block is at most 180 mm wide (ISO 7200, from memory)."""
FIELDS_HEIGHT, KEY_WIDTH = 38.0, 44.0
CAUTION_SIZE, CAUTION_PITCH = 2.0, 3.1
LABEL_SIZE, VALUE_SIZE, HEAD_SIZE = 1.8, 2.5, 3.5
_BAR_LENGTHS = (100, 200, 500, 1000, 2000, 5000, 10000, 20000)


class TitleFields(NamedTuple):
    """What one sheet's title block says."""

    sheet: str
    subject: str
    number: int
    of: int
    scale: int
    document: str


def caution_lines(board: Board, cautions: tuple[str, ...]) -> tuple[str, ...]:
    """The cautions wrapped to the block's width."""
    return tuple(line for c in cautions for line in board.fonts.wrap(c, CAUTION_SIZE, WIDTH - 4))


def block_height(board: Board, cautions: tuple[str, ...]) -> float:
    """How high the block is with its cautions, paper mm."""
    return FIELDS_HEIGHT + len(caution_lines(board, cautions)) * CAUTION_PITCH + 2.0


def draw_title_block(
    board: Board,
    corner: tuple[float, float],
    design: Design,
    fields: TitleFields,
    cautions: tuple[str, ...],
    key: LeafFacts | None,
) -> None:
    """Draw the block with its lower right corner at `corner`; `key` is the leaf picked out on the key plan."""
    right, bottom = corner
    left = right - WIDTH
    top = bottom + block_height(board, cautions)
    board.rectangle(Role.FRAME, Rect(left, bottom, right, top))
    fields_top = bottom + FIELDS_HEIGHT
    board.line(Role.TEXT, (left, fields_top), (right, fields_top))
    y = top - CAUTION_PITCH
    for line in caution_lines(board, cautions):
        board.text(Role.TEXT, (left + 2, y), line, CAUTION_SIZE)
        y -= CAUTION_PITCH
    _draw_key_plan(board, Rect(left, bottom, left + KEY_WIDTH, fields_top), design, key)
    _draw_fields(board, Rect(left + KEY_WIDTH, bottom, right, fields_top), design, fields)


def _draw_fields(board: Board, box: Rect, design: Design, fields: TitleFields) -> None:
    project = design.spec.project
    board.line(Role.TEXT, (box.left, box.bottom), (box.left, box.top))
    head = box.top - 14.0
    for words, y, bold in ((project.title, box.top - 5.5, True), (fields.subject, box.top - 11.5, False)):
        size = HEAD_SIZE if board.fonts.width(words, HEAD_SIZE, bold) <= box.width - 4 else LABEL_SIZE
        board.text(Role.TEXT, (box.left + 2, y), board.fonts.clip(words, size, box.width - 4, bold), size, bold=bold)
    rows: tuple[tuple[tuple[str, str, float], ...], ...] = (
        (
            ("Owner", project.client, 46),
            ("Project number", project.number, 30),
            ("Drawing", fields.sheet, 40),
            ("Revision", project.revision, 20),
        ),
        (
            ("Kind of document", fields.document, 46),
            ("Date", project.date, 30),
            ("Rules", f"{design.rules.id} {design.rules.edition}".strip(), 40),
            ("Sheet", f"{fields.number} of {fields.of}", 20),
        ),
        (("", "", 62), ("Drawn by", project.drawn_by, 34), ("Checked", "", 20), ("Approved", "", 20)),
    )
    top = head
    for row in rows:
        board.line(Role.TEXT, (box.left, top), (box.right, top))
        at = box.left
        for label, value, width in row:
            if at > box.left:
                board.line(Role.TEXT, (at, top), (at, top - 8))
            board.text(Role.DIMENSION, (at + 1, top - 2.6), label, LABEL_SIZE)
            board.text(Role.TEXT, (at + 1, top - 6.6), board.fonts.clip(value, VALUE_SIZE, width - 2), VALUE_SIZE)
            at += width
        top -= 8
    _draw_scale_bar(board, (box.left + 2, box.bottom + 1.2), fields.scale)


def _draw_scale_bar(board: Board, at: tuple[float, float], scale: int) -> None:
    """A bar of a round length no longer than 40 mm, in fifths; with the scale and the unit."""
    x, y = at
    longest = max((b for b in _BAR_LENGTHS if b / scale <= 40.0), default=_BAR_LENGTHS[0])
    length = longest / scale
    for n in range(5):
        part = Rect(x + length * n / 5, y, x + length * (n + 1) / 5, y + 1.2)
        board.rectangle(Role.TEXT, part)
        if n % 2 == 0:
            board.fill("return", part)
    board.text(Role.TEXT, (x, y + 2.6), f"1:{scale}   mm", VALUE_SIZE)
    end = f"{longest}" if longest < 1000 else f"{longest / 1000:g} m"
    board.text(Role.TEXT, (x + length + 1.2, y), end, LABEL_SIZE)


def _draw_key_plan(board: Board, box: Rect, design: Design, key: LeafFacts | None) -> None:
    """All walls small, this leaf's filled and outlined heavily, its setting-out end marked."""
    bounds = plan_bounds(design)
    board.text(Role.DIMENSION, (box.left + 1, box.top - 2.6), f"Key plan: {key.wall.id}" if key else "Key plan", LABEL_SIZE)
    room = Rect(box.left + 4, box.bottom + 3, box.right - 4, box.top - 5)
    shrink = min(room.width / max(bounds.width, 1.0), room.height / max(bounds.height, 1.0))
    x0 = (room.left + room.right - bounds.width * shrink) / 2
    y0 = (room.bottom + room.top - bounds.height * shrink) / 2

    def small(point: tuple[float, float]) -> tuple[float, float]:
        return (x0 + (point[0] - bounds.left) * shrink, y0 + (point[1] - bounds.bottom) * shrink)

    walls = {w.id: w for w in design.building.walls}
    for leaf in design.building.leaves:
        shape = tuple(small(p) for p in footprint(walls[leaf.wall], leaf))
        mine = key is not None and leaf.id == key.leaf.id
        if mine:
            board.add(Fill(Role.TINT, shape, "cut", leaf.id))
        board.add(Polyline(Role.OUTLINE if mine else Role.DIMENSION, shape, True, leaf.id))
    if key is not None:
        start, turn = small(key.wall.start), arrow_turn(key.wall)
        board.add(Symbol(Role.MOVEMENT_JOINT, "arrow", start, 2.0, turn, key.wall.id, "setting-out end"))
