"""What a window shows of a view of which sheets show a part: no words nobody sees, nothing of the other parts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from elevgen.core.geometry import Point, Rect, box_round
from elevgen.drawing.board import inset, text_box, written
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import (
    Block,
    BlockUse,
    Dimension,
    Fill,
    Line,
    Paragraph,
    Polyline,
    Primitive,
    Symbol,
    Text,
    View,
    Window,
)
from elevgen.writers._flatten import dimension_parts

WIDEST_PEN = 2.0
"""Half the widest line and more: what lies nearer to the window's edge than that may show; paper mm."""


def in_window(view: View, window: Window, blocks: Mapping[str, Block], fonts: Fonts) -> Iterator[Primitive]:
    """All that shows through a window, in order; of a view shown whole, everything. Dimensions come as their parts."""
    if view.shown is None:
        yield from view.primitives
        return
    x, y = window.corner
    seen = Rect(x, y, x + window.paper.width * window.scale, y + window.paper.height * window.scale)
    seen = inset(seen, -WIDEST_PEN * window.scale)
    reaches = {name: box_round(_corners(blocks[name].primitives)) for name in sorted(_used(view))}
    for primitive in view.primitives:
        for part in dimension_parts(primitive, view.scale) if isinstance(primitive, Dimension) else (primitive,):
            box = _reach(part, float(view.scale), reaches, fonts)
            if box.left <= seen.right and seen.left <= box.right and box.bottom <= seen.top and seen.bottom <= box.top:
                yield part


def _used(view: View) -> set[str]:
    return {p.block for p in view.primitives if isinstance(p, BlockUse)}


def _corners(primitives: Iterable[Primitive]) -> Iterator[Point]:
    """The points of the surfaces and lines a block is made of."""
    for primitive in primitives:
        match primitive:
            case Line(_, a, b):
                yield from (a, b)
            case Polyline() | Fill():
                yield from primitive.points


def _reach(primitive: Primitive, scale: float, blocks: Mapping[str, Rect], fonts: Fonts) -> Rect:
    """A box that holds all of a primitive."""
    match primitive:
        case BlockUse():
            (x, y), box = primitive.at, blocks[primitive.block]
            return Rect(box.left + x, box.bottom + y, box.right + x, box.top + y)
        case Symbol():
            (x, y), size = primitive.at, primitive.size * scale
            return Rect(x - size, y - size, x + size, y + size)
        case Text() | Paragraph():
            boxes = [text_box(line, fonts, scale) for line in written((primitive,), scale)]
            return box_round(point for box in boxes for point in ((box.left, box.bottom), (box.right, box.top)))
        case _:
            return box_round(_corners((primitive,)))
