"""Sheets that say why: findings, the rule values behind everything, and the inputs as given."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from elevgen.core.sourced import STATUS_WORDS, Sourced
from elevgen.result import Design
from elevgen.takeoff.model import Takeoff
from elevgen.writers._shared import basis_of
from elevgen.writers._xlsx_model import Block, Column, Sheet, Value
from elevgen.writers._xlsx_words import SEVERITY_WORDS, value_words


def findings(design: Design) -> Sheet:
    """Every finding that is not a pass, worst first; then a line for each check that passed, and in how many places."""
    columns = (
        Column("Kind", 12),
        Column("Check", 24),
        Column("Where", 20, "wrap"),
        Column("What was found", 64, "wrap"),
        Column("Measured", 11, "value"),
        Column("Must be", 7),
        Column("Limit", 11, "value"),
        Column("Unit", 7),
        Column("Source", 44, "wrap"),
        Column("Accepted because", 30, "wrap"),
        Column("Finding", 24),
    )
    rows = tuple(
        (
            *(
                SEVERITY_WORDS[f.severity],
                f.code,
                f.where,
                f.text,
                _short(f.measured),
                f.operator or None,
                _short(f.limit),
                f.unit or None,
            ),
            *(f.source.citation if f.source else None, f.waiver, f.id),
        )
        for f in design.findings
        if f.severity != "pass"
    )
    return Sheet(
        "Findings",
        "Worst first, then in how many places a check passed. 'Not checked' means nobody has: the rule set has no value for it.",
        (Block("Findings", columns, (*rows, *_passes(design, len(columns)))),),
    )


def _passes(design: Design, width: int) -> Iterator[tuple[Value, ...]]:
    """A row of the findings' width for each check that passed anywhere."""
    for code, places in Counter(f.code for f in design.findings if f.severity == "pass").items():
        row = (SEVERITY_WORDS["pass"], code, f"{places} place{'s' if places > 1 else ''}")
        yield row + (None,) * (width - len(row))


def basis(design: Design, takeoff: Takeoff) -> Sheet:
    """Every rule value used, its source and how it is known; then what the rule set does not cover."""
    columns = (
        Column("Rule", 40),
        Column("Value", 22, "value"),
        Column("Unit", 10),
        Column("Document", 30, "wrap"),
        Column("Edition", 16, "wrap"),
        Column("Clause", 18, "wrap"),
        Column("How it is known", 24, "wrap"),
        Column("Note", 50, "wrap"),
    )
    rows = tuple(_basis_row(value) for value in basis_of(design, takeoff))
    uncovered = tuple(sorted(design.rules.not_covered.items()))
    blocks = (
        Block("Rule values used", columns, rows),
        Block("Not covered by the rule set", (Column("Rule", 40), Column("Why", 22, "wrap")), uncovered),
    )
    purpose = (
        f"Rule set {design.rules.id}, edition {design.rules.edition}. A value 'from memory' is to be checked in your own copy."
    )
    return Sheet("Basis", purpose, blocks)


def _basis_row(value: Sourced) -> tuple[Value, ...]:
    known = STATUS_WORDS[value.status]
    return (value.key, value_words(value), value.unit, value.document, value.edition, value.clause, known, value.note or None)


def inputs(design: Design) -> Sheet:
    """The spec as read, one row a value; lengths in mm."""
    columns = (Column("Field", 44), Column("Value", 80, "wrap"))
    given = design.spec.model_dump(mode="json", exclude_unset=True)
    rows = tuple(flattened(given))
    purpose = "What was asked for, as read. Lengths are millimetres. What is not listed was left to its default."
    return Sheet("Inputs", purpose, (Block("Spec", columns, rows),))


def flattened(value: object, path: str = "") -> Iterator[tuple[str, Value]]:
    """Each value below a piece of JSON with its path: `walls[0].openings[1].width`."""
    if isinstance(value, Mapping):
        for key, held in value.items():
            yield from flattened(held, f"{path}.{key}" if path else str(key))
    elif isinstance(value, list | tuple):
        for index, held in enumerate(value):
            yield from flattened(held, f"{path}[{index}]")
    elif value is None or isinstance(value, str | int | float):
        yield path, value


def _short(number: float | None) -> float | None:
    return None if number is None else round(number, 4)
