"""The first two courses drawn piece by piece under the wall, as long as they are and high enough to be written in."""

from __future__ import annotations

from elevgen.core.geometry import TOLERANCE, Rect, Span
from elevgen.drawing.board import Board
from elevgen.drawing.dims import NAME_PITCH, NAME_ROOM, NAME_SIZE
from elevgen.drawing.dry_courses import DryPiece, DryStretch, dry_courses
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.inside import FIGURE_SIZES, free, write, written_inside
from elevgen.drawing.scene import Role, Symbol

COURSE_HIGH, GAP, BELOW = 7.0, 0.8, 4.0
"""How high a course is drawn, what is between the two, and how far they are under the last dimension line; paper mm."""
LEAST_LONG = 4.0
"""Units shorter than this on paper, mm, are not drawn a second time."""
_REVEAL, _CLEAR, _ARROW = 1.4, 0.2, 2.4


def draw_dry_courses(board: Board, facts: LeafFacts, last_line: float) -> float:
    """Under the last dimension line, the first course under the second; nothing where the scale has no room.

    Returns the level of what is then the last line.
    """
    stretches = dry_courses(facts)
    if not stretches or not has_room(facts, board.scale):
        return last_line
    top = last_line - board.mm(BELOW)
    rows = 1 + max(s.turn for s in stretches)
    for cut in board.cut_strips(Span(top - board.mm(rows * (COURSE_HIGH + GAP)), top)):
        board.room.take(cut)
    for turn in range(rows):
        row = [s for s in stretches if s.turn == turn]
        bottom = top - board.mm((rows - turn) * COURSE_HIGH + (rows - turn - 1) * GAP)
        for stretch in row:
            _draw_stretch(board, facts, stretch, bottom)
        for stretch in row:
            _write_lengths(board, facts, stretch, bottom)
        numbers = sorted({s.course for s in row})
        name = f"course {numbers[0]} dry" if len(numbers) == 1 else f"courses {', '.join(map(str, numbers))} dry"
        _write_name(board, facts, name, bottom + board.mm(COURSE_HIGH / 2))
    bottom = top - board.mm(rows * COURSE_HIGH + (rows - 1) * GAP)
    _draw_marks(board, facts, Span(bottom, top))
    return bottom


def _write_name(board: Board, facts: LeafFacts, name: str, middle: float) -> None:
    """Beside a course, as the names of dimension strings stand."""
    lines = board.fonts.wrap(name, board.mm(NAME_SIZE), board.mm(NAME_ROOM))
    for n, line in enumerate(lines):
        at = (facts.face.left - board.mm(1.2), middle + board.mm(NAME_PITCH * ((len(lines) - 1) / 2 - n)))
        board.text(Role.DIMENSION, at, line, NAME_SIZE, "right", "middle", source=facts.leaf.id)


def has_room(facts: LeafFacts, scale: float) -> bool:
    """True when the units of the leaf are long enough on paper to be told apart and written in."""
    return min(zone.unit.length for zone in facts.leaf.zones) >= LEAST_LONG * scale


def _draw_stretch(board: Board, facts: LeafFacts, stretch: DryStretch, bottom: float) -> None:
    material = next(z.unit.material for z in facts.leaf.zones if z.unit.name == _unit(facts, stretch.course))
    top = bottom + board.mm(COURSE_HIGH)
    board.fill(material, Rect(stretch.span.start, bottom, stretch.span.end, top), facts.leaf.id)
    for piece in stretch.pieces:
        kind = "cut" if stretch.cut_to is not None else piece.kind
        box = _box(board, stretch, piece, bottom)
        if kind != "full":
            board.fill(kind, box, facts.leaf.id)
        title = f"course {stretch.course}, {_title(facts, piece)}, from {facts.figures.length(piece.span.start)}"
        board.rectangle(Role.CUT_UNIT if kind == "cut" else Role.UNIT, box, facts.leaf.id, title)


def _write_lengths(board: Board, facts: LeafFacts, stretch: DryStretch, bottom: float) -> None:
    """What each piece is cut to, written in it."""
    for piece in stretch.pieces:
        if piece.kind == "cut":
            box = _box(board, stretch, piece, bottom)
            words = (facts.figures.length(piece.length), facts.figures.length(piece.length, 0))
            text = free(board, written_inside(board, box, words, Role.MARK, FIGURE_SIZES, facts.leaf.id))
            if text is not None:
                write(board, text)


def _box(board: Board, stretch: DryStretch, piece: DryPiece, bottom: float) -> Rect:
    start, end = max(piece.span.start, stretch.span.start), min(piece.span.end, stretch.span.end)
    return Rect(start, bottom, end, bottom + board.mm(COURSE_HIGH))


def _unit(facts: LeafFacts, course: int) -> str:
    return next(c.unit for c in facts.coursing.courses if c.number == course)


def _title(facts: LeafFacts, piece: DryPiece) -> str:
    return f"{'whole' if piece.kind == 'full' else piece.kind} {facts.figures.length(piece.length)}"


def _draw_marks(board: Board, facts: LeafFacts, levels: Span) -> None:
    """What is marked on both courses: arrows over and under them at every joint, a stroke over them at every reveal."""
    clear, long = board.mm(_CLEAR), board.mm(_CLEAR + _ARROW)
    for joint in facts.joints:
        if joint.levels.start <= facts.leaf.base.level_right_of(joint.at) + TOLERANCE:
            for level, turn in ((levels.end + clear, 0.0), (levels.start - clear, 180.0)):
                title = f"joint {joint.id} on the first two courses"
                board.add(Symbol(Role.MOVEMENT_JOINT, "arrow", (joint.at, level), _ARROW, turn, joint.id, title))
            half = board.mm(_ARROW / 2)
            board.reach(Rect(joint.at - half, levels.start - long, joint.at + half, levels.end + long))
    for group in facts.groups:
        for at in (group.clear.left, group.clear.right):
            title = f"reveal of {', '.join(group.openings)}"
            board.line(Role.OPENING, (at, levels.end), (at, levels.end + board.mm(_REVEAL)), group.id, title)
