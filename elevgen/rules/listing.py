"""A rule book as rows for reading: values in the unit people use, how known, other figures, what is not covered and why."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.core.figures import Lengths, figures
from elevgen.core.measures import millimetres
from elevgen.core.sourced import STATUS_WORDS, Sourced, Status
from elevgen.rules.book import RuleBook
from elevgen.rules.keys import KEYS
from elevgen.rules.subjects import asked_for, in_order, subject
from elevgen.rules.telling import meaning_of, told

Record = dict[str, object]


class RuleRow(NamedTuple):
    """One rule value. `told`: it in the unit people use; `others`: what other documents say; `why`: why this one.

    `value` and `unit` are those of the key.
    """

    key: str
    subject: str
    meaning: str
    told: str
    source: Sourced
    others: tuple[Sourced, ...]
    why: str
    lengths: Lengths

    @property
    def value(self) -> str:
        return plain(self.source)

    @property
    def unit(self) -> str:
        return "" if self.source.unit == "word" else self.source.unit

    @property
    def known(self) -> str:
        """How the value is known, in words."""
        return STATUS_WORDS[self.source.status]

    @property
    def differing(self) -> tuple[Sourced, ...]:
        """The other figures that are not the value."""
        return tuple(other for other in self.others if other.value != self.source.value)

    @property
    def agreeing(self) -> tuple[Sourced, ...]:
        """Other documents that say the same."""
        return tuple(other for other in self.others if other.value == self.source.value)

    def record(self) -> Record:
        """The row as plain data, whole."""
        return {
            "key": self.key,
            "subject": self.subject,
            "meaning": self.meaning,
            **figure_record(self.source, self.lengths),
            "why": self.why or None,
            "alternatives": [figure_record(other, self.lengths) for other in self.others],
        }


class UncoveredRow(NamedTuple):
    """A rule the set has no value for, and why. `optional`: nothing is left unchecked by that."""

    key: str
    subject: str
    meaning: str
    reason: str
    optional: bool = False

    def record(self) -> Record:
        """The row as plain data."""
        return self._asdict()


class UnitRow(NamedTuple):
    """A unit every spec can use by name. `size`: length by width by height in words."""

    name: str
    material: str
    size: str
    source: Sourced
    length: float
    width: float
    height: float

    def record(self) -> Record:
        """The unit as plain data, sizes in mm."""
        size = {"length": self.length, "width": self.width, "height": self.height}
        source = figure_record(self.source, "mm")
        return {"name": self.name, "material": self.material, **size} | {k: source[k] for k in _CITATION}


_CITATION = ("document", "edition", "clause", "status", "known", "note")


def rule_rows(book: RuleBook, part: str = "", how: Status | None = None) -> tuple[RuleRow, ...]:
    """Every value of the book whose key or meaning holds every word of `part`, known that way; by subject."""
    keys = (key for key in in_order() if key in book.values and asked_for(key, part))
    return tuple(_row(book, key) for key in keys if how in (None, book.values[key].status))


def uncovered_rows(book: RuleBook, part: str = "") -> tuple[UncoveredRow, ...]:
    """Every key without a value whose key or meaning holds every word of `part`, by subject."""
    return tuple(
        UncoveredRow(key, subject(key), meaning_of(key, figures(book.lengths)), reason_without(book, key), KEYS[key].optional)
        for key in in_order()
        if key not in book.values and asked_for(key, part)
    )


def unit_rows(book: RuleBook, part: str = "", how: Status | None = None) -> tuple[UnitRow, ...]:
    """The units of the book whose name holds every word of `part`, by name."""
    return tuple(
        UnitRow(name, unit.material, str(unit.source.value), unit.source, unit.length, unit.width, unit.height)
        for name, unit in sorted(book.units.items())
        if asked_for(f"unit.{name} {unit.material}", part) and how in (None, unit.source.status)
    )


def reason_without(book: RuleBook, key: str) -> str:
    """Why the book has no value for a key."""
    return book.not_covered.get(key, "no value in this rule set")


def figure_record(value: Sourced, lengths: Lengths) -> Record:
    """A value with its source as plain data: as it is held, in the unit of its key, and as people say it."""
    return {
        "value": value.value,
        "unit": value.unit,
        "told": told(value, lengths),
        "document": value.document,
        "edition": value.edition,
        "clause": value.clause,
        "status": value.status,
        "known": STATUS_WORDS[value.status],
        "note": value.note,
    }


def differing(book: RuleBook, value: Sourced) -> tuple[Sourced, ...]:
    """What other documents have instead of a value of the book."""
    return tuple(other for other in book.alternatives.get(value.key, ()) if other.value != value.value)


def _row(book: RuleBook, key: str) -> RuleRow:
    value = book.values[key]
    others = book.alternatives.get(key, ())
    return RuleRow(
        key=key,
        subject=subject(key),
        meaning=meaning_of(key, figures(book.lengths)),
        told=told(value, book.lengths),
        source=value,
        others=others,
        why=book.why.get(key, ""),
        lengths=book.lengths,
    )


def plain(sourced: Sourced) -> str:
    """The value in the unit of its key, without the unit."""
    if isinstance(sourced.value, str):
        return sourced.value
    if sourced.is_bands:
        return ", ".join(f"up to {millimetres(up_to)}: {millimetres(value)}" for up_to, value in sourced.bands)
    if isinstance(sourced.value, tuple):
        return ", ".join(item if isinstance(item, str) else f"{item:g}" for item in sourced.value)
    return millimetres(sourced.value, 4)
