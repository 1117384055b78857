"""Overall dimensions of the plan: what the building fills each way, and the faces that step it, outside everything else."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from elevgen.core.figures import Figures
from elevgen.core.geometry import Point, Rect, Span
from elevgen.drawing.board import DIMENSION_LIFT, TEXT_SIZE, Board
from elevgen.drawing.narrow import Stretch, draw_strokes
from elevgen.drawing.scene import Dimension, Role

FIRST, PITCH, STUB = 4.2, 6.2, 2.4
"""From what is drawn to the first line, from line to line, and how far extension lines reach back; paper mm."""
LEAST_FACE, SAME = 60.0, 1.0
"""A face shorter than the first (mm) steps nothing; faces nearer to one line than the second lie in it."""

_STROKES = 1.8
"""What a figure over its stretch leaves for the end strokes, paper mm."""
GAP, OVERRUN = 1.5, 1.25
"""From what is measured to an extension line, and how far that goes past the dimension line; paper mm, as of other dimensions."""

Axis = Literal["x", "y"]


def draw_overall(board: Board, figures: Figures, bodies: Sequence[tuple[Point, ...]], bounds: Rect) -> bool:
    """Under the plan and to its left: the string of its outer faces where they step, or of what stands apart, then the whole.

    Only from face to face: between the points of a building askew to the sheet nothing is measured. False: nothing is.
    """
    edges: tuple[tuple[Axis, float, float, float], ...] = (
        ("x", board.extents.bottom, bounds.left, bounds.right),
        ("y", board.extents.left, bounds.bottom, bounds.top),
    )
    drawn = False
    for axis, edge, start, end in edges:
        faces = sorted(outer_faces(bodies, 0 if axis == "x" else 1))
        if not faces or faces[0] - start > SAME or end - faces[-1] > SAME:
            continue
        drawn = True
        at = edge - board.mm(FIRST)
        steps = (faces, ends_of_parts(bodies, 0 if axis == "x" else 1))
        strings = (_stepped(board, figures, places, (start, end)) for places in steps)
        stepped = next((string for string in strings if len(string) > 2), (start, end))
        for string in dict.fromkeys((stepped, (start, end))):
            for a, b in pairwise(string):
                if not _holds(board, figures.length(b - a), b - a):
                    _draw_beside(board, axis, at, Span(a, b), figures.length(b - a))
                    continue
                near = at + board.mm(STUB)
                one, other = ((a, near), (b, near)) if axis == "x" else ((near, a), (near, b))
                board.dimension(Dimension(Role.DIMENSION, one, other, axis, at, figures.length(b - a), TEXT_SIZE, board.source))
            at -= board.mm(PITCH)
    return drawn


def _stepped(board: Board, figures: Figures, faces: Sequence[float], ends: tuple[float, float]) -> tuple[float, ...]:
    """The faces from end to end, each once; the ends alone where their figures would crowd."""
    found = [ends[0]]
    for face in faces:
        if face - found[-1] > SAME and ends[1] - face > SAME:
            found.append(face)
    found.append(ends[1])
    return tuple(found) if all(_holds(board, figures.length(b - a), b - a) for a, b in pairwise(found)) else ends


def _holds(board: Board, figure: str, length: float) -> bool:
    """True when a figure stands over its own stretch, clear of the strokes at both ends."""
    return board.fonts.width(figure, board.mm(TEXT_SIZE)) + board.mm(_STROKES) <= length


def _draw_beside(board: Board, axis: Axis, line_at: float, span: Span, figure: str) -> None:
    """A building thinner than the figure of it: strokes and extension lines, and the figure past the farther of them."""

    def point(along: float, across: float) -> Point:
        return (along, across) if axis == "x" else (across, along)

    draw_strokes(board, axis, line_at, [Stretch(span, figure)], board.source)
    for end in (span.start, span.end):
        board.line(Role.DIMENSION, point(end, line_at + board.mm(STUB - GAP)), point(end, line_at - board.mm(OVERRUN)))
    lift = board.mm(DIMENSION_LIFT) * (1 if axis == "x" else -1)
    place = point(span.end + board.mm(_STROKES), line_at + lift)
    board.text(Role.DIMENSION, place, figure, rotation=0.0 if axis == "x" else 90.0)


def outer_faces(bodies: Sequence[tuple[Point, ...]], axis: int) -> list[float]:
    """The places along x (0) or y (1) of the outside faces square to it, courts not looked into."""
    return [
        round(a[axis], 3)
        for part in _parts(bodies)
        for a, b in pairwise(part.exterior.coords)
        if abs(a[axis] - b[axis]) < 0.01 and abs(a[1 - axis] - b[1 - axis]) > LEAST_FACE
    ]


def ends_of_parts(bodies: Sequence[tuple[Point, ...]], axis: int) -> list[float]:
    """Where along x (0) or y (1) each part that stands apart from the others begins and ends."""
    return sorted(round(at, 3) for part in _parts(bodies) for at in (part.bounds[axis], part.bounds[axis + 2]))


def _parts(bodies: Sequence[tuple[Point, ...]]) -> list[Polygon]:
    """What the bodies fill together, part by part, courts filled in."""
    joined = unary_union([Polygon(body).buffer(0.5, join_style="mitre") for body in bodies]).buffer(-0.5, join_style="mitre")
    return _polygons(unary_union([Polygon(part.exterior) for part in _polygons(joined)]))


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    """The polygons in a shape, one or many."""
    return [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
