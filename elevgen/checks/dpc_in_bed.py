"""A damp-proof course lies in a bed joint."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._damp import at_course, beds_of
from elevgen.checks._finding import BUILDING, found
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.fittings.model import DampCourse
from elevgen.result import Design, Finding

CODE = "dpc-in-bed"
TITLE = "Damp-proof courses in a bed"
RATIONALE = "A sheet cannot be built through a brick: it lies between two courses, so its level must be that of a bed joint."


def check(design: Design) -> Iterator[Finding]:
    """Each damp-proof course against the beds of its leaf; under the lowest course and under a coping will do too."""
    for course in design.fittings.damp_courses:
        yield _judged(design, design.building.leaf(course.leaf), course)
    if not design.fittings.damp_courses:
        yield found("pass", BUILDING, "no damp-proof course to lie anywhere")


def _judged(design: Design, leaf: Leaf, course: DampCourse) -> Finding:
    place = at_course(course)
    if any(bed.contains(course.level) for bed in beds_of(design, leaf)) or _at_top(leaf, course):
        return found("pass", place, f"in the bed at {design.figures.level(course.level)}")
    cut = next((c for c in design.coursing.of(leaf.id).courses if c.level < course.level < c.top), None)
    starts = [bed.start for bed in beds_of(design, leaf)]
    below = max((at for at in starts if at < course.level), default=None)
    above = min((at for at in starts if at > course.level), default=None)
    near = " and ".join(design.figures.level(at) for at in (below, above) if at is not None)
    into = (
        f"{design.figures.measure(course.level - cut.level)} up the units of course {cut.number}" if cut else "past the masonry"
    )
    text = f"the damp-proof course at {design.figures.level(course.level)} falls {into}: the nearest beds are at {near or 'none'}"
    return found("warn", place, text)


def _at_top(leaf: Leaf, course: DampCourse) -> bool:
    """True when it lies on the masonry, along a level or a sloping top."""
    over = course.span.common(leaf.span) or Span(course.span.start, course.span.start)
    return course.level >= leaf.top.lowest(over) - TOLERANCE
