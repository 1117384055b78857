"""What is written beside a corner's masonry: running figures, names of leaves, joints and cavities, where it breaks off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise, product
from math import cos, degrees, sin
from typing import NamedTuple

from shapely import LineString, Polygon, intersects
from shapely.affinity import rotate, translate

from elevgen.building.model import Leaf, Unit
from elevgen.core.figures import Figures
from elevgen.core.geometry import Point, direction, left_of
from elevgen.drawing.board import SMALLEST_TEXT, Board, inset, text_box, written
from elevgen.drawing.corners import Arm, Corner
from elevgen.drawing.course_plan import CoursePlan, on_plan
from elevgen.drawing.labels import Label, Spot, strikes
from elevgen.drawing.scene import Align, Role, Text, VAlign
from elevgen.joints.model import MovementJoint

FIGURE_SIZE, LABEL_SIZE = 2.0, 2.0
TICK_FROM, TICK_TO, FIGURE_GAP = 0.8, 2.6, 2.7
"""Running figures: where their ticks start and end off the face, and how near one another figures may stand; paper mm."""
BESIDE = 20.0
"""A joint no farther off the corner than this (mm) is the one the wall met is laid against: it needs no figure."""
BREAK = 15.0
"""Nearer than this (mm) to where the drawing breaks off nothing is figured."""
_STEP, _STEPS = 2.4, 7
"""How far a figure is moved out where it is not free, and how often; paper mm."""
_ASIDE = (0.0, 1.6, -1.6, 3.2, -3.2)
"""How far along the wall, where it is free at no distance; paper mm."""


class CornerSheet(NamedTuple):
    """What one of the two drawings is made on: the board, and how the building's plan comes to lie on it."""

    board: Board
    corner: Corner
    turn: float
    shift: Point
    figures: Figures
    leaves: Mapping[str, Leaf]
    units: Mapping[str, Unit]

    def arm(self, leaf: Leaf) -> Arm:
        """The arm of the corner a leaf is in."""
        return next(arm for arm in self.corner.arms if arm.wall.id == leaf.wall)

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


def _faces(sheet: CornerSheet, leaf: Leaf) -> tuple[float, float]:
    """The face figures stand beside, as its distance to the left of the wall line, and which way they go: -1 right, +1 left."""
    wall = sheet.arm(leaf).wall
    inner = len(wall.leaves) > 1 and leaf.id == wall.leaves[-1]
    return (leaf.offset + leaf.thickness, 1.0) if inner else (leaf.offset, -1.0)


def _marks(sheet: CornerSheet, row: CoursePlan, arm: Arm) -> list[tuple[float, float]]:
    """The vertical joints of a course with their distance from the corner of the leaf's face; past a tee, from the wall met."""
    leaf = sheet.leaves[row.leaf]
    reach = arm.near
    inside = [at for at in row.perpends if reach.start + BREAK < at < reach.end - BREAK]
    if sheet.corner.kind == "tee" and arm is not sheet.corner.arms[1]:
        half = max(sheet.leaves[m.stem].thickness for m in sheet.corner.meetings) / 2
        if not any(leaf.side == sheet.leaves[m.host].side for m in sheet.corner.meetings):
            return []
        low, high = arm.at - half, arm.at + half
        return [(at, low - at if at < low else at - high) for at in inside if at < low - BESIDE or at > high + BESIDE]
    edge = leaf.span.end if arm.side else leaf.span.start
    return [(at, abs(at - edge)) for at in inside if abs(at - edge) > BESIDE]


def draw_figures(sheet: CornerSheet, row: CoursePlan, masonry: Sequence[Polygon]) -> None:
    """Running figures beside a leaf, turned to stand off its face; those the wall round the corner hides are left out.

    `masonry` is every piece with a little room round it.
    """
    board, leaf = sheet.board, sheet.leaves[row.leaf]
    arm = sheet.arm(leaf)
    face, way = _faces(sheet, leaf)
    if sheet.corner.kind == "tee" and arm is not sheet.corner.arms[1]:
        other = sheet.corner.arms[1]
        d = direction(arm.wall.start, arm.wall.end)
        out = left_of(d)
        way = 1.0 if out[0] * other.away[0] + out[1] * other.away[1] > 0 else -1.0
        face = leaf.offset + (leaf.thickness if way > 0 else 0.0)
    normal = sheet.vector(tuple(way * c for c in left_of(direction(arm.wall.start, arm.wall.end))))  # type: ignore[arg-type]
    along = sheet.vector(direction(arm.wall.start, arm.wall.end))
    marks = []
    for at, figure in _marks(sheet, row, arm):
        start = sheet.point(on_plan(arm.wall, at, face))
        tick = LineString([(start[0] + normal[0] * board.mm(by), start[1] + normal[1] * board.mm(by)) for by in (0.5, 5.0)])
        if not intersects(masonry, tick).any():
            marks.append((at, figure, start))
    places = apart([at for at, _, _ in marks], board.mm(FIGURE_GAP))
    for (at, figure, start), place in zip(marks, places, strict=True):
        moved = place - at
        knee = (start[0] + along[0] * moved, start[1] + along[1] * moved)
        _write_figure(sheet, leaf, start, knee, normal, sheet.figures.length(figure, 0))


def apart(places: Sequence[float], gap: float) -> list[float]:
    """Places in order, each moved on where it is nearer than the gap to the one before."""
    found: list[float] = []
    for place in places:
        found.append(max(place, found[-1] + gap) if found else place)
    return found


def _write_figure(sheet: CornerSheet, leaf: Leaf, start: Point, knee: Point, normal: Point, words: str) -> None:
    """A tick off the face and its figure at the end of it, moved out, then along, until both are free; else none."""
    board = sheet.board
    texts = [text_box(text, board.fonts, board.scale) for text in written(board.primitives, board.scale)]

    def off(point: Point, by: float) -> Point:
        return (point[0] + normal[0] * board.mm(by), point[1] + normal[1] * board.mm(by))

    for aside, step in product(_ASIDE, range(_STEPS)):
        reach, by = TICK_TO + step * _STEP, board.mm(aside)
        bend = (knee[0] - normal[1] * by, knee[1] + normal[0] * by)
        text = _figure_text(board, off(bend, reach + 0.5), normal, words, leaf.id)
        points = (off(start, TICK_FROM), off(bend, TICK_FROM + 0.9), off(bend, reach))
        struck = any(strikes(a, b, box) for a, b in pairwise(points) for box in texts)
        if not struck and board.room.free(inset(text_box(text, board.fonts, board.scale), -board.mm(0.25))):
            title = f"{leaf.id}: middle of a vertical joint, {words} from the corner"
            board.polyline(Role.DIMENSION, points, source=leaf.id, title=title)
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


def name_leaf(sheet: CornerSheet, row: CoursePlan) -> Label | None:
    """The leaf's name beyond the end of what is drawn of it; where that is not free, a label to be led to it."""
    board, leaf = sheet.board, sheet.leaves[row.leaf]
    arm = sheet.arm(leaf)
    far, away = (arm.near.start if arm.side == 1 else arm.near.end), arm.away
    if arm.side is None and not leaf.span.contains(far):
        far, away = arm.near.start, (-away[0], -away[1])
    far = max(leaf.span.start, min(leaf.span.end, far))
    middle = leaf.offset + leaf.thickness / 2
    x, y = sheet.point(on_plan(arm.wall, far, middle))
    away = sheet.vector(away)
    at = (x + away[0] * board.mm(2.0), y + away[1] * board.mm(2.0))
    if abs(away[0]) >= 0.5:
        align: Align = "left" if away[0] > 0 else "right"
        text = Text(Role.TEXT, at, leaf.id, LABEL_SIZE, align, "middle", 0.0, source=leaf.id)
    else:
        align = "left" if away[1] > 0 else "right"
        at = (at[0] + board.mm(LABEL_SIZE / 2), at[1])
        text = Text(Role.TEXT, at, leaf.id, LABEL_SIZE, align, "base", 90.0, source=leaf.id)
    if board.room.free(text_box(text, board.fonts, board.scale)):
        board.text(text.role, at, leaf.id, LABEL_SIZE, align, text.valign, text.rotation, source=leaf.id)
        return None
    target = sheet.point(on_plan(arm.wall, (far + arm.at) / 2, middle))
    return Label(leaf.id, Role.TEXT, (), target, 0, LABEL_SIZE, source=leaf.id)


def joint_label(sheet: CornerSheet, joint: MovementJoint, outline: Polygon) -> Label:
    """A joint's id beside it, off the right face of its leaf or off the left one."""
    board, leaf = sheet.board, sheet.leaves[joint.leaf]
    arm = sheet.arm(leaf)
    normal = sheet.vector(left_of(direction(arm.wall.start, arm.wall.end)))
    spots: list[Spot] = []
    for face, way in ((leaf.offset, -1.0), (leaf.offset + leaf.thickness, 1.0)):
        x, y = sheet.point(on_plan(arm.wall, joint.at, face))
        out = (normal[0] * way, normal[1] * way)
        align: Align = "left" if out[0] > 0.3 else "right" if out[0] < -0.3 else "centre"
        valign: VAlign = "base" if out[1] > 0.3 else "top" if out[1] < -0.3 else "middle"
        places = [(x + out[0] * board.mm(reach), y + out[1] * board.mm(reach)) for reach in (1.3, 3.6)]
        spots += [Spot(place, align, valign) for place in places]
    target = outline.centroid.x, outline.centroid.y
    return Label(joint.id, Role.MOVEMENT_JOINT, tuple(spots), target, 0, LABEL_SIZE, True, joint.id)


def name_cavities(sheet: CornerSheet) -> None:
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


def draw_breaks(sheet: CornerSheet) -> None:
    """A thin line across each wall where the drawing breaks off."""
    for arm in sheet.corner.arms:
        leaves = [sheet.leaves[leaf] for leaf in arm.wall.leaves]
        low, high = min(x.offset for x in leaves) - 40.0, max(x.offset + x.thickness for x in leaves) + 40.0
        for side, far in ((1, arm.near.start), (0, arm.near.end)):
            inside = any(leaf.span.start + 1.0 < far < leaf.span.end - 1.0 for leaf in leaves)
            if arm.side in (None, side) and inside:
                a, b = (sheet.point(on_plan(arm.wall, far, left)) for left in (low, high))
                sheet.board.line(Role.DIMENSION, a, b, arm.wall.id, "the wall goes on")
                sheet.board.keep_off(a, b)
