"""A value that never travels without its source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Status = Literal["read", "quoted", "memory", "derived", "practice"]
STATUSES: tuple[Status, ...] = ("read", "quoted", "memory", "derived", "practice")

Value = float | str | tuple[tuple[float, float], ...]

STATUS_WORDS: dict[Status, str] = {
    "read": "read in the document",
    "quoted": "quoted by others",
    "memory": "from memory, check",
    "derived": "worked out from the others",
    "practice": "common practice, no source",
}


@dataclass(frozen=True, slots=True)
class Sourced:
    """One rule value with document, edition, clause and how it is known.

    `value` is a number in `unit`, a word, or a table of (up to, value) bands.
    """

    key: str
    value: Value
    unit: str
    document: str
    edition: str
    clause: str
    status: Status
    note: str = ""

    @property
    def number(self) -> float:
        """The value as a number; TypeError for words and tables."""
        if not isinstance(self.value, int | float):
            raise TypeError(f"{self.key} is not a number: {self.value!r}")
        return float(self.value)

    @property
    def citation(self) -> str:
        """One line for people: document, edition, clause, and how it is known."""
        parts = [p for p in (self.document, self.edition, self.clause) if p]
        known = STATUS_WORDS[self.status]
        return f"{', '.join(parts)} ({known})" if parts else known
