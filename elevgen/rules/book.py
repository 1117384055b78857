"""A rule set in hand: values by key, and a reader that remembers which of them were used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from elevgen.core.errors import RuleNotCovered
from elevgen.core.figures import Figures, Lengths, figures
from elevgen.core.sourced import Sourced


@dataclass(frozen=True, slots=True)
class CatalogueUnit:
    """A unit every spec of the country can use by name: work size in mm, mass in kg if told, and where the size is from.

    `joint`, `bed`: its perpends and its beds (mm) where they are not the rule set's.
    """

    name: str
    material: str
    length: float
    height: float
    width: float
    source: Sourced
    mass: float | None = None
    joint: float | None = None
    bed: float | None = None


@dataclass(frozen=True, slots=True)
class RuleBook:
    """A country's rules as loaded, overrides applied. `lineage` is the set and the parents it extends;
    `lengths` how lengths and all else people read are written: as its country does, or as the sheet of a spec asks;
    `why` says of values that documents differ on why this one."""

    id: str
    title: str
    edition: str
    lineage: tuple[str, ...]
    values: Mapping[str, Sourced]
    units: Mapping[str, CatalogueUnit]
    alternatives: Mapping[str, tuple[Sourced, ...]]
    not_covered: Mapping[str, str]
    lengths: Lengths = "mm"
    why: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def get(self, key: str) -> Sourced:
        """The value of a key. Raises RuleNotCovered when the set has none."""
        try:
            return self.values[key]
        except KeyError:
            raise RuleNotCovered(self.id, key) from None

    def has(self, key: str) -> bool:
        return key in self.values


class RuleReader:
    """Reads a rule book and remembers every value read, for the design's `values_used`.

    One reader lives for one design and is passed to the stages; it is the only thing in the house that remembers.
    """

    def __init__(self, book: RuleBook) -> None:
        self.book = book
        self.figures: Figures = figures(book.lengths)
        self._used: dict[str, Sourced] = {}

    def get(self, key: str) -> Sourced:
        """The sourced value. Raises RuleNotCovered."""
        value = self.book.get(key)
        self._used[key] = value
        return value

    def number(self, key: str) -> float:
        """The value as a number. Raises RuleNotCovered; TypeError for a word or a table."""
        return self.get(key).number

    def find(self, key: str) -> Sourced | None:
        """The sourced value, or None where the set does not cover it."""
        return self.get(key) if self.book.has(key) else None

    def used(self) -> tuple[Sourced, ...]:
        """Every value read so far, by key."""
        return tuple(self._used[key] for key in sorted(self._used))
