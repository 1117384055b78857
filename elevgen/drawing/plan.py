"""The plan: every leaf in the tint of its run, joints, openings, corners with the developed length of their run, features.

What the title block's key plan and the sheets need of a footprint is here as well.
"""

from __future__ import annotations

from math import atan2, degrees

from elevgen.building.model import Feature, Leaf, LeafEnd, Run, Wall
from elevgen.core.geometry import TOLERANCE, Point, Rect, Span, box_round, direction, left_of
from elevgen.drawing.board import Board, inset
from elevgen.drawing.course_plan import on_plan as on_plan
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import Fonts
from elevgen.drawing.plan_dims import draw_overall
from elevgen.drawing.plan_key import circle, draw_key
from elevgen.drawing.plan_labels import CROWDED, CUT_HEIGHT, Subject, label_plan, openings_cut, turns
from elevgen.drawing.plan_runs import Developed
from elevgen.drawing.scene import Fill, Polyline, Role, Symbol, View
from elevgen.drawing.tints import run_tint
from elevgen.result import Design

PLAN = "plan"
ARROW, MARGIN = 2.5, 14.0
"""Size of the arrow at a wall's start, room for labels round the building; paper mm."""
CORNER_MARK, FEATURE_MARK = 0.7, 1.1
"""Half the size of the marks at corners and of features whose size is not known, paper mm."""
TITLE_GAP = 5.8
"""From the last dimension line to the base of the title, paper mm."""
BESIDE, OVER = 2.0, 0.3
"""Kept free beside the view, and over and under it, paper mm."""
THIN_LINES = 50
"""Drawn smaller than this, a leaf's thickness is no wider than two heavy lines: it is drawn in thin ones."""


def footprint(wall: Wall, leaf: Leaf) -> tuple[Point, ...]:
    """The four corners of a leaf on plan: outer face from start to end, then back along the inner face."""
    return band(wall, leaf, leaf.span)


def band(wall: Wall, leaf: Leaf, span: Span) -> tuple[Point, ...]:
    """A stretch of a leaf on plan, to its mitres where it reaches them."""
    outer, inner = leaf.offset, leaf.offset + leaf.thickness
    back_start = (
        _inner_end(leaf.start_end, span.start, -leaf.thickness) if span.start <= leaf.span.start + TOLERANCE else span.start
    )
    back_end = _inner_end(leaf.finish_end, span.end, leaf.thickness) if span.end >= leaf.span.end - TOLERANCE else span.end
    places = ((span.start, outer), (span.end, outer), (back_end, inner), (back_start, inner))
    return tuple(on_plan(wall, at, left) for at, left in places)


def arrow_turn(wall: Wall) -> float:
    """How an arrow at a wall's start is turned to point along it."""
    d = direction(wall.start, wall.end)
    return degrees(atan2(d[1], d[0])) + 90.0


def plan_bounds(design: Design) -> Rect:
    """What the footprints fill."""
    walls = {w.id: w for w in design.building.walls}
    return box_round(p for leaf in design.building.leaves for p in footprint(walls[leaf.wall], leaf))


def plan_view(design: Design, leaves: tuple[LeafFacts, ...], fonts: Fonts, scale: int, notes: tuple[str, ...]) -> View:
    """The plan at full size, its text sized for 1:`scale`, with its key and notes under its title."""
    board = Board(fonts, scale, PLAN)
    bounds = plan_bounds(design)
    by_leaf = {facts.leaf.id: facts for facts in leaves}
    runs = tuple(Developed(run) for run in design.runs)
    for number, run in enumerate(design.runs):
        _draw_run(board, run, number, by_leaf)
    for facts in leaves:
        _draw_leaf(board, facts)
    for developed in runs:
        _mark_corners(board, developed, by_leaf)
    board.reach(bounds)
    label_plan(board, Subject(leaves, runs, _bodies(by_leaf), bounds), inset(bounds, -board.mm(MARGIN)))
    if scale > CROWDED:
        notes = ("Too small here for every label: take positions and sizes from the tables, or ask for larger paper.", *notes)
    if not draw_overall(board, leaves[0].figures, _bodies(by_leaf), bounds):
        notes = ("Askew to the sheet: take overall lengths from the list of walls.", *notes)
    _draw_title(board, design, leaves, scale, notes)
    filled, aside, over = board.extents, board.mm(BESIDE), board.mm(OVER)
    extents = Rect(filled.left - aside, filled.bottom - over, filled.right + aside, filled.top + over)
    return View(PLAN, "Plan", tuple(board.primitives), extents, scale, (0.0, 0.0), PLAN)


def _inner_end(end: LeafEnd, outer: float, outwards: float) -> float:
    """Where the inner face ends: at a corner the mitre takes it to the other of near and far, and that leans outwards so far."""
    return end.near + end.far - outer + end.lean * outwards if end.kind == "corner" else outer


def _bodies(leaves: dict[str, LeafFacts]) -> tuple[tuple[Point, ...], ...]:
    return tuple(footprint(facts.wall, facts.leaf) for facts in leaves.values())


def _draw_run(board: Board, run: Run, number: int, leaves: dict[str, LeafFacts]) -> None:
    """The stretches of a run in its tint."""
    for edge in run.edges:
        facts = leaves[edge.leaf]
        board.add(Fill(Role.TINT, band(facts.wall, facts.leaf, edge.span), run_tint(number), run.id))


def _draw_leaf(board: Board, facts: LeafFacts) -> None:
    wall, leaf = facts.wall, facts.leaf
    shape = footprint(wall, leaf)
    role = Role.OUTLINE if board.scale <= THIN_LINES else Role.MARK
    board.add(Polyline(role, shape, True, leaf.id, facts.title))
    for opening in openings_cut(facts):
        hole = _across(facts, opening.rect.left, opening.rect.right)
        board.add(Fill(Role.TINT, hole, "opening", opening.id))
        at, wide = facts.figures.length(opening.rect.left), facts.figures.length(opening.rect.width)
        title = f"{opening.kind} {opening.id}, {wide} wide, {at} from the start of {wall.id}"
        board.add(Polyline(role if role is Role.MARK else Role.OPENING, hole, True, opening.id, title))
    for joint in facts.joints:
        gap = _across(facts, joint.gap.start, joint.gap.end)
        board.add(Polyline(Role.MOVEMENT_JOINT, gap, True, joint.id, f"movement joint {joint.id}"))
    if leaf.id == wall.leaves[0]:
        board.reach(inset(Rect(*wall.start, *wall.start), -board.mm(ARROW)))
        board.add(Symbol(Role.DIMENSION, "arrow", wall.start, ARROW, arrow_turn(wall), wall.id, f"setting-out end of {wall.id}"))
        _keep_off_arrow(board, wall)
        for feature in wall.features:
            if leaf.span.contains(feature.at):
                _draw_feature(board, facts, feature)
    for point in shape:
        board.room.take(inset(Rect(*point, *point), -board.mm(0.5)))
    for a, b in zip(shape, (*shape[1:], shape[0]), strict=True):
        board.keep_off(a, b)


def _keep_off_arrow(board: Board, wall: Wall) -> None:
    """Keep labels off the arrow at a wall's start, from its tip to the two ends of its base."""
    d, size = direction(wall.start, wall.end), board.mm(ARROW)
    (x, y), n = wall.start, left_of(d)
    for side in (-0.3, 0.3):
        board.keep_off(wall.start, (x - (d[0] + n[0] * side) * size, y - (d[1] + n[1] * side) * size))


def _across(facts: LeafFacts, start: float, end: float) -> tuple[Point, ...]:
    """A stretch of the leaf through its whole thickness."""
    outer, inner = facts.leaf.offset, facts.leaf.offset + facts.leaf.thickness
    return tuple(on_plan(facts.wall, at, left) for at, left in ((start, outer), (end, outer), (end, inner), (start, inner)))


def _draw_feature(board: Board, facts: LeafFacts, feature: Feature) -> None:
    """A round for a downpipe, a square for a pier or column, a notch for a recess: marks, for nobody has said how large."""
    size = board.mm(FEATURE_MARK)
    face = facts.leaf.offset
    title = f"{feature.kind}, {facts.figures.length(feature.at)} from the start of {facts.wall.id}"
    if feature.kind == "downpipe":
        centre = on_plan(facts.wall, feature.at, face - size)
        shape = circle(centre, size)
    else:
        deep = -2 * size if feature.kind in ("pier", "column") else size
        places = ((feature.at - size, face), (feature.at + size, face), (feature.at + size, face + deep))
        shape = tuple(on_plan(facts.wall, at, left) for at, left in (*places, (feature.at - size, face + deep)))
    board.polyline(Role.MARK, shape, True, facts.wall.id, title)
    board.room.take(box_round(shape))


def _mark_corners(board: Board, developed: Developed, leaves: dict[str, LeafFacts]) -> None:
    """A small lozenge where a run turns, on the face it is measured along."""
    for node in developed.run.nodes:
        if not turns(node, leaves):
            continue
        facts = leaves[node.at[0][0]]
        x, y = on_plan(facts.wall, node.at[0][1], facts.leaf.offset)
        half = board.mm(CORNER_MARK)
        along = facts.figures.run(developed.nodes[node.id])
        title = f"corner of {developed.run.id}, {along} along it"
        shape = ((x - half, y), (x, y - half), (x + half, y), (x, y + half))
        board.add(Fill(Role.TINT, shape, "panel", developed.run.id))
        board.polyline(Role.DIMENSION, shape, True, developed.run.id, title)


def _draw_title(board: Board, design: Design, leaves: tuple[LeafFacts, ...], scale: int, notes: tuple[str, ...]) -> None:
    box = board.extents
    room = max(box.width, board.mm(120))
    y = box.bottom - board.mm(TITLE_GAP)
    wide = board.text(Role.TEXT, (box.left, y), "Plan", 5.0, bold=True).width
    words = f"{design.figures.scale(scale)}. Developed lengths run along the masonry from where each run starts."
    if any(len(openings_cut(facts)) < len(facts.openings) for facts in leaves):
        notes = (f"Openings {leaves[0].figures.measure(CUT_HEIGHT)} above the lowest base; others are on the elevations.", *notes)
    start = box.left + wide + board.mm(5)
    if start + board.fonts.width(words, board.mm(2.5)) <= box.left + room:
        board.text(Role.TEXT, (start, y), words, 2.5)
        y -= board.mm(4.4)
    else:
        y = board.paragraph(Role.TEXT, (box.left, y - board.mm(5.0)), words, room, 2.5)
    y = draw_key(board, design, leaves, Rect(box.left, y, box.left + room, y))
    for note in notes:
        y = board.paragraph(Role.TEXT, (box.left, y), note, room, 2.0)
