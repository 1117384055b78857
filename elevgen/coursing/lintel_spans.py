"""Where lintels lie along the wall: which openings share one, and how far it reaches past the reveals.

Known before anything is laid, so that units keep their perpends away from a lintel's ends.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from elevgen.building.demand import LintelDemand
from elevgen.building.model import Leaf
from elevgen.core.geometry import TOLERANCE, Span, at_most, merge
from elevgen.coursing.faces import gaps_at, masonry
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure


class Shared(NamedTuple):
    """Demands one lintel answers; the bearing it needs is that of the longest span between its supports."""

    demands: tuple[LintelDemand, ...]
    bearing: float

    @property
    def clears(self) -> tuple[Span, ...]:
        """Its spans between supports: it bears on the piers between as well."""
        return merge(d.clear for d in self.demands)

    @property
    def clear(self) -> Span:
        return Span(min(d.clear.start for d in self.demands), max(d.clear.end for d in self.demands))

    @property
    def level(self) -> float:
        return max(d.level for d in self.demands)


def share(leaf: Leaf, demands: Sequence[LintelDemand], joints: Sequence[MovementJoint], reader: RuleReader) -> list[Shared]:
    """Demands put together until no two stand nearer than both bearings and the narrowest pier between them.

    Heads that share are all within one course of each other, those nearest in level put together first; never across a
    movement joint. One without a bearing has no lintel: nothing says how long it would be.
    """
    pier = figure(reader, "opening.pier.min") or 0.0
    shared = [Shared((d,), d.bearing) for d in sorted(demands, key=lambda d: (d.clear, d.level)) if d.bearing is not None]
    while pair := min(_pairs(leaf, shared, joints, pier), default=None):
        a, b = shared[pair.first], shared[pair.second]
        shared.remove(b)
        shared[shared.index(a)] = _together(a, b, reader)
        shared.sort(key=lambda s: (s.clear, s.level))
    return shared


class _Pair(NamedTuple):
    """Two that may share, the most alike first: how far their heads differ and stand apart, how high they are; which they are."""

    differ: float
    apart: float
    low: float
    first: int
    second: int


def _pairs(leaf: Leaf, shared: Sequence[Shared], joints: Sequence[MovementJoint], pier: float) -> Iterator[_Pair]:
    reach = 2 * max((s.bearing for s in shared), default=0.0) + pier
    for i, a in enumerate(shared):
        for j, b in enumerate(shared[i + 1 :], i + 1):
            apart = b.clear.start - a.clear.end
            if apart >= reach - TOLERANCE:
                break
            room = a.bearing + b.bearing + pier
            levels = [d.level for d in (*a.demands, *b.demands)]
            differ = max(levels) - min(levels)
            if apart >= room - TOLERANCE or not at_most(differ, course_at(leaf, min(levels))):
                continue
            if any(_neighbours(p, q, room, joints) for p in a.demands for q in b.demands):
                yield _Pair(round(differ, 3), round(apart, 3), -round(max(levels), 3), i, j)


def _neighbours(p: LintelDemand, q: LintelDemand, room: float, joints: Sequence[MovementJoint]) -> bool:
    """True when two demands are too near for a bearing each, with no movement joint between."""
    first, second = (p, q) if p.clear.middle <= q.clear.middle else (q, p)
    between = Span(first.clear.end, second.clear.start)
    if between.length >= room - TOLERANCE:
        return False
    gaps = gaps_at(joints, Span(min(p.level, q.level), max(p.level, q.level)))
    return not any(gap.overlaps(between) for gap in gaps)


def course_at(leaf: Leaf, level: float) -> float:
    """The height of one course and its bed at a level."""
    zone = next((z for z in leaf.zones if z.levels.start <= level + TOLERANCE < z.levels.end), leaf.zones[-1])
    return zone.unit.gauge


def _together(a: Shared, b: Shared, reader: RuleReader) -> Shared:
    """Two demands as one; its bearing is that of its longest span, longer where no pier is between (NHBC 6.1.12 Table 5)."""
    both = Shared(a.demands + b.demands, max(a.bearing, b.bearing))
    short_span, long_bearing = figure(reader, "lintel.bearing.short_span"), figure(reader, "lintel.bearing.long")
    longest = max(clear.length for clear in both.clears)
    if short_span is None or long_bearing is None or at_most(longest, short_span):
        return both
    return Shared(both.demands, max(both.bearing, long_bearing))


def bearings(
    leaf: Leaf, group: Shared, joints: Sequence[MovementJoint], taken: Sequence[Span], reader: RuleReader
) -> tuple[float, float]:
    """The bearing at each end: as much as asked for, lengthened to the step where there is one, as far as masonry goes.

    `taken`: what other lintels at its level lie on.
    """
    before, after = _room(leaf, group, joints, taken)
    start, end = min(group.bearing, before), min(group.bearing, after)
    step = figure(reader, "lintel.length_step")
    if step is None:
        return start, end
    length = start + group.clear.length + end
    extra = ceil((length - TOLERANCE) / step) * step - length
    more_start, more_end = min(extra / 2, before - start), min(extra / 2, after - end)
    left_over = extra - more_start - more_end
    more_start, more_end = min(more_start + left_over, before - start), min(more_end + left_over, after - end)
    return start + more_start, end + more_end


def _room(leaf: Leaf, group: Shared, joints: Sequence[MovementJoint], taken: Sequence[Span]) -> tuple[float, float]:
    """How much masonry there is to bear on, before and after the clear span."""
    at_head = Span(group.level, group.level)
    gaps = gaps_at(joints, at_head)
    free = masonry(leaf, at_head, [*gaps, *taken, group.clear])
    before = next((s.length for s in free if abs(s.end - group.clear.start) <= TOLERANCE), 0.0)
    after = next((s.length for s in free if abs(s.start - group.clear.end) <= TOLERANCE), 0.0)
    return before, after
