"""A corner at 1:20: its lowest two courses from above, side by side, with what is cut and where the first joints stand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import cos, degrees, sin
from typing import NamedTuple

from shapely import LineString, Polygon, box
from shapely.affinity import rotate, translate

from elevgen.building.model import Leaf, Unit
from elevgen.core.figures import Figures
from elevgen.core.geometry import Point, Rect, direction, left_of
from elevgen.drawing.board import SMALLEST_TEXT, Board, Room, inset, text_box
from elevgen.drawing.cautions import AID
from elevgen.drawing.corners import Arm, Corner, Detail, Laid, clashes, pieces_of, turned
from elevgen.drawing.course_plan import CoursePlan, PlanPiece, on_plan
from elevgen.drawing.dims import spread
from elevgen.drawing.facts import drawing_figures
from elevgen.drawing.font import Fonts
from elevgen.drawing.labels import Label, place_labels
from elevgen.drawing.scene import Align, Fill, Role, Text, View
from elevgen.result import Design

SCALES = (20, 50)
"""The scale of corners, and the one for those that do not fit their paper at it."""
TITLE_SIZE, NOTE_SIZE, FIGURE_SIZE, LABEL_SIZE = 3.5, 2.0, 2.0, 2.0
APART = 12.0
"""Between the two drawings, paper mm."""
TICK_FROM, TICK_TO, FIGURE_GAP = 0.8, 2.6, 2.7
"""Running figures: where their ticks start and end off the face, and how near one another figures may stand; paper mm."""
BESIDE = 20.0
"""A joint no farther off the corner than this (mm) is the one the wall met is laid against: it needs no figure."""
_STEP, _STEPS = 2.4, 7
"""How far a figure is moved out where it is not free, and how often; paper mm."""


class _Sheet(NamedTuple):
    """What one of the two drawings is made on: the board, and how the building's plan comes to lie on it."""

    board: Board
    corner: Corner
    turn: float
    shift: Point
    figures: Figures
    leaves: Mapping[str, Leaf]
    units: Mapping[str, Unit]

    def point(self, at: Point) -> Point:
        x, y = at[0] - self.corner.point[0], at[1] - self.corner.point[1]
        c, s = cos(self.turn), sin(self.turn)
        return (x * c - y * s + self.shift[0], x * s + y * c + self.shift[1])

    def vector(self, v: Point) -> Point:
        c, s = cos(self.turn), sin(self.turn)
        return (v[0] * c - v[1] * s, v[0] * s + v[1] * c)

    def shape(self, outline: Polygon) -> Polygon:
        x, y = self.corner.point
        about = translate(outline, -x, -y)
        turned_ = rotate(about, degrees(self.turn), origin=(0, 0)) if self.turn else about
        return translate(turned_, *self.shift)


def corner_view(design: Design, detail: Detail, fonts: Fonts, scale: int = SCALES[0]) -> View:
    """The two courses of a corner with its title and notes. Its place is given later."""
    corner = detail.corner
    board = Board(fonts, scale, corner.id)
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    units = {unit.name: unit for unit in design.building.units}
    left = 0.0
    lowest = 0.0
    tops: list[tuple[float, str]] = []
    for laid in (detail.first, detail.second):
        own = Board(fonts, scale, corner.id)
        sheet = _Sheet(own, corner, turned(corner), (0.0, 0.0), drawing_figures(design), leaves, units)
        _draw(sheet, laid)
        reach = own.extents
        shift = (left - reach.left, -reach.top)
        own = Board(fonts, scale, corner.id)
        _draw(sheet._replace(board=own, shift=shift), laid)
        board.add(*own.primitives)
        board.reach(own.extents)
        tops.append((left, courses_said(laid)))
        left += max(reach.width, board.fonts.width(courses_said(laid), board.mm(2.5), bold=True)) + board.mm(APART)
        lowest = min(lowest, own.extents.bottom)
    for x, words in tops:
        board.text(Role.TEXT, (x, board.mm(2.5)), words, 2.5, bold=True)
    _draw_words(board, design, detail, lowest)
    return View(
        corner.id, detail.title, tuple(board.primitives), inset(board.extents, -board.mm(0.5)), scale, (0.0, 0.0), corner.id
    )


def courses_said(laid: Laid) -> str:
    """`Course 1`, or each leaf's own number where they differ."""
    numbers = {row.course for row in laid.courses}
    if len(numbers) == 1:
        return f"Course {numbers.pop()}"
    return "Courses: " + ", ".join(f"{row.leaf} {row.course}" for row in laid.courses)


def _draw_words(board: Board, design: Design, detail: Detail, lowest: float) -> None:
    room = max(board.extents.width, board.mm(110))
    y = lowest - board.mm(4.0 + TITLE_SIZE)
    y = board.paragraph(Role.TEXT, (board.extents.left, y), detail.title, room, TITLE_SIZE, bold=True)
    y += board.mm(1.5)
    for note in (*_notes(design, detail, int(board.scale)), AID):
        y = board.paragraph(Role.TEXT, (board.extents.left, y), note, room, NOTE_SIZE)


def _notes(design: Design, detail: Detail, scale: int) -> Iterator[str]:
    """What has to be said of a corner."""
    written = drawing_figures(design)
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
    yield f"1:{scale}, seen from above. " + "; ".join(f"{', '.join(who)}: {what}" for what, who in alike.items()) + "."
    start = "each leaf's own corner, on its face," if detail.corner.kind == "corner" else "the faces where the two walls meet"
    yield (f"Figures run from {start} to the middle of vertical joints; lengths of cut pieces stand on them. {written.note}")
    if detail.corner.kind == "tee":
        yield "What is toothed into the wall met is not drawn: the wall that ends here is shown up to its face."
    if detail.changed:
        yield f"Also {', '.join(detail.changed)}, where the two courses change places."
    if not detail.corner.square and detail.corner.kind == "corner":
        yield "Not at right angles: pieces at the corner are cut to the angle, to the lengths shown along the face."
        if detail.corner.re_entrant:
            yield "Re-entrant: what a unit does not reach behind the corner is closed with a piece cut to fit, not counted here."
        if any(leaf.build == "one_brick" for leaf in design.building.leaves if leaf.id in by_side):
            yield "One brick thick: what stands behind the corner has to be cut to fit; it is not in the numbers of pieces."
    if found := [pair for laid in (detail.first, detail.second) for pair in clashes(laid)]:
        yield (
            f"CHECK BEFORE LAYING: units of {' and '.join(found[0])} lie in one place here; a joint or an opening leaves no room "
            "for the course that stops. Settle the corner on site."
        )


def _draw(sheet: _Sheet, laid: Laid) -> None:
    """One course of every leaf: pieces, movement joints, lengths, names, running figures."""
    board = sheet.board
    pieces = [(piece, sheet.shape(piece.outline)) for piece in pieces_of(laid)]
    for piece, outline in pieces:
        _draw_piece(sheet, piece, outline)
    for outline in (*(outline for _, outline in pieces), *(sheet.shape(gap) for _, gap in laid.joints)):
        board.room.take(_bounds(outline))
    labels = []
    for joint, gap in laid.joints:
        outline = sheet.shape(gap)
        points = tuple((x, y) for x, y in outline.exterior.coords[:-1])
        board.polyline(Role.MOVEMENT_JOINT, points, True, joint.id, f"movement joint {joint.id}")
        target = outline.centroid.x, outline.centroid.y
        labels.append(Label(joint.id, Role.MOVEMENT_JOINT, (), target, 0, LABEL_SIZE, True, joint.id))
    labels += [label for piece, outline in pieces if piece.cut and (label := _write_length(sheet, piece, outline))]
    for row in laid.courses:
        _name_leaf(sheet, row)
    _draw_breaks(sheet)
    for row in laid.courses:
        _draw_figures(sheet, row, [outline for _, outline in pieces])
    _name_cavities(sheet)
    place_labels(board, labels, inset(board.extents, -board.mm(12.0)), Room(board.mm(15)))


def _bounds(outline: Polygon) -> Rect:
    left, bottom, right, top = outline.bounds
    return Rect(left, bottom, right, top)


def _draw_piece(sheet: _Sheet, piece: PlanPiece, outline: Polygon) -> None:
    points = tuple((x, y) for x, y in outline.exterior.coords[:-1])
    kind = "cut" if piece.cut else "whole"
    title = f"{piece.leaf}, {piece.unit}, {kind} {piece.laid}, {sheet.figures.measure(piece.length)} long"
    sheet.board.add(Fill(Role.TINT, points, "cut" if piece.cut else sheet.units[piece.unit].material, piece.leaf))
    sheet.board.polyline(Role.CUT_UNIT if piece.cut else Role.MARK, points, True, piece.leaf, title)


def _write_length(sheet: _Sheet, piece: PlanPiece, outline: Polygon) -> Label | None:
    """The length of a cut piece, on it where it fits, lying or upright; else to be placed beside it."""
    board = sheet.board
    words = sheet.figures.length(piece.length)
    x, y = outline.centroid.coords[0]
    for rotation in (0.0, 90.0):
        half = LABEL_SIZE / 2 * board.scale
        at = (x, y - half) if rotation == 0.0 else (x + half, y)
        text = Text(Role.TEXT, at, words, LABEL_SIZE, "centre", "base", rotation, source=piece.leaf)
        bounds = text_box(text, board.fonts, board.scale)
        if outline.buffer(board.mm(0.1)).contains(box(bounds.left, bounds.bottom + board.mm(0.35), bounds.right, bounds.top)):
            board.text(Role.TEXT, at, words, LABEL_SIZE, "centre", "base", rotation, source=piece.leaf)
            return None
    if not piece.whole:
        return None
    return Label(words, Role.TEXT, (), (x, y), 1, LABEL_SIZE, source=piece.leaf)


def _faces(sheet: _Sheet, leaf: Leaf) -> tuple[float, float]:
    """The face figures stand beside, as its distance to the left of the wall line, and which way they go: -1 right, +1 left."""
    wall = next(arm.wall for arm in sheet.corner.arms if arm.wall.id == leaf.wall)
    inner = len(wall.leaves) > 1 and leaf.id == wall.leaves[-1]
    return (leaf.offset + leaf.thickness, 1.0) if inner else (leaf.offset, -1.0)


def _marks(sheet: _Sheet, row: CoursePlan, arm: Arm) -> list[tuple[float, float]]:
    """The vertical joints of a course with their distance from the corner of the leaf's face; past a tee, from the wall met."""
    leaf = sheet.leaves[row.leaf]
    reach = arm.near
    inside = [at for at in row.perpends if reach.start + 1.0 < at < reach.end - 1.0]
    if sheet.corner.kind == "tee" and arm is not sheet.corner.arms[1]:
        half = max(sheet.leaves[m.stem].thickness for m in sheet.corner.meetings) / 2
        if not any(leaf.side == sheet.leaves[m.host].side for m in sheet.corner.meetings):
            return []
        low, high = arm.at - half, arm.at + half
        return [(at, low - at if at < low else at - high) for at in inside if at < low - BESIDE or at > high + BESIDE]
    edge = leaf.span.end if arm.side else leaf.span.start
    return [(at, abs(at - edge)) for at in inside if abs(at - edge) > BESIDE]


def _draw_figures(sheet: _Sheet, row: CoursePlan, masonry: Iterable[Polygon]) -> None:
    """Running figures beside a leaf, turned to stand off its face; those the wall round the corner hides are left out."""
    board, leaf = sheet.board, sheet.leaves[row.leaf]
    arm = next(a for a in sheet.corner.arms if a.wall.id == leaf.wall)
    face, way = _faces(sheet, leaf)
    if sheet.corner.kind == "tee" and arm is not sheet.corner.arms[1]:
        other = sheet.corner.arms[1]
        d = direction(arm.wall.start, arm.wall.end)
        out = left_of(d)
        way = 1.0 if out[0] * other.away[0] + out[1] * other.away[1] > 0 else -1.0
        face = leaf.offset + (leaf.thickness if way > 0 else 0.0)
    normal = sheet.vector(tuple(way * c for c in left_of(direction(arm.wall.start, arm.wall.end))))  # type: ignore[arg-type]
    along = sheet.vector(direction(arm.wall.start, arm.wall.end))
    around = [outline.buffer(5.0) for outline in masonry]
    marks = []
    for at, figure in _marks(sheet, row, arm):
        start = sheet.point(on_plan(arm.wall, at, face))
        tick = LineString([(start[0] + normal[0] * board.mm(by), start[1] + normal[1] * board.mm(by)) for by in (0.5, 5.0)])
        if not any(outline.intersects(tick) for outline in around):
            marks.append((at, figure, start))
    places = spread([at for at, _, _ in marks], board.mm(FIGURE_GAP))
    for (at, figure, start), place in zip(marks, places, strict=True):
        moved = place - at
        knee = (start[0] + along[0] * moved, start[1] + along[1] * moved)
        _write_figure(sheet, leaf, start, knee, normal, sheet.figures.length(figure, 0))


def _write_figure(sheet: _Sheet, leaf: Leaf, start: Point, knee: Point, normal: Point, words: str) -> None:
    """A tick off the face and its figure at the end of it, moved out until it is free; none where nothing is."""
    board = sheet.board

    def off(point: Point, by: float) -> Point:
        return (point[0] + normal[0] * board.mm(by), point[1] + normal[1] * board.mm(by))

    for step in range(_STEPS):
        reach = TICK_TO + step * _STEP
        text = _figure_text(board, off(knee, reach + 0.5), normal, words, leaf.id)
        if board.room.free(inset(text_box(text, board.fonts, board.scale), -board.mm(0.25))):
            points = (off(start, TICK_FROM), off(knee, TICK_FROM + 0.9), off(knee, reach))
            board.polyline(Role.DIMENSION, points, source=leaf.id, title=f"{leaf.id}: joint {words} from the corner")
            board.keep_off(points[1], points[2])
            board.text(text.role, text.at, words, text.height, text.align, text.valign, text.rotation, source=leaf.id)
            return


def _figure_text(board: Board, at: Point, normal: Point, words: str, source: str) -> Text:
    """A figure at the end of its tick: upright off a face that lies along the sheet, level off any other."""
    if abs(normal[1]) > 0.94:
        lift = board.mm(FIGURE_SIZE / 2)
        align: Align = "left" if normal[1] > 0 else "right"
        return Text(Role.DIMENSION, (at[0] + lift, at[1]), words, FIGURE_SIZE, align, "base", 90.0, source=source)
    align = "left" if normal[0] > 0 else "right"
    return Text(Role.DIMENSION, at, words, FIGURE_SIZE, align, "middle", 0.0, source=source)


def _name_leaf(sheet: _Sheet, row: CoursePlan) -> None:
    """The leaf's name beyond the end of what is drawn of it."""
    board, leaf = sheet.board, sheet.leaves[row.leaf]
    arm = next(a for a in sheet.corner.arms if a.wall.id == leaf.wall)
    far, away = (arm.near.start if arm.side == 1 else arm.near.end), arm.away
    if arm.side is None and not leaf.span.contains(far):
        far, away = arm.near.start, (-away[0], -away[1])
    away = sheet.vector(away)
    far = max(leaf.span.start, min(leaf.span.end, far))
    x, y = sheet.point(on_plan(arm.wall, far, leaf.offset + leaf.thickness / 2))
    at = (x + away[0] * board.mm(2.0), y + away[1] * board.mm(2.0))
    half = board.mm(LABEL_SIZE / 2)
    if abs(away[0]) >= 0.5:
        align: Align = "left" if away[0] > 0 else "right"
        board.text(Role.TEXT, at, leaf.id, LABEL_SIZE, align, "middle", source=leaf.id)
    else:
        align = "left" if away[1] > 0 else "right"
        board.text(Role.TEXT, (at[0] + half, at[1]), leaf.id, LABEL_SIZE, align, "base", 90.0, source=leaf.id)


def _name_cavities(sheet: _Sheet) -> None:
    """How wide the cavity is, written in it along the wall that has the more room."""
    board = sheet.board
    for arm in sheet.corner.arms:
        leaves = sorted((sheet.leaves[leaf] for leaf in arm.wall.leaves), key=lambda leaf: leaf.offset)
        if len(leaves) != 2 or arm.wall.cavity is None:
            continue
        middle = (leaves[0].offset + leaves[0].thickness + leaves[1].offset) / 2
        along = sheet.vector(arm.away)
        rotation = 0.0 if abs(along[0]) > 0.99 else 90.0
        if abs(along[0]) <= 0.99 and abs(along[1]) <= 0.99:
            continue
        at = arm.at + (-0.55 if arm.side == 1 else 0.55) * arm.reach
        if not all(leaf.span.contains(at) for leaf in leaves):
            continue
        x, y = sheet.point(on_plan(arm.wall, at, middle))
        words = f"cavity {sheet.figures.length(arm.wall.cavity)}"
        half = board.mm(SMALLEST_TEXT / 2)
        place = (x, y - half) if rotation == 0.0 else (x + half, y)
        text = Text(Role.DIMENSION, place, words, SMALLEST_TEXT, "centre", "base", rotation, source=arm.wall.id)
        if board.room.free(text_box(text, board.fonts, board.scale)):
            board.text(text.role, place, words, SMALLEST_TEXT, "centre", "base", rotation, source=arm.wall.id)


def _draw_breaks(sheet: _Sheet) -> None:
    """A thin line across each wall where the drawing breaks off."""
    for arm in sheet.corner.arms:
        leaves = [sheet.leaves[leaf] for leaf in arm.wall.leaves]
        low, high = min(x.offset for x in leaves) - 40.0, max(x.offset + x.thickness for x in leaves) + 40.0
        for side, far in ((1, arm.near.start), (0, arm.near.end)):
            inside = any(leaf.span.start + 1.0 < far < leaf.span.end - 1.0 for leaf in leaves)
            if arm.side in (None, side) and inside:
                a, b = (sheet.point(on_plan(arm.wall, far, left)) for left in (low, high))
                sheet.board.line(Role.DIMENSION, a, b, arm.wall.id, "the wall goes on")
