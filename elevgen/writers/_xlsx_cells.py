"""Where cells are: tables by name, cells by sheet, row and column, and how a formula spells them."""

from __future__ import annotations

from typing import NamedTuple, Protocol

Scalar = str | float | bool | None
"""What a cell is found to hold. None: it is empty."""


class Table(NamedTuple):
    """A table of the workbook: the name of its sheet and the line over it."""

    sheet: str
    heading: str


class Here(NamedTuple):
    """Where a formula stands: its table, and its row in that table from 0."""

    table: Table
    row: int


class At(NamedTuple):
    """A cell by sheet, row and column, from 0."""

    sheet: str
    row: int
    column: int


class Grid(Protocol):
    """Where cells are, and what they hold."""

    def at(self, table: Table, column: str, row: int) -> At:
        """The cell of a table; rows from 0, counted from the end when negative."""
        ...

    def named(self, name: str) -> At:
        """The cell a defined name stands for."""
        ...

    def holds(self, cell: At) -> Scalar:
        """What the cell shows: a value as it is, a formula as worked out."""
        ...


def column_letters(column: int) -> str:
    """`A` for column 0, `AB` for column 27."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def a1(cell: At, sheet: str, fixed: bool = False) -> str:
    """A reference to a cell, with its sheet where that is another."""
    mark = "$" if fixed else ""
    place = f"{mark}{column_letters(cell.column)}{mark}{cell.row + 1}"
    return place if cell.sheet == sheet else f"{_quoted(cell.sheet)}!{place}"


def _quoted(sheet: str) -> str:
    return sheet if sheet.isalnum() else "'" + sheet.replace("'", "''") + "'"
