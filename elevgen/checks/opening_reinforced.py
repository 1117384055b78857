"""The courses over and under every opening are reinforced, past its reveals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._corners import ENDS, End, at_end, bed_in_line, beyond
from elevgen.checks._finding import BUILDING, at_opening, found
from elevgen.checks._heads import ANY, Edge, beds_at, edges, over_lintels
from elevgen.checks._masonry import gaps_at, joints_by_leaf, stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Rect, Span, subtract
from elevgen.core.sourced import Sourced
from elevgen.coursing.model import Course
from elevgen.fittings.model import BedReinforcement, Lintel
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "opening-reinforced"
TITLE = "Bed-joint reinforcement over and under openings"
RATIONALE = (
    "Cracks start at the corners of openings, where the masonry is weakest; reinforcement in the beds next to them holds them."
)
ABOVE, BELOW, REACH = "bed_reinforcement.courses_above", "bed_reinforcement.courses_below", "bed_reinforcement.reach"
SPLIT, CLEARANCE = "coursing.split.min", "bed_reinforcement.joint_clearance"


class _Bed(NamedTuple):
    """The masonry on both sides of a bed, lintels and movement joints taken out, and the reinforcement in it."""

    solid: tuple[Span, ...]
    laid: tuple[Span, ...]


class _LeafAtHand(NamedTuple):
    """A leaf with what is in it; `beds` are those looked at so far."""

    design: Design
    leaf: Leaf
    courses: Sequence[Course]
    joints: Sequence[MovementJoint]
    laid: Sequence[BedReinforcement]
    lintels: Sequence[Lintel]
    least: float
    beds: dict[Span, _Bed]

    def bed(self, bed: Span) -> _Bed:
        if bed not in self.beds:
            bodies = [b.along for x in self.lintels if (b := x.body) and b.bottom < bed.middle < b.top]
            solid = stretches(self.leaf, bed.grown(1.0), [*gaps_at(self.joints, bed.middle), *bodies])
            self.beds[bed] = _Bed(solid, tuple(r.span for r in self.laid if bed.contains(r.level)))
        return self.beds[bed]


def check(design: Design) -> Iterator[Finding]:
    """Head and sill of each opening in each leaf: the first beds over and under it, as many as the rule set asks (NHBC 6.11.5).

    A bed is done when reinforcement covers the opening and its reach in it, as far as masonry goes unbroken, and what is left
    of the reach round a bonded corner, where the leaf there has a bed at its level; that it has none is noted. Every bed there is
    must be; that a low strip of masonry has fewer than are asked for is noted too, for no reinforcement mends it.
    """
    above, below, reach = rule(design, ABOVE), rule(design, BELOW), rule(design, REACH)
    walls = [wall for wall in design.building.walls if wall.openings]
    if above is None or below is None or reach is None:
        if walls:
            yield uncovered(design, BUILDING, ABOVE, BELOW, REACH)
        return
    split = rule(design, SPLIT)
    if split is None and walls:
        yield uncovered(design, BUILDING, SPLIT)
    least = split.number if split else ANY
    joints = joints_by_leaf(design)
    for wall in walls:
        for leaf in design.building.leaves_of(wall.id):
            laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
            lintels = [x for x in design.fittings.lintels if x.leaf == leaf.id]
            at_hand = _LeafAtHand(design, leaf, design.coursing.of(leaf.id).courses, joints[leaf.id], laid, lintels, least, {})
            for opening in wall.openings:
                for edge, count in zip(edges(leaf, opening), (above, below), strict=True):
                    edge = over_lintels(edge, at_hand.lintels)
                    yield _judged(design.figures, at_hand, edge, count, reach)
                    yield from _round_corners(design.figures, at_hand, edge, count, reach)


def _judged(figures: Figures, at_hand: _LeafAtHand, edge: Edge, count: Sourced, reach: Sourced) -> Finding:
    place = at_opening(at_hand.leaf, edge.opening).part("head" if edge.head else "sill")
    if not edge.along:
        return found("pass", place, "no masonry at it to reinforce")
    wanted = int(count.number)
    also = reach, rule(at_hand.design, SPLIT)
    next_beds = beds_at(at_hand.courses, edge, at_hand.least, wanted)
    bare = [_bare(at_hand, bed, needed) for bed in next_beds if (needed := _needed(at_hand, edge, bed, reach.number))]
    covered = float(sum(1 for left in bare if not left))
    side = "above" if edge.head else "below"
    text = f"{covered:.0f} of the next beds {side} reinforced"
    if any(bare):
        short = max(span.length for left in bare for span in left)
        text += f", {wanted} wanted with {figures.measure(reach.number)} past each reveal; up to {figures.measure(short)} bare"
        return found("fail", place, text, measured=covered, least=float(len(bare)), unit="nr", source=count, also=also)
    if len(bare) < wanted:
        text = f"{wanted} beds {side} wanted, the masonry there has {len(bare) or 'none'}"
        return found("note", place, text, measured=covered, least=count.number, unit="nr", source=count, also=also)
    return found("pass", place, text, measured=covered, least=count.number, unit="nr", source=count, also=also)


def _round_corners(figures: Figures, at_hand: _LeafAtHand, edge: Edge, count: Sourced, reach: Sourced) -> Iterator[Finding]:
    """What is left of the reach at each end of the leaf that it comes to."""
    place = at_opening(at_hand.leaf, edge.opening).part("head" if edge.head else "sill")
    for end in ENDS:
        bare, bare_in, none_in = 0.0, "", None
        for bed in beds_at(at_hand.courses, edge, at_hand.least, int(count.number)):
            for part in edge.along:
                past = at_hand.leaf.span.start - part.start if end == "start" else part.end - at_hand.leaf.span.end
                left = past + reach.number
                if left > TOLERANCE and any(s.overlaps(part) and at_end(s, at_hand.leaf, end) for s in at_hand.bed(bed).solid):
                    short, missing = _round(at_hand.design, at_hand.leaf, end, bed, left)
                    if short > bare and (there := beyond(at_hand.design, at_hand.leaf, end)):
                        bare, bare_in = short, _listed(at_hand.design, there.leaf)
                    none_in = none_in or missing
        if bare > TOLERANCE:
            text = "reinforcement does not go on round the corner for what is left of its reach: "
            text += f"{figures.measure(bare)} bare in {bare_in}"
            yield found("fail", place, text, measured=bare, most=0.0, source=reach, also=(count,))
        elif none_in is not None:
            text = f"reinforcement ends at the corner: {none_in} has no bed at its level"
            yield found("note", place, text, source=reach, also=(count,))


def _round(design: Design, leaf: Leaf, end: End, bed: Span, left: float) -> tuple[float, str | None]:
    """How much of what is left of a reach is bare in the leaves round a corner; and the leaf that has no bed for it."""
    there = beyond(design, leaf, end)
    if there is None:
        return 0.0, None
    level_bed = bed_in_line(design, there.leaf, bed)
    if level_bed is None:
        return 0.0, there.leaf.id
    gaps = gaps_at(joints_by_leaf(design)[there.leaf.id], level_bed.middle)
    clear = rule(design, CLEARANCE)
    gaps = [gap.grown(clear.number if clear else 0.0) for gap in gaps]
    gaps += [body.along for body in _bodies(design, there.leaf) if body.bottom < level_bed.middle < body.top]
    solid = stretches(there.leaf, level_bed.grown(1.0), gaps)
    stretch = next((s for s in solid if at_end(s, there.leaf, there.end)), None)
    if stretch is None:
        return 0.0, None
    length = min(left, stretch.length)
    forward = there.end == "start"
    needed = Span(stretch.start, stretch.start + length) if forward else Span(stretch.end - length, stretch.end)
    laid = [r.span for r in design.fittings.bed_reinforcement if r.leaf == there.leaf.id and level_bed.contains(r.level)]
    bare = sum(gap.length for gap in subtract(needed, laid))
    far: End = "finish" if forward else "start"
    if left - stretch.length > TOLERANCE and at_end(stretch, there.leaf, far):
        more, missing = _round(design, there.leaf, far, level_bed, left - stretch.length)
        return bare + more, missing
    return bare, None


def _listed(design: Design, leaf: Leaf) -> str:
    """A leaf; and that its wall is to have no reinforcement but what is listed, where that is so."""
    placing = design.building.wall(leaf.wall).reinforcement.placing
    return leaf.id if placing else f"{leaf.id}, which is to have only what is listed for it"


def _bodies(design: Design, leaf: Leaf) -> Iterator[Rect]:
    """What lintels take of a leaf in the place of units."""
    return (body for lintel in design.fittings.lintels if lintel.leaf == leaf.id and (body := lintel.body))


def _needed(at_hand: _LeafAtHand, edge: Edge, bed: Span, reach: float) -> tuple[Span, ...]:
    """What the reinforcement of a bed must cover: opening and reach, where the masonry from the opening goes on unbroken."""
    over = [s for s in at_hand.bed(bed).solid if any(s.overlaps(part) for part in edge.along)]
    return tuple(common for s in over for part in edge.along if (common := part.grown(reach).common(s)))


def _bare(at_hand: _LeafAtHand, bed: Span, needed: Sequence[Span]) -> list[Span]:
    return [left for span in needed for left in subtract(span, at_hand.bed(bed).laid)]
