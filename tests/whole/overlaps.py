"""What cannot be read on a sheet: every text box in paper millimetres against every other, against lines, edges and windows.

Boxes go from the lowest descender to the top of the capitals, by the metrics of the packaged font. Course patterns, tints and
pieces cut to a slope may lie behind a text, for labels stand on a pale ground; ties, thin marks and the dashes of walls met
may where that ground hides them. Nothing else may.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import Point, Rect
from elevgen.drawing.board import text_box, written
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Dimension, Fill, Line, Polyline, Primitive, Role, Scene, Sheet, Symbol, Window
from elevgen.writers._flatten import dimension_parts, symbol_parts

SMALLEST = 1.8
"""The smallest lettering of ISO 3098 (quoted), capital height in mm."""
HAIR = 0.05
"""Boxes that touch by less are taken to stand clear, paper mm."""
BEHIND = {Role.UNIT, Role.CUT_UNIT, Role.TINT}
HIDDEN_BY_GROUND = {Role.TIE, Role.MARK, Role.MEETING}
_CELL = 12.0


class Fault(NamedTuple):
    """Something that cannot be read, where, and what is in its way."""

    sheet: str
    kind: str
    text: str
    other: str

    def __str__(self) -> str:
        return f"{self.sheet}: {self.kind}: {self.text!r} / {self.other}"


class _Text(NamedTuple):
    order: int
    text: str
    box: Rect
    height: float


class _Stroke(NamedTuple):
    order: int
    role: Role
    a: Point
    b: Point
    name: str


class _Ground(NamedTuple):
    order: int
    box: Rect


class _Seen(NamedTuple):
    texts: list[_Text]
    strokes: list[_Stroke]
    grounds: list[_Ground]
    cut: list[str]


def faults(scene: Scene, fonts: Fonts | None = None) -> list[Fault]:
    """Every fault on every sheet of a scene."""
    fonts = fonts or Fonts()
    return [fault for sheet in scene.sheets for fault in sheet_faults(scene, sheet, fonts)]


def sheet_faults(scene: Scene, sheet: Sheet, fonts: Fonts) -> Iterator[Fault]:
    """The faults of one sheet."""
    seen = _seen(scene, sheet, fonts)
    for text in seen.cut:
        yield Fault(sheet.id, "cut by a window", text, "")
    frame = _frame(sheet)
    by_cell: defaultdict[tuple[int, int], list[_Text]] = defaultdict(list)
    for one in seen.texts:
        if one.height < SMALLEST - 1e-9:
            yield Fault(sheet.id, "too small", one.text, f"{one.height}")
        if not _holds(frame, one.box):
            yield Fault(sheet.id, "outside the frame", one.text, f"{frame}")
        met = {other.order: other for cell in _cells(one.box) for other in by_cell[cell] if _meet(one.box, other.box)}
        for other in met.values():
            yield Fault(sheet.id, "over text", one.text, other.text)
        for cell in _cells(one.box):
            by_cell[cell].append(one)
    grounds: defaultdict[tuple[int, int], list[_Ground]] = defaultdict(list)
    for ground in seen.grounds:
        if ground.box.width * ground.box.height < 4e3:
            for cell in _cells(ground.box):
                grounds[cell].append(ground)
    for one in seen.texts:
        for ground in {g for cell in _cells(one.box) for g in grounds[cell]}:
            if ground.order > one.order and _meet(one.box, ground.box):
                yield Fault(sheet.id, "covered", one.text, f"a fill at {ground.box}")
    yield from _struck(sheet.id, seen.strokes, by_cell, grounds)


def _struck(
    sheet: str,
    strokes: Iterable[_Stroke],
    texts: dict[tuple[int, int], list[_Text]],
    grounds: dict[tuple[int, int], list[_Ground]],
) -> Iterator[Fault]:
    found = set()
    for stroke in strokes:
        for cell in _stroke_cells(stroke):
            for text in texts.get(cell, ()):
                if (text.order, stroke.name) in found or not strikes(stroke.a, stroke.b, _less(text.box)):
                    continue
                hidden = stroke.role in HIDDEN_BY_GROUND and any(
                    stroke.order < ground.order < text.order and _holds(ground.box, text.box)
                    for place in _cells(text.box)
                    for ground in grounds.get(place, ())
                )
                if not hidden:
                    found.add((text.order, stroke.name))
                    yield Fault(sheet, "over a line", text.text, f"{stroke.role} {stroke.name}")


def _seen(scene: Scene, sheet: Sheet, fonts: Fonts) -> _Seen:
    """Everything on a sheet in paper millimetres, in the order it is drawn."""
    seen = _Seen([], [], [], [])
    order = 0
    for window in sheet.windows:
        order = _add(seen, scene.view(window.view).primitives, window, fonts, order)
    _add(seen, sheet.primitives, None, fonts, order)
    return seen


def _add(seen: _Seen, primitives: Iterable[Primitive], window: Window | None, fonts: Fonts, order: int) -> int:
    scale = float(window.scale) if window else 1.0
    x0 = window.paper.left - window.corner[0] / scale if window else 0.0
    y0 = window.paper.bottom - window.corner[1] / scale if window else 0.0

    def on_paper(p: Point) -> Point:
        return (x0 + p[0] / scale, y0 + p[1] / scale)

    def boxed(box: Rect) -> Rect:
        return Rect(*on_paper((box.left, box.bottom)), *on_paper((box.right, box.top)))

    for primitive in primitives:
        order += 1
        for text in written((primitive,), scale):
            box = boxed(text_box(text, fonts, scale))
            if window and not _meet(box, window.paper):
                continue
            if window and not _holds(window.paper, box):
                seen.cut.append(text.text)
            seen.texts.append(_Text(order, text.text, box, text.height))
            order += 1
        if isinstance(primitive, Fill):
            seen.grounds.append(_Ground(order, boxed(_bounds(primitive.points))))
        elif primitive.role not in BEHIND:
            for role, a, b in _lines(primitive, scale):
                for p, q in _clipped(on_paper(a), on_paper(b), window.paper if window else None):
                    seen.strokes.append(_Stroke(order, role, p, q, _name(primitive)))
    return order


def _lines(primitive: Primitive, scale: float) -> Iterator[tuple[Role, Point, Point]]:
    match primitive:
        case Line(role, a, b):
            yield role, a, b
        case Polyline(role, points, closed):
            for a, b in pairwise((*points, points[0]) if closed else points):
                yield role, a, b
        case Dimension():
            for part in dimension_parts(primitive, scale):
                if isinstance(part, Line):
                    yield part.role, part.a, part.b
        case Symbol(role, name, at, size, rotation):
            for points, closed in symbol_parts(name, at, size * scale, rotation):
                for a, b in pairwise((*points, points[0]) if closed else points):
                    yield role, a, b


def _clipped(a: Point, b: Point, box: Rect | None) -> Iterator[tuple[Point, Point]]:
    """What a window shows of a line."""
    if box is None:
        yield a, b
        return
    enters, leaves = 0.0, 1.0
    for start, step, low, high in ((a[0], b[0] - a[0], box.left, box.right), (a[1], b[1] - a[1], box.bottom, box.top)):
        if abs(step) < 1e-12:
            if not low <= start <= high:
                return
            continue
        first, last = sorted(((low - start) / step, (high - start) / step))
        enters, leaves = max(enters, first), min(leaves, last)
    if enters < leaves:
        (x, y), (dx, dy) = a, (b[0] - a[0], b[1] - a[1])
        yield (x + dx * enters, y + dy * enters), (x + dx * leaves, y + dy * leaves)


def _name(primitive: Primitive) -> str:
    kind = type(primitive).__name__
    return f"{kind} of {primitive.source} {getattr(primitive, 'title', '')} {getattr(primitive, 'text', '')}".strip()


def _frame(sheet: Sheet) -> Rect:
    """The widest rectangle of the frame's layer; the sheet itself where there is none."""
    boxes = [_bounds(p.points) for p in sheet.primitives if isinstance(p, Polyline) and p.role is Role.FRAME and p.closed]
    return max(boxes, key=lambda box: box.width * box.height, default=Rect(0, 0, sheet.width, sheet.height))


def _bounds(points: Iterable[Point]) -> Rect:
    xs, ys = zip(*points, strict=True)
    return Rect(min(xs), min(ys), max(xs), max(ys))


def _less(box: Rect) -> Rect:
    return Rect(box.left + HAIR, box.bottom + HAIR, box.right - HAIR, box.top - HAIR)


def _meet(a: Rect, b: Rect) -> bool:
    return a.left < b.right - HAIR and b.left < a.right - HAIR and a.bottom < b.top - HAIR and b.bottom < a.top - HAIR


def _holds(outer: Rect, inner: Rect) -> bool:
    return (
        outer.left <= inner.left + HAIR
        and inner.right <= outer.right + HAIR
        and outer.bottom <= inner.bottom + HAIR
        and inner.top <= outer.top + HAIR
    )


def _cells(box: Rect) -> Iterator[tuple[int, int]]:
    for i in range(int(box.left // _CELL), int(box.right // _CELL) + 1):
        for j in range(int(box.bottom // _CELL), int(box.top // _CELL) + 1):
            yield i, j


def _stroke_cells(stroke: _Stroke) -> Iterator[tuple[int, int]]:
    return _cells(_bounds((stroke.a, stroke.b)))


def strikes(a: Point, b: Point, box: Rect) -> bool:
    """True when the straight line from a to b passes through a box."""
    enters, leaves = 0.0, 1.0
    for start, step, low, high in ((a[0], b[0] - a[0], box.left, box.right), (a[1], b[1] - a[1], box.bottom, box.top)):
        if abs(step) < 1e-12:
            if not low < start < high:
                return False
            continue
        first, last = sorted(((low - start) / step, (high - start) / step))
        enters, leaves = max(enters, first), min(leaves, last)
    return enters < leaves
