"""No movement joint runs into an opening or a lintel's bearing, on any storey."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._bearing import bearing_needed
from elevgen.checks._finding import at_joint, found
from elevgen.checks._rules import uncovered
from elevgen.checks._words import listed
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
            names = _names(design, leaf, joint)
            text = f"runs through {listed(names) or 'a strip between openings'}"
            yield found("fail", at_joint(joint)._replace(openings=names), text, measured=0.0)
        else:
            yield from _beside_lintels(design, leaf, joint)


def _names(design: Design, leaf: Leaf, joint: MovementJoint) -> tuple[str, ...]:
    openings = design.building.wall(leaf.wall).openings
    return tuple(o.id for o in openings if o.rect.along.overlaps(joint.gap) and o.rect.levels.overlaps(joint.levels))


def _beside_lintels(design: Design, leaf: Leaf, joint: MovementJoint) -> Iterator[Finding]:
    """The nearest reveal against its lintel's bearing; every lintel whose bearing the joint would cut."""
    passed = [lintel for lintel in design.fittings.lintels if lintel.leaf == leaf.id and joint.levels.contains(lintel.level)]
    clear = True
    for lintel in passed:
        needed = bearing_needed(design, lintel)
        if needed is None:
            clear = False
            yield uncovered(design, at_joint(joint), "lintel.bearing.long")
            continue
        distance = _apart(joint.gap, lintel.clear)
        if not at_least(distance, needed.number):
            clear = False
            place = at_joint(joint)._replace(openings=lintel.openings)
            text = f"{millimetres(distance)} mm from the reveal of {listed(lintel.openings)}, inside the bearing of its lintel"
            yield found("fail", place, text, measured=distance, least=needed.number, source=needed)
    if clear:
        nearest = min((_apart(joint.gap, v.along) for v in leaf.voids if v.levels.overlaps(joint.levels)), default=None)
        far = "no opening to pass" if nearest is None else f"{millimetres(nearest)} mm clear of the nearest reveal"
        yield found("pass", at_joint(joint), far, measured=nearest)


def _apart(gap: Span, clear: Span) -> float:
    return max(clear.start - gap.end, gap.start - clear.end, 0.0)
