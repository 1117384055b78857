"""A damp-proof course lies high enough above the ground outside."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf, Profile
from elevgen.checks._damp import at_course, beds_of, courses_of
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import listed
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import DampCourse
from elevgen.result import Design, Finding

CODE = "dpc-above-ground"
TITLE = "Height of damp-proof courses above the ground"
RATIONALE = "Rain splashes off the ground, and soil and paving get heaped against a wall: wet over the sheet goes on up the wall."
KEY = "dpc.above_ground"


def check(design: Design) -> Iterator[Finding]:
    """Each damp-proof course at the foot of a wall against the highest ground outside it (NHBC craftsmanship guide, quoted).

    Walls whose ground the spec does not give are named in one finding: the height stays to be looked at there.
    """
    least = rule(design, KEY)
    unknown = []
    for wall in design.building.walls:
        leaf = design.building.leaf(wall.leaves[0])
        courses = courses_of(design, leaf, "base")
        if wall.internal or not (courses or wall.ground):
            continue
        if least is None:
            yield uncovered(design, at_leaf(leaf), KEY)
        elif wall.ground is None:
            unknown.append(wall.id)
        elif courses:
            for course in courses:
                yield _judged(design, leaf, course, wall.ground, least)
        else:
            yield found("warn", at_leaf(leaf), "stands at the ground given and has no damp-proof course")
    if unknown and least is not None:
        asked = f"{design.figures.measure(least.number)} at least above ground or paving is asked"
        text = f"not looked at: the spec gives no ground outside {listed(unknown)}; {asked}"
        yield found("not_checked", BUILDING, text, source=least)
    if least is None or not any(courses_of(design, leaf, "base") for leaf in design.building.leaves):
        yield found("pass", BUILDING, "no damp-proof course at the foot of a wall outside")


def _judged(design: Design, leaf: Leaf, course: DampCourse, ground: Profile, least: Sourced) -> Finding:
    over = course.span.common(leaf.span) or leaf.span
    high = ground.highest(over)
    measured = course.level - high
    text = f"{design.figures.measure(measured)} above the ground, which is at {design.figures.level(high)} at its highest there"
    if at_least(measured, least.number):
        return found("pass", at_course(course), text, measured=measured, least=least.number, source=least)
    bed = next((bed.start for bed in beds_of(design, leaf) if bed.start >= high + least.number - TOLERANCE), None)
    remedy = f"the first bed high enough is at {design.figures.level(bed)}; " if bed is not None else ""
    text = f"only {text}: {remedy}lower the ground, or step the damp-proof course up there"
    return found("fail", at_course(course), text, measured=measured, least=least.number, source=least)
