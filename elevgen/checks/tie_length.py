"""Wall ties are long enough for the cavity and an embedment in each leaf, and no longer than the leaves can hold."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._cavities import Cavity, cavities
from elevgen.checks._finding import at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

CODE = "tie-length"
TITLE = "Length of wall ties"
RATIONALE = "A tie too short for its cavity is not held in one of the leaves; one too long comes through the face."
TABLE, EMBEDMENT, COVER = "tie.length", "tie.embedment", "tie.cover"


def check(design: Design) -> Iterator[Finding]:
    """The length of each wall's ties: against the cavity and two embedments, the table of cavities, and what the leaves hold."""
    table, embedment = rule(design, TABLE), rule(design, EMBEDMENT)
    for cavity in cavities(design):
        width = cavity.wall.cavity
        if width is None or (embedment is None and (table is None or not table.is_bands)):
            yield uncovered(design, at_wall(cavity.wall), TABLE, EMBEDMENT)
        else:
            yield _judged(design, cavity, width, table, embedment)


def _judged(design: Design, cavity: Cavity, width: float, table: Sourced | None, embedment: Sourced | None) -> Finding:
    place = at_wall(cavity.wall)
    length = cavity.given.length if cavity.given else None
    if length is None:
        text = f"no length of tie is given for a cavity of {design.figures.measure(width)}"
        return found("not_checked", place, text, source=table or embedment, also=(embedment,))
    said = f"ties {design.figures.measure(length)} long across {design.figures.measure(width)}"
    least = width if embedment is None else width + 2 * embedment.number
    if embedment is not None and not at_least(length, least):
        text = f"{said}: no more than {design.figures.measure((length - width) / 2)} in each leaf"
        return found("fail", place, text, measured=length, least=least, source=embedment)
    listed = next((size for up_to, size in table.bands if at_most(width, up_to)), None) if table and table.is_bands else None
    if listed is not None and not at_least(length, listed):
        return found("fail", place, f"{said}, shorter than the table has it", measured=length, least=listed, source=table)
    cover = rule(design, COVER)
    held = _held(cavity, cover.number) if cover else None
    if cover and held is not None and not at_most(length - width, held):
        mortar = design.figures.measure(cover.number)
        room = f"the two leaves hold {design.figures.measure(held)} with {mortar} of mortar over each end"
        return found("note", place, f"{said}: {room}", measured=length, most=width + held, source=cover, also=(table, embedment))
    if any(value is None for value in (table, embedment, cover)):
        return uncovered(design, place, TABLE, EMBEDMENT, COVER)
    if listed is None:
        return found("not_checked", place, f"{said}: wider than any in the table")
    return found("pass", place, said, measured=length, least=max(listed, least), source=table, also=(embedment, cover))


def _held(cavity: Cavity, cover: float) -> float:
    """How much of a tie the two leaves hold between them with mortar over both its ends."""
    return cavity.outer.thickness + cavity.inner.thickness - 2 * cover
