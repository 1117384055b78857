"""The title block, bottom right, with the key plan and the cautions over it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.figures import Figures
from elevgen.core.geometry import Point, Rect, Span
from elevgen.core.measures import MM_PER_INCH
from elevgen.drawing.board import Board, Room, inset
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import DESCENT
from elevgen.drawing.labels import Label, Spot, place_labels
from elevgen.drawing.plan import arrow_turn, footprint, on_plan, plan_bounds
from elevgen.drawing.plan_key import circle
from elevgen.drawing.scene import Align, Fill, Polyline, Role, Symbol
from elevgen.result import Design

WIDTH = 180.0
"""A title block is at most 180 mm wide (ISO 7200, from memory)."""
HEAD_HEIGHT, ROW_HEIGHT, KEY_WIDTH, SCALE_WIDTH = 15.0, 8.0, 44.0, 32.0
FIELDS_HEIGHT = HEAD_HEIGHT + 3 * ROW_HEIGHT
CAUTION_SIZE, CAUTION_PITCH = 2.0, 3.1
LABEL_SIZE, VALUE_SIZE, HEAD_SIZE = 1.8, 2.5, 3.5
PART_OUT = 1.2
"""How far the box round the part shown stands off the leaf on the key plan, mm."""
RING, PLACES_OUT = 1.0, 3.0
"""Radius of the ring round a place named on the key plan, and what the plan leaves for the names; mm."""
TIGHT_PITCH = 1.3
"""From line to line of a text wrapped in its field, as a part of its height."""
_BAR_LENGTHS = (100, 200, 500, 1000, 2000, 5000, 10000, 20000)
_BAR_INCHES = (3, 6, 12, 24, 48, 96, 240, 480, 960)


class TitleFields(NamedTuple):
    """What one sheet's title block says."""

    sheet: str
    subject: str
    number: int
    of: int
    scale: int
    document: str
    part: str = ""
    span: Span | None = None


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
    places: tuple[tuple[str, Point], ...] = (),
) -> None:
    """Draw the block with its lower right corner at `corner`.

    `key` is the leaf picked out on the key plan, `places` are points of the building named on it.
    """
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
    _draw_key_plan(board, Rect(left, bottom, left + KEY_WIDTH, fields_top), design, key, fields.span, places)
    _draw_fields(board, Rect(left + KEY_WIDTH, bottom, right, fields_top), design, fields)


def _draw_fields(board: Board, box: Rect, design: Design, fields: TitleFields) -> None:
    """Titles over three rows of fields: those of ISO 7200 (quoted), with who checked, the rules, the paper and the scale."""
    board.line(Role.TEXT, (box.left, box.bottom), (box.left, box.top))
    head = box.top - HEAD_HEIGHT
    half = HEAD_HEIGHT / 2
    inner = Rect(box.left + 2, head + half, box.right - 2, box.top - 1.2)
    write_fitted(board, inner, design.spec.project.title, HEAD_SIZE, bold=True)
    subject = Rect(inner.left, head + 0.6, inner.right, head + half)
    if fields.part:
        write_fitted(board, Rect(subject.left, head + 4.0, subject.right, subject.top), fields.subject, VALUE_SIZE)
        write_fitted(board, Rect(subject.left, head + 0.2, subject.right, head + 4.0), fields.part, VALUE_SIZE)
    else:
        write_fitted(board, subject, fields.subject, HEAD_SIZE)
    top = head
    for row in _rows(design, fields):
        board.line(Role.TEXT, (box.left, top), (box.right, top))
        at = box.left
        for label, value, width in row:
            if at > box.left:
                board.line(Role.TEXT, (at, top), (at, top - ROW_HEIGHT))
            board.text(Role.DIMENSION, (at + 1, top - 2.4), label, LABEL_SIZE)
            under = 3.0 if label else 0.2
            write_fitted(board, Rect(at + 1, top - ROW_HEIGHT, at + width - 1, top - under), value, VALUE_SIZE)
            at += width
        top -= ROW_HEIGHT
    _draw_scale_bar(board, (box.right - SCALE_WIDTH + 2, box.bottom + 1.2), fields.scale, design.figures)


def _rows(design: Design, fields: TitleFields) -> tuple[tuple[tuple[str, str, float], ...], ...]:
    """Label, value and width of every field."""
    project, figures = design.spec.project, design.figures

    def by(what: str, name: str) -> tuple[str, str, float]:
        return (what if name else f"{what} (sign)", name, 34)

    return (
        (
            ("Owner", project.client, 40),
            ("Drawing number", drawing_number(project.number, fields.sheet), 54),
            ("Revision", project.revision, 24),
            ("Sheet", f"{fields.number} of {fields.of}", 18),
        ),
        (
            ("Kind of document", fields.document, 34),
            by("Created by", project.drawn_by),
            by("Checked by", project.checked_by),
            by("Approved by", project.approved_by),
        ),
        (
            ("Date of issue", project.date, 23),
            ("Rules", f"{design.rules.id} {design.rules.edition}".strip(), 23),
            ("Paper", design.spec.sheet.size, 12),
            ("", f"{figures.note} Go by the written figures, not by a ruler.", 78 - SCALE_WIDTH),
            ("", "", SCALE_WIDTH),
        ),
    )


def drawing_number(project: str, sheet: str) -> str:
    """One number for each drawing of a set: the project's, then what is drawn: `EX-01 / W1-outer`."""
    name = sheet.replace("/", "-")
    return f"{project} / {name}" if project else name


def write_fitted(board: Board, box: Rect, text: str, largest: float, bold: bool = False) -> None:
    """Text in the upper left of a box: as large as it fits on one line, else wrapped, never under 1.8 mm; what has no room at
    all ends in a full stop mark (…)."""
    sizes = [s for s in (HEAD_SIZE, VALUE_SIZE, 2.0, LABEL_SIZE) if s <= largest]
    lines: tuple[str, ...] = ()
    size = sizes[-1]
    for size in sizes:
        lines = board.fonts.wrap(text, size, box.width, bold)
        if len(lines) <= 1:
            break
    if len(lines) > 1:
        most = max(1, int((box.height - 0.1 - size * (1 + DESCENT)) / (size * TIGHT_PITCH) + 1e-9) + 1)
        if len(lines) > most:
            rest = " ".join(lines[most - 1 :])
            lines = (*lines[: most - 1], board.fonts.clip(f"{rest} …", size, box.width, bold))
    down = 0.1 if len(lines) > 1 else 0.5
    for n, line in enumerate(lines):
        board.text(Role.TEXT, (box.left, box.top - size * (1 + n * TIGHT_PITCH) - down), line, size, bold=bold)


def _draw_scale_bar(board: Board, at: tuple[float, float], scale: int, figures: Figures) -> None:
    """A bar of a round length, in fifths or of feet in quarters; over it the scale, beside it the length."""
    x, y = at
    room = SCALE_WIDTH - 4.0
    bars = [(float(n), _round(n)) for n in _BAR_LENGTHS]
    if figures.in_feet:
        bars = [(n * float(MM_PER_INCH), f"{n} in" if n < 12 else f"{n // 12} ft") for n in _BAR_INCHES]

    def fits(bar: tuple[float, str]) -> bool:
        return bar[0] / scale + 1.2 + board.fonts.width(bar[1], LABEL_SIZE) <= room

    longest, words = max(filter(fits, bars), default=bars[0])
    length = longest / scale
    parts = 4 if figures.in_feet else 5
    for n in range(parts):
        part = Rect(x + length * n / parts, y, x + length * (n + 1) / parts, y + 1.2)
        board.rectangle(Role.TEXT, part)
        if n % 2 == 0:
            board.fill("return", part)
    board.text(Role.TEXT, (x, y + 2.8), figures.scale(scale), VALUE_SIZE, bold=True)
    board.text(Role.TEXT, (x + length + 1.2, y), words, LABEL_SIZE)


def _round(length: int) -> str:
    return f"{length} mm" if length < 1000 else f"{length / 1000:g} m"


def _stretch(facts: LeafFacts, span: Span, out: float = 0.0) -> tuple[Point, ...]:
    """A stretch of a leaf on plan through its thickness, so far past both its faces."""
    low, high = facts.leaf.offset - out, facts.leaf.offset + facts.leaf.thickness + out
    places = ((span.start, low), (span.end, low), (span.end, high), (span.start, high))
    return tuple(on_plan(facts.wall, at, left) for at, left in places)


def _draw_key_plan(
    board: Board,
    box: Rect,
    design: Design,
    key: LeafFacts | None,
    span: Span | None,
    places: tuple[tuple[str, Point], ...] = (),
) -> None:
    """All walls small, this leaf's filled and outlined heavily, its setting-out end marked, the part shown in a box."""
    bounds = plan_bounds(design)
    board.text(Role.DIMENSION, (box.left + 1, box.top - 2.6), f"Key plan: {key.wall.id}" if key else "Key plan", LABEL_SIZE)
    out = PLACES_OUT if places else 0.0
    room = Rect(box.left + 4 + 2 * out, box.bottom + 3 + out, box.right - 4 - 2 * out, box.top - 6 - out)
    shrink = min(room.width / max(bounds.width, 1.0), room.height / max(bounds.height, 1.0))
    x0 = (room.left + room.right - bounds.width * shrink) / 2
    y0 = (room.bottom + room.top - bounds.height * shrink) / 2

    def small(point: tuple[float, float]) -> tuple[float, float]:
        return (x0 + (point[0] - bounds.left) * shrink, y0 + (point[1] - bounds.bottom) * shrink)

    walls = {w.id: w for w in design.building.walls}
    for leaf in design.building.leaves:
        shape = tuple(small(p) for p in footprint(walls[leaf.wall], leaf))
        mine = key is not None and leaf.id == key.leaf.id
        if mine and key is not None:
            board.add(Fill(Role.TINT, tuple(map(small, _stretch(key, span))) if span else shape, "cut", leaf.id))
            if span:
                board.add(Polyline(Role.MOVEMENT_JOINT, tuple(map(small, _stretch(key, span, PART_OUT / shrink))), True, leaf.id))
        board.add(Polyline(Role.OUTLINE if mine else Role.DIMENSION, shape, True, leaf.id))
        for a, b in pairwise((*shape, shape[0]) if places else ()):
            board.keep_off(a, b)
    _name_places(board, inset(box, 0.8), [(name, small(point)) for name, point in places])
    if key is not None:
        start, turn = small(key.wall.start), arrow_turn(key.wall)
        board.add(Symbol(Role.MOVEMENT_JOINT, "arrow", start, 2.0, turn, key.wall.id, "setting-out end"))


def _name_places(board: Board, within: Rect, places: Sequence[tuple[str, Point]]) -> None:
    """A ring round each place and its name beside it, where there is room."""
    off, labels = RING + 0.7, []
    for name, (x, y) in places:
        ring = circle((x, y), RING)
        board.add(Polyline(Role.MOVEMENT_JOINT, ring, True, name))
        board.room.take(Rect(x - RING, y - RING, x + RING, y + RING))
        sides: tuple[tuple[Align, float], ...] = (("left", off), ("right", -off))
        spots = [Spot((x + dx, y + dy), align) for dy in (0.0, off, -off, 1.8 * off, -1.8 * off) for align, dx in sides]
        spots += [Spot((x, y + off), "centre", "base"), Spot((x, y - off), "centre", "top")]
        labels.append(Label(name, Role.TEXT, tuple(spots), (x, y), 0, LABEL_SIZE))
    place_labels(board, labels, within, Room(15.0))
