"""Areas of a leaf's face, exact for stepped and sloping profiles. All mm2."""

from __future__ import annotations

from itertools import pairwise

from elevgen.building.model import Building, Leaf, Profile, Wall
from elevgen.building.outline import gross_area
from elevgen.core.geometry import TOLERANCE, Rect, Span, merge
from elevgen.joints.model import MovementJoint
from elevgen.result import Design
from elevgen.takeoff.model import LeafArea

ALL_LEVELS = Span(float("-inf"), float("inf"))


def leaf_area(design: Design, leaf: Leaf) -> LeafArea:
    """The face of a leaf shared out. Units and mortar are the coursing's own; the rest is re-measured here."""
    laid = design.coursing.of(leaf.id)
    openings = opening_voids(leaf, design.building.wall(leaf.wall))
    strips = tuple(void for void in leaf.voids if void not in openings)
    return LeafArea(
        leaf=leaf.id,
        gross=gross_area(leaf),
        openings=sum(void.area for void in openings),
        strips=sum(void.area for void in strips),
        movement_joints=joint_area(leaf, design.plan.on_leaf(leaf.id)),
        units=laid.unit_area,
        mortar=laid.mortar_area,
    )


def opening_voids(leaf: Leaf, wall: Wall) -> tuple[Rect, ...]:
    """Those voids of a leaf that are openings; the others are strips too small to build."""
    return tuple(void for void in leaf.voids if any(_inside(void, opening.rect) for opening in wall.openings))


def _inside(inner: Rect, outer: Rect) -> bool:
    return (
        inner.left >= outer.left - TOLERANCE
        and inner.right <= outer.right + TOLERANCE
        and inner.bottom >= outer.bottom - TOLERANCE
        and inner.top <= outer.top + TOLERANCE
    )


def masonry_area(leaf: Leaf, along: Span, levels: Span = ALL_LEVELS) -> float:
    """Face without its voids, inside a stretch of the leaf and a band of levels. Movement joints are not taken out."""
    return face_area(leaf, along, levels) - sum(_common_area(void, along, levels) for void in leaf.voids)


def face_area(leaf: Leaf, along: Span, levels: Span = ALL_LEVELS) -> float:
    """Gross face inside a stretch of the leaf and a band of levels."""
    return _under(leaf.top, along, levels) - _under(leaf.base, along, levels)


def joint_area(leaf: Leaf, joints: tuple[MovementJoint, ...]) -> float:
    """Face taken by movement joints: the leaf's full height over each gap, less the voids a given joint may cross."""
    gaps = merge(gap for joint in joints if (gap := joint.gap.common(leaf.span)))
    return sum(masonry_area(leaf, gap) for gap in gaps)


def cavity_area(building: Building, wall: Wall) -> float:
    """The face both leaves of a wall share, less voids: measured on the lesser of the two."""
    first, second = building.leaves_of(wall.id)
    shared = first.span.common(second.span)
    if shared is None:
        return 0.0
    return min(masonry_area(first, shared), masonry_area(second, shared))


def _under(profile: Profile, along: Span, levels: Span) -> float:
    """Integral of a profile, held inside the levels, over a stretch."""
    points = profile.clipped(along)
    return sum(_trapezium(a, b, levels) for a, b in pairwise(points) if b[0] > a[0])


def _trapezium(a: tuple[float, float], b: tuple[float, float], levels: Span) -> float:
    rise = b[1] - a[1]
    crossings = [(limit - a[1]) / rise for limit in (levels.start, levels.end)] if rise else []
    cuts = [0.0, *sorted(c for c in crossings if 0.0 < c < 1.0), 1.0]
    held = [min(max(a[1] + rise * cut, levels.start), levels.end) for cut in cuts]
    width = b[0] - a[0]
    return sum(
        (cuts[i + 1] - cuts[i]) * width * (held[i] + held[i + 1]) / 2  # straight between two cuts
        for i in range(len(cuts) - 1)
    )


def _common_area(void: Rect, along: Span, levels: Span) -> float:
    across = void.along.common(along)
    up = void.levels.common(levels)
    return across.length * up.length if across and up else 0.0
