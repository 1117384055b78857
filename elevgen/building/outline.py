"""The face of a leaf as a polygon, and its area."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from elevgen.building.model import Leaf
from elevgen.core.geometry import TOLERANCE, Point, Rect, cross


def leaf_outline(leaf: Leaf) -> tuple[Point, ...]:
    """The leaf's face seen from outside as (at, level) points: along the base, then back along the top.

    Anticlockwise, first point not repeated. Openings and walls running through are not cut out of it.
    """
    base = leaf.base.clipped(leaf.span)
    top = leaf.top.clipped(leaf.span)
    points: list[Point] = []
    for point in (*base, *reversed(top)):
        if not points or not _same(point, points[-1]):
            points.append(point)
    while len(points) > 1 and _same(points[-1], points[0]):
        points.pop()
    return tuple(points)


def gross_area(leaf: Leaf) -> float:
    """Area of the leaf's face, mm2: openings included, the stretches where other walls run through it not."""
    outline = leaf_outline(leaf)
    return polygon_area(outline) - sum(polygon_area(clipped(outline, void)) for void in leaf.crossings)


def polygon_area(points: Sequence[Point]) -> float:
    """Area of an anticlockwise polygon, mm2."""
    if not points:
        return 0.0
    x, y = points[0]
    local = [(p[0] - x, p[1] - y) for p in points]
    return sum(cross(a, b) for a, b in zip(local, (*local[1:], local[0]), strict=True)) / 2


def clipped(points: Sequence[Point], rect: Rect) -> tuple[Point, ...]:
    """What of a polygon lies in the rectangle, cut by one side after the other."""
    sides: tuple[Callable[[Point], float], ...] = (
        lambda p: p[0] - rect.left,
        lambda p: rect.right - p[0],
        lambda p: p[1] - rect.bottom,
        lambda p: rect.top - p[1],
    )
    left = tuple(points)
    for inside in sides:
        left = _cut(left, inside)
    return left


def _cut(points: Sequence[Point], inside: Callable[[Point], float]) -> tuple[Point, ...]:
    kept: list[Point] = []
    for a, b in zip(points, (*points[1:], *points[:1]), strict=True):
        depth_a, depth_b = inside(a), inside(b)
        if depth_a >= 0:
            kept.append(a)
        if depth_a * depth_b < 0:
            t = depth_a / (depth_a - depth_b)
            kept.append((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t))
    return tuple(kept)


def _same(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) <= TOLERANCE and abs(a[1] - b[1]) <= TOLERANCE
