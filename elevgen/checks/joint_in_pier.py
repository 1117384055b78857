"""No movement joint stands in a pier."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf, Wall
from elevgen.checks._finding import BUILDING, at_joint, found
from elevgen.checks._masonry import joints_by_leaf
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-in-pier"
TITLE = "Movement joints clear of piers"
RATIONALE = (
    "A pier bonded into a wall stitches up a joint that runs into it, and a pier cut in two holds neither half of the wall. "
    "The joint belongs beside the pier, or between two piers."
)


def check(design: Design) -> Iterator[Finding]:
    """Each joint of a wall with piers: within a unit and a perpend (mm) of the middle of one, warn. Common practice, no source.

    A pier is taken as two units wide: the spec gives its middle only.
    """
    silent = True
    for leaf_id, joints in joints_by_leaf(design).items():
        leaf = design.building.leaf(leaf_id)
        wall = design.building.wall(leaf.wall)
        if any(feature.kind == "pier" for feature in wall.features):
            for joint in joints:
                silent = False
                yield _judged(design.figures, leaf, wall, joint)
    if silent:
        yield found("pass", BUILDING, "no movement joint in a wall with piers")


def _judged(figures: Figures, leaf: Leaf, wall: Wall, joint: MovementJoint) -> Finding:
    half = max(zone.unit.module for zone in leaf.zones)
    for feature in wall.features:
        pier = Span(feature.at - half, feature.at + half)
        if feature.kind == "pier" and pier.overlaps(joint.gap):
            text = f"stands in the pier at {figures.length(feature.at)}, taken as {figures.measure(pier.length)} wide"
            return found("warn", at_joint(joint), text + ": move it beside the pier")
    return found("pass", at_joint(joint), "in no pier")
