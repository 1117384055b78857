"""The parts of a wall too long for one sheet: a window for each, and what stands round it on the paper.

Rods and heights stand at both ends of every part; match lines say on which sheet the wall goes on.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.core.geometry import Point, Rect, Span
from elevgen.drawing.board import DIMENSION_LIFT, TEXT_SIZE, Board, dimension_text
from elevgen.drawing.dims import NAME_ROOM, NAME_SIZE
from elevgen.drawing.elevation import draw_rods, seen, write_title
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import DESCENT, Fonts
from elevgen.drawing.match_lines import parts
from elevgen.drawing.scene import Dimension, Line, Polyline, Primitive, Role, Symbol, Text, View, Window

OFF_FRAME = 2.0
"""Clear of the frame at both sides of a part, paper mm."""
MATCH_ROOM = 4.6
"""Between a match line and the rod: the words along it, paper mm."""
_LONG, _SHORT, _GAP = 9.0, 1.2, 1.6
"""The chain of a match line: a stroke, a dot, and the gaps between; paper mm."""
_OVER_TITLE = 5.5


class Sides(NamedTuple):
    """What stands beside a part on the paper, to its left and to its right, mm."""

    left: float
    right: float


class Part(NamedTuple):
    """One part of a wall on its sheet: which, the stretch of wall, its window, and all the paper it takes."""

    number: int
    of: int
    span: Span
    window: Window
    box: Rect

    def words(self, facts: LeafFacts) -> str:
        """`part 2 of 3, from 8250 to 16400`."""
        length = facts.figures.length
        return f"part {self.number} of {self.of}, from {length(self.span.start)} to {length(self.span.end)}"

    def title(self, facts: LeafFacts) -> str:
        """The title under it: `W1 South, outer leaf, part 2 of 3, from 8250 to 16400`."""
        return f"{facts.title}, {self.words(facts)}"


def sides(facts: LeafFacts, fonts: Fonts, scale: int) -> Sides:
    """How much paper the rods, the heights and the names of the strings take beside a part."""
    board = Board(fonts, scale)
    board.reach(facts.face)
    draw_rods(board, facts)
    box = board.extents
    left = max((facts.face.left - box.left) / scale, NAME_ROOM + 1.2)
    return Sides(left + MATCH_ROOM, (box.right - facts.face.right) / scale + MATCH_ROOM)


def longest_part(facts: LeafFacts, fonts: Fonts, scale: int, width: float) -> float:
    """How much of the wall goes on a stretch of paper of this width, model mm."""
    beside = sides(facts, fonts, scale)
    return (width - beside.left - beside.right - 2 * OFF_FRAME) * scale


def title_height(title: str, facts: LeafFacts, fonts: Fonts, width: float, view: View) -> float:
    """What the title under a part takes of the paper, mm."""
    return 1.0 - write_title(Board(fonts), Span(0.0, width), -_OVER_TITLE, title, seen(facts, view.scale), view.notes)


def lay_parts(view: View, facts: LeafFacts, fonts: Fonts, room: Rect) -> tuple[Part, ...]:
    """Each part of a parted view at the top of a room, in the middle of its width."""
    assert view.shown is not None
    shown, scale = view.shown, view.scale
    beside = sides(facts, fonts, scale)
    spans = parts(facts, view.cuts)
    found = []
    for n, span in enumerate(spans, start=1):
        start = shown.left if n == 1 else span.start
        end = shown.right if n == len(spans) else span.end
        wide = (end - start) / scale
        left, right = (0.0 if n == 1 else beside.left), (0.0 if n == len(spans) else beside.right)
        x = (room.left + room.right - left - wide - right) / 2 + left
        paper = Rect(x, room.top - shown.height / scale, x + wide, room.top)
        part = Part(n, len(spans), span, Window(view.id, paper, (start, shown.bottom), scale), paper)
        titled = title_height(part.title(facts), facts, fonts, left + wide + right, view)
        found.append(part._replace(box=Rect(x - left, paper.bottom - titled, x + wide + right, room.top)))
    return tuple(found)


def draw_part(board: Board, part: Part, view: View, facts: LeafFacts) -> None:
    """What stands on the paper round the window of a part."""
    window, span = part.window, part.span
    first, last = part.number == 1, part.number == part.of

    def x_of(at: float) -> float:
        return window.paper.left + (at - window.corner[0]) / window.scale

    if not first:
        _match_line(board, x_of(span.start), window.paper, -1, span.start, part.number - 1, facts)
    if not last:
        _match_line(board, x_of(span.end), window.paper, 1, span.end, part.number + 1, facts)
    for primitive in _beside(board.fonts, part, facts):
        for piece in _on_paper(primitive, window):
            board.add(piece)
    if not first:
        _string_names(board, part, view, facts)
    _figures_again(board, part, view)
    title = part.title(facts)
    top = window.paper.bottom - _OVER_TITLE
    write_title(board, part.box.along, top, title, seen(facts, view.scale), view.notes)


def _match_line(board: Board, x: float, paper: Rect, way: int, at: float, sheet: int, facts: LeafFacts) -> None:
    """A heavy chain line, and beside it where it is and on which sheet the wall goes on."""
    y = paper.top
    for n in range(int(paper.height / (_SHORT + _GAP)) + 1):
        stroke = _LONG if n % 2 == 0 else _SHORT
        low = max(y - stroke, paper.bottom)
        board.line(Role.FRAME, (x, y), (x, low), facts.leaf.id, "match line")
        y = low - _GAP
        if y <= paper.bottom:
            break
    place = facts.figures.length(at)
    wordings = (f"Match line at {place}: continues on sheet {sheet}", f"{place}: continues on sheet {sheet}", f"sheet {sheet}")
    words = next((w for w in wordings if board.fonts.width(w, TEXT_SIZE, bold=True) <= paper.height), wordings[-1])
    base = x + way * MATCH_ROOM / 2 + TEXT_SIZE * (1 - DESCENT) / 2
    board.text(Role.TEXT, (base, paper.levels.middle), words, TEXT_SIZE, "centre", "base", 90.0, bold=True, source=facts.leaf.id)


def _beside(fonts: Fonts, part: Part, facts: LeafFacts) -> Iterator[Primitive]:
    """Rods and heights at those ends of a part that are no ends of the wall, beyond the words of the match line."""
    scale = part.window.scale
    off = MATCH_ROOM * scale
    board = Board(fonts, scale, facts.leaf.id)
    face = Rect(part.span.start - off, facts.face.bottom, part.span.end + off, facts.face.top)
    draw_rods(board, facts._replace(face=face))
    for primitive in board.primitives:
        left = _first_point(primitive)[0] < part.span.middle
        if (left and part.number > 1) or (not left and part.number < part.of):
            yield primitive


def _first_point(primitive: Primitive) -> Point:
    match primitive:
        case Line() | Dimension():
            return primitive.a
        case Polyline():
            return primitive.points[0]
        case Text() | Symbol():
            return primitive.at
        case _:
            raise TypeError(f"no {type(primitive).__name__} stands beside a wall")


def _on_paper(primitive: Primitive, window: Window) -> Iterator[Primitive]:
    """What is drawn at full size, as it looks through the window."""
    scale = window.scale

    def at(p: Point) -> Point:
        return (
            window.paper.left + (p[0] - window.corner[0]) / scale,
            window.paper.bottom + (p[1] - window.corner[1]) / scale,
        )

    match primitive:
        case Line(role, a, b, source, title):
            yield Line(role, at(a), at(b), source, title)
        case Polyline(role, points, closed, source, title):
            yield Polyline(role, tuple(map(at, points)), closed, source, title)
        case Text(role, place, text, height, align, valign, rotation, bold, source):
            yield Text(role, at(place), text, height, align, valign, rotation, bold, source)
        case Dimension(role, a, b, _, line_at, _, _, source):
            (x, low), (_, high) = at((line_at, a[1])), at((line_at, b[1]))
            yield Line(role, (x, low), (x, high), source)
            for y in (low, high):
                yield Line(role, (x - 0.9, y - 0.9), (x + 0.9, y + 0.9), source)
            yield from _on_paper(dimension_text(primitive, scale), window)
        case _:
            raise TypeError(f"no {type(primitive).__name__} stands beside a wall")


def _string_names(board: Board, part: Part, view: View, facts: LeafFacts) -> None:
    """The names of the dimension strings, at the left of every part."""
    x = part.window.paper.left - MATCH_ROOM - 0.6
    for text in view.primitives:
        if isinstance(text, Text) and text.role is Role.DIMENSION and text.height == NAME_SIZE and text.at[0] < facts.face.left:
            y = part.window.paper.bottom + (text.at[1] - part.window.corner[1]) / view.scale
            board.text(text.role, (x, y), text.text, NAME_SIZE, "right", text.valign, source=text.source)


def _figures_again(board: Board, part: Part, view: View) -> None:
    """The figure of a dimension that runs into this part from another, over what is seen of it here."""
    window = part.window
    for dim in view.primitives:
        if not isinstance(dim, Dimension) or dim.axis != "x":
            continue
        here = Span(min(dim.a[0], dim.b[0]), max(dim.a[0], dim.b[0])).common(part.span)
        if here is None or part.span.contains((dim.a[0] + dim.b[0]) / 2):
            continue
        if board.fonts.width(dim.text, dim.height) + 4.0 <= here.length / window.scale:
            x = window.paper.left + (here.middle - window.corner[0]) / window.scale
            y = window.paper.bottom + (dim.line_at - window.corner[1]) / window.scale + DIMENSION_LIFT
            board.text(dim.role, (x, y), dim.text, dim.height, "centre", source=dim.source)
