"""Lintels: which openings share one, where it lies, and the bearing it really gets."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import ceil
from typing import NamedTuple

from elevgen.building.demand import LintelDemand
from elevgen.building.model import Leaf, Wall
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.fittings.beds import gaps_at, masonry
from elevgen.fittings.edges import behind
from elevgen.fittings.figures import figure
from elevgen.fittings.model import Lintel
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader


class Shared(NamedTuple):
    """Demands one lintel answers: the bearing it needs grows with the span it makes."""

    demands: tuple[LintelDemand, ...]
    bearing: float

    @property
    def clear(self) -> Span:
        return Span(min(d.clear.start for d in self.demands), max(d.clear.end for d in self.demands))

    @property
    def level(self) -> float:
        return max(d.level for d in self.demands)


def lintels(
    wall: Wall, leaf: Leaf, demands: Sequence[LintelDemand], joints: Sequence[MovementJoint], reader: RuleReader
) -> tuple[Lintel, ...]:
    """The lintels of a leaf from its start, lower ones first where they stand over one another. Lengths in mm.

    A bearing that the end of the leaf, a void or a movement joint cuts short is given at its true length.
    """
    shared = sorted(share(leaf, demands, joints, reader), key=lambda s: (s.clear.start, s.level))
    seen: dict[str, int] = {}
    made: list[Lintel] = []
    for group in shared:
        openings = behind(wall, {name for demand in group.demands for name in demand.openings}, group.clear)
        seen[openings[0]] = seen.get(openings[0], 0) + 1
        again = f"-{seen[openings[0]]}" if seen[openings[0]] > 1 else ""
        start, end = _bearings(leaf, group, joints, reader)
        made.append(
            Lintel(
                id=f"{leaf.id}/L-{openings[0]}{again}",
                wall=leaf.wall,
                leaf=leaf.id,
                openings=openings,
                level=group.level,
                clear=group.clear,
                bearing_start=start,
                bearing_end=end,
                depth=None,
                basis=_basis(group, reader),
            )
        )
    return tuple(made)


def share(leaf: Leaf, demands: Sequence[LintelDemand], joints: Sequence[MovementJoint], reader: RuleReader) -> list[Shared]:
    """Demands put together until no two stand nearer than both bearings and the narrowest pier between them.

    Only heads within one course of each other share, and never across a movement joint.
    """
    pier = figure(reader, "opening.pier.min") or 0.0
    shared = [Shared((d,), d.bearing) for d in sorted(demands, key=lambda d: (d.clear, d.level))]
    while pair := _next_pair(leaf, shared, joints, pier):
        a, b = pair
        shared.remove(b)
        shared[shared.index(a)] = _together(a, b, reader)
    return shared


def _next_pair(leaf: Leaf, shared: list[Shared], joints: Sequence[MovementJoint], pier: float) -> tuple[Shared, Shared] | None:
    for a, b in combinations(shared, 2):
        room = a.bearing + b.bearing + pier
        if max(a.clear.start, b.clear.start) - min(a.clear.end, b.clear.end) >= room - TOLERANCE:
            continue
        if any(_neighbours(leaf, p, q, room, joints) for p in a.demands for q in b.demands):
            return a, b
    return None


def _neighbours(leaf: Leaf, p: LintelDemand, q: LintelDemand, room: float, joints: Sequence[MovementJoint]) -> bool:
    """True when two demands are too near for a bearing each, at one height, with no movement joint between."""
    first, second = (p, q) if p.clear.middle <= q.clear.middle else (q, p)
    between = Span(first.clear.end, second.clear.start)
    if between.length >= room - TOLERANCE or not at_most(abs(p.level - q.level), _course(leaf, min(p.level, q.level))):
        return False
    gaps = gaps_at(joints, Span(min(p.level, q.level), max(p.level, q.level)))
    return not any(gap.overlaps(between) for gap in gaps)


def _course(leaf: Leaf, level: float) -> float:
    """The height of one course and its bed at a level."""
    zone = next((z for z in leaf.zones if z.levels.start <= level + TOLERANCE < z.levels.end), leaf.zones[-1])
    return zone.unit.gauge


def _together(a: Shared, b: Shared, reader: RuleReader) -> Shared:
    """Two demands as one; its bearing is that of the longer span (NHBC 6.1.12 Table 5)."""
    both = Shared(a.demands + b.demands, max(a.bearing, b.bearing))
    short_span, long_bearing = figure(reader, "lintel.bearing.short_span"), figure(reader, "lintel.bearing.long")
    if short_span is None or long_bearing is None or at_most(both.clear.length, short_span):
        return both
    return Shared(both.demands, max(both.bearing, long_bearing))


def _bearings(leaf: Leaf, group: Shared, joints: Sequence[MovementJoint], reader: RuleReader) -> tuple[float, float]:
    """The bearing at each end: as much as asked for, lengthened to the step where there is one, as far as masonry goes."""
    before, after = _room(leaf, group, joints)
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


def _room(leaf: Leaf, group: Shared, joints: Sequence[MovementJoint]) -> tuple[float, float]:
    """How much masonry there is to bear on, before and after the clear span."""
    at_head = Span(group.level, group.level)
    gaps = gaps_at(joints, at_head)
    free = masonry(leaf, at_head, [*gaps, group.clear])
    before = next((s.length for s in free if abs(s.end - group.clear.start) <= TOLERANCE), 0.0)
    after = next((s.length for s in free if abs(s.start - group.clear.end) <= TOLERANCE), 0.0)
    return before, after


def _basis(group: Shared, reader: RuleReader) -> tuple[str, ...]:
    keys = [key for demand in group.demands for key in demand.basis]
    if len(group.demands) > 1:
        keys.extend(("opening.pier.min", "lintel.bearing.long"))
    keys.append("lintel.length_step")
    return tuple(key for key in sorted(set(keys)) if reader.find(key) is not None)
