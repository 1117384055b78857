"""A leaf said to be reinforced every so far up is so all over: its movement joints stand further apart for that."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._masonry import gaps_at, joints_by_leaf
from elevgen.core.geometry import Span, at_most, subtract
from elevgen.core.measures import level, millimetres
from elevgen.fittings.model import BedReinforcement
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "reinforcement-all-over"
TITLE = "Reinforcement all the way up"
RATIONALE = (
    "Reinforced beds share a crack out over the wall, and only then may movement joints stand further apart; where beds are "
    "left out the wall is as any other, and its joints are too far apart."
)


class _Bare(NamedTuple):
    """Masonry between two reinforced beds, or a bed and an edge, at a place along the leaf."""

    height: float
    at: float
    levels: Span


def check(design: Design) -> Iterator[Finding]:
    """The greatest height of masonry without a reinforced bed, at every place along a leaf, against what the spec says of it.

    From bed to bed, and to the base, the top, heads and sills. Stretches shorter than a unit are left out, as beside a joint.
    """
    joints = joints_by_leaf(design)
    asked = [leaf for leaf in design.building.leaves if leaf.reinforced_every is not None]
    for leaf in asked:
        laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
        yield _judged(leaf, max(_bare(leaf, joints[leaf.id], laid), default=None))
    if not asked:
        yield found("pass", BUILDING, "no leaf is to be reinforced all the way up")


def _judged(leaf: Leaf, worst: _Bare | None) -> Finding:
    every = leaf.reinforced_every
    assert every is not None
    if worst is None or at_most(worst.height, every):
        text = f"a reinforced bed no more than {millimetres(every)} mm up from the last, all over"
        return found("pass", at_leaf(leaf), text, measured=worst.height if worst else None)
    where = f"between {level(worst.levels.start)} and {level(worst.levels.end)}, {millimetres(worst.at)} mm along the wall"
    text = f"{millimetres(worst.height)} mm without a reinforced bed {where}, {millimetres(every)} mm is asked: "
    text += "reinforce a bed there, or have joints as in a wall without"
    return found("fail", at_leaf(leaf), text, measured=worst.height)


def _bare(leaf: Leaf, joints: Sequence[MovementJoint], laid: Sequence[BedReinforcement]) -> Iterator[_Bare]:
    """In the middle of each stretch between anything that begins or ends along the leaf."""
    edges = {leaf.span.start, leaf.span.end, *(at for at, _ in (*leaf.base.points, *leaf.top.points) if leaf.span.contains(at))}
    edges.update(at for void in leaf.voids for at in (void.left, void.right))
    edges.update(at for joint in joints for at in (joint.gap.start, joint.gap.end))
    edges.update(at for r in laid for at in (r.span.start, r.span.end))
    unit = max(zone.unit.length for zone in leaf.zones)
    for start, end in pairwise(sorted(edges)):
        at = (start + end) / 2
        if end - start >= unit and leaf.span.contains(at):
            yield from _up(leaf, joints, laid, at)


def _up(leaf: Leaf, joints: Sequence[MovementJoint], laid: Sequence[BedReinforcement], at: float) -> Iterator[_Bare]:
    """Up the masonry at one place. A bed's level is its underside, the masonry under the next edge ends without one."""
    whole = Span(leaf.base.level_right_of(at), leaf.top.level_right_of(at))
    bed = max(zone.unit.joint for zone in leaf.zones)
    for solid in subtract(whole, [void.levels for void in leaf.voids if void.left < at < void.right]):
        beds = sorted(r.level for r in laid if r.span.contains(at) and solid.contains(r.level))
        levels = [solid.start, *beds, max(solid.end - bed, solid.start)]
        if not any(gap.contains(at) for gap in gaps_at(joints, solid.middle)):
            yield from (_Bare(upper - lower, at, Span(lower, upper)) for lower, upper in pairwise(levels))
