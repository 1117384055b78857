"""Walls that stand on others: where a place in one leaf comes in the leaf over or under it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Wall
from elevgen.core.geometry import TOLERANCE, Span, along, at_most, between, cross, direction, dot

PARALLEL = 0.01
"""Sine of the greatest angle between two walls that stand one over the other all along."""


class Stack(NamedTuple):
    """A leaf of one wall over a leaf of another, in line in plan and at least half as thick together as the thinner.

    A place `at` along the lower wall is at `sign * at + shift` along the upper.
    """

    lower: Leaf
    upper: Leaf
    sign: float
    shift: float

    def above(self, at: float) -> float:
        """The place along the upper wall over a place of the lower."""
        return self.sign * at + self.shift

    def below(self, at: float) -> float:
        """The place along the lower wall under a place of the upper."""
        return self.sign * (at - self.shift)

    def apart(self, at: float) -> float:
        """From the top of the lower leaf up to the base of the upper, at a place along the lower (mm)."""
        head, foot, over = self.lower.top, self.upper.base, self.above(at)
        heads = head.level_left_of(at), head.level_right_of(at)
        feet = foot.level_left_of(over), foot.level_right_of(over)
        return min(feet) - max(heads)

    def touch(self, at: float) -> bool:
        """Whether no more than a bed joint lies between the two at a place along the lower."""
        return at_most(self.apart(at), max(zone.unit.bed for zone in self.lower.zones))


class _Body(NamedTuple):
    """A leaf and its wall, and the box of it in plan."""

    leaf: Leaf
    wall: Wall
    across: Span
    up: Span


def stacks(building: Building) -> Iterator[Stack]:
    """Every two leaves of different walls of which one stands over the other, in spec order of the lower ones."""
    order = {leaf.id: n for n, leaf in enumerate(building.leaves)}
    found = [stack for a, b in _over_one_another(building) for stack in _stacked(a, b)]
    yield from sorted(found, key=lambda s: (order[s.lower.id], order[s.upper.id]))


def _over_one_another(building: Building) -> Iterator[tuple[_Body, _Body]]:
    """Every two leaves whose boxes in plan meet and whose levels do not overlap, the lower first."""
    walls = {wall.id: wall for wall in building.walls}
    bodies = sorted((_body(leaf, walls[leaf.wall]) for leaf in building.leaves), key=lambda b: b.across)
    reached: list[_Body] = []
    for body in bodies:
        reached = [other for other in reached if other.across.end >= body.across.start]
        for other in reached:
            if other.up.overlaps(body.up):
                for low, high in ((other, body), (body, other)):
                    if high.leaf.base.lowest(high.leaf.span) >= low.leaf.top.highest(low.leaf.span) - TOLERANCE:
                        yield low, high
        reached.append(body)


def _body(leaf: Leaf, wall: Wall) -> _Body:
    d = direction(wall.start, wall.end)
    corners = [
        along(wall.start, d, at, leaf.offset + by) for at in (leaf.span.start, leaf.span.end) for by in (0.0, leaf.thickness)
    ]
    xs, ys = zip(*corners, strict=True)
    return _Body(leaf, wall, Span(min(xs), max(xs)), Span(min(ys), max(ys)))


def _stacked(low: _Body, high: _Body) -> Iterator[Stack]:
    d, e = direction(low.wall.start, low.wall.end), direction(high.wall.start, high.wall.end)
    if abs(cross(d, e)) > PARALLEL:
        return
    lower, upper = low.leaf, high.leaf
    to = between(high.wall.start, along(low.wall.start, d, 0.0, lower.offset + lower.thickness / 2))
    aside = abs(cross(e, to) - upper.offset - upper.thickness / 2)
    thinner = min(lower.thickness, upper.thickness)
    if min((lower.thickness + upper.thickness) / 2 - aside, thinner) >= thinner / 2 - TOLERANCE:
        yield Stack(lower, upper, 1.0 if dot(d, e) > 0 else -1.0, dot(e, to))
