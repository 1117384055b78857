"""The first movement joint on each side of a corner is near enough to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._corners import ENDS, End, end_of
from elevgen.checks._ends import corner_at, round_corner, where_it_ends
from elevgen.checks._finding import BUILDING, Place, at_leaf, beside, found
from elevgen.checks._masonry import joints_within, turns
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._spacing import PARAPET_CORNER, Allowed, allowed
from elevgen.core.geometry import at_most
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding, Severity

CODE = "corner-distance"
TITLE = "First movement joint from a corner"
RATIONALE = "A corner holds both walls that meet in it; masonry that pushes on it from both sides turns it and cracks it."
KIND, FRACTION, WITHIN = "movement_joint.corner.kind", "movement_joint.corner.fraction", "movement_joint.corner.within"
EACH_SIDE, SUM, ONE_SIDE = "half_spacing_each_side", "sum_round_corner", "one_side_within"


class _Side(NamedTuple):
    """One wall of a corner: its leaf, which end is at it, its joints from there on, and the spacing it may have."""

    leaf: Leaf
    end: End
    joints: Sequence[MovementJoint]
    spacing: Allowed

    @property
    def corner(self) -> float:
        return corner_at(self.leaf, self.end)

    @property
    def first(self) -> MovementJoint | None:
        """The joint nearest to the corner."""
        return self.joints[0] if self.joints else None

    def off(self, at: float) -> float:
        return abs(at - self.corner)

    @property
    def length(self) -> float:
        """From the corner to where its masonry ends or turns another corner."""
        far = self.leaf.span.end if self.end == "start" else self.leaf.span.start
        return min(self.off(at) for at in (far, *where_it_ends(self.leaf)))


def check(design: Design) -> Iterator[Finding]:
    """At each corner, by the rule for the material, else by that for every other.

    Half the spacing each side: from the corner along each wall to its first joint no more than the set's part of the normal
    spacing (fail, or warn while within that part of the greatest); a parapet has a distance of its own. Sum: those distances on
    both walls together no more than the spacing. One side: a joint, or the end of the masonry, within a distance on one of the
    two walls. A wall without a joint passes the first two by its length; where it is too long for that they say nothing of it,
    which is noted, and joint-spacing alone judges it.
    """
    kinds = {str(value.value) for key, value in design.rules.values.items() if key == KIND or key.startswith(f"{KIND}.")}
    fraction = rule(design, FRACTION)
    if not kinds or (EACH_SIDE in kinds and fraction is None):
        yield uncovered(design, BUILDING, KIND, FRACTION)
    joints = joints_within(design)
    spacings = {leaf.id: allowed(design, leaf) for leaf in design.building.leaves}
    for leaf in design.building.leaves if kinds else ():
        for side, beyond in _corners(design, leaf, joints, spacings):
            yield from (beside(judged, _kind_rule(design, side)) for judged in _each_side(design, side, fraction))
            if beyond is not None and _comes_first(design, side, beyond):
                both = {_kind(design, side), _kind(design, beyond)}
                asking = _one_side if ONE_SIDE in both else _sum if SUM in both else None
                kinds_of_both = [_kind_rule(design, side), _kind_rule(design, beyond)]
                yield from (beside(judged, *kinds_of_both) for judged in (asking(design, side, beyond) if asking else ()))


def _corners(
    design: Design, leaf: Leaf, joints: Mapping[str, Sequence[MovementJoint]], spacings: Mapping[str, Allowed]
) -> Iterator[tuple[_Side, _Side | None]]:
    """The corners of a leaf, from it and from the leaf beyond."""

    def side(of: Leaf, end: End) -> _Side:
        return _Side(of, end, joints[of.id] if end == "start" else joints[of.id][::-1], spacings[of.id])

    for end in ENDS:
        if turns(design.building, leaf, end_of(leaf, end)):
            there = round_corner(design, leaf, end)
            yield side(leaf, end), None if there is None else side(there.leaf, there.end)


def _kind(design: Design, side: _Side) -> str | None:
    """The rule for the material that governs the wall, else that for every other."""
    known = _kind_rule(design, side)
    return None if known is None else str(known.value)


def _kind_rule(design: Design, side: _Side) -> Sourced | None:
    return rule(design, f"{KIND}.{side.spacing.material}") or rule(design, KIND)


def _comes_first(design: Design, side: _Side, beyond: _Side) -> bool:
    """So that a corner is told once for both its walls."""
    order = [leaf.id for leaf in design.building.leaves]
    return order.index(side.leaf.id) < order.index(beyond.leaf.id)


def _at(side: _Side) -> Place:
    return at_leaf(side.leaf).part(f"corner with {end_of(side.leaf, side.end).other}")


def _at_both(side: _Side, beyond: _Side, *joints: MovementJoint) -> Place:
    walls = tuple(dict.fromkeys((side.leaf.wall, beyond.leaf.wall)))
    return Place(_at(side).label, walls, (side.leaf.id, beyond.leaf.id), joints=tuple(joint.id for joint in joints))


def _each_side(design: Design, side: _Side, fraction: Sourced | None) -> Iterator[Finding]:
    """The first joint of one wall; a parapet's distance holds whatever the rule for corners."""
    place = _at(side)._replace(joints=() if side.first is None else (side.first.id,))
    kind, known = _kind(design, side), side.spacing
    parapet = rule(design, PARAPET_CORNER) if design.building.wall(side.leaf.wall).stands == "parapet" else None
    if kind is None:
        yield uncovered(design, place, KIND)
    elif kind == EACH_SIDE and known.usual_source is None:
        yield uncovered(design, place, *known.missing)
    elif kind == EACH_SIDE and fraction is not None:
        limit, most = fraction.number * known.usual, fraction.number * known.greatest
        share = "half" if fraction.number == 0.5 else f"{fraction.number:g} of"
        if parapet is None or parapet.number >= limit:
            judged = _judged(design, place, side, limit, most, fraction, f"{share} the usual spacing")
            judged = beside(judged, known.usual_source, *known.also, parapet)
            yield uncovered(design, place, *known.missing) if judged.severity == "pass" and known.missing else judged
            parapet = None
    if parapet is not None:
        judged = _judged(design, place, side, parapet.number, parapet.number, parapet, "the distance a parapet allows")
        yield beside(judged, *([fraction, known.usual_source, *known.also] if kind == EACH_SIDE else []))


def _judged(design: Design, place: Place, side: _Side, limit: float, most: float, source: Sourced, said: str) -> Finding:
    if side.first is None:
        return _without_joint(design, place, side.length, limit, source, said)
    distance = side.off(side.first.at)
    severity: Severity = "pass" if at_most(distance, limit) else "warn" if at_most(distance, most) else "fail"
    text = f"first movement joint, {side.first.id}, {design.figures.run(distance)} from the corner"
    if severity != "pass":
        text += f", over {design.figures.run(limit)}: {said}"
    return found(severity, place, text, measured=distance, most=limit, source=source)


def _without_joint(design: Design, place: Place, length: float, limit: float, source: Sourced | None, said: str) -> Finding:
    """Masonry with no joint that is to be near the corner: short enough for none, or held to the spacing alone."""
    text = f"no movement joint, {design.figures.run(length)} from the corner to where the wall ends or turns"
    if at_most(length, limit):
        return found("pass", place, text, measured=length, most=limit, source=source)
    text += f", over {design.figures.run(limit)}, {said}: the rule is for a first joint, without one the spacing alone is held to"
    return found("note", place, text, measured=length, most=limit, source=source)


def _sum(design: Design, side: _Side, beyond: _Side) -> Iterator[Finding]:
    """The distances from the corner to the first joint on each wall, added up, against the strictest spacing of the two."""
    run = design.figures.run
    one, other = side.first, beyond.first
    place = _at_both(side, beyond, *(joint for joint in (one, other) if joint is not None))
    known = [s.spacing for s in (side, beyond) if s.spacing.usual_source is not None]
    if len(known) < 2:
        yield uncovered(design, place, *side.spacing.missing, *beyond.spacing.missing)
        return
    usual, most = min(known, key=lambda a: a.usual), min(known, key=lambda a: a.greatest)
    missing = (*side.spacing.missing, *beyond.spacing.missing)
    if one is None or other is None:
        judged = beside(_sum_without_joint(design, place, (side, beyond), usual), *usual.also)
        yield uncovered(design, place, *missing) if judged.severity == "pass" and missing else judged
        return
    apart = side.off(one.at), beyond.off(other.at)
    distance = sum(apart)
    severity: Severity = "pass" if at_most(distance, usual.usual) else "warn" if at_most(distance, most.greatest) else "fail"
    text = f"first movement joints, {one.id} and {other.id}, {run(apart[0])} and {run(apart[1])} from the corner, "
    text += f"{run(distance)} together"
    if severity != "pass":
        text += f", over the spacing of {run(usual.usual)}: move one of them nearer to the corner"
    judged = found(severity, place, text, measured=distance, most=usual.usual, source=usual.usual_source)
    judged = beside(judged, *usual.also)
    yield uncovered(design, place, *missing) if severity == "pass" and missing else judged


def _sum_without_joint(design: Design, place: Place, sides: tuple[_Side, _Side], usual: Allowed) -> Finding:
    """The sum with all of a wall that has no joint: within the spacing, or the rule says nothing and the spacing is held to."""
    run = design.figures.run
    bare = " and ".join(side.leaf.id for side in sides if side.first is None)
    distance = sum(side.length if side.first is None else side.off(side.first.at) for side in sides)
    text = f"no movement joint in {bare}: with all of it {run(distance)} round the corner"
    if at_most(distance, usual.usual):
        return found("pass", place, text, measured=distance, most=usual.usual, source=usual.usual_source)
    text += f", over the spacing of {run(usual.usual)}: the rule is for first joints on both walls, the spacing alone is held to"
    return found("note", place, text, measured=distance, most=usual.usual, source=usual.usual_source)


def _one_side(design: Design, side: _Side, beyond: _Side) -> Iterator[Finding]:
    """The nearest joint on either wall, or the end of the masonry of either, against the distance one of the two is to keep."""
    run = design.figures.run
    within = rule(design, WITHIN)
    if all(s.spacing.usual_source is None for s in (side, beyond)):
        yield uncovered(design, _at_both(side, beyond), *side.spacing.missing, *beyond.spacing.missing)
        return
    joints = sorted((s.off(joint.at), joint.id, s) for s in (side, beyond) if (joint := s.first))
    if within is None:
        yield uncovered(design, _at_both(side, beyond), WITHIN)
        return
    ends = [s.off(at) for s in (side, beyond) for at in where_it_ends(s.leaf)]
    if joints and at_most(joints[0][0], within.number):
        distance, name, on = joints[0]
        place = _at_both(side, beyond)._replace(joints=(name,))
        text = f"movement joint {name} {run(distance)} from the corner in {on.leaf.id}"
        yield found("pass", place, text, measured=distance, most=within.number, source=within)
    elif ends and at_most(min(ends), within.number):
        text = f"the masonry ends {run(min(ends))} from the corner"
        yield found("pass", _at_both(side, beyond), text, measured=min(ends), most=within.number, source=within)
    else:
        text = f"no movement joint within {run(within.number)} of the corner on either wall"
        nearest = min((distance for distance, _, _ in joints), default=None)
        text += ": put one there on one of the two" if nearest is None else f", the nearest is {run(nearest)} from it"
        yield found("fail", _at_both(side, beyond), text, measured=nearest, most=within.number, source=within)
