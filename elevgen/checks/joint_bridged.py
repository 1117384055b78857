"""No course and no tray goes across a movement joint."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from elevgen.checks._finding import at_joint, found
from elevgen.checks._words import counted
from elevgen.core.geometry import Span
from elevgen.coursing.model import LeafCoursing, Pattern
from elevgen.fittings.model import Tray
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-bridged"
TITLE = "Nothing across movement joints"
RATIONALE = (
    "One brick through a joint, or a blob of mortar, passes the push on and the wall cracks beside it. A damp-proof course goes "
    "through: it is a sheet that slides, and it keeps out water there."
)


def check(design: Design) -> Iterator[Finding]:
    """Each joint against the units and trays of its leaf as they lie: a course across it fails, a tray warns (practice).

    Reinforcement is judged by reinforcement-crosses-joint, ties by tie-in-beds, lintels by joint-in-opening.
    """
    patterns = {pattern.id: pattern for pattern in design.coursing.patterns}
    laid = {leaf.leaf: leaf for leaf in design.coursing.leaves}
    for joint in design.plan.joints:
        courses = sorted(set(_across(laid[joint.leaf], patterns, joint)))
        trays = [tray for tray in _trays(design, joint) if tray.span.overlaps(joint.gap) and joint.levels.contains(tray.level)]
        if courses:
            built = f"{counted(len(courses), 'course')} built across it, the lowest course {courses[0]}"
            text = f"{built}: keep it open through every course"
            yield found("fail", at_joint(joint), text, measured=float(len(courses)), exactly=0.0, unit="nr")
        for tray in trays:
            over = tray.openings or ((tray.opening,) if tray.opening else ())
            what = f"cavity tray over {'+'.join(over)}" if over else f"tray {tray.id}"
            text = f"the {what} runs across it: stop the tray short of it, with a stop end"
            yield found("warn", at_joint(joint)._replace(openings=over), text)
        if not courses and not trays:
            yield found(
                "pass", at_joint(joint), "open through every course, no tray across it", measured=0.0, exactly=0.0, unit="nr"
            )


def _trays(design: Design, joint: MovementJoint) -> Iterator[Tray]:
    """The trays of the joint's leaf: they stand in the outer leaf and rise across the cavity."""
    if joint.leaf == design.building.wall(joint.wall).leaves[0]:
        yield from (tray for tray in design.fittings.trays if tray.wall == joint.wall)


def _across(laid: LeafCoursing, patterns: Mapping[str, Pattern], joint: MovementJoint) -> Iterator[int]:
    """The courses with units, whole, cut or cut to a slope, in the gap."""
    for placement in laid.placements:
        band = Span(placement.level, placement.level + patterns[placement.pattern].height)
        if placement.span.overlaps(joint.gap) and band.overlaps(joint.levels):
            yield placement.course
    for rake in laid.rakes:
        along, up = zip(*rake.outline, strict=True)
        if Span(min(along), max(along)).overlaps(joint.gap) and Span(min(up), max(up)).overlaps(joint.levels):
            yield rake.course
