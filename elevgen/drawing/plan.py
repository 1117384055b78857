"""The plan: every leaf's footprint, movement joints, openings, wall names and the developed length of each run."""

from __future__ import annotations

from math import atan2, degrees

from elevgen.building.model import Leaf, LeafEnd, RunEdge, Wall
from elevgen.core.geometry import Point, Rect, along, direction, left_of
from elevgen.drawing.board import Board, Room, inset
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import Fonts
from elevgen.drawing.labels import Label, Spot, label_box, place_labels
from elevgen.drawing.scene import Align, Fill, Polyline, Role, Symbol, VAlign, View
from elevgen.result import Design

PLAN = "plan"
ARROW, MARGIN = 2.5, 14.0
"""Size of the arrow at a wall's start, room for labels round the building; paper mm."""
CUT_HEIGHT = 1300.0
"""Openings shown are those cut this far above the lowest base of their wall."""


def footprint(wall: Wall, leaf: Leaf) -> tuple[Point, ...]:
    """The four corners of a leaf on plan: outer face from start to end, then back along the inner face."""
    outer, inner = leaf.offset, leaf.offset + leaf.thickness
    back_start, back_end = _inner_end(leaf.start_end, leaf.span.start), _inner_end(leaf.finish_end, leaf.span.end)
    places = ((leaf.span.start, outer), (leaf.span.end, outer), (back_end, inner), (back_start, inner))
    return tuple(on_plan(wall, at, left) for at, left in places)


def on_plan(wall: Wall, at: float, left: float) -> Point:
    """A place along a wall, so far to the left of its line, on plan."""
    return along(wall.start, direction(wall.start, wall.end), at, left)


def arrow_turn(wall: Wall) -> float:
    """How an arrow at a wall's start is turned to point along it."""
    d = direction(wall.start, wall.end)
    return degrees(atan2(d[1], d[0])) + 90.0


def plan_bounds(design: Design) -> Rect:
    """What the footprints fill."""
    walls = {w.id: w for w in design.building.walls}
    points = [p for leaf in design.building.leaves for p in footprint(walls[leaf.wall], leaf)]
    return Rect(min(p[0] for p in points), min(p[1] for p in points), max(p[0] for p in points), max(p[1] for p in points))


def plan_view(design: Design, leaves: tuple[LeafFacts, ...], fonts: Fonts, scale: int, notes: tuple[str, ...]) -> View:
    """The plan at full size, its text sized for 1:`scale`, with notes under its title."""
    board = Board(fonts, scale, PLAN)
    bounds = plan_bounds(design)
    for facts in leaves:
        _draw_leaf(board, facts)
    within = inset(bounds, -board.mm(MARGIN))
    labels = [label for facts in leaves for label in _joint_labels(board, facts)]
    beside_joints = Room(board.mm(15))
    for label in labels:
        beside_joints.take(label_box(board, label, label.spots[0]))
    names = [_wall_label(board, facts) for facts in leaves if facts.leaf.id == facts.wall.leaves[0]]
    place_labels(board, names, within, beside_joints)
    by_leaf = {f.leaf.id: f for f in leaves}
    labels += [_edge_label(board, run.id, edge, by_leaf[edge.leaf]) for run in design.runs for edge in run.edges]
    place_labels(board, labels, within, Room(board.mm(15)))
    board.reach(bounds)
    _draw_title(board, scale, notes)
    extents = inset(board.extents, -board.mm(1.0))
    return View(PLAN, "Plan", tuple(board.primitives), extents, scale, (0.0, 0.0), PLAN)


def _inner_end(end: LeafEnd, outer: float) -> float:
    """Where the inner face ends: at a corner the mitre takes it to the other of near and far."""
    return end.near + end.far - outer if end.kind == "corner" else outer


def _draw_leaf(board: Board, facts: LeafFacts) -> None:
    wall, leaf = facts.wall, facts.leaf
    shape = footprint(wall, leaf)
    board.add(Fill(Role.TINT, shape, leaf.zones[-1].unit.material, leaf.id))
    board.add(Polyline(Role.OUTLINE, shape, True, leaf.id, facts.title))
    cut = facts.face.bottom + CUT_HEIGHT
    for opening in wall.openings:
        if opening.rect.bottom <= cut <= opening.rect.top and opening.rect.along.overlaps(leaf.span):
            hole = _across(facts, opening.rect.left, opening.rect.right)
            board.add(Fill(Role.TINT, hole, "opening", opening.id))
            board.add(Polyline(Role.OPENING, hole, True, opening.id, f"{opening.kind} {opening.id}"))
    for joint in facts.joints:
        gap = _across(facts, joint.gap.start, joint.gap.end)
        board.add(Polyline(Role.MOVEMENT_JOINT, gap, True, joint.id, f"movement joint {joint.id}"))
    if leaf.id == wall.leaves[0]:
        board.reach(inset(Rect(*wall.start, *wall.start), -board.mm(ARROW)))
        board.add(Symbol(Role.DIMENSION, "arrow", wall.start, ARROW, arrow_turn(wall), wall.id, f"setting-out end of {wall.id}"))
    for point in shape:
        board.room.take(inset(Rect(*point, *point), -board.mm(0.5)))
    for a, b in zip(shape, (*shape[1:], shape[0]), strict=True):
        board.keep_off(a, b)


def _across(facts: LeafFacts, start: float, end: float) -> tuple[Point, ...]:
    """A stretch of the leaf through its whole thickness."""
    outer, inner = facts.leaf.offset, facts.leaf.offset + facts.leaf.thickness
    return tuple(on_plan(facts.wall, at, left) for at, left in ((start, outer), (end, outer), (end, inner), (start, inner)))


def _joint_labels(board: Board, facts: LeafFacts) -> list[Label]:
    labels = []
    for joint in facts.joints:
        outside = facts.leaf.side == "outer"
        face = facts.leaf.offset if outside else facts.leaf.offset + facts.leaf.thickness
        at = on_plan(facts.wall, joint.at, face)
        spots = _beside(board, facts.wall, at, outside, (2.0, 5.5, 9.0))
        labels.append(Label(joint.id, Role.MOVEMENT_JOINT, spots, at, 0, 2.5, True, joint.id))
    return labels


def _wall_label(board: Board, facts: LeafFacts) -> Label:
    wall = facts.wall
    spots: list[Spot] = []
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        spots += _beside(board, wall, on_plan(wall, wall.length * share, facts.leaf.offset), True, (3.0, 6.5, 10.0))
    middle = on_plan(wall, wall.length / 2, facts.leaf.offset)
    return Label(f"{wall.id} {wall.name}".strip(), Role.TEXT, tuple(spots), middle, 0, 3.5, True, wall.id)


def _edge_label(board: Board, run: str, edge: RunEdge, facts: LeafFacts) -> Label:
    """The run and the length of this stretch of it, on the side its leaf faces."""
    leaf, wall = facts.leaf, facts.wall
    outside = leaf.side == "outer" and not wall.internal
    face = leaf.offset if outside else leaf.offset + leaf.thickness
    spots: list[Spot] = []
    for share in (0.5, 0.3, 0.7, 0.15, 0.85):
        at = on_plan(wall, edge.span.start + edge.span.length * share, face)
        spots += _beside(board, wall, at, outside, (2.5, 6.0, 9.5))
    middle = on_plan(wall, edge.span.middle, face)
    return Label(f"{run}  {facts.figures.run(edge.span.length)}", Role.DIMENSION, tuple(spots), middle, 2, 2.0, source=run)


def _beside(board: Board, wall: Wall, at: Point, outside: bool, reaches: tuple[float, ...]) -> tuple[Spot, ...]:
    """Spots square off a wall's face, the nearest first; along a wall that runs up the sheet the text is turned."""
    normal = left_of(direction(wall.start, wall.end))
    side = -1.0 if outside else 1.0
    away = (normal[0] * side, normal[1] * side)
    places = tuple((at[0] + away[0] * board.mm(r), at[1] + away[1] * board.mm(r)) for r in reaches)
    if abs(away[0]) > 0.9:
        upright: VAlign = "top" if away[0] > 0 else "base"
        return tuple(Spot(p, "centre", upright, 90.0) for p in places)
    align: Align = "left" if away[0] > 0.3 else "right" if away[0] < -0.3 else "centre"
    valign: VAlign = "base" if away[1] > 0.3 else "top" if away[1] < -0.3 else "middle"
    return tuple(Spot(p, align, valign) for p in places)


def _draw_title(board: Board, scale: int, notes: tuple[str, ...]) -> None:
    box = board.extents
    room = max(box.width, board.mm(120))
    y = box.bottom - board.mm(9)
    wide = board.text(Role.TEXT, (box.left, y), "Plan", 5.0, bold=True).width
    text = f"1:{scale}. Arrows: setting-out ends. Lengths of runs in m."
    board.text(Role.TEXT, (box.left + wide + board.mm(5), y), text, 2.5)
    y -= board.mm(4)
    for note in notes:
        y = board.paragraph(Role.TEXT, (box.left, y), note, room, 2.0)
