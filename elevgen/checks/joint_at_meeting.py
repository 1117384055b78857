"""No movement joint stands within a wall that meets its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Meeting, Wall
from elevgen.checks._finding import BUILDING, Place, at_joint, found
from elevgen.checks._masonry import joints_by_leaf, stops_at
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import Span, at_least, cross, direction
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-at-meeting"
TITLE = "Movement joints clear of walls that meet"
RATIONALE = (
    "A wall bonded or tied into the side of another holds together what it covers: a joint there is stitched up again. "
    "Bonded, it also needs a piece that bonds between itself and the joint."
)
KEY = "bond.piece.min_fraction"


class _Covered(NamedTuple):
    """What a wall covers of the length of a leaf that it meets, or runs through, and whether it holds by bond."""

    wall: str
    leaf: str
    along: Span
    bonded: bool


def check(design: Design) -> Iterator[Finding]:
    """Each joint against the walls bonded or tied to the side of its leaf, and those that run through it.

    Within one: fail. Beside a bonded one by less than the least piece: warn. A wall that is jointed or free holds nothing.
    """
    least = rule(design, KEY)
    for name, joints in joints_by_leaf(design).items():
        if joints:
            leaf = design.building.leaf(name)
            covered = [cover for meeting in design.building.meetings for cover in _covered(design.building, leaf, meeting)]
            yield from (_judged(design, leaf, joint, covered, least) for joint in joints)
    if not design.plan.joints:
        yield found("pass", BUILDING, "no movement joints")


def _covered(building: Building, leaf: Leaf, meeting: Meeting) -> Iterator[_Covered]:
    bonded = meeting.connection == "bonded"
    if meeting.kind != "corner" and meeting.host == leaf.id and meeting.continuous:
        stem = building.leaf(meeting.stem)
        half = stem.thickness / 2 / _slant(building.wall(leaf.wall), building.wall(stem.wall))
        yield _Covered(stem.wall, stem.id, Span(meeting.host_at - half, meeting.host_at + half), bonded)
    if meeting.kind == "cross" and meeting.stem == leaf.id:
        host = building.leaf(meeting.host)
        for through in leaf.crossings:
            if through.along.contains(meeting.stem_at):
                yield _Covered(host.wall, host.id, through.along, bonded)


def _slant(one: Wall, other: Wall) -> float:
    """Sine of the angle between two walls."""
    return abs(cross(direction(one.start, one.end), direction(other.start, other.end)))


def _judged(design: Design, leaf: Leaf, joint: MovementJoint, covered: Sequence[_Covered], least: Sourced | None) -> Finding:
    """Against the wall it stands in, or the bonded one it stands nearest to, where there is masonry of the leaf on both sides."""
    for cover in covered:
        if cover.along.overlaps(joint.gap):
            width = design.figures.measure(cover.along.length)
            text = f"stands within the {width} that {cover.wall} covers here and holds together: move it clear of {cover.wall}"
            return found("fail", _with(joint, cover), text, measured=0.0)
    bonded = [(max(c.along.start - joint.gap.end, joint.gap.start - c.along.end), c) for c in covered if c.bonded]
    if not bonded or stops_at(leaf, joint):
        return found("pass", at_joint(joint), "within no wall that meets its own")
    if least is None:
        return uncovered(design, at_joint(joint), KEY)
    clear, nearest = min(bonded)
    limit = max(least.number * zone.unit.module - zone.unit.joint for zone in leaf.zones)
    text = f"{design.figures.measure(clear)} of masonry between it and {nearest.wall}, bonded in beside it"
    if at_least(clear, limit):
        return found("pass", _with(joint, nearest), text, measured=clear, least=limit, source=least)
    text += f": the least piece that bonds is {design.figures.measure(limit)}, move the joint on"
    return found("warn", _with(joint, nearest), text, measured=clear, least=limit, source=least)


def _with(joint: MovementJoint, cover: _Covered) -> Place:
    """The joint, and the wall beside it or round it."""
    place = at_joint(joint)
    return place._replace(walls=(joint.wall, cover.wall), leaves=(joint.leaf, cover.leaf))
