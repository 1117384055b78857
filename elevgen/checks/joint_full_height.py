"""A movement joint goes through the leaf from bottom to top."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import at_joint, found
from elevgen.checks._masonry import full_height
from elevgen.core.measures import level
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
        reach = f"from {level(joint.levels.start)} to {level(joint.levels.end)}"
        if full_height(leaf, joint):
            yield found("pass", at_joint(joint), f"goes through the leaf {reach}")
        else:
            yield found("fail", at_joint(joint), f"goes {reach} only, not through the leaf")
