"""Movement joints have masonry on both sides: none outside the leaf or at its end, no two too near for a piece between."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from elevgen.building.model import GivenJoint, Leaf, Wall
from elevgen.checks._finding import BUILDING, at_joint, at_leaf, found
from elevgen.checks._masonry import joints_by_leaf, stops_at
from elevgen.checks._rules import rule, uncovered
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_least
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-room"
TITLE = "Masonry on both sides of movement joints"
RATIONALE = (
    "What stands between two joints, or between a joint and the end of the wall, must hold a piece that bonds; "
    "a joint past the masonry is none."
)
KEY = "bond.piece.min_fraction"


def check(design: Design) -> Iterator[Finding]:
    """Between neighbouring joints of a leaf and from the outer ones to its ends: the least piece. A joint outside it fails."""
    least = rule(design, KEY)
    if least is None:
        yield uncovered(design, BUILDING, KEY)
        return
    joints = joints_by_leaf(design)
    walls = {wall.id: wall for wall in design.building.walls}
    for leaf in design.building.leaves:
        on_leaf = joints[leaf.id]
        findings = [*_lost(design.figures, walls[leaf.wall], leaf), *_crowded(design.figures, leaf, on_leaf, least)]
        yield from findings
        if on_leaf and not findings:
            yield found("pass", at_leaf(leaf), "masonry on both sides of every joint")


def _lost(figures: Figures, wall: Wall, leaf: Leaf) -> Iterator[Finding]:
    """The joints the spec gives this leaf that stand where it has no masonry."""
    for joint in wall.joints:
        if joint.leaf in (None, leaf.side) and not _inside(leaf, joint):
            face = f"{figures.length(leaf.span.start)} to {figures.length(leaf.span.end)}"
            text = f"the joint given at {figures.length(joint.at)} is past the masonry of this leaf, which goes from {face}: "
            text += "left out, give it a place within that"
            yield found("fail", at_leaf(leaf).part(f"joint at {figures.length(joint.at)}"), text)


def _inside(leaf: Leaf, joint: GivenJoint) -> bool:
    return leaf.span.start + TOLERANCE < joint.at < leaf.span.end - TOLERANCE


def _crowded(figures: Figures, leaf: Leaf, joints: Sequence[MovementJoint], least: Sourced) -> Iterator[Finding]:
    """Joints with less than the least piece beside them."""
    limit = _least_piece(leaf, least)
    for joint, clear in _outermost(leaf, joints):
        if not at_least(clear, limit):
            text = f"{figures.measure(max(clear, 0.0))} of masonry between {joint.id} and the end of the leaf"
            yield found(
                "fail", at_joint(joint), f"{text}, {_too_little(figures, limit)}", measured=clear, least=limit, source=least
            )
    for a, b in pairwise(joints):
        clear = b.gap.start - a.gap.end
        if not at_least(clear, limit):
            text = f"{figures.measure(max(clear, 0.0))} of masonry between {a.id} and {b.id}, {_too_little(figures, limit)}"
            place = at_joint(b)._replace(joints=(a.id, b.id))
            yield found("fail", place, text, measured=clear, least=limit, source=least)


def _outermost(leaf: Leaf, joints: Sequence[MovementJoint]) -> Iterator[tuple[MovementJoint, float]]:
    """The first joint and the last, and how much masonry is left between them and the ends of the leaf they do not stop."""
    for joint in joints[:1]:
        if not stops_at(leaf, joint):
            yield joint, joint.gap.start - leaf.span.start
    for joint in joints[-1:]:
        if not stops_at(leaf, joint):
            yield joint, leaf.span.end - joint.gap.end


def _too_little(figures: Figures, limit: float) -> str:
    return f"less than the least piece that bonds, {figures.measure(limit)}: move the joint"


def _least_piece(leaf: Leaf, least: Sourced) -> float:
    """The least cut piece of the longest unit of the leaf: part of the unit and its joint, less a joint."""
    height = Span(leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span))
    units = [zone.unit for zone in leaf.zones if zone.levels.overlaps(height)]
    return max(least.number * unit.module - unit.joint for unit in units)
