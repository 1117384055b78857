"""Levels along a base or top as written: points with straight lines between, two points at one place a step."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from elevgen.core.geometry import TOLERANCE, Span

Points = tuple[tuple[float, float], ...]


def levels_at(points: Points, at: float) -> tuple[float, float]:
    """The level just before and just after a place, which is at a point when it is within tolerance of it.

    Beyond the first and last point the level goes on as it was.
    """
    first, after = bisect_left(points, at - TOLERANCE, key=_at), bisect_right(points, at + TOLERANCE, key=_at)
    if first == after:
        level = _between(points, first, at)
        return level, level
    return points[first][1], points[after - 1][1]


def highest(points: Points, over: Span) -> float:
    """The highest level over a stretch."""
    return max(_levels(points, over))


def lowest(points: Points, over: Span) -> float:
    """The lowest level over a stretch."""
    return min(_levels(points, over))


def _levels(points: Points, over: Span) -> tuple[float, ...]:
    inside = (level for at, level in points if over.start + TOLERANCE < at < over.end - TOLERANCE)
    return (levels_at(points, over.start)[1], *inside, levels_at(points, over.end)[0])


def _at(point: tuple[float, float]) -> float:
    return point[0]


def _between(points: Points, after: int, at: float) -> float:
    if after == 0:
        return points[0][1]
    if after == len(points):
        return points[-1][1]
    (a, low), (b, high) = points[after - 1], points[after]
    return low + (high - low) * (at - a) / (b - a)
