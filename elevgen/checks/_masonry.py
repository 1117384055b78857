"""Where there is masonry on a leaf's face, measured from its outline, its voids and its joints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from elevgen.building.model import Building, Leaf, LeafEnd, Profile
from elevgen.core.geometry import TOLERANCE, Rect, Span, cross, direction, subtract
from elevgen.joints.model import MovementJoint
from elevgen.result import Design

TURN = 0.17
"""Sine of the least angle at which one wall round a corner counts as a return (10 degrees)."""


def stretches(leaf: Leaf, levels: Span, gaps: Iterable[Span] = (), near: Span | None = None) -> tuple[Span, ...]:
    """Where the leaf is solid over the whole band of levels; the gaps (movement joints) are left out.

    `near`: only the part of the leaf there is looked at.
    """
    over = leaf.span if near is None else Span(max(leaf.span.start, near.start), min(leaf.span.end, near.end))
    voids = (void for void in leaf.voids if void.right > over.start and void.left < over.end)
    holes = [*gaps, *(void.along for void in voids if _takes(void, levels))]
    holes.extend(_beyond(leaf.top, leaf.span, levels.end, below=True))
    holes.extend(_beyond(leaf.base, leaf.span, levels.start, below=False))
    return subtract(over, holes)


def _takes(void: Rect, levels: Span) -> bool:
    """True when a void takes some of a band; a band thinner than the tolerance counts where it lies in the void."""
    if void.bottom > levels.end or void.top < levels.start:
        return False
    shared = min(void.top, levels.end) - max(void.bottom, levels.start)
    return shared > TOLERANCE or void.bottom + TOLERANCE < levels.middle < void.top - TOLERANCE


def _beyond(profile: Profile, over: Span, level: float, *, below: bool) -> Iterator[Span]:
    """Where a profile lies below a level, or above it."""
    sign = 1.0 if below else -1.0
    for (a, at_a), (b, at_b) in pairwise(profile.clipped(over)):
        lack_a, lack_b = sign * (level - at_a), sign * (level - at_b)
        if b - a <= 1e-9 or max(lack_a, lack_b) <= TOLERANCE:
            continue
        turn = a + (b - a) * lack_a / (lack_a - lack_b) if lack_a != lack_b else a
        yield Span(a if lack_a > TOLERANCE else turn, b if lack_b > TOLERANCE else turn)


def face_area(leaf: Leaf, over: Span | None = None) -> float:
    """Area of the leaf's face between base and top, voids included (mm2), over all of it or a stretch."""
    over = over or leaf.span
    return _under(leaf.top, over) - _under(leaf.base, over)


def _under(profile: Profile, over: Span) -> float:
    return sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(profile.clipped(over)))


def joints_by_leaf(design: Design) -> dict[str, tuple[MovementJoint, ...]]:
    """The joints of every leaf, from its start."""
    found: dict[str, list[MovementJoint]] = {leaf.id: [] for leaf in design.building.leaves}
    for joint in design.plan.joints:
        found[joint.leaf].append(joint)
    return {leaf: tuple(sorted(joints, key=lambda j: j.at)) for leaf, joints in found.items()}


def joints_within(design: Design) -> dict[str, tuple[MovementJoint, ...]]:
    """The joints of every leaf that part it, from its start: not those it only stops at."""
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    return {
        leaf: tuple(joint for joint in joints if not stops_at(leaves[leaf], joint))
        for leaf, joints in joints_by_leaf(design).items()
    }


def stops_at(leaf: Leaf, joint: MovementJoint) -> bool:
    """True when the joint fills the very end of a leaf that meets another there without being one piece with it."""
    ends = ((leaf.start_end, leaf.span.start), (leaf.finish_end, leaf.span.end))
    return any(end.connection == "jointed" and joint.gap.contains(at) for end, at in ends)


def full_height(leaf: Leaf, joint: MovementJoint) -> bool:
    """True when the joint goes all the way from the base to the top of the leaf where it stands."""
    over = joint.gap.common(leaf.span) or Span(joint.at, joint.at)
    foot, head = leaf.base.highest(over), leaf.top.lowest(over)
    return joint.levels.start <= foot + TOLERANCE and joint.levels.end >= head - TOLERANCE


def through_joints(design: Design) -> dict[str, tuple[MovementJoint, ...]]:
    """The joints that part every leaf from base to top, from its start: not those that stop short, or that it only stops at."""
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    return {name: tuple(j for j in on_leaf if full_height(leaves[name], j)) for name, on_leaf in joints_within(design).items()}


def gaps_at(joints: Iterable[MovementJoint], level: float) -> list[Span]:
    """The gaps of the joints that stand at a level."""
    return [j.gap for j in joints if j.levels.contains(level)]


def turns(building: Building, leaf: Leaf, end: LeafEnd) -> bool:
    """True when the masonry goes on round a corner at this end: connected, and not in the same line."""
    if end.kind != "corner" or end.connection not in ("bonded", "tied") or end.other is None:
        return False
    here, there = building.wall(leaf.wall), building.wall(building.leaf(end.other).wall)
    return abs(cross(direction(here.start, here.end), direction(there.start, there.end))) > TURN
