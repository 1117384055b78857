"""Lintels in a table: over what, where, bearings; how deep and heavy where that is known."""

from __future__ import annotations

from elevgen.core.measures import millimetres
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import NOT_CALCULATED, several
from elevgen.drawing.tables import Column, Row, Table
from elevgen.fittings.model import Lintel


def lintel_table(facts: LeafFacts) -> Table:
    """Lintels from the lowest up. The soffit is the level of the underside."""
    columns = [
        Column("Lintel", 16),
        Column("over", 14),
        Column("from", 12, "right"),
        Column("length", 12, "right"),
        Column("bearings", 17, "right"),
        Column("soffit", 14, "right"),
    ]
    deep = any(lintel.depth is not None for lintel in facts.lintels)
    heavy = any(lintel.mass is not None for lintel in facts.lintels)
    columns += [Column("depth", 17, "right")] * deep + [Column(facts.figures.unit("kg").name, 8, "right")] * heavy
    rows = []
    for lintel in facts.lintels:
        cells = [
            facts.short(lintel.id),
            several(lintel.openings),
            facts.figures.length(lintel.span.start),
            facts.figures.length(lintel.length),
            f"{bearing(facts, lintel.bearing_start)} / {bearing(facts, lintel.bearing_end)}",
            facts.figures.level(lintel.underside),
        ]
        cells += [_deep(facts, lintel)] * deep + [_mass(facts, lintel)] * heavy
        rows.append(Row(tuple(cells), lintel.id))
    return Table("Lintels", tuple(columns), tuple(rows))


def bearing(facts: LeafFacts, length: float) -> str:
    """How far a lintel goes past a reveal, or how far short of it one stops that is listed so."""
    return facts.figures.length(length) if length >= 0 else f"{facts.figures.length(-length)} short"


def _deep(facts: LeafFacts, lintel: Lintel) -> str:
    """`140, 2 c.`: in place of two courses."""
    if lintel.depth is None:
        return NOT_CALCULATED
    return facts.figures.length(lintel.depth) + (f", {lintel.courses} c." if lintel.courses else "")


def _mass(facts: LeafFacts, lintel: Lintel) -> str:
    return NOT_CALCULATED if lintel.mass is None else millimetres(facts.figures.unit("kg").of(lintel.mass), 0)
