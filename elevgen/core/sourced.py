"""A value that never travels without its source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, cast

Status = Literal["read", "quoted", "memory", "derived", "practice"]
STATUSES: tuple[Status, ...] = ("read", "quoted", "memory", "derived", "practice")

Bands = tuple[tuple[float, float], ...]
Items = tuple[float, ...] | tuple[str, ...]
Value = float | str | Bands | Items

STATUS_WORDS: dict[Status, str] = {
    "read": "read in the document",
    "quoted": "quoted by others",
    "memory": "from memory, check",
    "derived": "worked out from the others",
    "practice": "common practice, no source",
}
SUREST_FIRST: tuple[Status, ...] = ("read", "quoted", "derived", "practice", "memory")
"""What was read is surest. Memory is last: it says that a document has a figure and may be wrong; practice says it of none."""
OVERRIDE = "override by "
"""How the document of a value begins that a spec gives in place of the rule set's."""
GIVEN = "given in the spec"


@dataclass(frozen=True, slots=True)
class Sourced:
    """One rule value with document, edition, clause and how it is known.

    `value` is a number in `unit`, a word, a table of (up to, value) bands, or a list of sizes or words.
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
    def bands(self) -> Bands:
        """The value as a table of (up to, value) bands; TypeError for anything else."""
        if not self.is_bands:
            raise TypeError(f"{self.key} is not a table of bands: {self.value!r}")
        return cast(Bands, self.value)

    @property
    def is_bands(self) -> bool:
        return isinstance(self.value, tuple) and all(isinstance(item, tuple) for item in self.value)

    @property
    def sizes(self) -> tuple[float, ...]:
        """The value as a list of numbers; TypeError for anything else."""
        if not isinstance(self.value, tuple) or not all(isinstance(item, int | float) for item in self.value):
            raise TypeError(f"{self.key} is not a list of sizes: {self.value!r}")
        return cast(tuple[float, ...], self.value)

    @property
    def words(self) -> tuple[str, ...]:
        """The value as a list of words; TypeError for anything else."""
        if not isinstance(self.value, tuple) or not all(isinstance(item, str) for item in self.value):
            raise TypeError(f"{self.key} is not a list of words: {self.value!r}")
        return cast(tuple[str, ...], self.value)

    @property
    def citation(self) -> str:
        """One line for people: document, edition, clause, and how it is known."""
        parts = [p for p in (self.document, self.edition, self.clause) if p]
        return f"{', '.join(parts)} ({self.known})" if parts else self.known

    @property
    def known(self) -> str:
        """How the value is known, in words; what a spec gives in place of a rule is no practice of the trade."""
        return GIVEN if self.is_given else STATUS_WORDS[self.status]

    @property
    def is_given(self) -> bool:
        """Whether a spec gives the value in place of the rule set's."""
        return self.document.startswith(OVERRIDE)


def least_sure(values: Iterable[Sourced]) -> Sourced | None:
    """The value of several that is least surely known, the first of those alike; what a spec gives is as sure as can be."""

    def doubtful(value: Sourced) -> int:
        return 0 if value.is_given else SUREST_FIRST.index(value.status)

    return max(values, key=doubtful, default=None)
