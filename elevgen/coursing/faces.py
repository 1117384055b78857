"""Where along a leaf there is masonry on both sides of a level, measured from its outline, its voids and its joints."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from elevgen.building.model import Leaf, Profile
from elevgen.core.geometry import TOLERANCE, Rect, Span, merge, subtract
from elevgen.joints.model import MovementJoint


def standing(leaf: Leaf, levels: Span) -> tuple[Span, ...]:
    """Where the leaf is built both below and above a band of levels; openings are not taken out."""
    unfounded = higher(leaf.base, leaf.span, levels.start - 2 * TOLERANCE)
    return tuple(left for stretch in higher(leaf.top, leaf.span, levels.end) for left in subtract(stretch, unfounded))


def masonry(leaf: Leaf, levels: Span, gaps: Iterable[Span] = ()) -> tuple[Span, ...]:
    """Where there is masonry on both sides of a bed, openings and the given gaps (movement joints) taken out."""
    holes = [void.along for void in leaf.voids if touches(void, levels)]
    holes.extend(gaps)
    return tuple(left for stretch in standing(leaf, levels) for left in subtract(stretch, holes))


def touches(void: Rect, levels: Span) -> bool:
    """True when a void interrupts a bed; one that only reaches its upper or lower edge leaves masonry on one side, so it does."""
    return void.bottom <= levels.end + TOLERANCE and void.top >= levels.start - TOLERANCE


def gaps_at(joints: Iterable[MovementJoint], levels: Span) -> list[Span]:
    """The gaps of the movement joints that cross a band of levels."""
    return [j.gap for j in joints if j.levels.start <= levels.end + TOLERANCE and j.levels.end >= levels.start - TOLERANCE]


def higher(profile: Profile, over: Span, level: float) -> tuple[Span, ...]:
    """Where a profile lies higher than a level, by more than the tolerance."""
    points = profile.clipped(over)
    found: list[Span] = []
    for (a, level_a), (b, level_b) in pairwise(points):
        if b - a <= TOLERANCE or max(level_a, level_b) <= level + TOLERANCE:
            continue
        start, end = a, b
        if level_a <= level:
            start = a + (b - a) * (level - level_a) / (level_b - level_a)
        elif level_b <= level:
            end = a + (b - a) * (level - level_a) / (level_b - level_a)
        found.append(Span(start, end))
    return merge(found)
