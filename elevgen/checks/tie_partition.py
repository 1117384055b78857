"""A wall tied to the side or the end of another has its ties in beds of both, close enough from bottom to top."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from elevgen.building.model import Leaf, Meeting
from elevgen.checks._beds import leaf_beds
from elevgen.checks._cavities import bodies_of, in_body
from elevgen.checks._finding import BUILDING, Place, at_leaf, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._tie_beds import beds_in_common, lies_in
from elevgen.checks._words import counted
from elevgen.core.geometry import Rect, Span, at_most
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tie
from elevgen.result import Design, Finding

CODE = "tie-partition"
TITLE = "Ties of a wall to the wall it meets"
RATIONALE = "A partition that is not toothed in is held by its ties alone; left out at the top, it cracks away from the wall."
UP, TOGETHER = "tie.partition.vertical", "tie.beds.tolerance"
NEAR = 1.0
"""A tie within this (mm) of the end of its leaf is at that end."""


def check(design: Design) -> Iterator[Finding]:
    """Each end tied to another wall, and each single-leaf wall bonded into the side of one: its ties from bottom to top."""
    up = rule(design, UP)
    placed = [tie for ties in design.fittings.ties for tie in ties.ties if tie.kind == "partition"]
    tied = [meeting for meeting in design.building.meetings if _tied(design, meeting)]
    for meeting in tied:
        stem, host = design.building.leaf(meeting.stem), design.building.leaf(meeting.host)
        place = at_leaf(stem).part(f"to {host.id}")
        if up is None:
            yield uncovered(design, place, UP)
            continue
        end = min((stem.span.start, stem.span.end), key=lambda at: abs(at - meeting.stem_at))
        here = [tie for tie in placed if tie.leaf == stem.id and abs(tie.at - end) <= NEAR]
        bodies = [body for body in bodies_of(design, stem) if body.along.contains(end)]
        bodies += [body for body in bodies_of(design, host) if body.along.contains(meeting.host_at)]
        yield _judged(design, place, (stem, host), _levels(meeting, stem, host, end), here, bodies, up)
    if not tied:
        yield found("pass", BUILDING, "no wall is tied to the side of another")


def _tied(design: Design, meeting: Meeting) -> bool:
    if meeting.kind == "cross" or not meeting.continuous:
        return False
    single = len(design.building.wall(design.building.leaf(meeting.stem).wall).leaves) == 1
    return meeting.connection == "tied" or (meeting.kind == "tee" and single)


def _levels(meeting: Meeting, stem: Leaf, host: Leaf, end: float) -> Span:
    """The height over which both have masonry where they meet."""
    inside = Span(end - NEAR, end) if end == stem.span.end else Span(end, end + NEAR)
    at = meeting.host_at
    return Span(
        max(stem.base.highest(inside), host.base.level_right_of(at)),
        min(stem.top.lowest(inside), host.top.level_right_of(at)),
    )


def _judged(
    design: Design,
    place: Place,
    leaves: tuple[Leaf, Leaf],
    levels: Span,
    here: Sequence[Tie],
    bodies: Sequence[Rect],
    up: Sourced,
) -> Finding:
    """`bodies`: the lintels in the place of units of either leaf where they meet; no tie lies in a bed there."""
    tolerance = rule(design, TOGETHER)
    off = tolerance.number if tolerance else 0.0
    beds = [leaf_beds(design, leaf) for leaf in leaves]
    loose = sum(
        1
        for tie in here
        if not all(lies_in(of_leaf, tie.level, off) for of_leaf in beds) or any(in_body(body, tie.level) for body in bodies)
    )
    rows = sorted(tie.level for tie in here if levels.contains(tie.level))
    gap = max((Span(a, b) for a, b in pairwise([levels.start, *rows, levels.end])), key=lambda g: g.length)
    if not at_most(gap.length, up.number):
        text = f"{design.figures.measure(gap.length)} without a tie, over {design.figures.level(gap.start)}"
        common = beds_in_common(design, *leaves)
        shared = (bed.levels for bed in common if not any(in_body(body, bed.tie) for body in bodies))
        if any(gap.start < bed.start and bed.end < gap.end for bed in shared):
            return found("fail", place, text, measured=gap.length, most=up.number, source=up)
        return found("warn", place, f"{text}: no bed of both there", measured=gap.length, most=up.number, source=up)
    if loose:
        text = f"{loose} of {counted(len(here), 'tie')} not in a bed of both walls: change a level or a unit"
        return found("warn", place, text, measured=float(loose), most=0.0, unit="nr", source=tolerance)
    text = f"{counted(len(here), 'tie')}, {design.figures.measure(gap.length)} apart at most"
    return found("pass", place, text, measured=gap.length, most=up.number, source=up)
