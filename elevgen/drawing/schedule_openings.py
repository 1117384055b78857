"""Openings, and what the wall is built of from level to level, in tables."""

from __future__ import annotations

from elevgen.drawing.facts import LeafFacts
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
