"""A drawing being made: primitives in order, the room that text takes, and how far everything reaches."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import pairwise

from elevgen.core.geometry import Point, Rect, Span, box_round
from elevgen.drawing.font import DESCENT, LINE_PITCH, Fonts
from elevgen.drawing.scene import Align, Dimension, Fill, Line, Paragraph, Polyline, Primitive, Role, Text, Tint, VAlign

SMALLEST_TEXT = 1.8
TEXT_SIZE = 2.5
DIMENSION_LIFT = 0.8
"""How far above its line a dimension's text stands, paper mm."""
_BEFORE: dict[Align, float] = {"left": 0.0, "centre": -0.5, "right": -1.0}
_UNDER: dict[VAlign, float] = {"base": 0.0, "middle": -0.5, "top": -1.0}
"""Where a text starts off its place, as parts of its width and height."""
CUT_CLEAR = 0.8
"""Kept clear on either side of a match line, paper mm."""


class Room:
    """Rectangles that are taken, kept in a coarse grid so that asking costs the same on a crowded drawing.

    They are put into the grid when it is asked: most sheets of paper never do.
    """

    def __init__(self, cell: float) -> None:
        self.cell = cell
        self.boxes: list[Rect] = []
        """Everything taken, in order."""
        self._cells: defaultdict[tuple[int, int], list[Rect]] = defaultdict(list)
        self._gridded = 0

    def take(self, box: Rect) -> None:
        self.boxes.append(box)

    def free(self, box: Rect) -> bool:
        """True when nothing taken overlaps the box."""
        for taken in self.boxes[self._gridded :]:
            for cell in self._touched(taken):
                self._cells[cell].append(taken)
        self._gridded = len(self.boxes)
        for cell in self._touched(box):
            for other in self._cells.get(cell, ()):
                if box.left < other.right and other.left < box.right and box.bottom < other.top and other.bottom < box.top:
                    return False
        return True

    def copy(self) -> Room:
        """Another with the same taken."""
        made = Room(self.cell)
        made.boxes = self.boxes.copy()
        made._cells.update((cell, boxes.copy()) for cell, boxes in self._cells.items())
        made._gridded = self._gridded
        return made

    def _touched(self, box: Rect) -> list[tuple[int, int]]:
        size = self.cell
        columns = range(int(box.left // size), int(box.right // size) + 1)
        rows = range(int(box.bottom // size), int(box.top // size) + 1)
        return [(i, j) for i in columns for j in rows]


def text_box(text: Text, fonts: Fonts, scale: float = 1.0) -> Rect:
    """The rectangle a text fills, descenders included, in the drawing's own millimetres. Rotation: 0 or 90 degrees."""
    height = text.height * scale
    width = fonts.width(text.text, height, text.bold)
    start, base = width * _BEFORE[text.align], height * _UNDER[text.valign]
    low, high = base - DESCENT * height, base + height
    x, y = text.at
    if text.rotation == 90.0:
        return Rect(x - high, y + start, x - low, y + start + width)
    return Rect(x + start, y + low, x + start + width, y + high)


def dimension_text(dim: Dimension, scale: float) -> Text:
    """Where the text of a dimension stands: at mid-length, just above the line, read from below or from the right."""
    lift = DIMENSION_LIFT * scale
    if dim.axis == "x":
        at, turn = ((dim.a[0] + dim.b[0]) / 2, dim.line_at + lift), 0.0
    else:
        at, turn = (dim.line_at - lift, (dim.a[1] + dim.b[1]) / 2), 90.0
    return Text(dim.role, at, dim.text, dim.height, "centre", "base", turn, source=dim.source)


def paragraph_lines(made: Paragraph, scale: float) -> tuple[Text, ...]:
    """Each line of a paragraph where it stands, in the drawing's own millimetres."""
    x, y = made.at
    down = made.pitch * scale
    return tuple(
        Text(made.role, (x, y - n * down), line, made.height, made.align, "base", 0.0, made.bold, made.source)
        for n, line in enumerate(made.lines)
    )


def written(primitives: Iterable[Primitive], scale: float = 1.0) -> tuple[Text, ...]:
    """Every line of text there is to read, in order; those of paragraphs and dimensions included."""
    found: list[Text] = []
    for primitive in primitives:
        match primitive:
            case Text():
                found.append(primitive)
            case Paragraph():
                found += paragraph_lines(primitive, scale)
            case Dimension():
                found.append(dimension_text(primitive, scale))
    return tuple(found)


class Board:
    """Collects the primitives of one view or sheet. On a sheet `scale` is 1: everything is paper mm there.

    `cuts` are where sheets part a long view: nothing that is read may stand across one.
    """

    def __init__(self, fonts: Fonts, scale: float = 1.0, source: str = "", cuts: tuple[float, ...] = ()) -> None:
        self.fonts = fonts
        self.scale = float(scale)
        self.source = source
        self.cuts = cuts
        self.primitives: list[Primitive] = []
        self.room = Room(self.mm(15))
        self._left = self._bottom = float("inf")
        self._right = self._top = float("-inf")

    def copy(self) -> Board:
        """Another with the same on it, to be drawn on by itself."""
        made = Board(self.fonts, self.scale, self.source, self.cuts)
        made.primitives, made.room = self.primitives.copy(), self.room.copy()
        made.reach(self.extents)
        return made

    def mm(self, paper: float) -> float:
        """Millimetres on paper as millimetres of the drawing."""
        return paper * self.scale

    @property
    def extents(self) -> Rect:
        """What everything put on the board so far reaches."""
        return Rect(self._left, self._bottom, self._right, self._top)

    def cut_strips(self, levels: Span) -> tuple[Rect, ...]:
        """What is kept clear along every cut, between two levels."""
        by = self.mm(CUT_CLEAR)
        return tuple(Rect(x - by, levels.start, x + by, levels.end) for x in self.cuts)

    def is_cut(self, along: Span) -> bool:
        """True when a cut runs through a stretch or too near to it."""
        by = self.mm(CUT_CLEAR)
        return any(along.start - by < x < along.end + by for x in self.cuts)

    def reach(self, box: Rect) -> None:
        """Make the extents hold a box."""
        self._left, self._bottom = min(self._left, box.left), min(self._bottom, box.bottom)
        self._right, self._top = max(self._right, box.right), max(self._top, box.top)

    def add(self, *primitives: Primitive) -> None:
        """Primitives that lie inside what is reached already, or reach nowhere new."""
        self.primitives.extend(primitives)

    def line(self, role: Role, a: Point, b: Point, source: str = "", title: str = "") -> None:
        self.primitives.append(Line(role, a, b, source or self.source, title))
        self.reach(box_round((a, b)))

    def keep_off(self, a: Point, b: Point, room: Room | None = None) -> None:
        """Keep labels off a line, in short steps where it slopes; those placed in another room, if one is given."""
        steps = 1 if abs(a[0] - b[0]) < 1 or abs(a[1] - b[1]) < 1 else 40
        points = [(a[0] + (b[0] - a[0]) * n / steps, a[1] + (b[1] - a[1]) * n / steps) for n in range(steps + 1)]
        for p, q in pairwise(points):
            box = Rect(min(p[0], q[0]), min(p[1], q[1]), max(p[0], q[0]), max(p[1], q[1]))
            (self.room if room is None else room).take(inset(box, -self.mm(0.3)))

    def keep_off_outline(self, points: Sequence[Point], room: Room | None = None) -> None:
        """Keep labels off the edge of a surface."""
        for a, b in pairwise((*points, points[0])):
            self.keep_off(a, b, room)

    def polyline(self, role: Role, points: tuple[Point, ...], closed: bool = False, source: str = "", title: str = "") -> None:
        self.primitives.append(Polyline(role, points, closed, source or self.source, title))
        self.reach(box_round(points))

    def rectangle(self, role: Role, box: Rect, source: str = "", title: str = "") -> None:
        self.polyline(role, corners(box), True, source, title)

    def fill(self, tint: Tint, box: Rect, source: str = "", role: Role = Role.TINT) -> None:
        self.primitives.append(Fill(role, corners(box), tint, source or self.source))
        self.reach(box)

    def text(
        self,
        role: Role,
        at: Point,
        text: str,
        height: float = TEXT_SIZE,
        align: Align = "left",
        valign: VAlign = "base",
        rotation: float = 0.0,
        bold: bool = False,
        source: str = "",
    ) -> Rect:
        """One line of text; its box is taken and returned. Empty text takes nothing."""
        made = Text(role, at, text, height, align, valign, rotation, bold, source or self.source)
        box = text_box(made, self.fonts, self.scale)
        if text:
            self.primitives.append(made)
            self.room.take(box)
            self.reach(box)
        return box

    def paragraph(
        self, role: Role, at: Point, text: str, room: float, height: float = TEXT_SIZE, bold: bool = False, source: str = ""
    ) -> float:
        """Text wrapped to `room` wide, its first base line at `at`. Returns the level of the next free base line."""
        x, y = at
        for line in self.fonts.wrap(text, self.mm(height), room, bold):
            self.text(role, (x, y), line, height, bold=bold, source=source)
            y -= self.mm(height * LINE_PITCH)
        return y

    def lines(self, made: Paragraph) -> None:
        """A paragraph already wrapped; the box of each of its lines is taken."""
        self.primitives.append(made)
        for line in paragraph_lines(made, self.scale):
            box = text_box(line, self.fonts, self.scale)
            self.room.take(box)
            self.reach(box)

    def dimension(self, dim: Dimension) -> None:
        self.primitives.append(dim)
        box = text_box(dimension_text(dim, self.scale), self.fonts, self.scale)
        self.room.take(box)
        self.reach(box)
        past = self.mm(1.3)
        if dim.axis == "x":
            self.reach(Rect(dim.a[0] - past, dim.line_at - past, dim.b[0] + past, max(dim.a[1], dim.line_at + past)))
        else:
            self.reach(Rect(min(dim.a[0], dim.line_at - past), dim.a[1] - past, dim.line_at + past, dim.b[1] + past))


def corners(box: Rect) -> tuple[Point, ...]:
    """The corners of a rectangle, anticlockwise from lower left."""
    return ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top))


def inset(box: Rect, by: float) -> Rect:
    """The rectangle, `by` smaller on every side (larger when negative)."""
    return Rect(box.left + by, box.bottom + by, box.right - by, box.top - by)
