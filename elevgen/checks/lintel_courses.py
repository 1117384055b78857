"""Every lintel lies on a bed of its leaf, and one in the place of units comes level with a course at its top."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, LeafEnd
from elevgen.checks._finding import at_fitting, found
from elevgen.checks._rules import rule
from elevgen.checks._words import counted, listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_least, at_most
from elevgen.coursing.model import Course
from elevgen.fittings.model import Lintel
from elevgen.result import Design, Finding

CODE = "lintel-courses"
TITLE = "Lintels among the courses"
RATIONALE = (
    "A lintel whose underside or top is off the beds needs units cut in height under its bearings or over its back, "
    "where they carry most; another head or another depth saves all of that."
)


class _Leaf(NamedTuple):
    """A leaf's courses, how far a bed may differ, and the least height of a unit cut in height."""

    leaf: Leaf
    courses: Sequence[Course]
    tolerance: float
    split: float


def check(design: Design) -> Iterator[Finding]:
    """Underside and top of each lintel against the beds as laid; what one in the place of units runs into.

    Off a bed: a warning with the course to cut or make up and the nearest that would do. Where there is no room: a failure.
    """
    tolerance, split = rule(design, "bed.tolerance"), rule(design, "coursing.split.min")
    for lintel in design.fittings.lintels:
        courses = design.coursing.of(lintel.leaf).courses
        leaf = design.building.leaf(lintel.leaf)
        of = _Leaf(leaf, courses, tolerance.number if tolerance else TOLERANCE, split.number if split else TOLERANCE)
        wrong = [*_underside(design.figures, lintel, of), *_top(design.figures, lintel, of), *_no_room(design, lintel, of)]
        yield from wrong
        if not wrong:
            counts = f", in place of {counted(lintel.courses, 'course')}" if lintel.courses else ""
            yield found("pass", at_fitting(lintel), f"lies on a bed{counts}")


def _underside(figures: Figures, lintel: Lintel, of: _Leaf) -> Iterator[Finding]:
    """Where no bed lies at it: the course that is in the way at both bearings, and the nearest heads that a bed lies at."""
    course = _split(of.courses, lintel.level)
    if course is None:
        return
    left = lintel.level - course.bed - course.level
    text = (
        f"its underside at {figures.level(lintel.level)} comes "
        f"{figures.measure(lintel.level - course.level)} up course {course.number}: "
        f"under both bearings {_cut_under(figures, left, course, lintel, of)}; "
        f"over a head at {figures.level(course.level)} or {figures.level(course.top)} it would lie on a bed"
    )
    near = min((course.level, course.top), key=lambda y: (abs(y - lintel.level), y))
    yield found("warn", at_fitting(lintel), text, measured=lintel.level, exactly=near)


def _cut_under(figures: Figures, left: float, course: Course, lintel: Lintel, of: _Leaf) -> str:
    if at_least(left, of.split):
        return f"cut that course to {figures.measure(left)}"
    return f"leave that course out and make the bed up to {figures.measure(lintel.level - course.level + course.bed)}"


def _top(figures: Figures, lintel: Lintel, of: _Leaf) -> Iterator[Finding]:
    """Where the top of one in the place of units is level with no course: the course over it, and the depths that would be."""
    body = lintel.body
    if body is None or any(abs(c.top - body.top) <= of.tolerance for c in of.courses):
        return
    foot, fitting = _depths(body, of.courses)
    if any(abs(depth - body.height) <= of.tolerance for depth in fitting):
        return  # its underside is what is off
    near = [
        max((d for d in fitting if d < body.height), default=None),
        min((d for d in fitting if d > body.height), default=None),
    ]
    depths = [d for d in near if d]
    said = [figures.length(d) for d in depths[:-1]] + [figures.measure(d) for d in depths[-1:]]
    would = listed(said).replace(" and ", " or ")
    over = next((c for c in of.courses if c.top > body.top), None)
    on_bed = "" if abs(foot - body.bottom) <= TOLERANCE else ", on a bed,"
    text = f"{figures.measure(body.height)} deep its top at {figures.level(body.top)} is level with no course"
    text += f": {_cut_over(figures, body, over, of)}" if over else ""
    text += f"; a depth of {would}{on_bed} would be" if would else ""
    best = min((d for d in near if d), key=lambda d: (abs(d - body.height), d), default=None)
    yield found("warn", at_fitting(lintel), text, measured=body.height, exactly=best)


def _depths(body: Rect, courses: Sequence[Course]) -> tuple[float, list[float]]:
    """The depths whose top is level with a course, and the underside they are counted from: on a bed, the next one up."""
    foot = next((c.level for c in courses if at_most(body.bottom, c.level)), body.bottom)
    return foot, [c.top - foot for c in courses if c.top > foot + TOLERANCE]


def _cut_over(figures: Figures, body: Rect, over: Course, of: _Leaf) -> str:
    left = over.top - body.top - over.bed
    if at_least(left, of.split):
        return f"cut course {over.number} to {figures.measure(left)} over it"
    after = next((c for c in of.courses if c.number == over.number + 1), None)
    thick = (after.level if after else over.top) - body.top
    return f"make the bed over it up to {figures.measure(thick)} in place of course {over.number}"


def _split(courses: Sequence[Course], at: float) -> Course | None:
    """The course that a level lies in; None in or at a bed."""
    return next((c for c in courses if c.level + TOLERANCE < at < c.top - TOLERANCE), None)


def _no_room(design: Design, lintel: Lintel, of: _Leaf) -> Iterator[Finding]:
    """What one in the place of units runs into: an opening over it, the top of the wall, another lintel, the bond of a corner."""
    body = lintel.body
    if body is None:
        return
    openings = [o.id for o in design.building.wall(lintel.wall).openings if _meet(body, o.rect)]
    beside = (x for x in design.fittings.lintels if x.leaf == lintel.leaf and x is not lintel)
    others = [x.id for x in beside if (taken := x.body) and _meet(body, taken)]
    within = body.along.common(of.leaf.span)
    over = body.top - of.leaf.top.lowest(within) if within else 0.0
    said = [f"runs into {listed(openings)}"] * bool(openings) + [f"takes the same place as {listed(others)}"] * bool(others)
    corners = [end.other or "" for end in _corners(of.leaf) if _into(body, end)]
    said += [f"runs into the corner{'s' * (len(corners) > 1)} with {listed(corners)}"] * bool(corners)
    said += [f"is {design.figures.measure(over)} higher than the wall over it"] * (over > TOLERANCE)
    if said:
        yield found("fail", at_fitting(lintel), f"{design.figures.measure(body.height)} deep it {listed(said)}: no room for it")


def _corners(leaf: Leaf) -> list[LeafEnd]:
    return [end for end in (leaf.start_end, leaf.finish_end) if end.kind == "corner" and end.connection == "bonded"]


def _into(body: Rect, end: LeafEnd) -> bool:
    """Whether it takes the place of units that the other wall of a corner brings through in every other course."""
    return body.along.overlaps(Span(min(end.near, end.far), max(end.near, end.far)))


def _meet(one: Rect, other: Rect) -> bool:
    return one.along.overlaps(other.along) and one.levels.overlaps(other.levels)
