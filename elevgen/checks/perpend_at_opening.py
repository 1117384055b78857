"""No perpend stands in line with an opening's corner just over its head or under its sill, or over the end of a lintel."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening
from elevgen.checks._finding import at_leaf, at_opening, found
from elevgen.checks._heads import SLIVER, edges
from elevgen.checks._laid import LaidWork
from elevgen.checks._lap_limits import lap_limit
from elevgen.checks._masonry import stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.checks.stack_bond import UNLAPPED
from elevgen.core.geometry import TOLERANCE, Span, at_least
from elevgen.core.sourced import Sourced
from elevgen.coursing.model import Course
from elevgen.result import Design, Finding

CODE = "perpend-at-opening"
TITLE = "Perpends at the corners of openings and the ends of lintels"
RATIONALE = (
    "Cracks start at the corners of openings and the ends of lintels. A perpend in line with one is a straight joint for the "
    "crack to run up; a whole unit across it is not."
)
CORNER, COURSES, LINTEL = "bond.opening.clear", "bond.opening.courses", "bond.lintel_end.clear"


class _Near(NamedTuple):
    """The perpend nearest to a line: how far off, in which course, what the line and its limit are, and
    the level of the head or sill."""

    lack: float
    off: float
    course: int
    what: str
    least: Sourced
    line: float
    level: float


def check(design: Design) -> Iterator[Finding]:
    """Each opening in each leaf: the perpends of the courses over its head and under its sill against its corners' lines, those
    of the course on its lintel against the lintel's ends; how near the nearest is, and why it stands there."""
    corner, courses, lintel_end = (rule(design, key) for key in (CORNER, COURSES, LINTEL))
    for leaf in design.building.leaves:
        openings = design.building.wall(leaf.wall).openings
        if not openings:
            continue
        if leaf.bond == UNLAPPED:
            yield found("note", at_leaf(leaf), "stack bond: its perpends are in line all the way up")
            continue
        if corner is None or courses is None or lintel_end is None:
            yield uncovered(design, at_opening(leaf, *openings), CORNER, COURSES, LINTEL)
            continue
        work = LaidWork(design, leaf.id)
        for opening in openings:
            near = [
                *_at_corners(leaf, opening, work, round(courses.number), corner),
                *_at_lintel_ends(design, leaf, opening, work, lintel_end),
            ]
            if near:
                yield _judged(leaf, opening, near, work, design)


def _at_corners(leaf: Leaf, opening: Opening, work: LaidWork, count: int, least: Sourced) -> Iterator[_Near]:
    for edge in edges(leaf, opening):
        if not edge.along:
            continue
        corners = [
            (side, at)
            for side, at in (("left", opening.rect.left), ("right", opening.rect.right))
            if _masonry_beside(leaf, at, edge.level, edge.head, opening.rect.along)
        ]
        for course in _courses(work.coursing.courses, edge.level, edge.head)[:count]:
            lines = work.lines(course.number)
            for side, at in corners:
                where = "over the head" if edge.head else "under the sill"
                what = f"the line of the {side} corner, in course {course.number} {where}"
                yield from _nearest(lines, at, edge.level, course, what, least)


def _masonry_beside(leaf: Leaf, at: float, level: float, head: bool, along: Span) -> bool:
    """Whether masonry goes on beside the opening at this corner, level with it and past it."""
    past = Span(level, level + SLIVER) if head else Span(level - SLIVER, level)
    beside = Span(level - SLIVER, level) if head else Span(level, level + SLIVER)
    outside = at - SLIVER if at <= along.middle else at + SLIVER
    near = Span(outside - SLIVER, outside + SLIVER)
    return all(any(s.start < outside < s.end for s in stretches(leaf, levels, near=near)) for levels in (past, beside))


def _at_lintel_ends(design: Design, leaf: Leaf, opening: Opening, work: LaidWork, least: Sourced) -> Iterator[_Near]:
    tolerance = rule(design, "bed.tolerance")
    bed = tolerance.number if tolerance else 0.0
    for lintel in design.fittings.lintels:
        if lintel.leaf != leaf.id or opening.id not in lintel.openings:
            continue
        top = lintel.level if lintel.body is None else lintel.body.top + bed
        for course in _courses(work.coursing.courses, top, True)[:1]:
            lines = work.lines(course.number)
            left = "left", lintel.span.start, lintel.clear.start, max(opening.rect.left, leaf.span.start)
            right = "right", lintel.span.end, lintel.clear.end, min(opening.rect.right, leaf.span.end)
            for side, at, reveal, own in (left, right):
                if abs(at - reveal) > TOLERANCE and abs(reveal - own) <= TOLERANCE:
                    what = f"the {side} end of the lintel, in course {course.number} {'over' if lintel.body else 'on'} it"
                    yield from _nearest(lines, at, top, course, what, least)


def _courses(courses: Sequence[Course], level: float, over: bool) -> list[Course]:
    """The courses over a level from the lowest, or under it from the highest."""
    if over:
        return [c for c in courses if c.top > level + TOLERANCE]
    return [c for c in reversed(courses) if c.level < level - TOLERANCE]


def _nearest(lines: Sequence[float], at: float, level: float, course: Course, what: str, least: Sourced) -> Iterator[_Near]:
    after = bisect_left(lines, at)
    off = min((abs(line - at) for line in lines[max(after - 1, 0) : after + 1]), default=None)
    if off is not None:
        yield _Near(least.number - off, off, course.number, what, least, at, level)


def _judged(leaf: Leaf, opening: Opening, near: Sequence[_Near], work: LaidWork, design: Design) -> Finding:
    worst = max(near, key=lambda n: (n.lack, -n.course))
    many = sum(not at_least(n.off, n.least.number) for n in near)
    place, also = at_opening(leaf, opening), [rule(design, key) for key in (CORNER, COURSES, LINTEL)]
    text = f"nearest perpend {design.figures.measure(worst.off)} from {worst.what}"
    if not many:
        return found("pass", place, text, measured=worst.off, least=worst.least.number, source=worst.least, also=also)
    text += f"; too near in {counted(many, 'place')}: {_why(leaf, worst, work, design)}"
    return found("warn", place, text, measured=worst.off, least=worst.least.number, source=worst.least, also=also)


def _why(leaf: Leaf, near: _Near, work: LaidWork, design: Design) -> str:
    """What keeps the perpend there: units that end at an edge off the courses, no other place that laps, or too many cuts."""
    course = next(c for c in work.coursing.courses if c.number == near.course)
    if course.level + TOLERANCE < near.level < course.top - TOLERANCE:
        edge = "lintel's top" if near.what.endswith("over it") else "opening's edge"
        return f"the {edge} does not land on a course, and the units cut in height end there"
    unit = next(u for u in design.building.units if u.name == course.unit)
    fraction = rule(design, "bond.lap.fraction")
    lap = lap_limit(design, unit, fraction).least if fraction else 0.0
    others = [*work.lines(near.course - 1), *work.lines(near.course + 1)]
    clear = near.least.number
    places = (*(near.line + side * clear for side in (-1, 1)), *(other + side * lap for other in others for side in (-1, 1)))
    near_by = (at for at in places if at_least(abs(at - near.line), clear) and abs(at - near.line) < unit.module / 2)
    if any(all(at_least(abs(at - other), lap) for other in others) for at in near_by):
        return "another place would need more cut units than it is worth"
    return "the perpends over and under it leave no place near by that laps them"
