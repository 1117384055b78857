"""Formulas as trees: the text a spreadsheet reads and the value it will find come from the same tree.

Cells are named by table and column, and found by a `Grid` once every table has its place. Only plain A1 references and
functions every spreadsheet has had for decades. Text in a cell counts as nothing in a sum, and never enters arithmetic.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass

from elevgen.writers._xlsx_cells import At, Grid, Here, Scalar, Table, a1


class Expr(ABC):
    """A part of a formula. Sums and the like are made with `+ - * /`, numbers and text as they are."""

    @abstractmethod
    def text(self, grid: Grid, here: Here) -> str:
        """As a spreadsheet reads it, without the leading sign."""

    @abstractmethod
    def value(self, grid: Grid, here: Here) -> Scalar:
        """What a spreadsheet makes of it."""

    def __add__(self, other: Part) -> Expr:
        return _Sign(self, "+", expr(other))

    def __sub__(self, other: Part) -> Expr:
        return _Sign(self, "-", expr(other))

    def __mul__(self, other: Part) -> Expr:
        return _Sign(self, "*", expr(other))

    def __truediv__(self, other: Part) -> Expr:
        return _Sign(self, "/", expr(other))

    def equals(self, other: Part) -> Expr:
        return _Sign(self, "=", expr(other))

    def above(self, other: Part) -> Expr:
        return _Sign(self, ">", expr(other))


Part = Expr | str | float
BINDS = {"=": 0, ">": 0, "+": 1, "-": 1, "*": 2, "/": 2}


def expr(part: Part) -> Expr:
    """A number or text as a part of a formula."""
    return part if isinstance(part, Expr) else Given(part)


def number(value: Scalar) -> float:
    """What arithmetic makes of a cell: an empty one is nothing. Raises ValueError for text: no formula of ours may meet it."""
    if isinstance(value, str):
        raise ValueError(f"text in arithmetic: {value!r}")
    return float(value or 0)


@dataclass(frozen=True, slots=True)
class Given(Expr):
    given: str | float

    def text(self, grid: Grid, here: Here) -> str:
        return f"{self.given:.12g}" if not isinstance(self.given, str) else '"' + self.given.replace('"', '""') + '"'

    def value(self, grid: Grid, here: Here) -> Scalar:
        return self.given


class One(Expr):
    """Anything that stands for a single cell."""

    @abstractmethod
    def cell(self, grid: Grid, here: Here) -> At:
        """The cell it stands for."""

    def text(self, grid: Grid, here: Here) -> str:
        return a1(self.cell(grid, here), here.table.sheet)

    def value(self, grid: Grid, here: Here) -> Scalar:
        return grid.holds(self.cell(grid, here))


@dataclass(frozen=True, slots=True)
class Own(One):
    """The cell of this row in another column of the same table."""

    column: str

    def cell(self, grid: Grid, here: Here) -> At:
        return grid.at(here.table, self.column, here.row)


@dataclass(frozen=True, slots=True)
class There(One):
    """A cell of a table, by column and row (from 0)."""

    table: Table
    column: str
    row: int = 0

    def cell(self, grid: Grid, here: Here) -> At:
        return grid.at(self.table, self.column, self.row)


@dataclass(frozen=True, slots=True)
class Named(One):
    """The cell a defined name stands for."""

    name: str

    def cell(self, grid: Grid, here: Here) -> At:
        return grid.named(self.name)

    def text(self, grid: Grid, here: Here) -> str:
        return self.name


class Cells(ABC):
    """Cells in a line, from one to another; in sums only."""

    @abstractmethod
    def ends(self, grid: Grid, here: Here) -> tuple[At, At]:
        """The first and the last of them."""

    def text(self, grid: Grid, here: Here) -> str:
        first, last = self.ends(grid, here)
        return f"{a1(first, here.table.sheet, True)}:{a1(last, first.sheet, True)}"

    def values(self, grid: Grid, here: Here) -> list[Scalar]:
        """What each of them holds."""
        first, last = self.ends(grid, here)
        rows, columns = range(first.row, last.row + 1), range(first.column, last.column + 1)
        return [grid.holds(At(first.sheet, row, column)) for row in rows for column in columns]


@dataclass(frozen=True, slots=True)
class Down(Cells):
    """A column of a table, or its rows from `first` to `last`."""

    table: Table
    column: str
    first: int = 0
    last: int = -1

    def ends(self, grid: Grid, here: Here) -> tuple[At, At]:
        return grid.at(self.table, self.column, self.first), grid.at(self.table, self.column, self.last)


@dataclass(frozen=True, slots=True)
class Across(Cells):
    """Cells of a row, from one column to another: of this row, or of one in another table."""

    first: str
    last: str
    table: Table | None = None
    row: int = 0

    def ends(self, grid: Grid, here: Here) -> tuple[At, At]:
        table, row = (here.table, here.row) if self.table is None else (self.table, self.row)
        return grid.at(table, self.first, row), grid.at(table, self.last, row)


@dataclass(frozen=True, slots=True)
class _Sign(Expr):
    left: Expr
    sign: str
    right: Expr

    def text(self, grid: Grid, here: Here) -> str:
        left, right = self.left.text(grid, here), self.right.text(grid, here)
        if isinstance(self.left, _Sign) and BINDS[self.left.sign] < BINDS[self.sign]:
            left = f"({left})"
        if isinstance(self.right, _Sign) and BINDS[self.right.sign] <= BINDS[self.sign]:
            right = f"({right})"
        return f"{left}{self.sign}{right}"

    def value(self, grid: Grid, here: Here) -> Scalar:
        left, right = self.left.value(grid, here), self.right.value(grid, here)
        if self.sign == "=":
            return same(left, right)
        a, b = number(left), number(right)
        if self.sign == "/":
            return a / b
        return {"+": a + b, "-": a - b, "*": a * b, ">": a > b}[self.sign]


def same(left: Scalar, right: Scalar) -> bool:
    """Equal as spreadsheets see it: an empty cell is both nothing and no text; capitals do not count."""
    if left is None or right is None:
        held = right if left is None else left
        return held is None or held == "" or held == 0
    if isinstance(left, str) and isinstance(right, str):
        return left.casefold() == right.casefold()
    return left == right if isinstance(left, str) is isinstance(right, str) else False
