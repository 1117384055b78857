"""Two rule sets key by key: where both have a value, one, or none; each value as its own country writes it."""

from __future__ import annotations

from math import isclose
from typing import NamedTuple

from elevgen.core.sourced import Sourced, Status
from elevgen.rules.book import RuleBook
from elevgen.rules.keys import KEYS
from elevgen.rules.listing import Record, figure_record, reason_without
from elevgen.rules.subjects import asked_for, in_order, subject
from elevgen.rules.telling import told


class Side(NamedTuple):
    """What one set has for a key: its value and that told, or the reason why it has none."""

    set: str
    told: str
    source: Sourced | None
    reason: str

    def record(self) -> Record:
        """The side as plain data; `value` is None where the set has none."""
        if self.source is None:
            return {"value": None, "reason": self.reason}
        return figure_record(self.source, "mm") | {"told": self.told}


class ComparedRow(NamedTuple):
    """One key in two sets."""

    key: str
    subject: str
    meaning: str
    sides: tuple[Side, Side]

    @property
    def differs(self) -> bool:
        """Whether a design would come out otherwise: another value, or one in one set only."""
        first, second = (side.source for side in self.sides)
        if first is None or second is None:
            return first is not second
        return not same_value(first.value, second.value)

    @property
    def held_by(self) -> str:
        """`both`, `none`, or the set that alone has a value."""
        having = [side.set for side in self.sides if side.source is not None]
        return "both" if len(having) == 2 else having[0] if having else "none"

    def record(self) -> Record:
        """The row as plain data."""
        sides = {side.set: side.record() for side in self.sides}
        return {"key": self.key, "subject": self.subject, "meaning": self.meaning, "differs": self.differs} | {
            "held_by": self.held_by,
            "sets": sides,
        }


def compared(
    first: RuleBook, second: RuleBook, part: str = "", how: Status | None = None, *, everything: bool = False
) -> tuple[ComparedRow, ...]:
    """Every key that holds every word of `part` and differs between the sets, or all of them; by subject.

    `how`: only keys for which one of the sets knows its value that way.
    """
    rows = (
        ComparedRow(key, subject(key), KEYS[key].meaning, (_side(first, key), _side(second, key)))
        for key in in_order()
        if asked_for(key, part)
    )
    return tuple(
        row
        for row in rows
        if (everything or row.differs)
        and (how is None or any(side.source is not None and side.source.status == how for side in row.sides))
    )


def same_value(one: object, other: object) -> bool:
    """Whether two values are the same rule, whatever unit their documents print."""
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(same_value(a, b) for a, b in zip(one, other, strict=True))
    if isinstance(one, int | float) and isinstance(other, int | float):
        return isclose(one, other, rel_tol=1e-6, abs_tol=1e-12)
    return one == other


def _side(book: RuleBook, key: str) -> Side:
    value = book.values.get(key)
    if value is None:
        return Side(book.id, "", None, reason_without(book, key))
    return Side(book.id, told(value, book.lengths), value, "")
