"""How far each entity of a DXF file reaches, letters and parts of dimensions included, measured from what the file says."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin
from typing import Any

from elevgen.core.geometry import Point, Rect
from elevgen.drawing.font import DESCENT, Fonts

ALONG = {0: 0.0, 1: 0.5, 2: 1.0, 4: 0.5}
SIGNS = {"%%p": "±", "%%d": "°", "%%c": "⌀"}


def boxes(entities: Any, fonts: Fonts) -> Iterator[tuple[Any, Rect]]:
    """Every entity with the box it fills; blocks opened."""
    for entity in entities:
        kind = entity.dxftype()
        if kind == "INSERT":
            yield from boxes(entity.virtual_entities(), fonts)
        elif kind == "DIMENSION":
            yield from boxes((e for e in entity.get_geometry_block() if e.dxftype() != "POINT"), fonts)
        elif kind == "TEXT":
            yield entity, around(text_corners(entity, fonts))
        else:
            yield entity, around(points(entity, kind))


def points(entity: Any, kind: str) -> list[Point]:
    match kind:
        case "LINE":
            found = [entity.dxf.start, entity.dxf.end]
        case "LWPOLYLINE":
            found = list(entity.get_points("xy"))
        case "POLYLINE":
            found = list(entity.points())
        case "SOLID":
            found = list(entity.wcs_vertices())
        case "HATCH":
            found = [v for path in entity.paths for v in path.vertices]
        case "POINT":
            found = [entity.dxf.location]
        case _:
            raise AssertionError(f"not measured: {kind}")
    return [(p[0], p[1]) for p in found]


def text_corners(text: Any, fonts: Fonts) -> list[Point]:
    """Corners of a line of text as wide as it is measured to be when it is drawn."""
    dxf = text.dxf
    said = dxf.text
    for code, sign in SIGNS.items():
        said = said.replace(code, sign)
    wide = fonts.width(said, dxf.height, dxf.style.endswith("-BOLD"))
    placed = dxf.halign or dxf.valign
    x, y, _ = dxf.align_point if placed else dxf.insert
    left = -wide * ALONG[dxf.halign]
    low = {0: 0.0, 1: 0.0, 2: -dxf.height / 2, 3: -dxf.height}[2 if dxf.halign == 4 else dxf.valign]
    turn = radians(dxf.rotation)
    corners = [(u, v) for u in (left, left + wide) for v in (low - DESCENT * dxf.height, low + dxf.height)]
    return [(x + u * cos(turn) - v * sin(turn), y + u * sin(turn) + v * cos(turn)) for u, v in corners]


def around(found: list[Point]) -> Rect:
    xs, ys = [p[0] for p in found], [p[1] for p in found]
    return Rect(min(xs), min(ys), max(xs), max(ys))
