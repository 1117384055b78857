"""The elevation of one leaf: masonry, openings, fittings, labels, dimensions, gauge rods."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.outline import leaf_outline
from elevgen.core.geometry import Rect, Span
from elevgen.drawing.board import Board, Room, inset, text_box, written
from elevgen.drawing.cut_marks import cut_marks, write_inside
from elevgen.drawing.damp_marks import draw_mesh, draw_trays, outline
from elevgen.drawing.dims import draw_heights, draw_running, draw_strings
from elevgen.drawing.dry_strip import draw_dry_courses, has_room
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import LINE_PITCH, Fonts
from elevgen.drawing.gauge import MOST_COLUMNS, columns_needed, draw_gauge
from elevgen.drawing.labels import Placing
from elevgen.drawing.left_out import number_left_out
from elevgen.drawing.marks import (
    TIE_SIZE,
    draw_damp_courses,
    draw_features,
    draw_joints,
    draw_lintels,
    draw_reinforcement,
    draw_ties,
    joint_gaps,
    lintel_ends,
    zone_labels,
)
from elevgen.drawing.met_walls import draw_met_walls
from elevgen.drawing.openings import draw_openings, name_openings, strip_labels
from elevgen.drawing.patterns import block_name
from elevgen.drawing.profiles import level_labels
from elevgen.drawing.scene import BlockUse, Fill, LeftOut, Line, Polyline, Role, View
from elevgen.drawing.schedule_ties import ties_on

TITLE_SIZE, SCALE_SIZE, NOTE_SIZE, TITLE_IN = 5.0, 2.5, 2.0, 0.8
"""Heights of the title, of how it is seen and of notes; how far they stand in from the left, off the frame; paper mm."""
SIDE_ROOM = 30.0
"""What the dimensions and gauge rods beside the wall take of the paper's width at least, mm."""


class Extras(NamedTuple):
    """What is left out of a view where the paper has no room for it; tables say the same."""

    gauge_columns: int
    dry_courses: bool


def elevation(
    facts: LeafFacts, fonts: Fonts, scale: int, notes: tuple[str, ...], cuts: tuple[float, ...] = (), rooms: Sequence[Rect] = ()
) -> View:
    """The view of one leaf at full size, its text sized for 1:`scale`, with notes under its title. Its place is given later.

    `cuts` are where sheets part it: no label stands there. It has all there is to show that one of the `rooms` on the paper
    holds; all there is where no rooms are told.
    """
    board = Board(fonts, scale, facts.leaf.id, cuts)
    left_out = _draw_face(board, facts)
    drawn, *less = _fullest_first(facts, scale)
    view = _surrounded(board, facts, notes, left_out, drawn)
    for extras in less:
        if _fits(view, rooms):
            break
        if _may_help(view, drawn, extras, rooms):
            view, drawn = _surrounded(board, facts, notes, left_out, extras), extras
    return view


def _fits(view: View, rooms: Sequence[Rect]) -> bool:
    width, height = view.extents.width / view.scale, view.extents.height / view.scale
    return not rooms or any(width <= room.width and height <= room.height for room in rooms)


def _may_help(view: View, drawn: Extras, extras: Extras, rooms: Sequence[Rect]) -> bool:
    """False where leaving that out leaves the view too wide or too high for any room."""
    too_wide = view.extents.width > max(room.width for room in rooms) * view.scale
    too_high = view.extents.height > max(room.height for room in rooms) * view.scale
    return not (too_wide and extras.gauge_columns == drawn.gauge_columns > 1) and not (too_high and extras.dry_courses)


def _fullest_first(facts: LeafFacts, scale: int) -> tuple[Extras, ...]:
    """Every course written and the first two drawn dry; without the one, without the other; neither."""
    needed = columns_needed(facts, scale)
    columns = dict.fromkeys((needed if needed <= MOST_COLUMNS else 1, 1))
    dry = dict.fromkeys((has_room(facts, scale), False))
    return tuple(Extras(most, drawn) for most in columns for drawn in dry)


def _draw_face(board: Board, facts: LeafFacts) -> tuple[LeftOut, ...]:
    """All that stands on the wall and over it, and its labels. Returns those there was no room for."""
    soft = Room(board.mm(15))
    match_lines = board.cut_strips(Span(facts.face.bottom, facts.face.top))
    for strip in match_lines:
        board.room.take(strip)
    _draw_masonry(board, facts)
    draw_openings(board, facts)
    walls = draw_met_walls(board, facts.met, soft)
    features = draw_features(board, facts)
    draw_joints(board, facts)
    draw_ties(board, facts, soft)
    draw_mesh(board, facts, soft)
    labels = [*draw_damp_courses(board, facts), *draw_lintels(board, facts), *draw_reinforcement(board, facts)]
    labels += draw_trays(board, facts)
    labels += [*walls, *level_labels(board, facts), *strip_labels(board, facts), *features, *zone_labels(board, facts)]
    for line in (p for p in board.primitives if isinstance(p, Line | Polyline) and p.role is Role.DPC):
        points = (line.a, line.b) if isinstance(line, Line) else line.points
        for a, b in pairwise(points):
            board.keep_off(a, b)
    for box in _edged(facts):
        _keep_off_edges(board, box)
    for feature in facts.wall.features:
        soft.take(Rect(feature.at - board.mm(0.3), facts.face.bottom, feature.at + board.mm(0.3), facts.face.top))
    labels += name_openings(board, facts, soft)
    marks = cut_marks(board, facts, soft)
    placing = Placing(board, inset(facts.face, board.mm(0.5)), soft, joint_gaps(facts), match_lines)
    left_out = number_left_out(placing, placing.place_all(labels))
    placing.place_all(lintel_ends(board, facts))
    placing.place_all(marks.labels)
    _keep_off_fine_lines(board, facts)
    placing.place_all(write_inside(board, facts, marks))
    return left_out


def _surrounded(face: Board, facts: LeafFacts, notes: tuple[str, ...], left_out: tuple[LeftOut, ...], extras: Extras) -> View:
    """The view of a face that is drawn, with what stands beside it and under it; the face is left as it is."""
    board, scale = face.copy(), int(face.scale)
    draw_beside(board, facts, extras.gauge_columns)
    last_line = draw_strings(board, facts, draw_running(board, facts))
    if extras.dry_courses:
        last_line = draw_dry_courses(board, facts, last_line)
    shown = inset(board.extents, -board.mm(0.2))
    _draw_title(board, facts, scale, last_line, notes)
    extents = inset(board.extents, -board.mm(0.2))
    return View(
        facts.leaf.id,
        facts.title,
        tuple(board.primitives),
        extents,
        scale,
        (0.0, 0.0),
        facts.leaf.id,
        shown=shown,
        cuts=board.cuts,
        notes=notes,
        left_out=left_out,
    )


def draw_beside(board: Board, facts: LeafFacts, gauge_columns: int) -> None:
    """What stands at both ends of the face: gauge rods, and the string of heights beyond the one on the right.

    What is drawn past an end of the face, such as a lintel that goes on round a corner, keeps them off.
    """
    spans = [*(x.span for x in facts.lintels), *(x.span for x in facts.damp_courses), *(x.span for x in facts.trays)]
    spans += [strip.rect.along for group in facts.groups for strip in group.strips]
    spans += [*(o.rect.along for o in facts.openings), *(bed.span for bed in facts.reinforced)]
    left, right = min((facts.face.left, *(s.start for s in spans))), max((facts.face.right, *(s.end for s in spans)))
    facts = facts._replace(face=Rect(left, facts.face.bottom, right, facts.face.top))
    draw_rods(board, facts, gauge_columns)


def draw_rods(board: Board, facts: LeafFacts, gauge_columns: int = MOST_COLUMNS) -> None:
    """The gauge rods and the string of heights at the ends of the face as it is given."""
    first = len(board.primitives)
    draw_gauge(board, facts, gauge_columns)
    texts = written(board.primitives[first:], board.scale)
    draw_heights(board, facts, max((text_box(t, board.fonts, board.scale).right for t in texts), default=facts.face.right))


def _edged(facts: LeafFacts) -> tuple[Rect, ...]:
    """What is drawn with an outline that no label may cross: openings, strips that are no masonry, lintels with a depth."""
    lintels = (Rect(x.span.start, x.underside, x.span.end, x.underside + x.depth) for x in facts.lintels if x.depth is not None)
    strips = (strip.rect for group in facts.groups for strip in group.strips)
    return (*(o.rect for o in facts.openings), *strips, *lintels)


def _draw_masonry(board: Board, facts: LeafFacts) -> None:
    """Course patterns where they lie, pieces cut to the slope, and the outline of the leaf."""
    leaf, coursing = facts.leaf, facts.coursing
    unit = {course.number: course.unit for course in coursing.courses}
    for laid in coursing.placements:
        at = (laid.span.start, laid.level)
        board.add(BlockUse(Role.UNIT, block_name(laid.pattern), at, leaf.id, f"course {laid.course}, {unit[laid.course]}"))
    for rake in coursing.rakes:
        board.add(Fill(Role.TINT, rake.outline, "cut", leaf.id))
        board.add(Polyline(Role.CUT_UNIT, rake.outline, True, leaf.id, f"course {rake.course}, cut to the slope"))
    edge = leaf_outline(leaf)
    board.polyline(Role.OUTLINE, edge, True, leaf.id, facts.title)
    if len(edge) > 4:
        board.keep_off_outline(edge)
    board.reach(facts.face)


def _keep_off_edges(board: Board, box: Rect) -> None:
    """Labels may not stand across the edge of an opening."""
    by = board.mm(0.2)
    for x in (box.left, box.right):
        board.room.take(Rect(x - by, box.bottom, x + by, box.top))
    for y in (box.bottom, box.top):
        board.room.take(Rect(box.left, y - by, box.right, y + by))


def _keep_off_fine_lines(board: Board, facts: LeafFacts) -> None:
    """What labels on their pale ground may cover, figures without one may not: the face's edge, ties, walls met, mesh."""
    _keep_off_edges(board, facts.face)
    half = board.mm(TIE_SIZE / 2)
    for tie in ties_on(facts):
        board.room.take(Rect(tie.at - half, tie.level - half, tie.at + half, tie.level + half))
    for met in facts.met:
        for x in (met.band.left, met.band.right):
            board.keep_off((x, met.band.bottom), (x, met.band.top))
    for strip in facts.mesh:
        board.keep_off_outline(outline(strip, facts.face))


def _draw_title(board: Board, facts: LeafFacts, scale: int, last_line: float, notes: tuple[str, ...]) -> None:
    """Title, how it is seen and at what scale, and the notes; under the dimensions."""
    box = board.extents
    write_title(board, Span(box.left, box.right), last_line - board.mm(5.5), facts.title, seen(facts, scale), notes)


def seen(facts: LeafFacts, scale: int) -> str:
    """How a leaf is seen, at what scale, in what bond and mortar, how it is pointed, and in what its figures are."""
    built = ", ".join((facts.bond, *facts.leaf.joints_as_asked))
    return f"{facts.figures.scale(scale)}, {facts.seen_from}, {built}. {facts.figures.note}"


def write_title(board: Board, along: Span, top: float, title: str, how: str, notes: tuple[str, ...]) -> float:
    """Title, how it is seen, and notes, from a level down. Returns the level of the next free base line."""
    left, right = along.start + board.mm(TITLE_IN), along.end
    y = top - board.mm(TITLE_SIZE)
    after = left + board.fonts.width(title, board.mm(TITLE_SIZE), bold=True) + board.mm(5)
    if after + board.fonts.width(how, board.mm(SCALE_SIZE)) <= right:
        board.text(Role.TEXT, (left, y), title, TITLE_SIZE, bold=True)
        board.text(Role.TEXT, (after, y), how, SCALE_SIZE)
        y -= board.mm(SCALE_SIZE * LINE_PITCH)
    else:
        y = board.paragraph(Role.TEXT, (left, y), title, right - left, TITLE_SIZE, bold=True)
        y += board.mm((TITLE_SIZE - SCALE_SIZE) * LINE_PITCH)
        y = board.paragraph(Role.TEXT, (left, y), how, right - left, SCALE_SIZE)
        y += board.mm((SCALE_SIZE - NOTE_SIZE) * LINE_PITCH)
    for note in notes:
        y = board.paragraph(Role.TEXT, (left, y), note, right - left, NOTE_SIZE)
    return y
