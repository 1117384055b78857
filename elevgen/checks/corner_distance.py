"""The first movement joint on each side of a corner is near enough to it."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, Place, at_leaf, found
from elevgen.checks._masonry import joints_within, turns
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._spacing import PARAPET_CORNER, allowed
from elevgen.core.geometry import at_most
from elevgen.core.measures import metres
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding, Severity

CODE = "corner-distance"
TITLE = "First movement joint from a corner"
RATIONALE = "A corner holds both walls that meet in it; masonry that pushes on it from both sides turns it and cracks it."
KIND, FRACTION = "movement_joint.corner.kind", "movement_joint.corner.fraction"


def check(design: Design) -> Iterator[Finding]:
    """From each corner along each wall to its first joint: no more than the rule set's part of the spacing.

    Part of the normal spacing (fail, or warn while within that part of the greatest spacing); a parapet has a distance of its
    own. Walls without a joint are judged by joint-spacing alone.
    """
    kind, fraction = rule(design, KIND), rule(design, FRACTION)
    if kind is None or fraction is None or kind.value != "half_spacing_each_side":
        if kind is not None and fraction is not None:
            yield found("not_checked", BUILDING, f"the corner rule {kind.value!r} cannot be checked yet", source=kind)
        else:
            yield uncovered(design, BUILDING, KIND, FRACTION)
        return
    for leaf, joints in joints_within(design).items():
        if not joints:
            continue
        here = design.building.leaf(leaf)
        corners = (here.start_end, here.span.start, joints[0]), (here.finish_end, here.span.end, joints[-1])
        for end, corner, joint in corners:
            if turns(design.building, here, end):
                place = at_leaf(here).part(f"corner with {end.other}")._replace(joints=(joint.id,))
                yield _judged(design, here, place, abs(joint.at - corner), fraction)


def _judged(design: Design, leaf: Leaf, place: Place, distance: float, fraction: Sourced) -> Finding:
    known = allowed(design, leaf)
    if known.usual_source is None:
        return uncovered(design, place, *known.missing)
    limit, most, source = fraction.number * known.usual, fraction.number * known.greatest, fraction
    parapet = rule(design, PARAPET_CORNER) if design.building.wall(leaf.wall).stands == "parapet" else None
    if parapet is not None and parapet.number < limit:
        limit, most, source = parapet.number, parapet.number, parapet
    severity: Severity = "pass" if at_most(distance, limit) else "warn" if at_most(distance, most) else "fail"
    if severity == "pass" and known.missing:
        return uncovered(design, place, *known.missing)
    text = f"first movement joint, {place.joints[0]}, {metres(distance)} m from the corner"
    if severity != "pass":
        share = "half" if fraction.number == 0.5 else f"{fraction.number:g} of"
        said = f"{share} the usual spacing" if source is fraction else "the distance a parapet allows"
        text += f", over {metres(limit)} m: {said}"
    return found(severity, place, text, measured=distance, most=limit, source=source)
