"""Wall ties in a table: of each kind how many, in which beds, where along them."""

from __future__ import annotations

from collections import defaultdict

from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.model import LeafCoursing
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import numbers, places
from elevgen.drawing.tables import Column, Row, Table
from elevgen.fittings.model import Tie, TieKind

KINDS: dict[TieKind, str] = {
    "field": "field",
    "reveal": "at reveals",
    "joint": "at joints",
    "end": "at ends, steps",
    "verge": "under the top",
    "partition": "to walls met",
    "slip": "slip, across joints",
}


def ties_on(facts: LeafFacts) -> tuple[Tie, ...]:
    """The ties that lie in this leaf."""
    if facts.ties is None:
        return ()
    return tuple(t for t in facts.ties.ties if facts.leaf.span.contains(t.at) and t.leaf in (None, facts.leaf.id))


def tie_table(facts: LeafFacts) -> Table:
    """Rows of ties that stand at the same places together; each in the bed on top of the courses named.

    A tie in no bed of this leaf lies in one of the other: the course is told by that leaf's numbers.
    """
    columns = (Column("ties", 17), Column("on course", 22), Column("at", 45), Column("no.", 8, "right"))
    rows = []
    ties = ties_on(facts)
    for kind, words in KINDS.items():
        of_level: defaultdict[float, list[float]] = defaultdict(list)
        for tie in ties:
            if tie.kind == kind:
                of_level[tie.level].append(tie.at)
        together: defaultdict[tuple[float, ...], list[float]] = defaultdict(list)
        for level in sorted(of_level):
            together[tuple(sorted(of_level[level]))].append(level)
        for n, (at, levels) in enumerate(together.items()):
            cells = (words if n == 0 else "", _beds(facts, levels), places(facts.figures, at), f"{len(at) * len(levels)}")
            rows.append(Row(cells, facts.wall.id))
    return Table(_title(facts), columns, tuple(rows))


def _title(facts: LeafFacts) -> str:
    """How many there are, and how long."""
    length = facts.ties.length if facts.ties else None
    long = f", {facts.figures.length(length)} long" if length is not None else ""
    return f"Wall ties, {len(ties_on(facts))} in this leaf{long}"


def _beds(facts: LeafFacts, levels: list[float]) -> str:
    """The courses under beds at these levels; those in no bed of this leaf by the other one's courses, else by themselves."""
    said: list[str] = []
    left = levels
    for whose, coursing in (("", facts.coursing), *((f"{side} leaf ", coursing) for side, coursing in facts.across)):
        courses = {level: course for level in left if (course := _course_under(coursing, level)) is not None}
        said += [f"{whose}{numbers(courses.values())}"] if courses else []
        left = [level for level in left if level not in courses]
    return "; ".join((*said, *map(facts.figures.level, left)))


def _course_under(coursing: LeafCoursing, level: float) -> int | None:
    """The course in whose bed above a level lies: from its top to the next one's units."""
    above = {c.number - 1: c.level for c in coursing.courses}
    for course in coursing.courses:
        if course.top - TOLERANCE <= level <= above.get(course.number, course.top) + TOLERANCE:
            return course.number
    return None
