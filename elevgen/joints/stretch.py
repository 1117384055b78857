"""A straight stretch of a line as joints are pushed along it: its free places, and how far a joint may go."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.joints.line import Segment, excess
from elevgen.joints.problem import HAIR, Edge, Placed

_FINE = 1e-6
"""How near (mm) the furthest place by a sloping panel limit is found."""


class Stretch(NamedTuple):
    """A segment of a line, or what is left of it beside a joint; `free` in order, in positions along the line.

    `first`: the first joint may not stand beyond it for the corner before it, `last`: nor the last one short of it. Where
    no free place is near enough to a corner that is the nearest one. Costs of missing the corner rule: `empty` of the
    stretch without a joint, None where its panel would be too long; `cut` with joints. A side is open where the face goes
    on past it: what is there is not known here, and limits nothing.
    """

    segment: Segment
    left: float
    right: float
    free: tuple[Span, ...]
    open: tuple[bool, bool]
    first: float
    last: float
    empty: int | None
    cut: int

    def allowed(self, joint: float) -> float:
        """How far on masonry may go that begins at a joint in or before the stretch, if it has more than a hair of it."""
        start = max(joint, self.left)
        return inf if self.right - start <= HAIR else max(start + HAIR, joint + self.segment.spacing)

    def place_by(self, limit: float) -> float | None:
        """The last free place up to `limit`."""
        begun = [span for span in self.free if at_most(span.start, limit)]
        return max(begun[-1].start, min(begun[-1].end, limit)) if begun else None

    def place_from(self, limit: float) -> float | None:
        """The first free place from `limit` on."""
        return next((min(span.end, max(span.start, limit)) for span in self.free if at_most(limit, span.end)), None)

    def furthest(self, joint: float, limit: float) -> float | None:
        """The last free place beyond a joint or the stretch's start, up to `limit`, that leaves no panel too long.

        A panel in which no joint can stand may be too long.
        """
        at = self.place_by(limit)
        if at is None or at_most(at, joint):
            return None
        unknown = self.open[0] and at_most(joint, self.left)
        if not (unknown or self.segment.short_enough(joint, at)):
            kept = self.place_by(self._panel_end(joint, at))
            at = self._next_place(joint) if kept is None or at_most(kept, joint) else kept
        return at if at is not None and at_most(at, limit) else None

    def may_leave(self, joint: float) -> bool:
        """True where a joint may be the stretch's last."""
        if not at_most(self.last, joint):
            return False
        return self.open[1] or self.segment.short_enough(joint, self.right) or at_most(self.free[-1].end, joint)

    def mirrored(self) -> Stretch:
        """The stretch read from right to left, positions negative."""
        s = self.segment
        way = s.right - s.left
        anchor = s.anchor + way if s.forward else s.anchor - way
        return self._replace(
            segment=s._replace(left=-s.right, right=-s.left, anchor=anchor, forward=not s.forward),
            left=-self.right,
            right=-self.left,
            free=tuple(Span(-f.end, -f.start) for f in reversed(self.free)),
            open=self.open[::-1],
            first=-self.last,
            last=-self.first,
        )

    def shifted(self, by: float) -> Stretch:
        """The stretch as it comes by another lap round a ring."""
        s = self.segment
        return self._replace(
            segment=s._replace(left=s.left + by, right=s.right + by),
            left=self.left + by,
            right=self.right + by,
            free=tuple(f.shifted(by) for f in self.free),
            first=self.first + by,
            last=self.last + by,
        )

    def anchors(self) -> Iterator[float]:
        """Places at which something other than another joint may hold a joint up."""
        yield from (at for span in self.free for at in (span.start, span.end))
        yield from (at for at in (self.place_by(self.first), self.place_from(self.last)) if at is not None)
        back = self.mirrored().furthest(-self.right, -self.left)
        yield from (at for at in (self.furthest(self.left, self.right), None if back is None else -back) if at is not None)

    def _panel_end(self, joint: float, at: float) -> float:
        kept, too_far = joint, at
        while too_far - kept > _FINE:
            middle = (kept + too_far) / 2
            kept, too_far = (middle, too_far) if self.segment.short_enough(joint, middle) else (kept, middle)
        return kept - TOLERANCE

    def _next_place(self, joint: float) -> float | None:
        """The next free stretch, unless the joint stands inside one."""
        onward = next((span for span in self.free if not at_most(span.end, joint)), None)
        return None if onward is None or at_most(onward.start, joint) else onward.start


def stretch(segment: Segment, free: Sequence[Span], left: float, right: float) -> Stretch:
    """The part of a segment from `left` to `right`; where it ends short of the segment's own end, a joint stands there."""
    joints = (left > segment.left + TOLERANCE, right < segment.right - TOLERANCE)
    unknown = (segment.open_left and not joints[0], segment.open_right and not joints[1])
    inside = tuple(s for s in (_clipped(f, left, right) for f in free) if s is not None)
    first, last, cut = right, left, 0
    reach = segment.face.corner_reach
    kinds = (segment.face.start, segment.face.finish) if segment.forward else (segment.face.finish, segment.face.start)
    if inside and reach is not None:
        if kinds[0] == "corner" and not (joints[0] or unknown[0]):
            first = max(left + reach, inside[0].start)
            cut += excess(first - left - reach)
        if kinds[1] == "corner" and not (joints[1] or unknown[1]):
            last = min(right - reach, inside[-1].end)
            cut += excess(right - reach - last)
    empty: int | None = 0
    if not any(unknown):
        empty = segment.missed(right - left, *joints) if not inside or segment.short_enough(left, right) else None
    return Stretch(segment, left, right, inside, unknown, first, last, empty, cut)


def _clipped(span: Span, left: float, right: float) -> Span | None:
    start, end = max(span.start, left), min(span.end, right)
    outside = start > end or at_most(end, left) or at_most(right, start)
    return None if outside else Span(start, end)


def stretches(segments: Sequence[Segment], edges: Sequence[tuple[Edge, bool]]) -> list[Stretch]:
    """The stretches of a line along those edges; where an edge has no free stretches, its candidates are free places."""
    free: list[list[Span]] = [[] for _ in segments]
    x, number = 0.0, 0
    for edge, forward in edges:
        while x > segments[number].right - TOLERANCE:
            number += 1
        spans = edge.free or tuple(Span(c.at, c.at) for c in edge.candidates)
        for span in spans if forward else reversed(spans):
            start = span.start - edge.span.start if forward else edge.span.end - span.end
            free[number].append(Span(x + start, x + start + span.length))
        x += edge.span.length
    return [stretch(s, spans, s.left, s.right) for s, spans in zip(segments, free, strict=True)]


def on_edges(edges: Sequence[tuple[Edge, bool]], xs: Sequence[float]) -> tuple[Placed, ...]:
    """Positions along a line as positions on its edges."""
    found: list[Placed] = []
    left = 0.0
    for edge, forward in edges:
        right = left + edge.span.length
        here = [x for x in xs if left < x < right]
        found += [(edge.id, edge.span.start + x - left if forward else edge.span.end - x + left) for x in here]
        left = right
    return tuple(sorted(found))
