"""Cavity trays in a table: over what, where, at which level, their stopped ends and weeps."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.core.geometry import TOLERANCE
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import counted, places
from elevgen.drawing.tables import Column, Row, Table
from elevgen.fittings.model import Tray

LEAST_STEPS = 3
"""So many trays that step down one line share a row; fewer have one each."""


def tray_table(facts: LeafFacts) -> Table:
    """Trays in order along the wall; a row of trays that step down a sloping line as one."""
    columns = (
        Column("Tray", 17),
        Column("from", 12, "right"),
        Column("length", 12, "right"),
        Column("level", 15, "right"),
        Column("stops", 8, "right"),
        Column("weeps at", 30),
    )
    rows = []
    for line in tray_lines(facts.trays):
        rows += [_stepped(facts, line)] if len(line) >= LEAST_STEPS else [_single(facts, tray) for tray in line]
    return Table("Cavity trays", columns, tuple(rows))


def tray_lines(trays: tuple[Tray, ...]) -> Iterator[tuple[Tray, ...]]:
    """Trays that step up or down one after another, from the left; any other tray by itself."""
    line: list[Tray] = []
    for tray in sorted(trays, key=lambda t: (t.kind != "step", t.span, t.level)):
        if line and not _goes_on(line, tray):
            yield tuple(line)
            line = []
        line.append(tray)
    if line:
        yield tuple(line)


def _goes_on(line: list[Tray], tray: Tray) -> bool:
    """True when a tray is the next step, the same way up or down as those before."""
    last = line[-1]
    if last.kind != "step" or tray.kind != "step" or not last.span.grown(TOLERANCE).overlaps(tray.span):
        return False
    return len(line) < 2 or (last.level > line[-2].level) == (tray.level > last.level)


def _single(facts: LeafFacts, tray: Tray) -> Row:
    cells = (
        facts.short(tray.id),
        facts.figures.length(tray.span.start),
        facts.figures.length(tray.span.length),
        facts.figures.level(tray.level),
        f"{tray.stop_ends}",
        _weeps(facts, (tray,)),
    )
    return Row(cells, tray.id)


def _stepped(facts: LeafFacts, line: tuple[Tray, ...]) -> Row:
    """First and last, from where to where, the levels of both, and what a step rises."""
    first, last = line[0], line[-1]
    start, end = min(t.span.start for t in line), max(t.span.end for t in line)
    rises = sorted({facts.figures.length(abs(b.level - a.level), 0) for a, b in pairwise(line)}, key=lambda x: (len(x), x))
    steps = f"{counted(len(line), 'tray')}, each {' or '.join(rises)} {'higher' if last.level > first.level else 'lower'}"
    cells = (
        f"{facts.short(first.id)} to {facts.short(last.id).removeprefix('T-')}",
        facts.figures.length(start),
        facts.figures.length(end - start),
        f"{facts.figures.level(first.level)} to {facts.figures.level(last.level)}",
        f"{sum(t.stop_ends for t in line)}",
        "; ".join(filter(None, (steps, _weeps(facts, line)))),
    )
    return Row(cells, first.id)


def _weeps(facts: LeafFacts, line: tuple[Tray, ...]) -> str:
    """Where a perpend is left open; where none is near, a slot is cut."""
    open_at = sorted(at for tray in line for at in tray.weeps if at not in tray.cut_weeps)
    cut = sorted(at for tray in line for at in tray.cut_weeps)
    said = [places(facts.figures, open_at)] if open_at else []
    said += [f"cut at {places(facts.figures, cut)}"] if cut else []
    return "; ".join(said)
