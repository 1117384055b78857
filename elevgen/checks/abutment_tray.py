"""Trays lie over every line in which a lower roof or building meets a cavity wall, stepped where it slopes."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Leaf, Profile, Wall
from elevgen.checks._damp import at_tray, beds_of, straight, trays_of, unit_gauge
from elevgen.checks._finding import BUILDING, Place, at_leaf, found
from elevgen.checks._masonry import gaps_at, joints_by_leaf, stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Rect, Span, subtract
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tray
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "abutment-tray"
TITLE = "Trays over abutments"
RATIONALE = (
    "What runs down inside the outer leaf comes out in the room under a lower roof, unless a tray over the roof turns it out; "
    "the lowest tray needs its ends closed and a weep."
)
ABOVE = "tray.abutment.above"


class _Line(NamedTuple):
    """A line in which something meets a wall, and of that wall the outer leaf, its joints, its trays and its beds."""

    wall: Wall
    outer: Leaf
    joints: tuple[MovementJoint, ...]
    line: Profile
    trays: list[Tray]
    beds: list[Span]


def check(design: Design) -> Iterator[Finding]:
    """Each line given: what of it no tray lies over, high enough and no more than a course higher than its highest part asks.

    Then each tray: its sides from which nothing runs off on to a lower one are stopped, and one with both stopped has a weep.
    """
    above = rule(design, ABOVE)
    joints = joints_by_leaf(design)
    given = [wall for wall in design.building.walls if wall.abutments]
    for wall in given:
        outer = design.building.leaf(wall.leaves[0])
        if len(wall.leaves) < 2:
            yield found("note", at_leaf(outer), "a lower roof meets a wall without a cavity: flashing, and no tray")
            continue
        if above is None:
            yield uncovered(design, at_leaf(outer), ABOVE)
            continue
        trays = [tray for tray in trays_of(design, wall) if tray.kind != "opening" or tray.given]
        for number, line in enumerate(wall.abutments, 1):
            place = at_leaf(outer).part(f"abutment {number}")
            yield from _covered(
                design.figures, place, _Line(wall, outer, joints[outer.id], line, trays, beds_of(design, outer)), above
            )
        yield from _ends(wall, [tray for tray in trays if tray.kind != "opening"])
    if not given:
        yield found("pass", BUILDING, "no lower roof or building said to meet a wall")


def _covered(figures: Figures, place: Place, line: _Line, above: Sourced) -> Iterator[Finding]:
    bare = list(_bare(line, above.number))
    parts = [part for span in bare for part in _parted(line, span, above.number)]
    open_to_sky = [span for span in parts if not _masonry(line, span, above.number)]
    missed = [span for span in parts if _masonry(line, span, above.number)]
    if missed:
        length = sum(span.length for span in missed)
        where = f"{figures.length(missed[0].start)} to {figures.length(missed[0].end)}"
        text = f"no tray over {figures.measure(length)} of it, first from {where}"
        yield found("fail", place, text, measured=length, most=0.0, source=above)
    if open_to_sky:
        length = sum(span.length for span in open_to_sky)
        what = f"no bed {figures.measure(above.number)} over {figures.measure(length)} of it"
        text = f"{what}: an opening or the top of the wall is in the way"
        yield found("warn", place, text, measured=length, most=0.0, source=above)
    if not bare:
        yield found("pass", place, "trays over all of it", measured=0.0, most=0.0, source=above)


def _bare(line: _Line, above: float) -> Iterator[Span]:
    """What of the line, as far as the leaf goes, no tray lies over; a movement joint stops every tray and is left out."""
    for a, b in straight(line.line, Span(line.line.points[0][0], line.line.points[-1][0])):
        piece = Span(a[0], b[0]).common(line.outer.span)
        if piece is not None:
            served = [_serves(line, tray, piece, above) for tray in line.trays]
            gaps = gaps_at(line.joints, line.line.highest(piece) + above)
            yield from subtract(piece, [*gaps, *(span for span in served if span is not None)])


def _serves(line: _Line, tray: Tray, piece: Span, above: float) -> Span | None:
    """The part of a straight piece of the line that a tray lies over, high enough and not too high."""
    over = tray.span.common(piece)
    if over is None:
        return None
    ends = Span(line.line.points[0][0], line.line.points[-1][0])
    needed = line.line.highest(tray.span.common(ends) or over) + above
    if sum(needed - TOLERANCE <= bed.end < tray.level - TOLERANCE for bed in line.beds) > 1:
        return None
    (a, at_a), (b, at_b) = next(straight(line.line, over))
    low, high = sorted((at_a, at_b))
    if high + above <= tray.level + TOLERANCE:
        return over
    if low + above > tray.level + TOLERANCE:
        return None
    turn = a + (b - a) * (tray.level - above - at_a) / (at_b - at_a)
    return Span(a, turn) if at_a < at_b else Span(turn, b)


def _parted(line: _Line, span: Span, above: float) -> list[Span]:
    """A stretch cut at the sides of the openings in it."""
    sides = [at for void in _in_the_way(line, span, above) for at in (void.left, void.right) if span.start < at < span.end]
    return [Span(a, b) for a, b in pairwise(sorted({span.start, *sides, span.end})) if b - a > TOLERANCE]


def _in_the_way(line: _Line, span: Span, above: float) -> list[Rect]:
    """The openings that reach into the band between the line and the two courses where its tray would lie."""
    low, high = line.line.lowest(span), line.line.highest(span) + above
    over = high + 2 * unit_gauge(line.outer, high)
    return [v for v in line.outer.voids if v.along.overlaps(span) and v.top > low and v.bottom < over]


def _masonry(line: _Line, span: Span, above: float) -> bool:
    """True when no opening is in the way, and the outer leaf goes on two courses over where a stretch's tray has to lie."""
    level = line.line.highest(span) + above
    band = Span(level, level + 2 * unit_gauge(line.outer, level))
    solid = stretches(line.outer, band, gaps_at(line.joints, level))
    return not _in_the_way(line, span, above) and any(s.overlaps(span) for s in solid)


def _ends(wall: Wall, trays: list[Tray]) -> Iterator[Finding]:
    faults = [fault for tray in trays if not tray.given or tray.kind == "step" for fault in _faults(wall, tray, trays)]
    yield from faults
    if trays and not faults:
        stepped = sum(1 for tray in trays if tray.kind == "step")
        text = (
            f"every tray stopped where nothing runs off, {stepped} of them stepped"
            if stepped
            else "every tray stopped at its ends"
        )
        yield found("pass", at_tray(wall, trays[0])._replace(label=f"{wall.leaves[0]} abutments"), text)


def _faults(wall: Wall, tray: Tray, trays: list[Tray]) -> Iterator[Finding]:
    lower = [other for other in trays if other.level < tray.level - TOLERANCE]
    closed = sum(
        1
        for at in (tray.span.start, tray.span.end)
        if not any(other.span.start < at - TOLERANCE and at + TOLERANCE < other.span.end for other in lower)
    )
    if tray.stop_ends < closed:
        text = f"{tray.stop_ends} of its ends stopped: from {closed} nothing runs off on to a lower tray"
        yield found("fail", at_tray(wall, tray), text, measured=float(tray.stop_ends), least=float(closed), unit="nr")
    elif closed == 2 and not tray.weeps:
        yield found("fail", at_tray(wall, tray), "stopped at both ends and without a weep")
