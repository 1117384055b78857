"""Damp-proof courses at the datum, trays over the lintels of outer leaves, and their weeps."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from elevgen.building.model import Leaf
from elevgen.core.geometry import TOLERANCE, Span, subtract
from elevgen.coursing.faces import gaps_at, higher
from elevgen.fittings.model import DampCourse, Lintel, Tray
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

DATUM = 0.0
"""Levels count from the top of the damp-proof course."""


def damp_courses(leaf: Leaf, reader: RuleReader) -> tuple[DampCourse, ...]:
    """The damp-proof course of a leaf: at the datum, along all of the face founded at or below it, thresholds included.

    Nothing for a leaf that starts higher, nor through an opening that reaches below the datum. Each corner has one lap,
    counted on the leaf whose id comes first.
    """
    through = [void.along for void in leaf.voids if void.bottom < DATUM - TOLERANCE and void.top > DATUM + TOLERANCE]
    without = [*higher(leaf.base, leaf.span, DATUM), *through]
    stretches = [left for risen in higher(leaf.top, leaf.span, DATUM) for left in subtract(risen, without)]
    return tuple(
        DampCourse(
            id=f"{leaf.id}/DPC" if len(stretches) == 1 else f"{leaf.id}/DPC{number}",
            wall=leaf.wall,
            leaf=leaf.id,
            level=DATUM,
            span=stretch,
            width=leaf.thickness,
            laps=_corner_laps(leaf, stretch),
            lap=figure(reader, "dpc.lap"),
            basis=covered(reader, "dpc.lap"),
        )
        for number, stretch in enumerate(stretches, 1)
    )


def _corner_laps(leaf: Leaf, stretch: Span) -> int:
    ends = ((leaf.start_end, leaf.span.start), (leaf.finish_end, leaf.span.end))
    return sum(1 for end, at in ends if end.kind == "corner" and leaf.id < (end.other or "") and stretch.contains(at))


def trays(leaf: Leaf, lintels: Sequence[Lintel], joints: Sequence[MovementJoint], reader: RuleReader) -> tuple[Tray, ...]:
    """A tray over every lintel of the outer leaf of a cavity wall, a stop end at each end, weeps between them.

    It runs past the lintel as far as the leaf and its movement joints let it (LABC Warranty, cavity trays).
    """
    past = figure(reader, "tray.past_lintel") or 0.0
    basis = covered(reader, "tray.past_lintel", "weep.spacing", "weep.minimum")
    return tuple(
        Tray(
            id=lintel.id.replace("/L-", "/T-"),
            wall=leaf.wall,
            opening=lintel.openings[0],
            level=lintel.level,
            span=_within(lintel.span, past, leaf, gaps_at(joints, Span(lintel.level, lintel.level))),
            stop_ends=2,
            weeps=weeps(lintel.span, reader),
            basis=basis,
        )
        for lintel in lintels
    )


def _within(lintel: Span, past: float, leaf: Leaf, gaps: Sequence[Span]) -> Span:
    """The lintel's span run past its ends, stopped by the ends of the leaf and by movement joints."""
    first = max((gap.end for gap in gaps if gap.end <= lintel.start + TOLERANCE), default=leaf.span.start)
    last = min((gap.start for gap in gaps if gap.start >= lintel.end - TOLERANCE), default=leaf.span.end)
    return Span(max(lintel.start - past, first, leaf.span.start), min(lintel.end + past, last, leaf.span.end))


def weeps(along: Span, reader: RuleReader) -> tuple[float, ...]:
    """Weep holes from one end of a lintel to the other, evenly: just inside each stop end and no further apart than allowed.

    None at all where the rule set has no spacing.
    """
    spacing = figure(reader, "weep.spacing")
    if spacing is None:
        return ()
    least = figure(reader, "weep.minimum") or 2
    count = max(int(least), 2, ceil((along.length - TOLERANCE) / spacing) + 1)
    return tuple(along.start + k * along.length / (count - 1) for k in range(count))
