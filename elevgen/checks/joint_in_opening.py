"""No movement joint runs into an opening or a lintel's bearing, on any storey."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from elevgen.building.model import Leaf
from elevgen.checks._bearing import BY_SPAN, bearing_needed, behind_bearing
from elevgen.checks._finding import at_joint, found
from elevgen.checks._rules import uncovered
from elevgen.checks._words import listed
from elevgen.core.geometry import Span, at_least
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-in-opening"
TITLE = "Movement joints clear of openings and lintel bearings"
RATIONALE = (
    "A joint cannot be carried past a frame, and masonry that slides under a lintel's end loses its bearing. "
    "The joint must be clear of every opening it passes, on every storey, by the bearing of its lintel."
)


def check(design: Design) -> Iterator[Finding]:
    """From the joint's nearer edge to every reveal whose opening or lintel it passes: at least the lintel's bearing.

    That is the rule set's bearing, and the one the lintel has as placed where that is longer.
    """
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    needed = {lintel.id: bearing_needed(design, lintel) for lintel in design.fittings.lintels} if design.plan.joints else {}
    for joint in design.plan.joints:
        leaf = leaves[joint.leaf]
        holes = [void for void in leaf.voids if void not in leaf.crossings and void.levels.overlaps(joint.levels)]
        if any(hole.along.overlaps(joint.gap) for hole in holes):
            yield _through(design, leaf, joint)
        else:
            yield from _beside_lintels(design, joint, [hole.along for hole in holes], needed)


def _through(design: Design, leaf: Leaf, joint: MovementJoint) -> Finding:
    openings = design.building.wall(leaf.wall).openings
    through = [o for o in openings if o.rect.along.overlaps(joint.gap) and o.rect.levels.overlaps(joint.levels)]
    names = listed([f"{o.kind} {o.id}" if o.kind != "opening" else o.id for o in through])
    text = (
        f"runs through {names or 'a strip between openings'}: a joint cannot pass a frame, move it clear of the lintel's bearing"
    )
    return found("fail", at_joint(joint)._replace(openings=tuple(o.id for o in through)), text, measured=0.0)


def _beside_lintels(
    design: Design, joint: MovementJoint, holes: Sequence[Span], bearings: Mapping[str, Sourced | None]
) -> Iterator[Finding]:
    """The nearest reveal against its lintel's bearing; every lintel whose bearing the joint would cut."""
    passed = [x for x in design.fittings.lintels if x.leaf == joint.leaf and joint.levels.contains(x.level)]
    clear = True
    for lintel in passed:
        needed = bearings[lintel.id]
        if needed is None:
            clear = False
            yield uncovered(design, at_joint(joint), *BY_SPAN)
            continue
        distance, also = _apart(joint.gap, lintel.clear), behind_bearing(design, lintel)
        place = at_joint(joint)._replace(openings=lintel.openings)
        names = listed(lintel.openings)
        if not at_least(distance, needed.number):
            clear = False
            bears = f"its lintel bears on {design.figures.measure(needed.number)} there: move the joint clear of it"
            text = f"{design.figures.measure(distance)} from the reveal of {names}, and {bears}"
            yield found("fail", place, text, measured=distance, least=needed.number, source=needed, also=also)
        elif lintel.span.overlaps(joint.gap):
            clear = False
            has = lintel.bearing_end if joint.at > lintel.clear.end else lintel.bearing_start
            text = (
                f"the lintel over {names} goes {design.figures.measure(has)} past the reveal and across it: move the joint clear"
            )
            yield found("fail", place, text, measured=distance)
    if clear:
        nearest = min((_apart(joint.gap, along) for along in holes), default=None)
        far = "no opening to pass" if nearest is None else f"{design.figures.measure(nearest)} clear of the nearest reveal"
        behind = [value for lintel in passed for value in behind_bearing(design, lintel)]
        yield found("pass", at_joint(joint), far, measured=nearest, also=behind)


def _apart(gap: Span, clear: Span) -> float:
    return max(clear.start - gap.end, gap.start - clear.end, 0.0)
