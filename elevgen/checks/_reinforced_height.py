"""How much masonry has no reinforced bed in it, at every place along a leaf."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._masonry import gaps_at
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Rect, Span, subtract
from elevgen.fittings.model import BedReinforcement, ReinforcedFor
from elevgen.joints.model import MovementJoint
from elevgen.result import Design

ALL_OVER: frozenset[ReinforcedFor] = frozenset(("all_over", "stack_bond", "parapet"))
"""What the beds of a leaf are reinforced for from its foot to its top."""


class Bare(NamedTuple):
    """Masonry between two reinforced beds, or a bed and an edge, at a place along the leaf."""

    height: float
    at: float
    levels: Span

    def where(self, figures: Figures) -> str:
        """Its levels and place, in words."""
        low, high = figures.level(self.levels.start), figures.level(self.levels.end)
        return f"between {low} and {high}, {figures.measure(self.at)} along the wall"


def barest(design: Design, leaf: Leaf) -> Bare | None:
    """The greatest height of masonry without a reinforced bed, at any place along a leaf; None where it has no masonry.

    From bed to bed, and to the base, the top, heads, sills and lintels in the place of units. Stretches shorter than a unit are
    left out, as beside a joint.
    """
    laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
    bodies = [body for lintel in design.fittings.lintels if lintel.leaf == leaf.id and (body := lintel.body)]
    return max(_bare(leaf, [*leaf.voids, *bodies], design.plan.on_leaf(leaf.id), laid), default=None)


def has_bed(design: Design, leaf: Leaf, levels: Span) -> bool:
    """Whether a bed of the leaf lies between two levels, so that it could be reinforced."""
    undersides = (course.level - course.bed for course in design.coursing.of(leaf.id).courses)
    return any(levels.start + TOLERANCE < at < levels.end - TOLERANCE for at in undersides)


def _bare(leaf: Leaf, holes: Sequence[Rect], joints: Sequence[MovementJoint], laid: Sequence[BedReinforcement]) -> Iterator[Bare]:
    """In the middle of each stretch between anything that begins or ends along the leaf."""
    edges = {leaf.span.start, leaf.span.end, *(at for at, _ in (*leaf.base.points, *leaf.top.points) if leaf.span.contains(at))}
    edges.update(at for hole in holes for at in (hole.left, hole.right))
    edges.update(at for joint in joints for at in (joint.gap.start, joint.gap.end))
    edges.update(at for r in laid for at in (r.span.start, r.span.end))
    unit = max(zone.unit.length for zone in leaf.zones)
    for start, end in pairwise(sorted(edges)):
        at = (start + end) / 2
        if end - start >= unit and leaf.span.contains(at):
            yield from _up(leaf, [hole.levels for hole in holes if hole.left < at < hole.right], joints, laid, at)


def _up(
    leaf: Leaf, holes: Sequence[Span], joints: Sequence[MovementJoint], laid: Sequence[BedReinforcement], at: float
) -> Iterator[Bare]:
    """Up the masonry at one place. A bed's level is its underside, the masonry under the next edge ends without one."""
    whole = Span(leaf.base.level_right_of(at), leaf.top.level_right_of(at))
    bed = max(zone.unit.bed for zone in leaf.zones)
    for solid in subtract(whole, holes):
        end = max(solid.end - bed, solid.start)
        beds = sorted(r.level for r in laid if r.span.contains(at) and solid.start <= r.level < end)
        levels = [solid.start, *beds, end]
        if not any(gap.contains(at) for gap in gaps_at(joints, solid.middle)):
            yield from (Bare(upper - lower, at, Span(lower, upper)) for lower, upper in pairwise(levels))
