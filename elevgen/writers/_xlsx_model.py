"""A workbook as plain data: sheets of blocks, a block one heading and one table of values. No file format here."""

from __future__ import annotations

from typing import Literal, NamedTuple

Value = str | float | int | bool | None
"""What a cell may hold. None leaves it empty."""

CellKind = Literal["text", "wrap", "line", "nr", "mm", "level", "area", "amount", "percent", "value"]
"""How a column is shown: a name, running text, text on one line that may run on to the right, whole numbers, mm,
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


class Sheet(NamedTuple):
    """One sheet: its name on the tab, what it is for, and its tables one under another.

    `frozen` keeps the first table's headings in sight.
    """

    name: str
    purpose: str
    blocks: tuple[Block, ...]
    frozen: bool = True


def amount(value: float, unit: str) -> float | int:
    """A quantity for a cell: a whole number where things are counted."""
    return round(value) if unit == "nr" else round(value, 4)


def yes(flag: bool) -> str:
    """A flag in words."""
    return "yes" if flag else "no"
