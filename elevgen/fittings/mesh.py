"""Mesh in render and plaster across the corners of openings, where it would crack first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product
from typing import Literal

from elevgen.building.model import Leaf, Wall
from elevgen.core.geometry import TOLERANCE, Rect, Span
from elevgen.fittings.joint_parts import faces_in_sight
from elevgen.fittings.model import DampCourse, Mesh
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

LENGTH, WIDTH = "finish.mesh.length", "finish.mesh.width"
NEAR = 10.0
"""How far off a corner (mm) there must be masonry all round it for the finish to go on there."""


def corner_mesh(
    wall: Wall, leaf: Leaf, joints: Sequence[MovementJoint], damp: Sequence[DampCourse], reader: RuleReader
) -> tuple[Mesh, ...]:
    """A strip at each corner of each opening of a finished leaf with masonry all round it; none where the finish ends at the
    damp-proof course. Nothing where the rule set has no size for it."""
    length, width = figure(reader, LENGTH), figure(reader, WIDTH)
    if leaf.finish is None or length is None or width is None:
        return ()
    foot = [course for course in damp if course.place == "base"]
    sides: tuple[tuple[Literal["left", "right"], int], ...] = (("left", -1), ("right", 1))
    ends: tuple[tuple[Literal["sill", "head"], int], ...] = (("sill", -1), ("head", 1))
    return tuple(
        Mesh(leaf.id, opening.id, at, level, side, end, length, width, faces_in_sight(wall, leaf), covered(reader, LENGTH, WIDTH))
        for opening in sorted(wall.openings, key=lambda o: (o.rect, o.id))
        for (side, across), (end, up) in product(sides, ends)
        if _round(leaf, at := _at(opening.rect, across), level := _level(opening.rect, up), across, up, joints)
        and not any(course.span.contains(at) and level <= course.level + TOLERANCE for course in foot)
    )


def _at(rect: Rect, across: int) -> float:
    return rect.left if across < 0 else rect.right


def _level(rect: Rect, up: int) -> float:
    return rect.bottom if up < 0 else rect.top


def _round(leaf: Leaf, at: float, level: float, across: int, up: int, joints: Iterable[MovementJoint]) -> bool:
    """True when there is masonry beside the corner, over or under it, and slantwise off it."""
    beside = ((across, -up), (-across, up), (across, up))
    gaps = [joint.gap for joint in joints if joint.levels.contains(level)]
    return all(_solid(leaf, at + x * NEAR, level + y * NEAR, gaps) for x, y in beside)


def _solid(leaf: Leaf, at: float, level: float, gaps: Iterable[Span]) -> bool:
    inside = leaf.span.contains(at) and leaf.base.level_right_of(at) < level < leaf.top.level_right_of(at)
    taken = any(void.left < at < void.right and void.bottom < level < void.top for void in leaf.voids)
    return inside and not taken and not any(gap.contains(at) for gap in gaps)
