"""Areas of a leaf's face, exact for stepped and sloping profiles. All mm2."""

from __future__ import annotations

from dataclasses import replace

from elevgen.building.model import Building, Leaf, Wall
from elevgen.building.outline import clipped, gross_area, leaf_outline, polygon_area
from elevgen.core.geometry import Rect, Span, cut_out, merge
from elevgen.fittings.model import Lintel
from elevgen.joints.model import MovementJoint
from elevgen.result import Design
from elevgen.takeoff.model import LeafArea

ANYWHERE = Span(float("-inf"), float("inf"))


def leaf_area(design: Design, leaf: Leaf) -> LeafArea:
    """The face of a leaf shared out. Units and mortar are the coursing's own; the rest is measured here.

    Where another wall runs through the leaf is no part of its face.
    """
    laid = design.coursing.of(leaf.id)
    openings = (void for void in leaf.voids if void not in leaf.strips and void not in leaf.crossings)
    return LeafArea(
        leaf=leaf.id,
        gross=gross_area(leaf),
        openings=sum(_on_face(leaf, void) for void in openings),
        strips=sum(_on_face(leaf, void) for void in leaf.strips),
        movement_joints=joint_area(leaf, design.plan.on_leaf(leaf.id)),
        units=laid.unit_area,
        mortar=laid.mortar_area,
        lintels=lintel_area(leaf, design.fittings.lintels, design.plan.on_leaf(leaf.id)),
    )


def masonry_area(leaf: Leaf, along: Span = ANYWHERE, levels: Span = ANYWHERE) -> float:
    """Face without its voids, inside a stretch of the leaf and a band of levels. Movement joints are not taken out."""
    outline = clipped(leaf_outline(leaf), Rect(along.start, levels.start, along.end, levels.end))
    return polygon_area(outline) - sum(polygon_area(clipped(outline, void)) for void in leaf.voids)


def joint_area(leaf: Leaf, joints: tuple[MovementJoint, ...]) -> float:
    """Face taken by movement joints: the leaf's full height over each gap, less the voids a given joint may cross."""
    return sum(masonry_area(leaf, gap) for gap in merge(joint.gap for joint in joints))


def lintel_area(leaf: Leaf, lintels: tuple[Lintel, ...], joints: tuple[MovementJoint, ...]) -> float:
    """Face taken by the lintels that lie in the place of units, less what voids and joints take of it already."""
    bodies = [body for lintel in lintels if lintel.leaf == leaf.id and (body := lintel.body)]
    gaps = (Rect(joint.gap.start, joint.levels.start, joint.gap.end, joint.levels.end) for joint in joints)
    return sum(_on_face(leaf, part) for part in cut_out(bodies, (*leaf.voids, *gaps)))


def shared_face(building: Building, wall: Wall) -> Leaf | None:
    """The lesser leaf of two, no longer than both are; None where nothing of one stands beside the other."""
    first, second = building.leaves_of(wall.id)
    shared = first.span.common(second.span)
    if shared is None:
        return None
    return min((replace(leaf, span=shared) for leaf in (first, second)), key=masonry_area)


def _on_face(leaf: Leaf, void: Rect) -> float:
    return polygon_area(clipped(leaf_outline(leaf), void))
