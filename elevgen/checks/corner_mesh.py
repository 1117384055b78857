"""Render and plaster have mesh across the corners of openings."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf, Opening
from elevgen.checks._damp import courses_of
from elevgen.checks._finding import BUILDING, at_opening, found
from elevgen.checks._masonry import gaps_at, joints_by_leaf, stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "corner-mesh"
TITLE = "Mesh at the corners of openings"
RATIONALE = "A finish cracks slantwise from the corners of openings first; mesh across them spreads the pull (from memory)."
KEYS = ("finish.mesh.length", "finish.mesh.width")
NEAR = 10.0
"""How far off a corner (mm) masonry all round it is looked for."""


def check(design: Design) -> Iterator[Finding]:
    """Each corner of each opening in a finished leaf with masonry all round it, over the damp-proof course."""
    size = [rule(design, key) for key in KEYS]
    joints = joints_by_leaf(design)
    judged = False
    for leaf in design.building.leaves:
        for opening in design.building.wall(leaf.wall).openings if leaf.finish else ():
            judged = True
            if None in size:
                yield uncovered(design, at_opening(leaf, opening), *KEYS)
            else:
                yield _judged(design, leaf, opening, joints[leaf.id])
    if not judged:
        yield found("pass", BUILDING, "no rendered or plastered leaf with openings")


def _judged(design: Design, leaf: Leaf, opening: Opening, joints: tuple[MovementJoint, ...]) -> Finding:
    rect, feet = opening.rect, courses_of(design, leaf, "base")
    corners = [(x, y) for x in (rect.left, rect.right) for y in (rect.bottom, rect.top)]
    wanted = [
        corner
        for corner in corners
        if _walled(leaf, opening, corner, joints)
        and not any(course.span.contains(corner[0]) and corner[1] <= course.level + TOLERANCE for course in feet)
    ]
    there = {(strip.at, strip.level) for strip in design.fittings.mesh if strip.leaf == leaf.id and strip.opening == opening.id}
    got = float(sum(1 for corner in wanted if corner in there))
    text = f"mesh at {got:.0f} of {counted(len(wanted), 'corner')}"
    return found(
        "pass" if got == len(wanted) else "fail",
        at_opening(leaf, opening),
        text,
        measured=got,
        least=float(len(wanted)),
        unit="nr",
    )


def _walled(leaf: Leaf, opening: Opening, corner: tuple[float, float], joints: tuple[MovementJoint, ...]) -> bool:
    """True when a band over or under the corner is solid past it, and a band beside the opening is solid up to it."""
    (at, level), rect = corner, opening.rect
    out, up = (-NEAR if at == rect.left else NEAR), (-NEAR if level == rect.bottom else NEAR)
    beyond = _solid(leaf, level, level + up, joints)
    beside = _solid(leaf, level, level - up, joints)
    return any(s.contains(at - out) and s.contains(at + out) for s in beyond) and any(s.contains(at + out) for s in beside)


def _solid(leaf: Leaf, a: float, b: float, joints: tuple[MovementJoint, ...]) -> tuple[Span, ...]:
    band = Span(min(a, b), max(a, b))
    return stretches(leaf, band, gaps_at(joints, band.middle))
