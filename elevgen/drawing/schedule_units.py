"""Gauge and units of a leaf in tables."""

from __future__ import annotations

from elevgen.core.figures import Figures
from elevgen.core.measures import MM_PER_INCH
from elevgen.coursing.model import Course
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import counted
from elevgen.drawing.tables import Column, Row, Table

INCH = float(MM_PER_INCH)


def gauge_table(facts: LeafFacts) -> Table:
    """Which courses are laid to which gauge."""
    columns = (Column("unit", 30), Column("courses", 16), Column("bed", 10, "right"), Column("gauge", 30, "right"))
    rows = []
    for first, last in _alike(facts.coursing.courses):
        gauge = first.bed + first.height
        count = last.number - first.number + 1
        told = min(count, _told(gauge, facts.figures))
        rise = f"{counted(told, 'course')} = {facts.figures.length(gauge * told)}"
        numbers = f"{first.number}" if count == 1 else f"{first.number}-{last.number}"
        rows.append(Row((first.unit, numbers, facts.figures.length(first.bed), rise), facts.leaf.id))
    return Table("Gauge", columns, tuple(rows))


def _told(gauge: float, figures: Figures) -> int:
    """Of how many courses a gauge is told: as few as come to whole inches where lengths are in inches, else four."""
    whole = (n for n in range(1, 7) if figures.step != 1.0 and abs(gauge * n / INCH - round(gauge * n / INCH)) < 0.001)
    return next(whole, 4)


def unit_table(facts: LeafFacts) -> Table:
    """How many of each unit are laid whole and cut."""
    columns = (Column("unit", 50), Column("whole", 20, "right"), Column("cut pieces", 20, "right"))
    rows = tuple(Row((count.unit, f"{count.full}", f"{count.cut}"), facts.leaf.id) for count in facts.coursing.counts)
    return Table("Units as laid, without waste", columns, rows)


def _alike(courses: tuple[Course, ...]) -> list[tuple[Course, Course]]:
    """First and last of courses in a row of one unit, bed and height."""
    found: list[tuple[Course, Course]] = []
    for course in courses:
        if found:
            first, last = found[-1]
            same = course.unit == first.unit and abs(course.bed - first.bed) < 0.05 and abs(course.height - first.height) < 0.05
            if same and course.number == last.number + 1:
                found[-1] = (first, course)
                continue
        found.append((course, course))
    return found
