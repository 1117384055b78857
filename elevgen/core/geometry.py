"""Spans along a line, rectangles on a face, and the few plane constructions the building needs.

All lengths are float millimetres; `TOLERANCE` is the one tolerance everybody shares.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

TOLERANCE = 0.01
"""Lengths closer than this (mm) are the same length."""

Point = tuple[float, float]


def at_most(measured: float, limit: float) -> bool:
    """True when `measured` does not exceed `limit`; equal within tolerance passes."""
    return measured <= limit + TOLERANCE


def at_least(measured: float, limit: float) -> bool:
    """True when `measured` reaches `limit`; equal within tolerance passes."""
    return measured >= limit - TOLERANCE


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch from `start` to `end` along one line."""

    start: float
    end: float

    @property
    def length(self) -> float:
        return self.end - self.start

    @property
    def middle(self) -> float:
        return (self.start + self.end) / 2

    def contains(self, at: float) -> bool:
        """True when `at` lies in the span, ends included within tolerance."""
        return self.start - TOLERANCE <= at <= self.end + TOLERANCE

    def overlaps(self, other: Span) -> bool:
        """True when the two share more than a point."""
        return min(self.end, other.end) - max(self.start, other.start) > TOLERANCE

    def grown(self, by: float) -> Span:
        """The span reaching `by` further at both ends."""
        return Span(self.start - by, self.end + by)

    def shifted(self, by: float) -> Span:
        return Span(self.start + by, self.end + by)

    def common(self, other: Span) -> Span | None:
        """What the two share, or None when that is no more than a point."""
        if not self.overlaps(other):
            return None
        return Span(max(self.start, other.start), min(self.end, other.end))


def merge(spans: Iterable[Span], gap: float = 0.0) -> tuple[Span, ...]:
    """The spans in order, those that meet or stand no more than `gap` apart made one."""
    merged: list[Span] = []
    for span in sorted(spans):
        if merged and span.start <= merged[-1].end + gap + TOLERANCE:
            merged[-1] = Span(merged[-1].start, max(merged[-1].end, span.end))
        else:
            merged.append(span)
    return tuple(merged)


def subtract(whole: Span, holes: Iterable[Span]) -> tuple[Span, ...]:
    """What is left of `whole` once every hole is taken out; slivers within tolerance are dropped."""
    left: list[Span] = []
    at = whole.start
    for hole in merge(holes):
        if hole.start - at > TOLERANCE:
            left.append(Span(at, min(hole.start, whole.end)))
        at = max(at, hole.end)
        if at >= whole.end:
            break
    if whole.end - at > TOLERANCE:
        left.append(Span(at, whole.end))
    return tuple(s for s in left if s.length > TOLERANCE)


@dataclass(frozen=True, slots=True, order=True)
class Rect:
    """A rectangle on a wall face: along the wall left to right, levels bottom to top."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def area(self) -> float:
        return self.width * self.height

    @property
    def along(self) -> Span:
        return Span(self.left, self.right)

    @property
    def levels(self) -> Span:
        return Span(self.bottom, self.top)

    def overlaps(self, other: Rect) -> bool:
        """True when they share more than an edge."""
        return self.along.overlaps(other.along) and self.levels.overlaps(other.levels)


def cut_out(rects: Iterable[Rect], holes: Iterable[Rect]) -> tuple[Rect, ...]:
    """What the rectangles cover together less the holes, as rectangles that do not overlap."""
    left: list[Rect] = []
    taken = list(holes)
    for rect in sorted(rects):
        parts = [rect]
        for hole in taken:
            parts = [p for part in parts for p in _less(part, hole)]
        left += parts
        taken.append(rect)
    return tuple(left)


def _less(rect: Rect, hole: Rect) -> tuple[Rect, ...]:
    """A rectangle without what a hole takes of it: beside the hole from bottom to top, then under it and over it."""
    if not rect.overlaps(hole):
        return (rect,)
    left, right = max(rect.left, hole.left), min(rect.right, hole.right)
    parts = (
        Rect(rect.left, rect.bottom, left, rect.top),
        Rect(right, rect.bottom, rect.right, rect.top),
        Rect(left, rect.bottom, right, hole.bottom),
        Rect(left, hole.top, right, rect.top),
    )
    return tuple(part for part in parts if part.width > 0 and part.height > 0)


def box_round(points: Iterable[Point]) -> Rect:
    """The smallest rectangle that holds the points; there is at least one."""
    xs, ys = zip(*points, strict=True)
    return Rect(min(xs), min(ys), max(xs), max(ys))


def distance(a: Point, b: Point) -> float:
    """Straight from one point to the other."""
    return hypot(b[0] - a[0], b[1] - a[1])


def direction(a: Point, b: Point) -> Point:
    """Unit vector from `a` to `b`."""
    length = distance(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def left_of(d: Point) -> Point:
    """The direction a quarter turn to the left of `d`."""
    return (-d[1], d[0])


def along(origin: Point, d: Point, by: float, left: float = 0.0) -> Point:
    """The point `by` along `d` from `origin` and `left` to the left of it."""
    n = left_of(d)
    return (origin[0] + d[0] * by + n[0] * left, origin[1] + d[1] * by + n[1] * left)


def dot(a: Point, b: Point) -> float:
    """How far `a` reaches along `b`, times the length of `b`."""
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Point, b: Point) -> float:
    """Positive when `b` turns left from `a`."""
    return a[0] * b[1] - a[1] * b[0]


def between(a: Point, b: Point) -> Point:
    """The vector from `a` to `b`."""
    return (b[0] - a[0], b[1] - a[1])


def crossing(p: Point, d: Point, q: Point, e: Point) -> float | None:
    """How far along `d` from `p` the line through `q` along `e` is met; None when parallel."""
    denominator = cross(d, e)
    if abs(denominator) < 1e-9:
        return None
    return cross(between(p, q), e) / denominator
