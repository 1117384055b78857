"""The foot of every leaf has a damp-proof course all along, lapped wherever it ends and goes on."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from elevgen.building.model import Leaf
from elevgen.checks._damp import at_course, courses_of, straight, unit_gauge
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._masonry import joints_by_leaf
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most, subtract
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import DampCourse
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "dpc-continuous"
TITLE = "Damp-proof courses without gaps"
RATIONALE = "Water finds the one gap: the sheet runs on under doors and through movement joints, and laps wherever it is pieced."
LAP, ROLL = "dpc.lap", "dpc.roll_length"
DATUM = 0.0
RISE = 150.0
"""Over a base founded higher the sheet lies two brick courses up (common practice), in the first bed of the leaf there (mm)."""


def check(design: Design) -> Iterator[Finding]:
    """Each leaf founded at or below the datum, or partly: what of its foot has no damp-proof course; and each course's laps."""
    lap, roll = rule(design, LAP), rule(design, ROLL)
    joints = joints_by_leaf(design)
    for leaf in design.building.leaves:
        courses = courses_of(design, leaf, "base")
        bare = _without(_foot(leaf), courses)
        if bare:
            longest = max(bare, key=lambda span: span.length)
            where = f"{design.figures.length(longest.start)} to {design.figures.length(longest.end)}"
            text = f"no damp-proof course from {where}" + (f", and in {len(bare) - 1} more places" if len(bare) > 1 else "")
            yield found("fail", at_leaf(leaf), text, measured=sum(span.length for span in bare), most=0.0)
        elif courses:
            yield found("pass", at_leaf(leaf), "a damp-proof course all along its foot")
    if roll is None and lap is not None and design.fittings.damp_courses:
        yield uncovered(design, BUILDING, ROLL)
    for course in design.fittings.damp_courses:
        if lap is None:
            yield uncovered(design, at_course(course), LAP)
        else:
            yield _laps(design.figures, course, joints[course.leaf], lap, roll)
    if not design.fittings.damp_courses:
        for leaf in design.building.leaves:
            if not _foot(leaf):
                yield found("pass", at_leaf(leaf), "stands higher than the damp-proof course")


def _without(foot: list[Span], courses: list[DampCourse]) -> list[Span]:
    """What of the foot no course lies along."""
    return [left for span in foot for left in subtract(span, (course.span for course in courses))]


def _foot(leaf: Leaf) -> list[Span]:
    """Where the leaf is founded at or below the datum and goes on over it, and what of it is founded higher beside that.

    Openings that reach below the sheet are left out, and of what is founded higher whatever ends within two courses over it.
    """
    pieces = [(Span(a[0], b[0]), max(a[1], b[1])) for a, b in straight(leaf.base, leaf.span)]
    if not any(base <= DATUM + TOLERANCE for _, base in pieces):
        return []
    return [left for piece, base in pieces for left in _standing(leaf, piece, base)]


def _standing(leaf: Leaf, piece: Span, base: float) -> tuple[Span, ...]:
    """Where a damp-proof course can lie over one level stretch of the base."""
    raised = base > DATUM + TOLERANCE
    at = Span(base, base + RISE + 2 * unit_gauge(leaf, base)) if raised else Span(DATUM, DATUM)
    if leaf.top.lowest(piece) <= at.end + TOLERANCE:
        return ()
    return subtract(piece, [v.along for v in leaf.voids if v.bottom < at.end - TOLERANCE and v.top > at.start + TOLERANCE])


def _laps(figures: Figures, course: DampCourse, joints: tuple[MovementJoint, ...], lap: Sourced, roll: Sourced | None) -> Finding:
    place = at_course(course)
    if course.lap is None or not at_least(course.lap, lap.number):
        text = "no lap is known" if course.lap is None else f"laps {figures.measure(course.lap)}"
        text += f": {figures.measure(lap.number)} is asked"
        return found("fail", place, text, measured=course.lap, least=lap.number if course.lap is not None else None, source=lap)
    passed = [j for j in joints if j.levels.contains(course.level) and _inside(j.gap, course.span)]
    ends = _roll_ends(course.length, roll.number, course.lap) if roll else 0
    needed = len(passed) + ends
    if course.laps < needed:
        reasons = f"{counted(len(passed), 'movement joint')} and {counted(ends, 'end of a roll', 'ends of rolls')}"
        text = f"{counted(course.laps, 'lap')}: {reasons} ask for {needed}"
        return found("fail", place, text, measured=float(course.laps), least=float(needed), unit="nr", source=lap, also=(roll,))
    text = f"{counted(course.laps, 'lap')} of {figures.measure(course.lap)}"
    return found("pass", place, text, measured=course.lap, least=lap.number, source=lap, also=(roll,))


def _inside(gap: Span, span: Span) -> bool:
    return gap.start > span.start + TOLERANCE and gap.end < span.end - TOLERANCE


def _roll_ends(length: float, roll: float, lap: float) -> int:
    """How many times rolls have to be joined: each after the first adds what it has beyond its lap."""
    if at_most(length, roll) or roll <= lap:
        return 0
    return ceil((length - roll - TOLERANCE) / (roll - lap))
