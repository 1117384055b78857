"""What each movement joint takes: filler, sealant, backer rod."""

from __future__ import annotations

from elevgen.building.model import Leaf, Wall
from elevgen.fittings.figures import covered, figure
from elevgen.fittings.model import JointParts
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader

_KEYS = ("sealant.width_to_depth", "sealant.depth.min", "backer_rod.oversize")


def joint_parts(joint: MovementJoint, wall: Wall, leaf: Leaf, reader: RuleReader) -> JointParts | None:
    """The parts of one joint over its full height, in mm; None where the rule set has no depth of sealant.

    Filler fills the leaf behind the sealant, which lies on every face that stays in sight.
    """
    width = joint.width.built
    depth = sealant_depth(width, reader)
    if depth is None:
        return None
    faces = faces_in_sight(wall, leaf)
    oversize = figure(reader, "backer_rod.oversize")
    return JointParts(
        joint=joint.id,
        length=joint.levels.length,
        filler_width=width,
        filler_depth=max(leaf.thickness - faces * depth, 0.0),
        sealant_width=width,
        sealant_depth=depth,
        sealant_faces=faces,
        backer_diameter=None if oversize is None else width * oversize,
        slip_ties=None,
        basis=(*joint.basis, *(key for key in covered(reader, *_KEYS) if key not in joint.basis)),
    )


def sealant_depth(width: float, reader: RuleReader) -> float | None:
    """Half the width or so (`sealant.width_to_depth`), never under the least depth; None where neither is covered."""
    ratio, least = figure(reader, "sealant.width_to_depth"), figure(reader, "sealant.depth.min")
    depths = [depth for depth in (None if ratio is None else width / ratio, least) if depth is not None]
    return max(depths, default=None)


def faces_in_sight(wall: Wall, leaf: Leaf) -> int:
    """Two for an internal wall of one leaf; else one: the weather side of an outer leaf, the room side of an inner one."""
    return 2 if len(wall.leaves) == 1 and not leaf.exposed else 1
