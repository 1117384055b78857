"""A beam on two supports, each free to turn: what loads along it do to it. Any units that agree; loads press downwards.

Textbook statics; nothing here is of masonry.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import sqrt
from typing import NamedTuple

from elevgen.core.geometry import Span


class Line(NamedTuple):
    """A load spread from `start` to `end`, so much to the unit of length at each end and evenly growing between."""

    start: float
    end: float
    at_start: float
    at_end: float

    @property
    def total(self) -> float:
        return (self.end - self.start) * (self.at_start + self.at_end) / 2

    @property
    def centre(self) -> float:
        """Where all of it could stand at one point instead."""
        if self.at_start + self.at_end == 0:
            return (self.start + self.end) / 2
        share = (self.at_start + 2 * self.at_end) / (3 * (self.at_start + self.at_end))
        return self.start + (self.end - self.start) * share

    def at(self, place: float) -> float:
        """How much to the unit of length at a place of it."""
        return self.at_start + (self.at_end - self.at_start) * (place - self.start) / (self.end - self.start)

    def within(self, span: Span) -> Line | None:
        """The part of it in a span, or None."""
        start, end = max(self.start, span.start), min(self.end, span.end)
        return Line(start, end, self.at(start), self.at(end)) if end > start else None

    def times(self, share: float) -> Line:
        return Line(self.start, self.end, self.at_start * share, self.at_end * share)


class Point(NamedTuple):
    """A load at one place."""

    at: float
    load: float

    @property
    def total(self) -> float:
        return self.load

    @property
    def centre(self) -> float:
        return self.at

    def times(self, share: float) -> Point:
        return Point(self.at, self.load * share)


Press = Line | Point
"""One load on a beam."""


class Bent(NamedTuple):
    """What loads do to a beam: reactions, the greatest shear between the supports, the greatest bending moment and its place."""

    reaction_start: float
    reaction_end: float
    shear: float
    moment: float
    moment_at: float


def even(over: Span, each: float) -> Line:
    """An even load of so much to the unit of length."""
    return Line(over.start, over.end, each, each)


def triangle(over: Span, total: float) -> tuple[Line, Line]:
    """A load that grows from nothing at both ends to the middle."""
    most = 2 * total / over.length
    return Line(over.start, over.middle, 0.0, most), Line(over.middle, over.end, most, 0.0)


def bend(loads: Iterable[Press], supports: Span) -> Bent:
    """Reactions, shear and greatest moment. What lies beyond a support goes straight into it and bends nothing.

    Under a triangle and an even load the moment is wL2/8 + WL/6.
    """
    before, after, between = 0.0, 0.0, list[Press]()
    for load in loads:
        held = _held(load, supports)
        before, after = before + held.before, after + held.after
        between += held.between
    length = supports.length
    at_end = sum(load.total * (load.centre - supports.start) for load in between) / length
    at_start = sum(load.total for load in between) - at_end
    moment_at, moment = _greatest_moment(between, supports, at_start)
    return Bent(before + at_start, after + at_end, max(at_start, at_end), moment, moment_at)


def even_load(bent: Bent, supports: Span) -> float:
    """The even load from support to support that bends the beam as much, or presses its ends as much, whichever is greater."""
    length = supports.length
    return max(8 * bent.moment / length**2, 2 * bent.shear / length)


class _Held(NamedTuple):
    """A load shared out: straight into the supports, and between them."""

    before: float
    after: float
    between: Sequence[Press]


def _held(load: Press, supports: Span) -> _Held:
    if isinstance(load, Point):
        before = load.load if load.at <= supports.start else 0.0
        after = load.load if load.at >= supports.end else 0.0
        return _Held(before, after, () if before or after else (load,))
    outside = (Span(load.start, supports.start), Span(supports.end, load.end))
    before, after = ((part.total if (part := load.within(side)) else 0.0) for side in outside)
    inside = load.within(supports)
    return _Held(before, after, (inside,) if inside else ())


def _greatest_moment(loads: Sequence[Press], supports: Span, at_start: float) -> tuple[float, float]:
    """Place and size of the greatest moment: where the shear passes nothing."""
    place, shear, moment = supports.start, at_start, 0.0
    for start, end in pairwise(_stations(loads, supports)):
        shear -= sum(p.load for p in loads if isinstance(p, Point) and p.at == start)
        if shear <= 0:
            return start, moment
        here, there = _intensity(loads, start, end)
        length = end - start
        fall = length * (here + there) / 2
        if fall >= shear:
            s = _zero(shear, here, (there - here) / length)
            return start + s, moment + _grown(shear, here, (there - here) / length, s)
        moment += _grown(shear, here, (there - here) / length, length)
        shear -= fall
        place = end
    return place, max(moment, 0.0)


def _stations(loads: Sequence[Press], supports: Span) -> list[float]:
    ends = {supports.start, supports.end}
    for load in loads:
        ends |= {load.at} if isinstance(load, Point) else {load.start, load.end}
    return sorted(ends)


def _intensity(loads: Sequence[Press], start: float, end: float) -> tuple[float, float]:
    """All line loads together at the two ends of a stretch that none of them begins or ends in."""
    lines = [x for x in loads if isinstance(x, Line) and x.start <= start and x.end >= end]
    return sum(x.at(start) for x in lines), sum(x.at(end) for x in lines)


def _grown(shear: float, each: float, growth: float, length: float) -> float:
    """How much the moment grows over a length at whose start the shear is so much."""
    return shear * length - each * length**2 / 2 - growth * length**3 / 6


def _zero(shear: float, each: float, growth: float) -> float:
    """How far on the shear is nothing: shear = each s + growth s2 / 2, in the form that is safe where one of them is small."""
    root = sqrt(max(each**2 + 2 * growth * shear, 0.0))
    return 2 * shear / (each + root) if each + root > 0 else 0.0


def total(loads: Iterable[Press]) -> float:
    """All loads together."""
    return sum((load.total for load in loads), 0.0)


def within(loads: Iterable[Press], span: Span) -> Iterator[Press]:
    """What of the loads lies in a span."""
    for load in loads:
        if isinstance(load, Point):
            if span.contains(load.at):
                yield load
        elif (part := load.within(span)) is not None:
            yield part
