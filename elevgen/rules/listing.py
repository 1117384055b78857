"""A rule book as plain rows for reading: values, sources, how known, what is not covered."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.core.figures import METRIC, Figures
from elevgen.core.measures import millimetres
from elevgen.core.sourced import STATUS_WORDS, Sourced
from elevgen.rules.book import RuleBook
from elevgen.rules.keys import KEYS


class RuleRow(NamedTuple):
    """One rule value for people: `known` says in words how it is known, `alternatives` what other documents say."""

    key: str
    meaning: str
    value: str
    unit: str
    document: str
    edition: str
    clause: str
    known: str
    note: str
    alternatives: tuple[str, ...]


class UncoveredRow(NamedTuple):
    """A rule the set has no value for, and why."""

    key: str
    meaning: str
    reason: str


def rule_rows(book: RuleBook, part: str = "") -> tuple[RuleRow, ...]:
    """Every value of the book whose key holds `part`, in the order keys are declared."""
    return tuple(_row(book, key) for key in KEYS if key in book.values and part in key)


def uncovered_rows(book: RuleBook, part: str = "") -> tuple[UncoveredRow, ...]:
    """Every key without a value whose name holds `part`, in the order keys are declared."""
    return tuple(
        UncoveredRow(key, declared.meaning, book.not_covered.get(key, "no value in this rule set"))
        for key, declared in KEYS.items()
        if key not in book.values and part in key
    )


def value_text(sourced: Sourced, figures: Figures = METRIC) -> str:
    """The value with its unit, for reading (`12000 mm`, `2.5 per_m2`, `up to 75: 200, up to 100: 225 mm`, `39' 4 7/16"`)."""
    if figures.in_feet and isinstance(sourced.value, int | float):
        return figures.measure(sourced.value) if sourced.unit == "mm" else figures.few(sourced.value, sourced.unit, 6)
    words = _plain(sourced)
    return words if sourced.unit == "word" else f"{words} {sourced.unit}"


def _row(book: RuleBook, key: str) -> RuleRow:
    value = book.values[key]
    return RuleRow(
        key=key,
        meaning=KEYS[key].meaning,
        value=_plain(value),
        unit="" if value.unit == "word" else value.unit,
        document=value.document,
        edition=value.edition,
        clause=value.clause,
        known=STATUS_WORDS[value.status],
        note=value.note,
        alternatives=tuple(_alternative(other) for other in book.alternatives.get(key, ())),
    )


def _alternative(other: Sourced) -> str:
    return f"{value_text(other)}, {other.citation}" + (f"; {other.note}" if other.note else "")


def _plain(sourced: Sourced) -> str:
    if isinstance(sourced.value, str):
        return sourced.value
    if sourced.is_bands:
        return ", ".join(f"up to {millimetres(up_to)}: {millimetres(value)}" for up_to, value in sourced.bands)
    if isinstance(sourced.value, tuple):
        return ", ".join(item if isinstance(item, str) else f"{item:g}" for item in sourced.value)
    return millimetres(sourced.value, 4)
