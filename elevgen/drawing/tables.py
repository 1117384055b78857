"""Tables and check lists on paper: columns measured by the font, cells wrapped, long tables carried into the next space."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board, corners, inset
from elevgen.drawing.font import Fonts, words
from elevgen.drawing.scene import Align, Line, Paragraph, Polyline, Role

TITLE_SIZE, HEAD_SIZE, CELL_SIZE = 2.5, 1.8, 2.0
TITLE_HEIGHT, HEAD_HEIGHT, PITCH = 5.0, 3.4, 3.1
ROW_PAD, CELL_PAD, AFTER = 0.8, 0.7, 2.5
"""All in paper mm."""
APART = 1.6
"""What the words after a column of figures stand in more, so that the two are not read as one; paper mm."""
KEPT_WHOLE, FIRST_ROWS = 7, 2
"""A table of fewer rows is not parted where a column has room for it; a longer one begins with so many rows at least."""
TICK = "[ ]"
"""A cell that is a box to tick."""


class Column(NamedTuple):
    """A column: its heading, its share of the table's width, how its cells align."""

    title: str
    share: float
    align: Align = "left"


class Row(NamedTuple):
    """One line of a table, and the id of what it tells of."""

    cells: tuple[str, ...]
    source: str = ""


class Table(NamedTuple):
    """A titled table. Without column titles it is a list."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]

    @property
    def headed(self) -> bool:
        return any(c.title for c in self.columns)


Lines = tuple[tuple[str, ...], ...]
"""The lines of every cell of a row."""
Widths = tuple[float, ...]
"""Widths of a table's columns on paper, mm."""


class Page(NamedTuple):
    """A sheet of paper to fill: its board, and the spaces on it that tables may use, in order."""

    board: Board
    spaces: tuple[Rect, ...]


def flow(tables: Iterable[Table], first: Page, next_page: Callable[[], Page]) -> None:
    """Fill the spaces of the first page, then of as many further pages as it takes."""
    cursor = _Cursor(first, next_page)
    for table in tables:
        if table.rows:
            cursor.put(table)


class _Cursor:
    """Where the next row goes."""

    def __init__(self, page: Page, next_page: Callable[[], Page]) -> None:
        self.next_page = next_page
        self.page = page
        self.space = 0
        self.y = page.spaces[0].top if page.spaces else 0.0
        self.widths: dict[float, Widths] = {}

    def put(self, table: Table) -> None:
        """Lay a table, its title and head again wherever it is carried over; a short one is rather not parted."""
        self.widths = {}
        if not self._room(self._least(table, self._width())) and self._holds_next(table):
            self._advance()
        begun = False
        widths = self._columns(table, self._width())
        for row in table.rows:
            lines = wrapped(row, _rooms(table, widths), self.page.board.fonts)
            tall = row_height(lines)
            start = 0.0 if begun else head_height(table)
            while not self._room(start + tall):
                fresh = self._advance()
                begun, start = False, head_height(table)
                widths = self._columns(table, self._width())
                lines = wrapped(row, _rooms(table, widths), self.page.board.fonts)
                tall = row_height(lines)
                if fresh and not self._room(start + tall):
                    break
            if not begun:
                self._head(table, widths, continued=row is not table.rows[0])
                begun = True
            lines = self._carried_over(table, row, lines)
            widths = self._columns(table, self._width())
            self._row(table, widths, row, lines, row_height(lines))
        if self.page.spaces:
            self._rule(self.page.spaces[self.space])
        self.y -= AFTER

    def _carried_over(self, table: Table, row: Row, lines: Lines) -> Lines:
        """A row higher than any space is parted: what a space holds of it in each, and the rest returned."""
        while not self._room(row_height(lines)):
            held = int((self.y - self.page.spaces[self.space].bottom - ROW_PAD + 1e-6) // PITCH) if self.page.spaces else 0
            if held < 1:
                break
            part = tuple(cell[:held] or ("",) for cell in lines)
            self._row(table, self._columns(table, self._width()), row, part, row_height(part))
            self._rule(self.page.spaces[self.space])
            self._advance()
            widths = self._columns(table, self._width())
            rest = (" ".join(cell[held:]) for cell in lines)
            lines = wrapped(row._replace(cells=tuple(rest)), widths, self.page.board.fonts)
            self._head(table, widths, continued=True)
        return lines

    def _least(self, table: Table, width: float) -> float:
        """The height without which a table is not begun: all of a short one, the first rows of a long one."""
        rows = table.rows if len(table.rows) < KEPT_WHOLE else table.rows[:FIRST_ROWS]
        widths = self._columns(table, width)
        return head_height(table) + sum(row_height(wrapped(row, _rooms(table, widths), self.page.board.fonts)) for row in rows)

    def _columns(self, table: Table, width: float) -> Widths:
        """The widths of its columns in a space so wide, found once for each width while the table is laid."""
        if width not in self.widths:
            self.widths[width] = column_widths(table, width, self.page.board.fonts)
        return self.widths[width]

    def _holds_next(self, table: Table) -> bool:
        """True when the next column holds what this one has no room for. A new page holds what any page does."""
        if self.space + 1 >= len(self.page.spaces):
            return True
        space = self.page.spaces[self.space + 1]
        return self._least(table, space.width) <= space.height

    def _width(self) -> float:
        return self.page.spaces[self.space].width if self.page.spaces else 90.0

    def _room(self, needed: float) -> bool:
        return bool(self.page.spaces) and self.y - needed >= self.page.spaces[self.space].bottom - 1e-6

    def _advance(self) -> bool:
        """Go to the next space; True when that is the first of a new page."""
        self.space += 1
        fresh = self.space >= len(self.page.spaces)
        if fresh:
            self.page, self.space = self.next_page(), 0
        self.y = self.page.spaces[self.space].top
        return fresh

    def _head(self, table: Table, widths: Widths, continued: bool) -> None:
        board, space = self.page.board, self.page.spaces[self.space]
        title = f"{table.title.split(',')[0]} (continued)" if continued else table.title
        title = board.fonts.clip(title, TITLE_SIZE, space.width, bold=True)
        board.text(Role.TEXT, (space.left, self.y - TITLE_SIZE - 0.6), title, TITLE_SIZE, bold=True)
        self.y -= TITLE_HEIGHT
        if table.headed:
            box = Rect(space.left, self.y - HEAD_HEIGHT, space.right, self.y)
            board.fill("head", box)
            for (left, right), column in zip(_edges(table, widths, space), table.columns, strict=True):
                text = board.fonts.clip(column.title, HEAD_SIZE, right - left - 2 * CELL_PAD)
                board.text(Role.TEXT, (_x(column.align, left, right), self.y - 2.5), text, HEAD_SIZE, column.align)
            self.y -= HEAD_HEIGHT
        self._rule(space)

    def _row(self, table: Table, widths: Widths, row: Row, lines: tuple[tuple[str, ...], ...], tall: float) -> None:
        board, space = self.page.board, self.page.spaces[self.space]
        for (left, right), column, cell in zip(_edges(table, widths, space), table.columns, lines, strict=True):
            if cell == (TICK,):
                box = inset(Rect(left, self.y - 3.7, left + 4.0, self.y + 0.3), 0.75)
                board.add(Polyline(Role.TEXT, corners(box), True, row.source, "tick when done"))
                continue
            at = (_x(column.align, left, right), self.y - CELL_SIZE - 0.75)
            if len(cell) > 1:
                board.lines(Paragraph(Role.TEXT, at, cell, CELL_SIZE, PITCH, column.align, source=row.source))
            else:
                board.text(Role.TEXT, at, cell[0], CELL_SIZE, column.align, source=row.source)
        self.y -= tall

    def _rule(self, space: Rect) -> None:
        self.page.board.add(Line(Role.DIMENSION, (space.left, self.y), (space.right, self.y)))


def head_height(table: Table) -> float:
    """What the title and the column titles take, paper mm."""
    return TITLE_HEIGHT + (HEAD_HEIGHT if table.headed else 0.0)


def row_height(lines: tuple[tuple[str, ...], ...]) -> float:
    """What a row takes, paper mm."""
    return max((len(cell) for cell in lines), default=1) * PITCH + ROW_PAD


def wrapped(row: Row, widths: Widths, fonts: Fonts) -> tuple[tuple[str, ...], ...]:
    """The lines of every cell of a row, each no wider than its column."""
    cells = []
    for cell, width in zip(row.cells, widths, strict=True):
        cells.append((TICK,) if cell == TICK else fonts.wrap(cell, CELL_SIZE, width - 2 * CELL_PAD) or ("",))
    return tuple(cells)


def column_widths(table: Table, width: float, fonts: Fonts) -> Widths:
    """Columns by their shares, but each so wide that no figure and no word of it is broken, at the cost of those that have more.

    Where there is not room for that, figures of several words are wrapped as words are; else by the shares alone.
    """
    total = sum(c.share for c in table.columns)
    shared = tuple(width * c.share / total for c in table.columns)
    for figures_whole in (True, False):
        needed = tuple(_needed(table, n, fonts, figures_whole) for n in range(len(table.columns)))
        lacking = sum(max(need - has, 0.0) for need, has in zip(needed, shared, strict=True))
        spare = sum(max(has - need, 0.0) for need, has in zip(needed, shared, strict=True))
        if lacking <= spare:
            given = lacking / spare if lacking else 0.0
            return tuple(need if need > has else has - (has - need) * given for need, has in zip(needed, shared, strict=True))
    return shared


def _needed(table: Table, n: int, fonts: Fonts, figures_whole: bool) -> float:
    """How wide a column must be for its heading and its longest word; of whole figures, for the longest between two commas."""
    column = table.columns[n]
    whole = figures_whole and column.align == "right"
    parts = {
        part for row in table.rows for part in (row.cells[n].replace(", ", ",|").split("|") if whole else words(row.cells[n]))
    }
    longest = max((fonts.width(part, CELL_SIZE) for part in parts if part != TICK), default=0.0)
    return max(longest, fonts.width(column.title, HEAD_SIZE)) + _indent(table, n) + 2 * CELL_PAD + 0.01


def _indent(table: Table, n: int) -> float:
    """What a column of words stands in after one of figures."""
    return APART if n and table.columns[n].align == "left" and table.columns[n - 1].align == "right" else 0.0


def _rooms(table: Table, widths: Widths) -> Widths:
    """What of its width each column writes in."""
    return tuple(width - _indent(table, n) for n, width in enumerate(widths))


def _edges(table: Table, widths: Widths, space: Rect) -> list[tuple[float, float]]:
    edges, at = [], space.left
    for n, width in enumerate(widths):
        edges.append((at + _indent(table, n), at + width))
        at += width
    return edges


def _x(align: Align, left: float, right: float) -> float:
    return {"left": left + CELL_PAD, "centre": (left + right) / 2, "right": right - CELL_PAD}[align]
