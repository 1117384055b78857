"""A corner at 1:20: its lowest two courses from above, side by side, with what is cut and where the first joints stand."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Polygon, box

from elevgen.core.geometry import Rect
from elevgen.coursing.cutpieces import tenths
from elevgen.drawing.board import SMALLEST_TEXT, Board, Room, inset, text_box
from elevgen.drawing.cautions import AID
from elevgen.drawing.corner_details import Detail, clashes, longer_at_the_back
from elevgen.drawing.corner_marks import (
    LABEL_SIZE,
    CornerSheet,
    draw_breaks,
    draw_figures,
    joint_label,
    name_cavities,
    name_leaf,
)
from elevgen.drawing.corners import Laid, pieces_of, turned
from elevgen.drawing.course_plan import PlanPiece
from elevgen.drawing.font import DESCENT, LINE_PITCH, Fonts
from elevgen.drawing.labels import Label, place_labels
from elevgen.drawing.scales import detail_scales
from elevgen.drawing.scene import Fill, Role, Text, View
from elevgen.result import Design

TITLE_SIZE, COURSE_SIZE, NOTE_SIZE = 3.5, 2.5, 2.0
APART, UNDER_TITLE = 8.0, 4.2
"""Between the two drawings, and from what course each is to the title over it, paper mm."""
COMMON = (
    "Seen from above. Figures run from each leaf's own corner, on its face (at a tee from the wall met), to the middle of"
    " vertical joints; lengths of cut pieces stand on them."
)
"""What is said of every corner: by its own file, and once on a sheet of several."""


def corner_view(design: Design, detail: Detail, fonts: Fonts, scale: int | None = None) -> View:
    """The two courses of a corner with its title and notes, as large as is usual. Its place is given later."""
    scale = scale or detail_scales(design.figures)[0]
    corner = detail.corner
    board = Board(fonts, scale, corner.id)
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    units = {unit.name: unit for unit in design.building.units}
    left = 0.0
    lowest = 0.0
    tops: list[tuple[float, str]] = []
    for laid in (detail.first, detail.second):
        own = Board(fonts, scale, corner.id)
        sheet = CornerSheet(own, corner, turned(corner), (0.0, 0.0), design.figures, leaves, units)
        _draw(sheet, laid)
        reach = own.extents
        shift = (left - reach.left, -reach.top)
        own = Board(fonts, scale, corner.id)
        _draw(sheet._replace(board=own, shift=shift), laid)
        board.add(*own.primitives)
        board.reach(own.extents)
        tops.append((left, courses_said(laid)))
        left += max(reach.width, board.fonts.width(courses_said(laid), board.mm(COURSE_SIZE), bold=True)) + board.mm(APART)
        lowest = min(lowest, own.extents.bottom)
    for x, words in tops:
        board.text(Role.TEXT, (x, board.mm(COURSE_SIZE)), words, COURSE_SIZE, bold=True)
    y = _draw_words(board, design, detail, lowest)
    shown = inset(board.extents, -board.mm(0.5))
    _draw_common(board, design, y - board.mm(1.2))
    extents = inset(board.extents, -board.mm(0.5))
    return View(corner.id, detail.title, tuple(board.primitives), extents, scale, (0.0, 0.0), corner.id, shown=shown)


def courses_said(laid: Laid) -> str:
    """`Course 1`, or each leaf's own number where they differ."""
    numbers = {row.course for row in laid.courses}
    if len(numbers) == 1:
        return f"Course {numbers.pop()}"
    return "Courses: " + ", ".join(f"{row.leaf} {row.course}" for row in laid.courses)


def common_note(design: Design) -> str:
    """How a corner is seen and figured, and in what its figures are."""
    return f"{COMMON} {design.figures.note}"


def _draw_common(board: Board, design: Design, y: float) -> None:
    """What a sheet says once, under what sheets show."""
    for note in (common_note(design), AID):
        y = board.paragraph(Role.TEXT, (board.extents.left, y), note, _room(board), NOTE_SIZE)


def _room(board: Board) -> float:
    """How wide words may be."""
    return max(board.extents.width, board.mm(110))


def _draw_words(board: Board, design: Design, detail: Detail, lowest: float) -> float:
    """The title over the two drawings, its last line as near to them as one alone would be; the notes under them.

    Returns the level of the next free base line.
    """
    left, room = board.extents.left, _room(board)
    more = len(board.fonts.wrap(detail.title, board.mm(TITLE_SIZE), room, True)) - 1
    over = COURSE_SIZE + UNDER_TITLE + more * TITLE_SIZE * LINE_PITCH
    board.paragraph(Role.TEXT, (left, board.mm(over)), detail.title, room, TITLE_SIZE, bold=True)
    y = lowest - board.mm(2.0 + NOTE_SIZE)
    for note in _notes(design, detail, int(board.scale)):
        y = board.paragraph(Role.TEXT, (left, y), note, room, NOTE_SIZE)
    for warning in _warnings(detail):
        y = board.paragraph(Role.TEXT, (left, y), warning, room, NOTE_SIZE, bold=True)
    return y


def _notes(design: Design, detail: Detail, scale: int) -> Iterator[str]:
    """What has to be said of a corner and not of every one."""
    written = design.figures
    units = {unit.name: unit for unit in design.building.units}
    by_side: dict[str, list[str]] = {}
    for piece in (*pieces_of(detail.first), *pieces_of(detail.second)):
        names = by_side.setdefault(piece.leaf, [])
        if piece.unit not in names:
            names.append(piece.unit)
    alike: dict[str, list[str]] = {}
    for leaf, names in by_side.items():
        said = ", ".join(f"{n} {written.length(units[n].length)} x {written.length(units[n].width)}" for n in names)
        alike.setdefault(said, []).append(leaf)
    yield f"{written.scale(scale)}. " + "; ".join(f"{', '.join(who)}: {what}" for what, who in alike.items()) + "."
    if standing := [arm.wall.id for arm in detail.corner.arms if arm.wall.existing]:
        yield f"{' and '.join(standing)} {'stand' if len(standing) > 1 else 'stands'} already."
    if detail.corner.kind == "tee":
        yield "What is toothed into the wall met is not drawn: the wall that ends here is shown up to its face."
    if detail.changed:
        yield f"Also {', '.join(detail.changed)}, where the two courses change places."
    if not detail.corner.square and detail.corner.kind == "corner":
        yield "Not at right angles: pieces at the corner are cut to the angle, to the lengths shown along the face."
        if longer_at_the_back(detail, units):
            yield "Where a unit does not reach as far at its back as on its face, a piece cut to fit closes it; not counted here."


def _warnings(detail: Detail) -> Iterator[str]:
    """What must not be overlooked."""
    if found := [pair for laid in (detail.first, detail.second) for pair in clashes(laid)]:
        yield f"CHECK BEFORE LAYING: units of {' and '.join(found[0])} lie in one place here. Settle this corner on site."


def _draw(sheet: CornerSheet, laid: Laid) -> None:
    """One course of every leaf: pieces, movement joints, lengths, names, running figures."""
    board = sheet.board
    pieces = [(piece, sheet.shape(piece.outline)) for piece in pieces_of(laid)]
    for piece, outline in pieces:
        _draw_piece(sheet, piece, outline)
    for outline in (*(outline for _, outline in pieces), *(sheet.shape(gap) for _, gap in laid.joints)):
        board.room.take(_bounds(outline))
    draw_breaks(sheet)
    labels = []
    for joint, gap in laid.joints:
        outline = sheet.shape(gap)
        points = tuple((x, y) for x, y in outline.exterior.coords[:-1])
        board.polyline(Role.MOVEMENT_JOINT, points, True, joint.id, f"movement joint {joint.id}")
        labels.append(joint_label(sheet, joint, outline))
    labels += [label for piece, outline in pieces if piece.cut and (label := _write_length(sheet, piece, outline))]
    labels += [label for row in laid.courses if (label := name_leaf(sheet, row))]
    masonry = [outline.buffer(5.0) for _, outline in pieces]
    for row in laid.courses:
        draw_figures(sheet, row, masonry)
    name_cavities(sheet)
    place_labels(board, labels, inset(board.extents, -board.mm(12.0)), Room(board.mm(15)))


def _bounds(outline: Polygon) -> Rect:
    left, bottom, right, top = outline.bounds
    return Rect(left, bottom, right, top)


def _draw_piece(sheet: CornerSheet, piece: PlanPiece, outline: Polygon) -> None:
    points = tuple((x, y) for x, y in outline.exterior.coords[:-1])
    kind = "cut" if piece.cut else "whole"
    title = f"{piece.leaf}, {piece.unit}, {kind} {piece.laid}, {sheet.figures.measure(piece.length)} long"
    sheet.board.add(Fill(Role.TINT, points, "cut" if piece.cut else sheet.units[piece.unit].material, piece.leaf))
    sheet.board.polyline(Role.CUT_UNIT if piece.cut else Role.MARK, points, True, piece.leaf, title)


def _write_length(sheet: CornerSheet, piece: PlanPiece, outline: Polygon) -> Label | None:
    """The length of a cut piece, on it where it fits, lying or upright; else to be placed beside it."""
    board = sheet.board
    words = sheet.figures.length(tenths(piece.length, sheet.figures))
    x, y = outline.centroid.x, outline.centroid.y
    for size, rotation in ((LABEL_SIZE, 0.0), (LABEL_SIZE, 90.0), (SMALLEST_TEXT, 0.0), (SMALLEST_TEXT, 90.0)):
        down = board.mm(size * (1 - DESCENT) / 2)
        at = (x, y - down) if rotation == 0.0 else (x + down, y)
        bounds = text_box(Text(Role.TEXT, at, words, size, "centre", "base", rotation), board.fonts, board.scale)
        if outline.buffer(0.5).contains(box(bounds.left, bounds.bottom, bounds.right, bounds.top)):
            board.text(Role.TEXT, at, words, size, "centre", "base", rotation, source=piece.leaf)
            return None
    if not piece.whole:
        return None
    return Label(words, Role.TEXT, (), (x, y), 1, LABEL_SIZE, source=piece.leaf)
