"""The elevation of one leaf: masonry, openings, fittings, labels, dimensions, gauge rods."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.outline import leaf_outline
from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board, Room, inset
from elevgen.drawing.cut_marks import cut_marks, write_inside
from elevgen.drawing.damp_marks import draw_mesh, draw_trays, outline
from elevgen.drawing.dims import draw_heights, draw_running, draw_strings
from elevgen.drawing.dry_strip import draw_dry_courses, has_room
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import LINE_PITCH, Fonts
from elevgen.drawing.gauge import MOST_COLUMNS, columns_needed, draw_gauge
from elevgen.drawing.labels import Label, place_labels
from elevgen.drawing.marks import (
    draw_damp_courses,
    draw_features,
    draw_joints,
    draw_lintels,
    draw_reinforcement,
    draw_ties,
    joint_gaps,
    zone_labels,
)
from elevgen.drawing.met_walls import draw_met_walls
from elevgen.drawing.openings import draw_openings, strip_labels
from elevgen.drawing.patterns import block_name
from elevgen.drawing.profiles import level_labels
from elevgen.drawing.scene import BlockUse, Fill, Polyline, Role, View

MOST_BEDS_NAMED = 4
TITLE_SIZE, SCALE_SIZE, NOTE_SIZE = 5.0, 2.5, 2.0
SIDE_ROOM = 30.0
"""What the dimensions and gauge rods beside the wall take of the paper's width at least, mm."""


class Extras(NamedTuple):
    """What is left out of a view where the paper has no room for it; tables say the same."""

    gauge_columns: int
    dry_courses: bool


def elevation(facts: LeafFacts, fonts: Fonts, scale: int, notes: tuple[str, ...], rooms: Sequence[Rect] = ()) -> View:
    """The view of one leaf at full size, its text sized for 1:`scale`, with notes under its title. Its place is given later.

    It has all there is to show that one of the `rooms` on the paper holds; all there is where no rooms are told.
    """
    drawn, *less = _fullest_first(facts, scale)
    view = _drawn(facts, fonts, scale, notes, drawn)
    for extras in less:
        if _fits(view, rooms):
            break
        if _may_help(view, drawn, extras, rooms):
            view, drawn = _drawn(facts, fonts, scale, notes, extras), extras
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


def _drawn(facts: LeafFacts, fonts: Fonts, scale: int, notes: tuple[str, ...], extras: Extras) -> View:
    board = Board(fonts, scale, facts.leaf.id)
    soft = Room(board.mm(15))
    _draw_masonry(board, facts)
    draw_openings(board, facts)
    walls = draw_met_walls(board, facts.met, soft)
    features = draw_features(board, facts)
    draw_joints(board, facts)
    draw_ties(board, facts, soft)
    draw_mesh(board, facts)
    labels = [*draw_damp_courses(board, facts), *draw_lintels(board, facts), *draw_reinforcement(board, facts)]
    labels += draw_trays(board, facts)
    labels += [*walls, *level_labels(board, facts), *strip_labels(board, facts), *features, *zone_labels(board, facts)]
    for opening in facts.openings:
        _keep_off_edges(board, opening.rect)
    cuts = cut_marks(board, facts, soft)
    left_out = place_labels(board, labels, inset(facts.face, board.mm(0.5)), soft, joint_gaps(facts))
    _keep_off_fine_lines(board, facts)
    write_inside(board, cuts)
    place_labels(board, cuts.labels, facts.face, soft)
    draw_gauge(board, facts, extras.gauge_columns)
    draw_heights(board, facts)
    last_line = draw_strings(board, facts, draw_running(board, facts))
    if extras.dry_courses:
        last_line = draw_dry_courses(board, facts, last_line)
    _draw_title(board, facts, scale, last_line, (*_beds_left_out(left_out), *notes))
    extents = inset(board.extents, -board.mm(0.2))
    return View(facts.leaf.id, facts.title, tuple(board.primitives), extents, scale, (0.0, 0.0), facts.leaf.id)


def _beds_left_out(labels: tuple[Label, ...]) -> Iterator[str]:
    """Which reinforcement the drawing has no room to name: it lies too close."""
    beds = [label.text for label in labels if label.role is Role.BED_REINFORCEMENT]
    if beds:
        more = f" and {len(beds) - MOST_BEDS_NAMED} more in the table" if len(beds) > MOST_BEDS_NAMED else ""
        yield f"Bed reinforcement not named above: {'; '.join(beds[:MOST_BEDS_NAMED])}{more}."


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
    outline = leaf_outline(leaf)
    board.polyline(Role.OUTLINE, outline, True, leaf.id, facts.title)
    if len(outline) > 4:
        for a, b in pairwise((*outline, outline[0])):
            board.keep_off(a, b)
    board.reach(facts.face)


def _keep_off_edges(board: Board, box: Rect) -> None:
    """Labels may not stand across the edge of an opening."""
    by = board.mm(0.2)
    for x in (box.left, box.right):
        board.room.take(Rect(x - by, box.bottom, x + by, box.top))
    for y in (box.bottom, box.top):
        board.room.take(Rect(box.left, y - by, box.right, y + by))


def _keep_off_fine_lines(board: Board, facts: LeafFacts) -> None:
    """What labels on their pale ground may cover, figures without one may not: edges of walls met, mesh."""
    for met in facts.met:
        for x in (met.band.left, met.band.right):
            board.keep_off((x, met.band.bottom), (x, met.band.top))
    for strip in facts.mesh:
        edge = outline(strip)
        for a, b in pairwise((*edge, edge[0])):
            board.keep_off(a, b)


def _draw_title(board: Board, facts: LeafFacts, scale: int, last_line: float, notes: tuple[str, ...]) -> None:
    """Title, how it is seen and at what scale, and the notes; under the dimensions."""
    left, right = board.extents.left, board.extents.right
    y = last_line - board.mm(5.5 + TITLE_SIZE)
    seen = f"1:{scale}, {facts.seen_from}, {facts.bond}. {facts.figures.note}"
    after = left + board.fonts.width(facts.title, board.mm(TITLE_SIZE), bold=True) + board.mm(5)
    if after + board.fonts.width(seen, board.mm(SCALE_SIZE)) <= right:
        board.text(Role.TEXT, (left, y), facts.title, TITLE_SIZE, bold=True)
        board.text(Role.TEXT, (after, y), seen, SCALE_SIZE)
        y -= board.mm(SCALE_SIZE * LINE_PITCH)
    else:
        y = board.paragraph(Role.TEXT, (left, y), facts.title, right - left, TITLE_SIZE, bold=True)
        y += board.mm((TITLE_SIZE - SCALE_SIZE) * LINE_PITCH)
        y = board.paragraph(Role.TEXT, (left, y), seen, right - left, SCALE_SIZE)
        y += board.mm((SCALE_SIZE - NOTE_SIZE) * LINE_PITCH)
    for note in notes:
        y = board.paragraph(Role.TEXT, (left, y), note, right - left, NOTE_SIZE)
