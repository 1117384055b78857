"""Openings, levels and what the wall is built of from level to level, in tables."""

from __future__ import annotations

from collections import defaultdict

from elevgen.coursing.model import Course
from elevgen.drawing.dims import heights
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import NOT_CALCULATED, several
from elevgen.drawing.tables import Column, Row, Table


def opening_table(facts: LeafFacts) -> Table:
    """Every opening: what it is, where, how wide, from which level to which; drawn small it has no room for that."""
    columns = (
        Column("Opening", 20),
        Column("kind", 15),
        Column("from", 13, "right"),
        Column("width", 13, "right"),
        Column("sill", 15, "right"),
        Column("head", 15, "right"),
    )
    rows = tuple(
        Row(
            (
                o.id,
                o.kind,
                facts.figures.length(o.rect.left),
                facts.figures.length(o.rect.width),
                facts.figures.level(o.rect.bottom),
                facts.figures.level(o.rect.top),
            ),
            o.id,
        )
        for o in sorted(facts.openings, key=lambda o: (o.rect.left, o.rect.bottom))
    )
    return Table("Openings", columns, rows)


def level_table(facts: LeafFacts) -> Table:
    """Base, damp-proof courses, sills, heads and tops: level, height from the bottom, and the course whose top it is."""
    columns = (
        Column("level", 13, "right"),
        Column("from bottom", 17, "right"),
        Column("top of course", 18, "right"),
        Column("what", 45),
    )
    named: defaultdict[float, list[str]] = defaultdict(list)
    for course in facts.damp_courses:
        named[course.level].append("damp-proof course")
    for group in facts.groups:
        named[group.clear.bottom].append(f"sill {several(group.openings)}")
        named[group.clear.top].append(f"head {several(group.openings)}")
    levels: list[float] = []
    for level in sorted({*heights(facts), *named}):
        if facts.face.bottom - 1.0 <= level <= facts.face.top + 1.0 and not (levels and level - levels[-1] <= 1.0):
            levels.append(level)
    rows = []
    for level in levels:
        what = dict.fromkeys(words for at in sorted(named) if abs(at - level) <= 1.0 for words in named[at])
        ends = "base" if level == levels[0] else "top" if level == levels[-1] else ""
        said = ", ".join(filter(None, (ends, *what))) or "step or turn"
        height = facts.figures.length(level - facts.face.bottom)
        rows.append(Row((facts.figures.level(level), height, _top_of(facts.coursing.courses, level), said), facts.leaf.id))
    return Table("Levels", columns, tuple(rows))


def _top_of(courses: tuple[Course, ...], level: float) -> str:
    """The course a level is the top of, the bed on it included."""
    for course in courses:
        if -1.0 <= level - course.top <= max(1.0, course.bed):
            return f"{course.number}"
    return NOT_CALCULATED


def zone_table(facts: LeafFacts) -> Table:
    """Which unit the leaf is built of from level to level, and its size; nothing where it is one unit throughout."""
    columns = (
        Column("unit", 30),
        Column("from", 14, "right"),
        Column("to", 14, "right"),
        Column("length × height × width", 35, "right"),
    )
    rows = []
    for zone in facts.leaf.zones:
        unit, length = zone.unit, facts.figures.length
        bottom, top = max(zone.levels.start, facts.face.bottom), min(zone.levels.end, facts.face.top)
        size = f"{length(unit.length)} × {length(unit.height)} × {length(unit.width)}"
        if top > bottom:
            rows.append(Row((unit.name, facts.figures.level(bottom), facts.figures.level(top), size), facts.leaf.id))
    return Table("What it is built of", columns, tuple(rows) if len(rows) > 1 else ())
