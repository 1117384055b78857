"""Slip ties: held fast on one side of a movement joint, sleeved on the other, so that the two sides stay in line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Building, Leaf
from elevgen.core.geometry import TOLERANCE, Rect, Span, subtract
from elevgen.fittings.beds import Bed
from elevgen.fittings.model import Tie
from elevgen.fittings.tie_bays import LYING, ROUND
from elevgen.fittings.tie_rows import Row, spread, tie_rows
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

_SPACING, _EMBEDMENT, _TOGETHER = "tie.slip.vertical", "tie.embedment", "tie.beds.tolerance"


class Beyond(NamedTuple):
    """The leaf a leaf stops against with a movement joint between: where along it, and its beds."""

    leaf: Leaf
    at: float
    beds: tuple[Bed, ...]


def slip_ties(
    joint: MovementJoint,
    leaf: Leaf,
    beds: Sequence[Bed],
    reader: RuleReader,
    beyond: Beyond | None = None,
    bodies: Mapping[str, tuple[Rect, ...]] | None = None,
) -> tuple[Tie, ...] | None:
    """The slip ties across one joint from the bottom up; None where the rule set has no spacing for them.

    As few beds as leave no greater gap up the joint than 300 mm, with masonry for an embedment of 50 mm on each side (LABC
    Warranty, movement joints). At the end of a leaf that stops against another, a tie lies in a bed of both. `bodies`: the
    lintels in the place of units, by leaf.
    """
    apart = figure(reader, _SPACING)
    if apart is None:
        return None
    embedment = figure(reader, _EMBEDMENT) or 0.0
    rows: Iterable[Row] = (Row(bed.middle, True) for bed in beds)
    if beyond is not None:
        rows = tie_rows(beds, beyond.beds, figure(reader, _TOGETHER) or 0.0)
    shared = [row for row in rows if row.shared]
    stretches = held(joint, leaf, embedment, beyond, bodies or {})
    return tuple(Tie(joint.at, row.level, "slip", leaf.id) for up in stretches for row in spread(shared, up, apart))


def slip_basis(reader: RuleReader) -> tuple[str, ...]:
    """The rule keys behind slip ties."""
    return covered(reader, _SPACING, _EMBEDMENT)


def held(
    joint: MovementJoint, leaf: Leaf, embedment: float, beyond: Beyond | None, bodies: Mapping[str, tuple[Rect, ...]]
) -> tuple[Span, ...]:
    """The heights of a joint with masonry for a tie on both sides of it, clear of heads, sills and lintels."""
    gap = joint.gap
    stretches: tuple[Span, ...] = (joint.levels,)
    for side in (Span(gap.start - embedment, gap.start), Span(gap.end, gap.end + embedment)):
        inside = leaf.span.grown(TOLERANCE)
        if inside.start <= side.start and side.end <= inside.end:
            built = _built(leaf, side, bodies.get(leaf.id, ()))
        elif beyond is not None:
            at = min(max(beyond.at, beyond.leaf.span.start + 1), beyond.leaf.span.end - 1)
            built = _built(beyond.leaf, Span(at - 1, at + 1), bodies.get(beyond.leaf.id, ()))
        else:
            return ()
        stretches = tuple(common for up in stretches for solid in built if (common := up.common(solid)))
    return stretches


def _built(leaf: Leaf, side: Span, bodies: Sequence[Rect]) -> tuple[Span, ...]:
    """The levels at which a leaf has masonry all along a short stretch."""
    whole = Span(leaf.base.highest(side), leaf.top.lowest(side))
    voids = [void.levels.grown(ROUND) for void in leaf.voids if void.along.overlaps(side)]
    return subtract(whole, [*voids, *(body.levels.grown(LYING) for body in bodies if body.along.overlaps(side))])


def stopped_against(
    building: Building, joint: MovementJoint, leaf: Leaf, beds_of: Callable[[str], tuple[Bed, ...]]
) -> Beyond | None:
    """What the leaf stops against where the joint fills its very end; None for a joint with the leaf on both sides."""
    ends = [at for at in (leaf.span.start, leaf.span.end) if joint.gap.contains(at)]
    if not ends:
        return None
    for meeting in building.meetings:
        if meeting.stem == leaf.id and abs(meeting.stem_at - ends[0]) <= abs(meeting.stem_at - leaf.span.middle):
            return Beyond(building.leaf(meeting.host), meeting.host_at, beds_of(meeting.host))
    return None
