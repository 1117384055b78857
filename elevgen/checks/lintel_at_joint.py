"""No movement joint crosses a lintel; where one stands at its end or under its bearing, how the end can slip is said."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._finding import Place, at_fitting, found
from elevgen.checks._masonry import joints_by_leaf
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE
from elevgen.fittings.model import Lintel
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "lintel-at-joint"
TITLE = "Lintels and movement joints"
RATIONALE = (
    "A lintel built in on both sides of a movement joint ties them together: the joint cannot work, and the wall cracks at the "
    "lintel's end or the lintel is pushed off its bearing."
)


def check(design: Design) -> Iterator[Finding]:
    """Every joint that stands at the height of a lintel of its leaf: across it, under a bearing, or at its end.

    The slip at a bearing is common practice, no source, and for an engineer to confirm.
    """
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    joints = joints_by_leaf(design)
    for lintel in design.fittings.lintels:
        leaf = leaves[lintel.leaf]
        beside = [f for joint in joints[lintel.leaf] if (f := _judged(design.figures, leaf, lintel, joint))]
        yield from beside
        if not beside:
            yield found("pass", at_fitting(lintel), "no movement joint at it")


def _judged(figures: Figures, leaf: Leaf, lintel: Lintel, joint: MovementJoint) -> Finding | None:
    if not joint.levels.contains(lintel.level):
        return None
    place = at_fitting(lintel)._replace(joints=(joint.id,))
    if joint.gap.overlaps(lintel.clear):
        between = "over an opening" if any(joint.gap.overlaps(span) for span in lintel.clears) else "over a pier it bears on"
        text = (
            f"movement joint {joint.id} crosses it {between}, and the lintel bridges the joint: "
            "move the joint past the lintel's end, or part the lintel there"
        )
        return found("fail", place, text, measured=0.0)
    at_end = "right" if joint.gap.start >= lintel.clear.end - TOLERANCE else "left"
    if joint.gap.overlaps(lintel.span):
        return _under_bearing(figures, lintel, joint, at_end, place)
    apart = max(lintel.span.start - joint.gap.end, joint.gap.start - lintel.span.end)
    perpend = next((z.unit.joint for z in leaf.zones if lintel.level <= z.levels.end + TOLERANCE), leaf.zones[-1].unit.joint)
    if apart >= perpend - TOLERANCE:
        return None
    text = f"movement joint {joint.id} stands at its {at_end} end: {_slip(figures, joint)}"
    return found("note", place, text, measured=max(apart, 0.0))


def _under_bearing(figures: Figures, lintel: Lintel, joint: MovementJoint, at_end: str, place: Place) -> Finding:
    reveal = lintel.clear.end if at_end == "right" else lintel.clear.start
    left = joint.gap.start - reveal if at_end == "right" else reveal - joint.gap.end
    text = (
        f"movement joint {joint.id} runs through its {at_end} bearing: stop the lintel short at the edge of the joint, "
        f"{figures.measure(max(left, 0.0))} past the reveal, or move the joint past it; then {_slip(figures, joint)}"
    )
    return found("warn", place, text, measured=max(left, 0.0))


def _slip(figures: Figures, joint: MovementJoint) -> str:
    """The detail by which a lintel's end lets the masonry move."""
    return (
        "carry the joint up past the end of the lintel, "
        f"keep a gap of {figures.measure(joint.width.built)} clear at that end, and bed that bearing on two layers of damp-proof "
        "course so that it slips (common practice, no source; an engineer's to confirm)"
    )
