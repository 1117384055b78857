"""A workbook as plain data: sheets of blocks, a block one heading and one table of values. No file format here."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Generic, Literal, NamedTuple, TypeVar

T = TypeVar("T")
Value = str | float | int | bool | None
"""What a cell may hold. None leaves it empty."""

CellKind = Literal["text", "wrap", "note", "nr", "mm", "level", "area", "amount", "percent", "value"]
"""How a column is shown: a name, running text, unframed text on one line that may run on to the right, whole numbers, mm,
a level in m, m2, a quantity, per cent, or as it is."""


class Column(NamedTuple):
    """A column of a table: heading, width in characters, and how its cells are shown."""

    heading: str
    width: float
    kind: CellKind = "text"


class Block(NamedTuple):
    """A table with a line of text over it; without column headings when all are empty. An empty table says so in one row."""

    heading: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]

    @property
    def headed(self) -> bool:
        return any(column.heading for column in self.columns)


class Field(NamedTuple, Generic[T]):
    """A column of a table of things: how it is headed and shown, and what it says of each."""

    heading: str
    width: float
    kind: CellKind
    of: Callable[[T], Value]


Fields = tuple[Field[T], ...]


class Sheet(NamedTuple):
    """One sheet: its name on the tab, what it is for, and its tables one under another.

    `frozen` keeps the first table's headings in sight.
    """

    name: str
    purpose: str
    blocks: tuple[Block, ...]
    frozen: bool = True


def table(heading: str, fields: Fields[T], things: Iterable[T]) -> Block:
    """A row for every thing, a column for every field."""
    columns = tuple(Column(field.heading, field.width, field.kind) for field in fields)
    return Block(heading, columns, tuple(tuple(field.of(thing) for field in fields) for thing in things))


def notes(heading: str, lines: Iterable[str], width: float) -> Block:
    """Lines under a heading, with no frame round them."""
    return Block(heading, (Column("", width, "note"),), tuple((line,) for line in lines))


def amount(value: float, unit: str) -> float | int:
    """A quantity for a cell: a whole number where things are counted."""
    return round(value) if unit == "nr" else round(value, 4)


def yes(flag: bool) -> str:
    """A flag in words."""
    return "yes" if flag else "no"
