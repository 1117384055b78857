"""Slip ties across movement joints lie in beds, close enough, with masonry round both their ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._beds import leaf_beds
from elevgen.checks._cavities import LYING, bodies_of
from elevgen.checks._finding import BUILDING, at_joint, beside, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._tie_beds import beds_in_common, lies_in
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_most, subtract
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tie
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "tie-slip"
TITLE = "Slip ties across movement joints"
RATIONALE = "A slip tie keeps the two sides of a joint in line; it does so only where both its ends are built into a bed."
UP, EMBEDMENT = "tie.slip.vertical", "tie.embedment"


class _Sides(NamedTuple):
    """The beds a tie across a joint can lie in, and the levels with masonry for it on both sides."""

    beds: Sequence[Span]
    held: tuple[Span, ...]


def check(design: Design) -> Iterator[Finding]:
    """Each joint of a wall that is to have slip ties: where they lie, and the longest way up it without one, ends included."""
    asked = {wall.id for wall in design.building.walls if wall.slip_ties}
    up, embedment = rule(design, UP), rule(design, EMBEDMENT)
    placed = [tie for ties in design.fittings.ties for tie in ties.ties if tie.kind == "slip"]
    joints = [joint for joint in design.plan.joints if joint.wall in asked]
    for joint in joints:
        across = [tie for tie in placed if tie.leaf == joint.leaf and joint.gap.contains(tie.at)]
        if up is None or embedment is None:
            yield uncovered(design, at_joint(joint), UP, EMBEDMENT)
        else:
            yield beside(
                _judged(design.figures, joint, across, _sides(design, joint, embedment.number), up, embedment), embedment
            )
    untold = {wall.id for wall in design.building.walls if wall.slip_ties is None}
    if any(joint.wall in untold for joint in design.plan.joints) and up is not None:
        text = "nobody has said whether slip ties are wanted across the movement joints"
        yield found(
            "not_checked", BUILDING, f"{text}: where they are, {design.figures.measure(up.number)} apart at most", source=up
        )
    elif not joints:
        yield found("pass", BUILDING, "no slip ties asked for across a movement joint")


def _judged(
    figures: Figures, joint: MovementJoint, across: Sequence[Tie], sides: _Sides, up: Sourced, embedment: Sourced
) -> Finding:
    place = at_joint(joint)
    if not sides.held:
        deep = figures.measure(embedment.number)
        text = f"no masonry {deep} wide on both sides of it: no slip ties"
        return found("note", place, text, source=embedment)
    loose = sum(1 for tie in across if not any(span.contains(tie.level) for span in sides.held))
    if loose:
        text = f"{counted(loose, 'slip tie')} without masonry round both ends"
        return found("fail", place, text, measured=float(loose), most=0.0, unit="nr", source=embedment)
    off = sum(1 for tie in across if not lies_in(sides.beds, tie.level))
    if off:
        text = f"{counted(off, 'slip tie')} in no bed"
        return found("fail", place, text, measured=float(off), most=0.0, unit="nr")
    gap = max((gap for span in sides.held for gap in _gaps(span, across)), key=lambda g: g.length)
    if at_most(gap.length, up.number):
        text = f"{counted(len(across), 'slip tie')}, {figures.measure(gap.length)} apart at most"
        return found("pass", place, text, measured=gap.length, most=up.number, source=up)
    text = f"{figures.measure(gap.length)} without a slip tie, over {figures.level(gap.start)}"
    if any(gap.start < bed.start and bed.end < gap.end for bed in sides.beds):
        return found("fail", place, text, measured=gap.length, most=up.number, source=up)
    return found("warn", place, f"{text}: no bed there", measured=gap.length, most=up.number, source=up)


def _gaps(span: Span, across: Sequence[Tie]) -> Iterator[Span]:
    inside = sorted(tie.level for tie in across if span.contains(tie.level))
    yield from (Span(a, b) for a, b in pairwise([span.start, *inside, span.end]))


def _sides(design: Design, joint: MovementJoint, embedment: float) -> _Sides:
    """The leaf on both sides of a joint, or on one side the leaf it stops against."""
    leaf = design.building.leaf(joint.leaf)
    beds = leaf_beds(design, leaf)
    held: tuple[Span, ...] = (joint.levels,)
    for side in (Span(joint.gap.start - embedment, joint.gap.start), Span(joint.gap.end, joint.gap.end + embedment)):
        if leaf.span.start - TOLERANCE <= side.start and side.end <= leaf.span.end + TOLERANCE:
            solid = _built(design, leaf, side)
        else:
            other = _stopped_against(design, joint, leaf)
            solid = _built(design, other[0], other[1]) if other else ()
            beds = [bed.levels for bed in beds_in_common(design, leaf, other[0])] if other else []
        held = tuple(common for a in held for b in solid if (common := a.common(b)))
    return _Sides(beds, held)


def _stopped_against(design: Design, joint: MovementJoint, leaf: Leaf) -> tuple[Leaf, Span] | None:
    """The leaf beyond a joint in the very end of its own, and where along it that is."""
    for meeting in design.building.meetings:
        if meeting.stem == leaf.id and not meeting.continuous and joint.gap.grown(leaf.thickness).contains(meeting.stem_at):
            host = design.building.leaf(meeting.host)
            at = min(max(meeting.host_at, host.span.start), host.span.end)
            return host, Span(max(at - 1, host.span.start), min(at + 1, host.span.end))
    return None


def _built(design: Design, leaf: Leaf, side: Span) -> tuple[Span, ...]:
    """The levels at which a leaf has masonry all along a short stretch, lintels in the place of units left out."""
    whole = Span(leaf.base.highest(side), leaf.top.lowest(side))
    voids = [void.levels for void in leaf.voids if void.along.overlaps(side)]
    bodies = [body.levels.grown(LYING) for body in bodies_of(design, leaf) if body.along.overlaps(side)]
    return subtract(whole, [*voids, *bodies])
