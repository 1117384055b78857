"""The courses over and under every opening are reinforced, past its reveals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_opening, found
from elevgen.checks._heads import Edge, beds_at, edges
from elevgen.checks._masonry import gaps_at, joints_by_leaf, stretches
from elevgen.checks._rules import rule, uncovered
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
SPLIT = "coursing.split.min"
ANY = 1.0
"""Height (mm) of masonry between an edge and a bed that counts where the rule set has no least height of a cut unit."""


class _LeafAtHand(NamedTuple):
    leaf: Leaf
    courses: Sequence[Course]
    joints: Sequence[MovementJoint]
    laid: Sequence[BedReinforcement]
    least: float


def check(design: Design) -> Iterator[Finding]:
    """Head and sill of each opening in each leaf: the first beds over and under it, as many as the rule set asks (NHBC 6.11.5).

    A bed is done when reinforcement covers the opening and its reach in it, as far as masonry goes unbroken. Every bed
    there is must be; that a low strip of masonry has fewer than are asked for is noted, for no reinforcement mends it.
    """
    above, below, reach = rule(design, ABOVE), rule(design, BELOW), rule(design, REACH)
    walls = [wall for wall in design.building.walls if wall.openings]
    if above is None or below is None or reach is None:
        if walls:
            yield uncovered(design, BUILDING, ABOVE, BELOW, REACH)
        return
    split = rule(design, SPLIT)
    least = split.number if split else ANY
    joints = joints_by_leaf(design)
    for wall in walls:
        for leaf in design.building.leaves_of(wall.id):
            laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
            at_hand = _LeafAtHand(leaf, design.coursing.of(leaf.id).courses, joints[leaf.id], laid, least)
            for opening in wall.openings:
                for edge, count in zip(edges(leaf, opening), (above, below), strict=True):
                    yield _judged(at_hand, edge, count, reach)


def _judged(at_hand: _LeafAtHand, edge: Edge, count: Sourced, reach: Sourced) -> Finding:
    place = at_opening(at_hand.leaf, edge.opening).part("head" if edge.head else "sill")
    if not edge.along:
        return found("pass", place, "no masonry at it to reinforce")
    wanted = int(count.number)
    next_beds = beds_at(at_hand.courses, edge, at_hand.least, wanted)
    bare = [_bare(at_hand, bed, needed) for bed in next_beds if (needed := _needed(at_hand, edge, bed, reach.number))]
    covered = float(sum(1 for left in bare if not left))
    side = "above" if edge.head else "below"
    text = f"{covered:.0f} of the next beds {side} reinforced"
    if any(bare):
        short = max(span.length for left in bare for span in left)
        text += f", {wanted} wanted with {millimetres(reach.number)} mm past each reveal; up to {millimetres(short)} mm bare"
        return found("fail", place, text, measured=covered, least=float(len(bare)), unit="nr", source=count)
    if len(bare) < wanted:
        text = f"{wanted} beds {side} wanted, the masonry there has {len(bare) or 'none'}"
        return found("note", place, text, measured=covered, least=count.number, unit="nr", source=count)
    return found("pass", place, text, measured=covered, least=count.number, unit="nr", source=count)


def _needed(at_hand: _LeafAtHand, edge: Edge, bed: Span, reach: float) -> tuple[Span, ...]:
    """What the reinforcement of a bed must cover: opening and reach, where the masonry from the opening goes on unbroken."""
    solid = stretches(at_hand.leaf, bed.grown(1.0), gaps_at(at_hand.joints, bed.middle))
    over = [s for s in solid if any(s.overlaps(part) for part in edge.along)]
    return tuple(common for s in over for part in edge.along if (common := part.grown(reach).common(s)))


def _bare(at_hand: _LeafAtHand, bed: Span, needed: Sequence[Span]) -> list[Span]:
    there = [r.span for r in at_hand.laid if bed.contains(r.level)]
    return [left for span in needed for left in subtract(span, there)]
