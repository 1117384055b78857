"""No way through continuous masonry is longer than its material allows between movement joints."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._finding import Place, at_leaf, found
from elevgen.checks._masonry import full_height, joints_by_leaf
from elevgen.checks._paths import Way, longest, pieces
from elevgen.checks._rules import strictest, uncovered
from elevgen.core.geometry import at_most
from elevgen.core.measures import metres, millimetres
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding, Severity

CODE = "joint-spacing"
TITLE = "Distance between movement joints"
RATIONALE = (
    "Walls tied together act as one: they swell, shrink and crack as one. The length that counts runs along the masonry, "
    "round bonded corners and through tied meetings, and a door or window does not break it."
)
NORMAL = "movement_joint.spacing.normal"
LIMIT = "movement_joint.spacing.limit"


def check(design: Design) -> Iterator[Finding]:
    """Over the greatest spacing: fail. Over the normal one only: warn. Lengths from joint to joint, in mm."""
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    normal: dict[str, Sourced] = {}
    for leaf in design.building.leaves:
        known = strictest(design, leaf, NORMAL)
        if known.value is not None:
            normal[leaf.id] = known.value
        if known.missing:
            yield uncovered(design, at_leaf(leaf), *known.missing)
    joints = joints_by_leaf(design)
    cuts = {leaf: [j.at for j in on_leaf if full_height(leaves[leaf], j)] for leaf, on_leaf in joints.items()}
    allowed = {leaf: value.number for leaf, value in normal.items()}
    for run in design.runs:
        for piece in pieces(run, cuts):
            way = longest(piece, allowed)
            governing = [normal[leaf] for leaf in way.leaves if leaf in normal]
            if governing:
                yield _judged(design, leaves, way, min(governing, key=lambda v: v.number))


def _judged(design: Design, leaves: dict[str, Leaf], way: Way, normal: Sourced) -> Finding:
    most = [value for leaf in way.leaves if (value := strictest(design, leaves[leaf], LIMIT).value)]
    limit = min(most, key=lambda v: v.number, default=normal)
    label = f"{way.start[0]} {millimetres(way.start[1])} to {way.end[0]} {millimetres(way.end[1])}"
    if way.closed:
        label = f"{way.start[0]} all round"
    place = Place(label, tuple(dict.fromkeys(leaves[leaf].wall for leaf in way.leaves)), way.leaves)
    over_normal, over_limit = not at_most(way.length, normal.number), not at_most(way.length, max(limit.number, normal.number))
    held_to = limit if over_limit and limit.number > normal.number else normal
    text = f"{'at least ' if not way.exact else ''}{metres(way.length)} m of masonry without a movement joint"
    if over_limit:
        text += f", over the greatest of {metres(held_to.number)} m"
    elif over_normal:
        text += f", over the usual {metres(normal.number)} m though within the greatest of {metres(limit.number)} m"
    elif not way.exact:
        return found("not_checked", place, text + "; too many ways round to measure them all")
    severity: Severity = "fail" if over_limit else "warn" if over_normal else "pass"
    return found(severity, place, text, measured=way.length, most=held_to.number, source=held_to)
