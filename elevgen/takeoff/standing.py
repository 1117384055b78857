"""Walls that stand already are neither measured nor ordered: the design without what is in them."""

from __future__ import annotations

from dataclasses import replace

from elevgen.coursing.cutting import cutting_of
from elevgen.result import Design

LIFT = "lift.height"


def standing(design: Design) -> frozenset[str]:
    """The ids of walls that stand already."""
    return frozenset(wall.id for wall in design.building.walls if wall.existing)


def to_build(design: Design) -> Design:
    """What is still to be built of a design; scaffold lifts are counted from where they are in all of it."""
    old = standing(design)
    if not old:
        return design
    building, coursing, plan, fittings = design.building, design.coursing, design.plan, design.fittings
    leaves = tuple(leaf for leaf in building.leaves if leaf.wall not in old)
    new = {leaf.id for leaf in leaves}
    laid = tuple(each for each in coursing.leaves if each.leaf in new)
    lift = design.rules.values.get(LIFT)
    high = None if lift is None else lift.number
    cutting = cutting_of(building, coursing.patterns, laid, coursing.cutting.saw, high, design.figures)
    joints = tuple(joint for joint in plan.joints if joint.leaf in new)
    kept = {joint.id for joint in joints}
    return replace(
        design,
        building=replace(building, leaves=leaves, walls=tuple(wall for wall in building.walls if wall.id not in old)),
        coursing=replace(coursing, leaves=laid, cutting=cutting),
        plan=replace(plan, joints=joints, panels=tuple(panel for panel in plan.panels if panel.leaf in new)),
        fittings=replace(
            fittings,
            lintels=tuple(x for x in fittings.lintels if x.leaf in new),
            bed_reinforcement=tuple(x for x in fittings.bed_reinforcement if x.leaf in new),
            ties=tuple(x for x in fittings.ties if x.wall not in old),
            damp_courses=tuple(x for x in fittings.damp_courses if x.leaf in new),
            trays=tuple(x for x in fittings.trays if x.wall not in old),
            joint_parts=tuple(x for x in fittings.joint_parts if x.joint in kept),
            mesh=tuple(x for x in fittings.mesh if x.leaf in new),
            stock=tuple(x for x in fittings.stock if x.wall not in old),
        ),
    )
