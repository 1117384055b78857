"""Openings wide enough to ask for one have a movement joint near by, or the steel that may stand in for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening
from elevgen.checks._ends import where_it_ends
from elevgen.checks._finding import BUILDING, Place, at_opening, beside, found
from elevgen.checks._heads import ANY, beds_at, edges, over_lintels
from elevgen.checks._masonry import full_height, joints_by_leaf
from elevgen.checks._rules import materials, rule, uncovered
from elevgen.core.geometry import TOLERANCE, Span, at_most, subtract
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-near-opening"
TITLE = "Movement joints near openings"
RATIONALE = (
    "An opening leaves little masonry over and under it to hold a wall that shrinks or swells: it cracks there first, and a "
    "joint beside the opening is where it may."
)
ASKED_BY = ("movement_joint.at_opening.",)
STEM = "movement_joint.at_opening"
WITHIN, INSTEAD = f"{STEM}.within", f"{STEM}.instead"
ABOVE, BELOW, SPLIT = "bed_reinforcement.courses_above", "bed_reinforcement.courses_below", "coursing.split.min"


class _Side(NamedTuple):
    """One side of an opening: the joint or the end of the masonry that is nearest on it (mm), and which joint that is."""

    words: str
    far: float | None
    joint: MovementJoint | None


def check(design: Design) -> Iterator[Finding]:
    """Each opening of each leaf, from the reveal to the nearest joint; openings with no pier worth the name between them as one.

    A wide one asks for a joint near one side, or near both, by material. The end of the masonry does as well as a joint. Where
    reinforced beds over and under it may stand in and are there, it is noted that steel beside the opening is an engineer's.
    """
    joints = joints_by_leaf(design)
    asking = [
        (wall, leaf, group, clear, asked)
        for wall in design.building.walls
        for leaf in design.building.leaves_of(wall.id)
        for group in wall.groups
        if (clear := group.clear.along.common(leaf.span)) and (asked := _asked(design, leaf, clear.length))
    ]
    for wall, leaf, group, clear, asked in asking:
        openings = [o for o in wall.openings if o.id in group.openings]
        standing = [joint for joint in joints[leaf.id] if full_height(leaf, joint)]
        judged = _judged(design, leaf, openings, _sides(leaf, clear, standing), asked)
        yield beside(judged, *_rules(design, leaf))
    if not asking:
        yield found("pass", BUILDING, "no opening so wide that it asks for a movement joint near it")


def _asked(design: Design, leaf: Leaf, width: float) -> Sourced | None:
    """The rule for an opening so wide: of the materials of the leaf the one that asks for most."""
    return next((known for known in _rules(design, leaf) if not at_most(width, known.number)), None)


def _rules(design: Design, leaf: Leaf) -> Iterator[Sourced]:
    """What asks for joints at openings in the materials of a leaf, for one on each side first."""
    rules = (rule(design, f"{STEM}.{sides}.{m}") for sides in ("both_sides", "one_side") for m in materials(leaf))
    return (known for known in rules if known is not None)


def _sides(leaf: Leaf, clear: Span, joints: Sequence[MovementJoint]) -> tuple[_Side, _Side]:
    ends = [(at, None) for at in where_it_ends(leaf)]
    places: list[tuple[float, MovementJoint | None]] = [*((joint.at, joint) for joint in joints), *ends]
    left = [(clear.start - at, joint) for at, joint in places if at <= clear.start + TOLERANCE]
    right = [(at - clear.end, joint) for at, joint in places if at >= clear.end - TOLERANCE]
    return _nearest("left", left), _nearest("right", right)


def _nearest(words: str, places: Sequence[tuple[float, MovementJoint | None]]) -> _Side:
    far, joint = min(places, key=lambda place: place[0], default=(None, None))
    return _Side(words, None if far is None else max(far, 0.0), joint)


def _judged(design: Design, leaf: Leaf, openings: Sequence[Opening], sides: tuple[_Side, _Side], asked: Sourced) -> Finding:
    place, near = at_opening(leaf, *openings), rule(design, WITHIN)
    if near is None:
        return uncovered(design, place, WITHIN)
    both = asked.key.startswith(f"{STEM}.both_sides")
    kept = [side for side in sides if side.far is not None and at_most(side.far, near.number)]
    farthest = max((side.far for side in kept if side.far is not None), default=None)
    if len(kept) == 2 or (kept and not both):
        told = kept if both else [min(kept, key=lambda side: side.far or 0.0)]
        words = " and ".join(_said(design, side) for side in told)
        place = place._replace(joints=tuple(side.joint.id for side in told if side.joint is not None))
        measured = farthest if both else told[0].far
        return found("pass", place, words, measured=measured, most=near.number, source=near)
    instead = rule(design, INSTEAD)
    if instead is not None and instead.value == "reinforced_beds" and all(_reinforced(design, leaf, o) for o in openings):
        text = (
            "no movement joint near by: its beds over and under are reinforced instead; steel upright beside it is an engineer's"
        )
        return found("note", place, text, source=instead, also=(near,))
    return _lacking(design, place, [side for side in sides if side not in kept], near, asked, both=both)


def _said(design: Design, side: _Side) -> str:
    what = "the masonry ends" if side.joint is None else f"{side.joint.id}"
    return f"{what} {design.figures.run(side.far or 0.0)} to the {side.words} of it"


def _lacking(design: Design, place: Place, bare: Sequence[_Side], near: Sourced, asked: Sourced, *, both: bool) -> Finding:
    run = design.figures.run
    nearest = min((side.far for side in bare if side.far is not None), default=None)
    over = f"an opening over {run(asked.number)} wide asks for one" if asked.number else "every opening asks for one"
    where = f"to the {' nor to the '.join(side.words for side in bare)}" if both else "of either side"
    text = f"no movement joint within {run(near.number)} {where}"
    text += "" if nearest is None else f", the nearest is {run(nearest)} away"
    text += f": {over}{' on each side' if both else ''}"
    return found("fail", place, text, measured=nearest, most=near.number, source=near)


def _reinforced(design: Design, leaf: Leaf, opening: Opening) -> bool:
    """Whether one of the first beds over the opening and one of those under it are reinforced all along, where there are any.

    What lies nearer than a unit may be cut down to is no bed of those: a sill a finger's breadth over one lies in it.
    """
    courses, split = design.coursing.of(leaf.id).courses, rule(design, SPLIT)
    lintels = [lintel for lintel in design.fittings.lintels if lintel.leaf == leaf.id]
    laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
    for edge, key in zip(edges(leaf, opening), (ABOVE, BELOW), strict=True):
        counted = rule(design, key)
        edge = over_lintels(edge, lintels)
        beds = beds_at(courses, edge, split.number if split else ANY, 1 + int(counted.number if counted else 1))
        spans = [[r.span for r in laid if bed.contains(r.level)] for bed in beds]
        if edge.along and beds and not any(all(not subtract(part, in_bed) for part in edge.along) for in_bed in spans):
            return False
    return True
