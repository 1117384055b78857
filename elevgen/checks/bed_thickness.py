"""Beds of one leaf are alike: none far off the average of the beds round it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import at_most
from elevgen.core.sourced import Sourced
from elevgen.coursing.model import Course
from elevgen.result import Design, Finding

CODE = "bed-thickness"
TITLE = "Beds of even thickness"
RATIONALE = (
    "A bed much thicker than those round it shows in the face, squeezes and settles while it is soft, and is weaker when hard."
)
KEY = "bed.tolerance"
ROUND = 8
"""Beds in succession whose average each is held to (LABC Warranty technical manual v8)."""


class _Bed(NamedTuple):
    """A bed under a course, and how far it is off the average of the beds in succession with it, at worst."""

    course: int
    thickness: float
    off: float


def check(design: Design) -> Iterator[Finding]:
    """Every bed of a leaf, measured between its courses, against any eight in succession it is one of; fewer where fewer are.

    Beds under one kind of unit are held to each other only. One finding a leaf.
    """
    tolerance = rule(design, KEY)
    if tolerance is None:
        yield uncovered(design, BUILDING, KEY)
        return
    for leaf in design.building.leaves:
        yield _judged(design.figures, leaf, _beds(design.coursing.of(leaf.id).courses), tolerance)


def _judged(figures: Figures, leaf: Leaf, beds: Sequence[_Bed], tolerance: Sourced) -> Finding:
    if not beds:
        return found("pass", at_leaf(leaf), "no beds")
    worst = max(beds, key=lambda bed: bed.off)
    uneven = [bed for bed in beds if not at_most(bed.off, tolerance.number)]
    if not uneven:
        thin, thick = (end(bed.thickness for bed in beds) for end in (min, max))
        alike = figures.length(thin) == figures.length(thick)
        text = f"beds {'of' if alike else 'from'} {figures.range(thin, thick)}"
        return found("pass", at_leaf(leaf), text, measured=worst.off, most=tolerance.number, source=tolerance)
    text = f"the bed under course {worst.course} is {figures.measure(worst.thickness)}, "
    text += f"{figures.measure(worst.off)} off the average of {counted(min(ROUND, len(beds)), 'bed')} in succession"
    if len(uneven) > 1:
        text += f"; {len(uneven)} beds are more than {figures.measure(tolerance.number)} off theirs"
    return found("warn", at_leaf(leaf), text, measured=worst.off, most=tolerance.number, source=tolerance)


def _beds(courses: Sequence[Course]) -> list[_Bed]:
    under = [*(course.bed for course in courses[:1]), *(over.level - below.top for below, over in pairwise(courses))]
    found: list[_Bed] = []
    for _, group in groupby(zip(courses, under, strict=True), key=lambda pair: pair[0].unit):
        stack = list(group)
        found += [_Bed(course.number, bed, _off([b for _, b in stack], i)) for i, (course, bed) in enumerate(stack)]
    return found


def _off(beds: Sequence[float], i: int) -> float:
    """The most a bed differs from the average of any so many in succession that it is one of."""
    size = min(ROUND, len(beds))
    starts = range(max(0, i - size + 1), min(i, len(beds) - size) + 1)
    return max(abs(beds[i] - sum(beds[k : k + size]) / size) for k in starts)
