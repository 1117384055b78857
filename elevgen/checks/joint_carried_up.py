"""A movement joint goes on in the wall over its own, and in the wall under it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, Place, at_joint, found
from elevgen.checks._masonry import full_height, joints_by_leaf
from elevgen.checks._stacked import Stack, stacks
from elevgen.checks._words import listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-carried-up"
TITLE = "Movement joints in walls over one another"
RATIONALE = (
    "Where masonry stands on masonry, a joint in one of them only ends against the other, which holds it together there, and "
    "the crack goes on from its end. A joint is one line from bottom to top, through parapet and coping."
)

_Joints = Mapping[str, Sequence[MovementJoint]]


class _End(NamedTuple):
    """Where a joint ends against another wall: `at` is the place along that wall, `on_top` tells whether that wall is over it.

    `apart`: how much there is between the two walls (mm); `touching`: no more than a bed.
    """

    joint: MovementJoint
    here: Leaf
    there: Leaf
    at: float
    on_top: bool
    apart: float
    touching: bool

    @property
    def level(self) -> float:
        return self.joint.levels.end if self.on_top else self.joint.levels.start


def check(design: Design) -> Iterator[Finding]:
    """Each joint against the leaf over its own and the leaf under it: a joint there whose gap shares half the narrower.

    Extra joints of a parapet pass, and those that begin on a damp-proof course, under which none are usually required
    (trade web page, quoted). Where nothing is drawn between the two walls that is noted.
    """
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    joints = {name: [j for j in on_leaf if full_height(leaves[name], j)] for name, on_leaf in joints_by_leaf(design).items()}
    ends = [end for stack in stacks(design.building) for end in _ends(stack, joints)]
    met = {end.joint for end in ends if end.touching and end.on_top}
    for end in ends:
        other = _in_line(end, joints[end.there.id])
        if other is not None and end.on_top:
            yield found("pass", _with(end, other), f"goes on over {design.figures.level(end.level)} as {other.id}")
        elif other is None and end.touching:
            yield _against_masonry(design, end, joints[end.there.id])
        elif other is None and end.on_top and end.joint not in met:
            yield found("note", at_joint(end.joint), _undrawn(design.figures, end))
    if not ends:
        yield found("pass", BUILDING, "no movement joint ends at a wall over or under its own")


def _ends(stack: Stack, joints: _Joints) -> Iterator[_End]:
    """Where the joints of each leaf of a stack end against the other, and not beside the end of it."""
    lower, upper = stack.lower, stack.upper
    for joint in joints[lower.id]:
        over = stack.above(joint.at)
        if upper.span.grown(-joint.width.built / 2).contains(over):
            yield _End(joint, lower, upper, over, True, stack.apart(joint.at), stack.touch(joint.at))
    for joint in joints[upper.id]:
        under = stack.below(joint.at)
        if lower.span.grown(-joint.width.built / 2).contains(under):
            yield _End(joint, upper, lower, under, False, stack.apart(under), stack.touch(under))


def _against_masonry(design: Design, end: _End, others: Sequence[MovementJoint]) -> Finding:
    """No joint is in line in the other wall, which stands on this one or under it."""
    joint, there = end.joint, end.there
    where = f"{'ends' if end.on_top else 'begins'} at {design.figures.level(end.level)}"
    if not end.on_top and design.building.wall(end.here.wall).stands == "parapet":
        return found("pass", at_joint(joint), f"{where} on {there.wall}: a parapet has more joints than the wall under it")
    if not end.on_top and _on_damp_course(design, end):
        return found("pass", at_joint(joint), f"{where}, on the damp-proof course: {there.wall} under it needs none for that")
    text = f"{where}, where {there.wall} {'stands on it' if end.on_top else 'is under it'} {_instead(design, end, others)}. "
    text += f"Carry it on through {there.wall} in one line, or draw both as one wall to have joints placed through both"
    return found("fail", _with(end), text)


def _instead(design: Design, end: _End, others: Sequence[MovementJoint]) -> str:
    """What is there in place of a joint in line."""
    in_way = [o.id for o in design.building.wall(end.there.wall).openings if o.rect.along.contains(end.at)]
    nearest = min(others, key=lambda j: abs(j.at - end.at), default=None)
    aside = f", the nearest, {nearest.id}, {design.figures.measure(abs(nearest.at - end.at))} aside" if nearest else ""
    return f"with {listed(in_way)} in its line{aside}" if in_way else f"without a joint in its line{aside}"


def _undrawn(figures: Figures, end: _End) -> str:
    return (
        f"ends at {figures.level(end.level)} under {end.there.wall}, "
        f"with {figures.measure(end.apart)} between that is not drawn: "
        f"where that is masonry the joint goes on through it and through {end.there.wall}"
    )


def _in_line(end: _End, others: Sequence[MovementJoint]) -> MovementJoint | None:
    """The joint of the other wall that shares half of the narrower gap."""
    for other in others:
        narrower = min(end.joint.width.built, other.width.built)
        reach = (end.joint.width.built + other.width.built) / 2
        if at_least(min(reach - abs(other.at - end.at), narrower), narrower / 2):
            return other
    return None


def _on_damp_course(design: Design, end: _End) -> bool:
    """Whether a damp-proof course lies at the foot of the joint."""
    return any(
        dpc.leaf in (end.here.id, end.there.id)
        and abs(dpc.level - end.level) <= TOLERANCE
        and dpc.span.contains(end.joint.at if dpc.leaf == end.here.id else end.at)
        for dpc in design.fittings.damp_courses
    )


def _with(end: _End, *others: MovementJoint) -> Place:
    """The joint, with the leaf it ends against and the joints there."""
    place = at_joint(end.joint)
    joints = (end.joint.id, *(other.id for other in others))
    return place._replace(walls=(end.here.wall, end.there.wall), leaves=(end.here.id, end.there.id), joints=joints)
