"""Beds meet round bonded corners, and the two leaves of a cavity wall come to common beds."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Leaf, Meeting
from elevgen.checks._cavities import Cavity, cavities
from elevgen.checks._finding import BUILDING, Place, at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.coursing.model import Course
from elevgen.result import Design, Finding, Severity

CODE = "beds-meet"
TITLE = "Beds that meet"
RATIONALE = (
    "Courses bond round a corner only where the beds of both walls are at one level; "
    "and a tie lies in both leaves of a cavity wall only where their beds are."
)
KEY, UP = "tie.beds.tolerance", "tie.spacing.vertical"
MANY = 6
"""Up to so many levels are named one by one."""


class _Off(NamedTuple):
    """How far a bed of one leaf is from the nearest of the other, and its level."""

    by: float
    level: float


def check(design: Design) -> Iterator[Finding]:
    """The beds of the leaf with taller courses against those of the other, over the levels both have: one finding a place.

    At a bonded corner further off than the tolerance fails. Leaves across a cavity may differ between the beds of their
    ties: a note where they come to a common bed as often as ties are asked for, a warning where they do not.
    """
    tolerance = rule(design, KEY)
    if tolerance is None:
        yield uncovered(design, BUILDING, KEY)
        return
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    bonded = [m for m in design.building.meetings if m.kind == "corner" and m.connection == "bonded"]
    for meeting in bonded:
        yield _at_corner(design, leaves[meeting.host], leaves[meeting.stem], meeting, tolerance)
    across = list(cavities(design))
    for cavity in across:
        yield _across(design, cavity, tolerance)
    if not bonded and not across:
        yield found("pass", BUILDING, "no beds that have to meet")


def _at_corner(design: Design, a: Leaf, b: Leaf, meeting: Meeting, tolerance: Sourced) -> Finding:
    place = Place(f"{a.id} corner with {b.id}", tuple(dict.fromkeys((a.wall, b.wall))), (a.id, b.id))
    ends = (a, meeting.host_at), (b, meeting.stem_at)
    courses = [_courses(design, leaf, Span(at, at).grown(leaf.thickness)) for leaf, at in ends]
    differences = _differences(*courses)
    if not differences:
        return found("pass", place, "no beds at one level to meet")
    worst = max(differences)
    meets = at_most(worst.by, tolerance.number)
    if meets:
        text = f"beds meet at the corner{_within(design.figures, worst)}"
    else:
        text = f"beds do not meet at the corner, up to {_worst(design.figures, worst)}: courses cannot be bonded round it there"
    return found("pass" if meets else "fail", place, text, measured=worst.by, most=tolerance.number, source=tolerance)


def _across(design: Design, cavity: Cavity, tolerance: Sourced) -> Finding:
    place = at_wall(cavity.wall)
    differences = _differences(*(_courses(design, leaf, cavity.span) for leaf in (cavity.outer, cavity.inner)))
    if not differences:
        return found("pass", place, "no beds at one level to meet")
    worst = max(differences)
    common = sorted(off.level for off in differences if at_most(off.by, tolerance.number))
    apart, below = max((high - low, low) for low, high in pairwise([cavity.levels.start, *common, cavity.levels.end]))
    up = rule(design, UP)
    severity: Severity = "pass"
    text = f"beds of the two leaves meet{_within(design.figures, worst)}"
    if not at_most(worst.by, tolerance.number):
        enough = up is not None and at_most(apart, up.number)
        severity = "note" if enough else "warn"
        text = f"beds of the two leaves do not meet, up to {_worst(design.figures, worst)}; "
        if enough:
            text += f"some do, {design.figures.measure(apart)} from each other at most"
        else:
            text += f"none does for {design.figures.measure(apart)} over {design.figures.level(below)}, where no tie lies level"
        text += (
            f"; apart at {_named(design.figures, (off.level for off in differences if not at_most(off.by, tolerance.number)))}"
        )
    also = () if severity == "pass" else (up,)
    return found(severity, place, text, measured=worst.by, most=tolerance.number, source=tolerance, also=also)


def _named(figures: Figures, levels: Iterable[float]) -> str:
    """Every level once where they are few; else the first ones, how many more and the last."""
    found = sorted({round(y, 1) for y in levels})
    if len(found) <= MANY:
        return listed([figures.level(y) for y in found])
    first = ", ".join(map(figures.level, found[: MANY - 1]))
    return f"{first} and {len(found) - MANY + 1} more levels up to {figures.level(found[-1])}"


def _within(figures: Figures, off: _Off) -> str:
    return f" within {figures.measure(off.by)}" if off.by > TOLERANCE else ""


def _worst(figures: Figures, off: _Off) -> str:
    return f"{figures.measure(off.by)} apart at {figures.level(off.level)}"


def _courses(design: Design, leaf: Leaf, over: Span) -> list[Course]:
    """The courses a leaf has over a stretch, from the bottom up."""
    return [course for course in design.coursing.of(leaf.id).courses if course.span.overlaps(over)]


def _differences(a: Sequence[Course], b: Sequence[Course]) -> list[_Off]:
    """How far off the nearest bed of the other leaf is, for each bed that has no lower a course at it than the other leaf there.

    A bed between low courses need not be met by tall ones: bricks course with blocks at every third bed.
    """
    return [off for one, other in ((a, b), (b, a)) if a and b for off in _against(one, other)]


def _against(courses: Sequence[Course], others: Sequence[Course]) -> Iterator[_Off]:
    beds = [course.level for course in others] + [others[-1].top]
    for under, over in pairwise(courses):
        bed = over.level
        n = bisect_left(beds, bed - TOLERANCE)
        if not beds[0] + TOLERANCE < bed < beds[-1] - TOLERANCE:
            continue
        if at_least(max(under.height, over.height), others[n - 1].height):
            yield min(_Off(abs(bed - other), bed) for other in beds[n - 1 : n + 1])
