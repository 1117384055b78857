"""A movement joint goes through the leaf from bottom to top."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.building.model import Leaf
from elevgen.checks._finding import at_joint, found
from elevgen.checks._masonry import full_height
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-full-height"
TITLE = "Movement joints carried through"
RATIONALE = (
    "A joint that stops short leaves the masonry above or below it in one piece, and a crack goes on where the joint ends."
)


def check(design: Design) -> Iterator[Finding]:
    """A joint that stops short of the base or the top of its leaf fails, and counts as no joint elsewhere."""
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    for joint in design.plan.joints:
        leaf = leaves[joint.leaf]
        if full_height(leaf, joint):
            reach = f"from {design.figures.level(joint.levels.start)} to {design.figures.level(joint.levels.end)}"
            yield found("pass", at_joint(joint), f"goes through the leaf {reach}")
        else:
            yield _short(design.figures, leaf, joint)


def _short(figures: Figures, leaf: Leaf, joint: MovementJoint) -> Finding:
    """How far the joint stops short at each end, and whether the units change there."""
    over = joint.gap.common(leaf.span) or Span(joint.at, joint.at)
    foot, head = leaf.base.highest(over), leaf.top.lowest(over)
    lacking = []
    if joint.levels.end < head - TOLERANCE:
        lacking.append((head - joint.levels.end, "under the top of the leaf", joint.levels.end, head))
    if joint.levels.start > foot + TOLERANCE:
        lacking.append((joint.levels.start - foot, "over its base", joint.levels.start, foot))
    ends = [
        f"ends at {figures.level(at)}{_units_change(leaf, at)}, {figures.measure(short)} {side}" for short, side, at, _ in lacking
    ]
    text = f"{' and '.join(ends)}: carry it on to {' and to '.join(figures.level(end) for *_, end in lacking)}"
    return found("fail", at_joint(joint), text, measured=max(short for short, *_ in lacking))


def _units_change(leaf: Leaf, at: float) -> str:
    change = next((pair for pair in pairwise(leaf.zones) if abs(pair[0].levels.end - at) <= TOLERANCE), None)
    names = [zone.unit.name.replace("_", " ") for zone in change or ()]
    return f", where {names[0]} ends and {names[1]} begins" if names else ""
