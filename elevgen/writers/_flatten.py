"""Dimensions and marks as plain lines and text, and line types as dashes, for formats that have none of these."""

from __future__ import annotations

from math import cos, radians, sin

from elevgen.core.geometry import Point
from elevgen.drawing.scene import Dimension, Line, Text
from elevgen.drawing.symbols import outlines

GAP = 1.5
OVERRUN = 1.25
TICK = 1.8
LIFT = 0.8
"""Paper mm: from object to extension line, past the dimension line, length of the end stroke, text above the line."""

DASHES: dict[str, tuple[float, ...]] = {"CONTINUOUS": (), "DASHED": (3.0, 1.5), "CENTER": (6.0, 1.2, 1.2, 1.2)}
"""Strokes and gaps of each line type, paper mm."""


def dimension_parts(dim: Dimension, scale: float) -> tuple[Line | Text, ...]:
    """Extension lines, dimension line, two 45 degree end strokes and the text of a dimension; model units."""
    swap = dim.axis == "y"
    (a, a_across), (b, b_across) = ((p[1], p[0]) if swap else p for p in (dim.a, dim.b))
    at = dim.line_at

    def point(along: float, across: float) -> Point:
        return (across, along) if swap else (along, across)

    def line(p: Point, q: Point) -> Line:
        return Line(dim.role, p, q, dim.source)

    parts: list[Line | Text] = [line(point(a, at), point(b, at))]
    for along, across in ((a, a_across), (b, b_across)):
        side = 1.0 if at >= across else -1.0
        if abs(at - across) > GAP * scale:
            parts.append(line(point(along, across + side * GAP * scale), point(along, at + side * OVERRUN * scale)))
        half = TICK * scale / 2
        parts.append(line(point(along - half, at - half), point(along + half, at + half)))
    middle = (a + b) / 2
    where = (at - LIFT * scale, middle) if swap else (middle, at + LIFT * scale)
    parts.append(Text(dim.role, where, dim.text, dim.height, "centre", "base", 90.0 if swap else 0.0, source=dim.source))
    return tuple(parts)


def symbol_parts(name: str, at: Point, size: float, rotation: float) -> tuple[tuple[tuple[Point, ...], bool], ...]:
    """The outlines of a mark at its place, as points and whether they close; in the unit of its size."""
    c, s = cos(radians(rotation)) * size, sin(radians(rotation)) * size
    x0, y0 = at
    return tuple(
        (tuple((x0 + x * c - y * s, y0 + x * s + y * c) for x, y in points), closed) for points, closed in outlines(name)
    )
