"""No movement joint runs into an opening or a lintel's bearing, on any storey."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._bearing import bearing_needed
from elevgen.checks._masonry import place_of
from elevgen.checks._rules import not_checked
from elevgen.core.geometry import Span, at_least
from elevgen.core.measures import millimetres
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-in-opening"
TITLE = "Movement joints clear of openings and lintel bearings"
RATIONALE = (
    "A joint cannot be carried past a frame, and masonry that slides under a lintel's end loses its bearing. "
    "The joint must be clear of every opening it passes, on every storey, by the bearing of its lintel."
)


def check(design: Design) -> Iterator[Finding]:
    """From the joint's nearer edge to every reveal whose opening or lintel it passes: at least the lintel's bearing."""
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    for joint in design.plan.joints:
        leaf = leaves[joint.leaf]
        through = [void for void in leaf.voids if void.levels.overlaps(joint.levels) and void.along.overlaps(joint.gap)]
        if through:
            names = _names(design, leaf, joint) or "a strip between openings"
            yield Finding("", CODE, "fail", place_of(joint), f"runs through {names}", 0.0, ">=", None, "mm")
        else:
            yield from _beside_lintels(design, leaf, joint)


def _names(design: Design, leaf: Leaf, joint: MovementJoint) -> str:
    openings = design.building.wall(leaf.wall).openings
    return ", ".join(o.id for o in openings if o.rect.along.overlaps(joint.gap) and o.rect.levels.overlaps(joint.levels))


def _beside_lintels(design: Design, leaf: Leaf, joint: MovementJoint) -> Iterator[Finding]:
    """The nearest reveal against its lintel's bearing; every lintel whose bearing the joint would cut."""
    passed = [lintel for lintel in design.fittings.lintels if lintel.leaf == leaf.id and joint.levels.contains(lintel.level)]
    clear = True
    for lintel in passed:
        needed = bearing_needed(design, lintel)
        if needed is None:
            clear = False
            yield not_checked(design, CODE, place_of(joint), "lintel.bearing.long")
            continue
        distance = _apart(joint.gap, lintel.clear)
        if not at_least(distance, needed.number):
            clear = False
            names = ", ".join(lintel.openings)
            text = f"{millimetres(distance)} mm from the reveal of {names}, inside the bearing of its lintel"
            yield Finding("", CODE, "fail", place_of(joint), text, distance, ">=", needed.number, "mm", needed)
    if clear:
        nearest = min((_apart(joint.gap, v.along) for v in leaf.voids if v.levels.overlaps(joint.levels)), default=None)
        far = "no opening to pass" if nearest is None else f"{millimetres(nearest)} mm clear of the nearest reveal"
        yield Finding("", CODE, "pass", place_of(joint), far, nearest, ">=" if nearest is not None else "", None, "mm")


def _apart(gap: Span, clear: Span) -> float:
    return max(clear.start - gap.end, gap.start - clear.end, 0.0)
