"""The masonry of a leaf that stands over a level and under a lid, as a load along the wall: exact, from its outline and voids."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from elevgen.building.model import Leaf, Profile, Zone
from elevgen.core.geometry import TOLERANCE, Rect, Span, subtract
from elevgen.fittings.beam import Line
from elevgen.fittings.face_weights import FaceWeight


def zones_over(leaf: Leaf, levels: Span) -> tuple[Zone, ...]:
    """The leaf's zones that reach into the levels; the lowest goes on down and the highest on up."""
    last = len(leaf.zones) - 1
    reaching = (
        Zone(zone.unit, Span(-1e9 if n == 0 else zone.levels.start, 1e9 if n == last else zone.levels.end))
        for n, zone in enumerate(leaf.zones)
    )
    return tuple(zone for zone in reaching if zone.levels.overlaps(levels))


def weight_lines(
    leaf: Leaf, over: Span, foot: float, lid: Profile | None, holes: Sequence[Rect], weights: Mapping[str, FaceWeight]
) -> tuple[Line, ...]:
    """The weight (kN/mm) of what is over `foot`, inside the leaf's outline, under `lid` and in no hole, along a stretch.

    `weights` are those of every unit that reaches over `foot`. Between the places where an edge begins, ends or crosses
    another the weight grows evenly.
    """
    within = over.common(leaf.span)
    if within is None:
        return ()
    column = _Column(leaf, foot, lid, [h for h in holes if h.along.overlaps(within)], weights)
    return tuple(
        Line(start, end, *column.weights(start, end))
        for start, end in pairwise(column.stations(within))
        if end - start > 1e-6 and max(column.weights(start, end)) > 0
    )


class _Column:
    """The wall over one place: between the higher of foot and base, and the lower of top and lid."""

    def __init__(
        self, leaf: Leaf, foot: float, lid: Profile | None, holes: Sequence[Rect], weights: Mapping[str, FaceWeight]
    ) -> None:
        self.foot, self.holes = foot, holes
        self.lids = [leaf.top] if lid is None else [leaf.top, lid]
        self.base = leaf.base
        highest = max(leaf.top.highest(leaf.span), foot + 2 * TOLERANCE)
        self.zones = [(zone.levels, weights[zone.unit.name].each) for zone in zones_over(leaf, Span(foot, highest))]

    def weight(self, at: float) -> float:
        """To the mm of wall, well inside a stretch between two stations."""
        floor = max(self.foot, self.base.level_left_of(at))
        roof = min(lid.level_left_of(at) for lid in self.lids)
        if roof <= floor:
            return 0.0
        solid = subtract(Span(floor, roof), [h.levels for h in self.holes if h.left < at < h.right])
        return sum(each * _shared(part, levels) for part in solid for levels, each in self.zones)

    def weights(self, start: float, end: float) -> tuple[float, float]:
        """At both ends of a stretch, from two places inside it."""
        near, far = self.weight(start + (end - start) / 4), self.weight(start + (end - start) * 3 / 4)
        return max(near - (far - near) / 2, 0.0), max(far + (far - near) / 2, 0.0)

    def stations(self, over: Span) -> list[float]:
        """Every place where some edge begins, ends or crosses another."""
        ends = {over.start, over.end}
        for line in (*self.lids, self.base):
            ends |= {at for at, _ in line.points}
        for hole in self.holes:
            ends |= {hole.left, hole.right}
        places = sorted(at for at in ends if over.start <= at <= over.end)
        return sorted({*places, *(at for start, end in pairwise(places) for at in self._crossings(start, end))})

    def _crossings(self, start: float, end: float) -> Iterable[float]:
        """Where two edges cross in a stretch in which each is straight."""
        if end - start <= 1e-6:
            return
        slopes = [_straight(line, start, end) for line in (*self.lids, self.base)]
        levels = {self.foot, *(h.bottom for h in self.holes), *(h.top for h in self.holes)}
        levels |= {level for zone, _ in self.zones for level in (zone.start, zone.end)}
        edges = [*slopes, *((level, level) for level in sorted(levels))]
        for a, b in slopes:
            for c, d in edges:
                here, there = a - c, b - d
                if here * there < 0:
                    yield start + (end - start) * here / (here - there)


def _straight(line: Profile, start: float, end: float) -> tuple[float, float]:
    """The levels a profile would have at the ends of a stretch it has no point in."""
    near, far = line.level_left_of(start + (end - start) / 4), line.level_left_of(start + (end - start) * 3 / 4)
    return near - (far - near) / 2, far + (far - near) / 2


def _shared(a: Span, b: Span) -> float:
    return max(min(a.end, b.end) - max(a.start, b.start), 0.0)
