"""Where everything of a workbook stands, and what every formula in it comes to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from elevgen.writers._xlsx_cells import At, Here, Scalar, Table
from elevgen.writers._xlsx_model import Block, Column, Formula, Open, Sheet

NOTICE_ROW = 2
FIRST_ROW = 3
"""Row of the first table's line, from 0: title, purpose and a notice or a gap come before it."""
NOTICE = "notice"
"""The heading a sheet's notice is known by, a table of one cell."""


class Placed(NamedTuple):
    """A block, the row its line stands in, and the first and the last row of its cells; rows from 0."""

    block: Block
    top: int
    first: int
    last: int


def as_stored(value: float) -> float:
    """A number as the workbook keeps it, to 12 figures: the last ones of a sum are not the same in every Python."""
    return float(f"{value:.12g}")


class Layout:
    """Every block in its place; answers formulas where cells are and what they hold."""

    def __init__(self, sheets: Iterable[Sheet]) -> None:
        self.sheets = tuple(sheets)
        self.placed = {sheet.name: _placed(sheet) for sheet in self.sheets}
        self._tables = {Table(name, p.block.heading): p for name, blocks in self.placed.items() for p in blocks}
        for sheet in self.sheets:
            if sheet.notice:
                noticed = Block(NOTICE, (Column("", 0),), ((sheet.notice,),))
                self._tables[Table(sheet.name, NOTICE)] = Placed(noticed, NOTICE_ROW - 1, NOTICE_ROW, NOTICE_ROW)
        self._columns = {table: _columns(placed.block) for table, placed in self._tables.items()}
        self._rows = {(t.sheet, p.first + n): Here(t, n) for t, p in self._tables.items() for n in range(len(p.block.rows))}
        self.names = {content.name: cell for cell, content in self._live() if content.name}
        self._found: dict[At, Scalar] = {}

    def at(self, table: Table, column: str, row: int) -> At:
        """The cell of a table; rows from 0, counted from the end when negative. Raises KeyError for what is not there."""
        placed = self._tables[table]
        count = len(placed.block.rows)
        if not -count <= row < count:
            raise KeyError(f"{table} has no row {row}")
        return At(table.sheet, placed.first + row % count, self._columns[table][column])

    def named(self, name: str) -> At:
        """The cell of a defined name."""
        return self.names[name]

    def holds(self, cell: At) -> Scalar:
        """What the cell shows."""
        if cell not in self._found:
            self._found[cell] = self._worked_out(cell)
        return self._found[cell]

    def text(self, formula: Formula, here: Here) -> str:
        """The formula as a cell stores it."""
        return f"={formula.expr.text(self, here)}"

    def _worked_out(self, cell: At) -> Scalar:
        here = self._rows.get((cell.sheet, cell.row))
        row = self._tables[here.table].block.rows[here.row] if here else ()
        content = row[cell.column] if cell.column < len(row) else None
        if isinstance(content, Formula):
            assert here is not None
            return content.expr.value(self, here)
        value = content.value if isinstance(content, Open) else content
        return as_stored(value) if isinstance(value, float) else value

    def _live(self) -> Iterator[tuple[At, Formula | Open]]:
        for table, placed in self._tables.items():
            for number, row in enumerate(placed.block.rows, placed.first):
                for column, content in enumerate(row):
                    if isinstance(content, Formula | Open):
                        yield At(table.sheet, number, column), content


def _placed(sheet: Sheet) -> tuple[Placed, ...]:
    found, row = [], FIRST_ROW
    for block in sheet.blocks:
        first = row + (2 if block.headed else 1)
        last = first + max(1, len(block.rows)) - 1
        found.append(Placed(block, row, first, last))
        row = last + 2
    return tuple(found)


def _columns(block: Block) -> dict[str, int]:
    """Columns by heading. Raises ValueError when two are headed alike: no table may have that."""
    if not block.headed:
        return {}
    found = {column.heading: n for n, column in enumerate(block.columns)}
    if len({heading.casefold() for heading in found}) < len(block.columns):
        raise ValueError(f"{block.heading}: columns headed alike")
    return found
