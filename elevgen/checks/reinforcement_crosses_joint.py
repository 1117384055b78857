"""Bed-joint reinforcement stops at movement joints, and lies in masonry."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._finding import at_fitting, at_leaf, found
from elevgen.checks._masonry import joints_by_leaf
from elevgen.checks._rules import rule
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import BedReinforcement
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "reinforcement-crosses-joint"
TITLE = "Reinforcement stops at movement joints"
RATIONALE = "Reinforcement through a movement joint ties together what the joint is there to part."
CLEARANCE = "bed_reinforcement.joint_clearance"


def check(design: Design) -> Iterator[Finding]:
    """Each length of reinforcement against every joint gap and every void of its leaf; one pass for a leaf without faults.

    Where the rule set says how far short of a joint it stops, nearer than that warns.
    """
    joints = joints_by_leaf(design)
    for leaf in design.building.leaves:
        laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
        faults = [fault for r in laid for fault in _faults(design.figures, leaf, joints[leaf.id], r, rule(design, CLEARANCE))]
        yield from faults
        if laid and not faults:
            lengths = counted(len(laid), "length")
            yield found("pass", at_leaf(leaf), f"{lengths} of reinforcement clear of joints and reveals")


def _faults(
    figures: Figures, leaf: Leaf, joints: tuple[MovementJoint, ...], laid: BedReinforcement, clearance: Sourced | None
) -> Iterator[Finding]:
    place = at_fitting(laid)
    for joint in (joint for joint in joints if joint.levels.contains(laid.level)):
        here = place._replace(joints=(joint.id,))
        short = max(laid.span.start - joint.gap.end, joint.gap.start - laid.span.end)
        if joint.gap.overlaps(laid.span):
            yield found("fail", here, f"runs through movement joint {joint.id}: stop it on either side")
        elif clearance is not None and not at_least(short, clearance.number):
            text = (
                f"stops {figures.measure(short)} short of movement joint {joint.id}: {figures.measure(clearance.number)} is asked"
            )
            yield found("warn", here, text, measured=short, least=clearance.number, source=clearance)
    for void in leaf.voids:
        if void.bottom + TOLERANCE < laid.level < void.top - TOLERANCE and void.along.overlaps(laid.span):
            where = f"{figures.length(void.left)} to {figures.length(void.right)}"
            yield found("fail", place, f"runs into the opening at {where}")
    for turn in laid.returns:
        end = leaf.start_end if turn.end == "start" else leaf.finish_end
        if end.kind != "corner" or end.connection != "bonded" or end.other != turn.leaf:
            yield found("fail", place, f"goes on into {turn.leaf}, to which the leaf is not bonded at a corner")
    if not leaf.span.grown(TOLERANCE).contains(laid.span.start) or not leaf.span.grown(TOLERANCE).contains(laid.span.end):
        yield found("fail", place, "runs past the end of the leaf")
