"""Openings, and the strips between them that cannot be built in masonry."""

from __future__ import annotations

from elevgen.building.model import Opening, OpeningGroup, Strip
from elevgen.core.geometry import Rect
from elevgen.drawing.board import SMALLEST_TEXT, TEXT_SIZE, Board, inset
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import DESCENT
from elevgen.drawing.labels import Label, Spot
from elevgen.drawing.scene import Polyline, Role

LINTEL_ROOM = 4.0
"""Kept free under the head of an opening for the lintel's own label, paper mm."""


def draw_openings(board: Board, facts: LeafFacts) -> None:
    """Every opening's clear rectangle, its mark and size inside; strips crossed out."""
    for group in facts.groups:
        for strip in group.strips:
            _draw_strip(board, group, strip)
    for opening in facts.openings:
        _draw_opening(board, facts, opening)


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
    board.add(Polyline(Role.OPENING, cross, False, group.id))


def _draw_opening(board: Board, facts: LeafFacts, opening: Opening) -> None:
    size = f"{facts.figures.length(opening.rect.width)} wide, {facts.figures.length(opening.rect.height)} high"
    title = f"{opening.kind} {opening.id}, {size}"
    board.rectangle(Role.OPENING, opening.rect, opening.id, title)
    room = inset(opening.rect, board.mm(0.5))
    room = Rect(room.left, room.bottom, room.right, max(room.top - board.mm(LINTEL_ROOM), room.bottom))
    for lines in _wordings(facts, opening):
        for height in (TEXT_SIZE, SMALLEST_TEXT):
            for turned in (False, True):
                if _try_inside(board, opening, room, lines, height, turned):
                    return


def _wordings(facts: LeafFacts, opening: Opening) -> tuple[tuple[str, ...], ...]:
    """What is said of an opening, the fullest first."""
    rect = opening.rect
    size = f"{facts.figures.length(rect.width)} × {facts.figures.length(rect.height)}"
    levels = (f"head {facts.figures.level(rect.top)}", f"sill {facts.figures.level(rect.bottom)}")
    return ((opening.id, size, *levels), (opening.id, size), (f"{opening.id} {size}",), (opening.id,))


def _try_inside(board: Board, opening: Opening, room: Rect, lines: tuple[str, ...], height: float, turned: bool) -> bool:
    """Set the lines in the middle of the opening if they fit."""
    tall = board.mm(height)
    pitch = tall * 1.6
    deep = pitch * (len(lines) - 1) + tall * (1 + DESCENT)
    wide = max(board.fonts.width(line, tall, bold=n == 0) for n, line in enumerate(lines))
    along, up = (deep, wide) if turned else (wide, deep)
    if along > room.width or up > room.height:
        return False
    x, y = room.along.middle, room.levels.middle
    for n, line in enumerate(lines):
        off = deep / 2 - tall - n * pitch
        at = (x - off, y) if turned else (x, y + off)
        board.text(Role.OPENING, at, line, height, "centre", rotation=90.0 if turned else 0.0, bold=n == 0, source=opening.id)
    return True
