"""Openings, and the strips between them that cannot be built in masonry."""

from __future__ import annotations

from elevgen.building.model import Opening, OpeningGroup, Strip
from elevgen.core.geometry import Point, Rect
from elevgen.drawing.board import SMALLEST_TEXT, TEXT_SIZE, Board, Room, inset
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import DESCENT
from elevgen.drawing.labels import Label, Spot
from elevgen.drawing.scene import Polyline, Role

LINTEL_ROOM = 4.0
"""Kept free under the head of an opening for the lintel's own label, paper mm."""
_STEPS = (0.0, 0.5, -0.5, 1.0, -1.0)
_SHIFTS = tuple(sorted(((i, j) for i in _STEPS for j in _STEPS), key=lambda s: (abs(s[0]) + abs(s[1]), s)))
"""Where the text may stand in an opening, as parts of the room it has to both sides: the middle first."""


def draw_openings(board: Board, facts: LeafFacts) -> None:
    """Every opening's clear rectangle; strips crossed out."""
    for group in facts.groups:
        for strip in group.strips:
            _draw_strip(board, group, strip)
    for opening in facts.openings:
        size = f"{facts.figures.length(opening.rect.width)} wide, {facts.figures.length(opening.rect.height)} high"
        board.rectangle(Role.OPENING, opening.rect, opening.id, f"{opening.kind} {opening.id}, {size}")


def name_openings(board: Board, facts: LeafFacts, soft: Room) -> tuple[Label, ...]:
    """The mark, size and levels of every opening inside it, clear of what else runs there; a label where it has no room."""
    return tuple(
        Label("  ".join(_wordings(facts, o)[1]), Role.OPENING, (), _middle(facts, o), 0, SMALLEST_TEXT, True, o.id)
        for o in facts.openings
        if not _named_inside(board, facts, o, soft)
    )


def _middle(facts: LeafFacts, opening: Opening) -> Point:
    """The middle of what this leaf has of an opening."""
    return clipped(opening.rect, facts.face).along.middle, opening.rect.levels.middle


def clipped(box: Rect, face: Rect) -> Rect:
    """What lies within the face along it."""
    return Rect(max(box.left, face.left), box.bottom, min(box.right, face.right), box.top)


def strip_labels(board: Board, facts: LeafFacts) -> tuple[Label, ...]:
    """`no masonry` at every strip: on it where it is wide enough, beside it with a leader where not."""
    labels = []
    for group in facts.groups:
        for strip in group.strips:
            middle = (strip.rect.along.middle, strip.rect.levels.middle)
            fits_along = strip.rect.height > board.mm(3.5) and strip.rect.width > board.mm(18)
            fits_up = strip.rect.width > board.mm(3.5) and strip.rect.height > board.mm(18)
            spots = ((Spot(middle),) if fits_along else ()) + ((Spot(middle, rotation=90.0),) if fits_up else ())
            labels.append(Label("no masonry", Role.MARK, spots, middle, 1, SMALLEST_TEXT, source=group.id))
    return tuple(labels)


def _draw_strip(board: Board, group: OpeningGroup, strip: Strip) -> None:
    board.fill("strip", strip.rect, group.id)
    board.rectangle(Role.OPENING, strip.rect, group.id, f"{strip.kind} too small to build in masonry")
    box = strip.rect
    cross = ((box.left, box.bottom), (box.right, box.top), (box.right, box.bottom), (box.left, box.top))
    board.add(Polyline(Role.MARK, cross, False, group.id))


def _named_inside(board: Board, facts: LeafFacts, opening: Opening, soft: Room) -> bool:
    room = inset(clipped(opening.rect, facts.face), board.mm(0.5))
    room = Rect(room.left, room.bottom, room.right, max(room.top - board.mm(LINTEL_ROOM), room.bottom))
    return any(
        _try_inside(board, soft, opening, room, lines, height, turned)
        for lines in _wordings(facts, opening)
        for height in (TEXT_SIZE, SMALLEST_TEXT)
        for turned in (False, True)
    )


def _wordings(facts: LeafFacts, opening: Opening) -> tuple[tuple[str, ...], ...]:
    """What is said of an opening, the fullest first."""
    rect = opening.rect
    wide, high = facts.figures.length(rect.width), facts.figures.length(rect.height)
    size = f"{wide} × {high}"
    levels = (f"head {facts.figures.level(rect.top)}", f"sill {facts.figures.level(rect.bottom)}")
    return (
        (opening.id, size, *levels),
        (opening.id, size),
        (opening.id, f"{wide} ×", high),
        (f"{opening.id} {size}",),
        (opening.id,),
    )


def _try_inside(
    board: Board, soft: Room, opening: Opening, room: Rect, lines: tuple[str, ...], height: float, turned: bool
) -> bool:
    """Set the lines in the middle of the opening, or as near to it as it is free."""
    tall = board.mm(height)
    pitch = tall * 1.6
    deep = pitch * (len(lines) - 1) + tall * (1 + DESCENT)
    wide = max(board.fonts.width(line, tall, bold=n == 0) for n, line in enumerate(lines))
    along, up = (deep, wide) if turned else (wide, deep)
    if along > room.width or up > room.height:
        return False
    middle = room.along.middle, room.levels.middle
    slack = (room.width - along) / 2, (room.height - up) / 2
    for x, y in ((middle[0] + slack[0] * i, middle[1] + slack[1] * j) for i, j in _SHIFTS):
        box = Rect(x - along / 2, y - up / 2, x + along / 2, y + up / 2)
        if not (board.room.free(box) and soft.free(box)):
            continue
        for n, line in enumerate(lines):
            off = deep / 2 - tall - n * pitch
            at = (x - off, y) if turned else (x, y + off)
            turn = 90.0 if turned else 0.0
            board.text(Role.OPENING, at, line, height, "centre", rotation=turn, bold=n == 0, source=opening.id)
        return True
    return False
