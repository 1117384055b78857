"""Bed joints a tie can lie in, measured from the courses as laid."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Leaf, LeafEnd, Profile
from elevgen.checks._beds import leaf_beds
from elevgen.checks._cavities import Cavity
from elevgen.checks._rules import rule
from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most
from elevgen.result import Design

TOGETHER = "tie.beds.tolerance"
ENOUGH = 5.0
"""A tie lies in both beds where they have this much (mm) in common."""


def lies_in(beds: Iterable[Span], level: float, off: float = 0.0) -> bool:
    """Whether a tie at a level lies in one of the beds, or no further than `off` from the middle of one."""
    return any(bed.contains(level) or at_most(abs(bed.middle - level), off) for bed in beds)


class Shared(NamedTuple):
    """Beds of two leaves that come to one level: both taken as one, and where in them a tie lies."""

    levels: Span
    tie: float


def beds_in_common(design: Design, one: Leaf, other: Leaf) -> Iterator[Shared]:
    """Beds of two leaves whose middles are within tolerance of one another, or that have a tie's thickness in common."""
    tolerance = rule(design, TOGETHER)
    off = tolerance.number if tolerance else 0.0
    others = leaf_beds(design, other)
    for bed in leaf_beds(design, one):
        for beside in others:
            both = bed.common(beside)
            if at_most(abs(bed.middle - beside.middle), off) or (both and at_least(both.length, ENOUGH)):
                alike = at_most(abs(bed.middle - beside.middle), off)
                level = both.middle if both and not alike else bed.middle
                yield Shared(Span(min(bed.start, beside.start), max(bed.end, beside.end)), level)


def free_ends(design: Design, cavity: Cavity) -> tuple[bool, bool]:
    """Whether either leaf ends in the air, is jointed to what it meets, or goes on in line as another; at start and at end."""

    def free(leaf: Leaf, end: LeafEnd) -> bool:
        if end.kind == "stopped" or end.connection in ("jointed", "free"):
            return True
        in_line = end.kind == "corner" and abs(end.near - end.far) <= TOLERANCE
        beyond = next((other for other in design.building.leaves if other.id == end.other), None)
        return in_line and beyond is not None and _build(beyond) != _build(leaf)

    leaves = cavity.outer, cavity.inner
    return any(free(leaf, leaf.start_end) for leaf in leaves), any(free(leaf, leaf.finish_end) for leaf in leaves)


def _build(leaf: Leaf) -> tuple[object, ...]:
    """What a leaf is built of from the bottom up, and how thick."""
    first, *rest = leaf.zones
    return first.unit, tuple((zone.unit, zone.levels.start) for zone in rest), round(leaf.thickness, 2)


def steps(cavity: Cavity) -> Iterator[tuple[float, int, Span]]:
    """Where the top steps: at, on which side the higher part lies (1: to the right), and between which levels."""
    found: set[tuple[float, int, Span]] = set()
    for leaf in (cavity.outer, cavity.inner):
        found.update(_steps(leaf.top, leaf.span))
    yield from sorted(found)


def _steps(top: Profile, over: Span) -> Iterator[tuple[float, int, Span]]:
    for (a, before), (b, after) in pairwise(top.clipped(over)):
        if b - a <= TOLERANCE < abs(after - before):
            yield a, 1 if after > before else -1, Span(min(before, after), max(before, after))
