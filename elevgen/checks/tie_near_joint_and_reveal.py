"""Wall ties crowd the edges of openings and movement joints, free ends and steps."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.checks._cavities import Cavity, cavities, column
from elevgen.checks._finding import Place, at_joint, at_opening, at_wall, beside, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._tie_beds import beds_in_common, free_ends, steps
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tie
from elevgen.result import SEVERITIES, Design, Finding, Severity

CODE = "tie-near-joint-and-reveal"
TITLE = "Wall ties beside openings and movement joints"
RATIONALE = "At an edge the leaf is held on one side only, so ties there stand closer and near the edge."
DISTANCE, UP = "tie.edge.distance", "tie.edge.vertical"
FIELD = "tie.spacing.vertical"
BESIDE = 1.0
"""Masonry is looked for this far (mm) beyond an edge."""
ROOM = 50.0
"""A tie is not asked for where no stretch of both leaves within its reach is this wide (mm)."""
ROOM_FOR_TWO = 150.0
"""Two ties are not asked for in one bed on less than this (mm)."""


class _Edge(NamedTuple):
    """An upright edge: `side` is -1 when the masonry lies to its left, +1 to its right; ties for it stand in `reach`."""

    place: Place
    at: float
    side: int
    levels: Span
    reach: Span


class _Gap(NamedTuple):
    """A height up an edge without a tie; `pairs` where the bed at one of its ends has two ties or more.

    `bare`: no tie at either end of it, it is all there is of the edge.
    """

    levels: Span
    pairs: bool
    bare: bool


def check(design: Design) -> Iterator[Finding]:
    """Up each reveal, side of a joint, free end and step: ties within the distance, no further apart than the limit allows.

    A lintel in the place of units is masonry beside an edge, but no tie can lie in it. Where the two leaves have no common bed in
    reach, a gap up to the spacing of the field may have a pair of ties at one end
    (NHBC TG 6.1/31, 6.1/32, quoted: pairs where coursing only meets at 450 mm; one tie to 300 mm of height, or equivalent).
    """
    distance, up = rule(design, DISTANCE), rule(design, UP)
    for cavity in cavities(design):
        if distance is None or up is None:
            yield uncovered(design, at_wall(cavity.wall), DISTANCE, UP)
            continue
        ties = sorted(cavity.ties, key=lambda t: t.at)
        places = [tie.at for tie in ties]
        for edge in (*_edges(cavity, distance.number), *_free_edges(design, cavity, distance.number)):
            near = ties[bisect_left(places, edge.reach.start - TOLERANCE) : bisect_right(places, edge.reach.end + TOLERANCE)]
            yield beside(_judged(design, cavity, edge, near, up), distance)


def _edges(cavity: Cavity, distance: float) -> Iterator[_Edge]:
    for opening in cavity.wall.openings:
        place, rect = at_opening(cavity.wall, opening), opening.rect
        yield _Edge(place.part("left reveal"), rect.left, -1, rect.levels, Span(rect.left - distance, rect.left))
        yield _Edge(place.part("right reveal"), rect.right, 1, rect.levels, Span(rect.right, rect.right + distance))
    for joint in cavity.joints:
        place, gap = at_joint(joint), joint.gap
        yield _Edge(place.part("left side"), gap.start, -1, joint.levels, Span(gap.start - distance, gap.start))
        yield _Edge(place.part("right side"), gap.end, 1, joint.levels, Span(gap.end, gap.end + distance))


def _free_edges(design: Design, cavity: Cavity, distance: float) -> Iterator[_Edge]:
    """Ends of the wall that are not built on round a corner, and the upright edges of steps in its top."""
    place, span = at_wall(cavity.wall), cavity.span
    levels = Span(cavity.levels.start, max(leaf.top.highest(leaf.span) for leaf in (cavity.outer, cavity.inner)))
    start, end = free_ends(design, cavity)
    if start:
        yield _Edge(place.part("start"), span.start, 1, levels, Span(span.start, span.start + distance))
    if end:
        yield _Edge(place.part("end"), span.end, -1, levels, Span(span.end - distance, span.end))
    for at, side, up in steps(cavity):
        reach = Span(at, at + distance) if side > 0 else Span(at - distance, at)
        yield _Edge(place.part(f"step at {design.figures.length(at)}"), at, side, up, reach)


def _judged(design: Design, cavity: Cavity, edge: _Edge, near: Sequence[Tie], up: Sourced) -> Finding:
    beside = edge.at + edge.side * BESIDE
    in_joint = any(joint.gap.contains(beside) for joint in cavity.joints)
    solid = () if in_joint else column(cavity, beside)
    stretches = [_from_its_bed(cavity, beside, common) for span in solid if (common := span.common(edge.levels))]
    if not stretches:
        return found("pass", edge.place, "no masonry of both leaves beside it")
    gaps = sorted((gap for span in stretches for gap in _gaps(span, near)), key=lambda g: g.levels.length, reverse=True)
    faults = [_too_wide(design, cavity, edge, gap, up) for gap in gaps if not at_most(gap.levels.length, up.number)]
    if faults:
        return min(faults, key=lambda fault: SEVERITIES.index(fault.severity))
    widest = gaps[0].levels.length
    text = f"ties {design.figures.measure(widest)} apart at most"
    return found("pass", edge.place, text, measured=widest, most=up.number, source=up)


def _from_its_bed(cavity: Cavity, at: float, stretch: Span) -> Span:
    """A stretch from the foot of the wall up, begun at the middle of the bed it stands on: rows are counted from bed to bed."""
    foot = max(leaf.base.level_right_of(at) for leaf in (cavity.outer, cavity.inner))
    if stretch.start > foot + TOLERANCE:
        return stretch
    return Span(min(foot + cavity.outer.zones[0].unit.bed / 2, stretch.end), stretch.end)


def _gaps(span: Span, near: Sequence[Tie]) -> Iterator[_Gap]:
    """The gaps up a stretch, ends included."""
    rows = Counter(tie.level for tie in near if span.contains(tie.level))
    stations = [(span.start, None), *sorted(rows.items()), (span.end, None)]
    for (low, under), (high, over) in pairwise(stations):
        yield _Gap(Span(low, high), max(under or 0, over or 0) >= 2, under is None and over is None)


def _too_wide(design: Design, cavity: Cavity, edge: _Edge, gap: _Gap, up: Sourced) -> Finding:
    """What is said of a gap over the limit: a fault, unless there is no room for a tie, or no bed and ties in pairs instead."""
    room = _longest(cavity.standing(gap.levels.middle), edge)
    if room < ROOM:
        text = f"only {design.figures.measure(room)} of both leaves beside it: no room for a tie"
        return found("note", edge.place, text, measured=room, least=ROOM)
    severity, why = _excuse(design, cavity, edge, gap, room)
    text = f"{design.figures.measure(gap.levels.length)} without a tie, over {design.figures.level(gap.levels.start)}{why}"
    return found(severity, edge.place, text, measured=gap.levels.length, most=up.number, source=up)


def _excuse(design: Design, cavity: Cavity, edge: _Edge, gap: _Gap, room: float) -> tuple[Severity, str]:
    """How grave a gap with room for a tie is, and why: nothing excuses one with a bed of both leaves in it."""
    beds = beds_in_common(design, cavity.outer, cavity.inner)
    inside = [bed.tie for bed in beds if gap.levels.start < bed.levels.start and bed.levels.end < gap.levels.end]
    if any(_longest(cavity.solid(at), edge) >= ROOM for at in inside):
        return "fail", ""
    if any(_longest(cavity.standing(at), edge) >= ROOM for at in inside):
        none = ": no bed of both leaves there clear of the lintel"
        return ("note", f"{none}, so ties in pairs next to it") if gap.pairs else ("warn", none)
    field = rule(design, FIELD)
    if field is None or not at_most(gap.levels.length, field.number):
        beside = any(body.along.overlaps(edge.reach) and body.levels.overlaps(gap.levels) for body in cavity.bodies)
        return "warn" if beside else "fail", ": no bed of both leaves there" + (" beside the lintel" if beside else "")
    if gap.bare:
        return "warn", ": no bed of both leaves there"
    if gap.pairs:
        return "note", ": no bed of both leaves there, so ties in pairs next to it"
    rows = {tie.level for tie in cavity.ties} & {gap.levels.start, gap.levels.end}
    room = min(room, max(_longest(cavity.solid(at), edge) for at in rows))
    if room < ROOM_FOR_TWO:
        little = f"no more than {design.figures.measure(room)} of both leaves beside it, no room for two ties in one bed"
        return "warn", f": no bed of both leaves there, and {little}"
    return "fail", ": no bed of both leaves there, nor a pair of ties next to it"


def _longest(stretches: Sequence[Span], edge: _Edge) -> float:
    """The longest of some stretches within reach of an edge."""
    return max((common.length for span in stretches if (common := span.common(edge.reach))), default=0.0)
