"""Movement joints keep as far from corners as the wall is high, or the part of its height the rules ask."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._corners import ENDS, End, end_of
from elevgen.checks._ends import corner_at
from elevgen.checks._finding import BUILDING, at_joint, found
from elevgen.checks._masonry import joints_within, turns
from elevgen.checks._rules import rule
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-clear-of-corner"
TITLE = "Movement joints clear of corners"
RATIONALE = (
    "The return holds a wall upright at its corner: a joint near by leaves a stub on one side and a free end on the other."
)
FRACTION = "movement_joint.corner.height_fraction"
ASKED_BY = (FRACTION,)


class _Near(NamedTuple):
    """How far the gap of the joint nearest to a corner is from it (mm)."""

    far: float
    joint: MovementJoint
    beyond: str


def check(design: Design) -> Iterator[Finding]:
    """From each corner that sticks out, of an inner leaf from every corner, to the gap of the nearest joint.

    A joint in a re-entrant corner is where it is least seen, and the wall beyond holds it.
    """
    fraction = rule(design, FRACTION)
    if fraction is None:
        return
    near = [(leaf, found) for leaf in design.building.leaves for found in _nearest(design, leaf)]
    yield from (_judged(design, leaf, one, fraction) for leaf, one in near)
    if not near:
        yield found("pass", BUILDING, "no movement joint in a wall that turns a corner")


def _nearest(design: Design, leaf: Leaf) -> Iterator[_Near]:
    joints = joints_within(design)[leaf.id]
    for end in ENDS if joints else ():
        if _kept_from(design, leaf, end):
            joint = joints[0] if end == "start" else joints[-1]
            edge = joint.gap.start if end == "start" else joint.gap.end
            yield _Near(abs(edge - corner_at(leaf, end)), joint, str(end_of(leaf, end).other))


def _corners(design: Design, leaf: Leaf) -> int:
    """How many corners of the leaf joints keep clear of."""
    return sum(_kept_from(design, leaf, end) for end in ENDS)


def _kept_from(design: Design, leaf: Leaf, end: End) -> bool:
    return turns(design.building, leaf, end_of(leaf, end)) and (leaf.side == "inner" or _sticks_out(leaf, end))


def _sticks_out(leaf: Leaf, end: End) -> bool:
    """Whether a corner of the leaf is an outer one as seen from outside: its courses go on to a far face at its very end."""
    inwards = 1 if end == "start" else -1
    return (end_of(leaf, end).far - corner_at(leaf, end)) * inwards >= -TOLERANCE


def _judged(design: Design, leaf: Leaf, near: _Near, fraction: Sourced) -> Finding:
    asked = fraction.number * leaf.height
    text = f"{design.figures.run(near.far)} from the corner with {near.beyond}"
    if at_least(near.far, asked):
        return found("pass", at_joint(near.joint), text, measured=near.far, least=asked, source=fraction)
    share = "as far as the wall is high" if fraction.number == 1 else f"{fraction.number:g} of the wall's height"
    text += f", {design.figures.run(asked)} is asked, {share}: "
    none = not at_least(leaf.span.length, _corners(design, leaf) * asked)
    text += "no place in this wall is so far from its corners" if none else "move it further along if another place serves"
    return found("warn", at_joint(near.joint), text, measured=near.far, least=asked, source=fraction)
