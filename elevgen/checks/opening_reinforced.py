"""The courses over and under every opening are reinforced, past its reveals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._heads import Edge, beds_at, edges
from elevgen.checks._masonry import gaps_at, joints_by_leaf, stretches
from elevgen.checks._rules import not_checked, rule
from elevgen.core.geometry import Span, subtract
from elevgen.core.measures import millimetres
from elevgen.core.sourced import Sourced
from elevgen.coursing.model import Course
from elevgen.fittings.model import BedReinforcement
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "opening-reinforced"
TITLE = "Bed-joint reinforcement over and under openings"
RATIONALE = (
    "Cracks start at the corners of openings, where the masonry is weakest; reinforcement in the beds next to them holds them."
)
ABOVE, BELOW, REACH = "bed_reinforcement.courses_above", "bed_reinforcement.courses_below", "bed_reinforcement.reach"


class _LeafAtHand(NamedTuple):
    leaf: Leaf
    courses: Sequence[Course]
    joints: Sequence[MovementJoint]
    laid: Sequence[BedReinforcement]


def check(design: Design) -> Iterator[Finding]:
    """Head and sill of each opening in each leaf: as many of the next beds as the rule set asks, or all there are.

    A bed counts when reinforcement covers the opening and its reach in it, as far as masonry goes unbroken.
    """
    above, below, reach = rule(design, ABOVE), rule(design, BELOW), rule(design, REACH)
    walls = [wall for wall in design.building.walls if wall.openings]
    if above is None or below is None or reach is None:
        if walls:
            yield not_checked(design, CODE, "building", ABOVE, BELOW, REACH)
        return
    joints = joints_by_leaf(design)
    for wall in walls:
        for leaf in design.building.leaves_of(wall.id):
            laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
            at_hand = _LeafAtHand(leaf, design.coursing.of(leaf.id).courses, joints[leaf.id], laid)
            for opening in wall.openings:
                for edge, count in zip(edges(leaf, opening), (above, below), strict=True):
                    yield _judged(at_hand, edge, count, reach)


def _judged(at_hand: _LeafAtHand, edge: Edge, count: Sourced, reach: Sourced) -> Finding:
    where = f"{at_hand.leaf.id}/{edge.opening} {'head' if edge.head else 'sill'}"
    if not edge.along:
        return Finding("", CODE, "pass", where, "no masonry at it to reinforce")
    wanted = int(count.number)
    beds = [
        (bed, needed) for bed in beds_at(at_hand.courses, edge, wanted) if (needed := _needed(at_hand, edge, bed, reach.number))
    ]
    covered = sum(1 for bed, needed in beds if not _bare(at_hand, bed, needed))
    most = min(wanted, max(len(beds) - (1 if _starts_at(beds, edge) else 0), 0))
    side = "above" if edge.head else "below"
    text = f"{covered} of the next beds {side} reinforced"
    if covered >= most:
        if most < wanted:
            text += f": there {'is' if most == 1 else 'are'} no more than {most}"
        return Finding("", CODE, "pass", where, text, float(covered), ">=", float(most), "nr", count)
    short = max((s.length for bed, needed in beds for s in _bare(at_hand, bed, needed)), default=0.0)
    text += f", {wanted} wanted with {millimetres(reach.number)} mm past each reveal; up to {millimetres(short)} mm bare"
    return Finding("", CODE, "fail", where, text, float(covered), ">=", float(most), "nr", count)


def _starts_at(beds: Sequence[tuple[Span, object]], edge: Edge) -> bool:
    """True when the nearest bed is the one at the edge itself: the lintel's or the sill's, reinforced by nobody's rule."""
    return bool(beds) and beds[0][0].grown(1.0).contains(edge.level)


def _needed(at_hand: _LeafAtHand, edge: Edge, bed: Span, reach: float) -> tuple[Span, ...]:
    """What the reinforcement of a bed must cover: opening and reach, where the masonry from the opening goes on unbroken."""
    solid = stretches(at_hand.leaf, bed.grown(1.0), gaps_at(at_hand.joints, bed.middle))
    over = [s for s in solid if any(s.overlaps(part) for part in edge.along)]
    return tuple(common for s in over for part in edge.along if (common := part.grown(reach).common(s)))


def _bare(at_hand: _LeafAtHand, bed: Span, needed: Sequence[Span]) -> list[Span]:
    there = [r.span for r in at_hand.laid if bed.contains(r.level)]
    return [left for span in needed for left in subtract(span, there)]
