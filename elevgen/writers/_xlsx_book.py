"""Sheets of plain data written as a workbook: formulas with their values, tables, frozen heads, print setup, locked cells.

Nothing a user typed reaches a header, a footer, a sheet name or a formula.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from io import BytesIO
from math import ceil, inf, isfinite

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from elevgen.drawing.cautions import AID
from elevgen.writers._xlsx_cells import At, Here, Scalar, Table, a1, column_letters
from elevgen.writers._xlsx_chart import put_chart
from elevgen.writers._xlsx_layout import FIRST_ROW, NOTICE, NOTICE_ROW, Layout, Placed, as_stored
from elevgen.writers._xlsx_looks import LIVE, WRAPPED, Looks
from elevgen.writers._xlsx_model import CellKind, Content, Formula, Open, Sheet, Value
from elevgen.writers._xlsx_open import OpenCells
from elevgen.writers._xlsx_text import could_come_alive, plain

A4 = 9
LINE = 13.5
"""Height of a line of text, points."""
HIGHEST = 409.0
"""The format allows no higher row, points."""
FIT = 1.2
"""Characters of running text in the width that columns count as one; the widest fonts put in for ours fit more."""
CAPITAL = 0.15
"""What a capital letter takes more than a letter of running text, in those."""
BUTTON = 2.0
"""Width a filter button takes of a heading, characters."""
OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
    "nan_inf_to_errors": False,
}
ALLOWED = {"autofilter": True, "sort": True, "format_columns": True, "format_rows": True}
"""What may be done to a protected sheet besides filling its open cells."""


def workbook_bytes(sheets: Iterable[Sheet], title: str, created: datetime) -> bytes:
    """The workbook as a file. Raises TextTooLongError for text no cell can hold, TypeError for a number that is none."""
    out = BytesIO()
    book = Workbook(out, OPTIONS)
    book.set_properties({"author": "elevgen", "title": plain(title), "created": created})
    layout = Layout(sheets)
    looks = Looks(book)
    for sheet in layout.sheets:
        _Page(book, layout, looks, sheet).write()
    for name, cell in layout.names.items():
        book.define_name(name, f"={a1(cell, '', True)}")
    book.close()
    return out.getvalue()


class _Page:
    """One sheet being written."""

    def __init__(self, book: Workbook, layout: Layout, looks: Looks, sheet: Sheet) -> None:
        self._book, self._layout, self._looks, self._sheet = book, layout, looks, sheet
        self._page: Worksheet = book.add_worksheet(sheet.name)
        self._open = OpenCells()

    def write(self) -> None:
        sheet, page, looks = self._sheet, self._page, self._looks
        page.write_string(0, 0, sheet.name, looks.title)
        page.write_string(1, 0, plain(sheet.purpose), looks.purpose)
        if sheet.notice:
            self._formula(NOTICE_ROW, 0, sheet.notice, Here(Table(sheet.name, NOTICE), 0), looks.notice)
        for number, placed in enumerate(self._layout.placed[sheet.name], 1):
            self._block(placed, number)
        self._widths()
        if sheet.chart:
            put_chart(self._book, page, self._layout, sheet.name, sheet.chart)
        self._open.validate(page)
        page.protect("", ALLOWED)
        page.ignore_errors({"number_stored_as_text": "A1:XFD1048576"})
        _set_up_page(page, sheet)

    def _block(self, placed: Placed, number: int) -> None:
        block, page, looks = placed.block, self._page, self._looks
        page.write_string(placed.top, 0, plain(block.heading), looks.heading)
        if block.headed:
            self._head(placed)
        if not block.rows:
            page.write_string(placed.first, 0, "none", looks.empty)
            return
        if block.headed:
            self._table(placed, number)
        table = Table(self._sheet.name, block.heading)
        fits = [column.width * FIT if column.kind in WRAPPED else inf for column in block.columns]
        kinds = [column.kind for column in block.columns]
        for index, row in enumerate(block.rows):
            here, strong, lines = Here(table, index), index in block.strong, 1
            for at, (content, kind, fit) in enumerate(zip(row, kinds, fits, strict=True)):
                self._content(placed.first + index, at, content, kind, here, strong)
                if isinstance(content, str) and fit < inf:
                    lines = max(lines, _lines(content, fit))
            self._fit_height(placed.first + index, lines)

    def _head(self, placed: Placed) -> None:
        """Headings, with room beside each for its button."""
        columns = placed.block.columns
        for at, column in enumerate(columns):
            self._page.write_string(placed.first - 1, at, column.heading, self._looks.header)
        self._fit_height(placed.first - 1, max(_lines(c.heading, (c.width - BUTTON) * FIT) for c in columns))

    def _table(self, placed: Placed, number: int) -> None:
        """A real table: filter buttons, and a name."""
        columns = [{"header": column.heading, "header_format": self._looks.header} for column in placed.block.columns]
        name = "".join(c if c.isalnum() else "_" for c in self._sheet.name)
        self._page.add_table(
            placed.first - 1,
            0,
            placed.last,
            len(columns) - 1,
            {"name": f"{name}_table_{number}", "columns": columns, "style": None},
        )

    def _content(self, row: int, column: int, content: Content, kind: CellKind, here: Here, strong: bool) -> None:
        looks = self._looks
        if isinstance(content, str):
            self._text(row, column, content, looks.cell(LIVE if could_come_alive(content) else kind, strong))
        elif isinstance(content, Formula):
            self._formula(row, column, content, here, looks.cell(content.kind or kind, strong))
        elif isinstance(content, Open):
            self._open.add(content.of, row, column)
            live = isinstance(content.value, str) and could_come_alive(content.value)
            self._value(row, column, content.value, looks.open(content.of, live))
        else:
            whole = kind == "amount" and isinstance(content, int)
            self._value(row, column, content, looks.cell("nr" if whole else kind, strong))

    def _formula(self, row: int, column: int, formula: Formula, here: Here, look: object) -> None:
        found = self._layout.holds(At(here.table.sheet, row, column))
        self._page.write_formula(row, column, self._layout.text(formula, here), look, _stored(found))

    def _value(self, row: int, column: int, value: Value, look: object) -> None:
        if isinstance(value, str):
            self._text(row, column, value, look)
        elif value is None:
            self._page.write_blank(row, column, None, look)
        elif isinstance(value, bool):
            self._page.write_boolean(row, column, value, look)
        else:
            self._page.write_number(row, column, as_stored(value), look)

    def _text(self, row: int, column: int, text: str, look: object) -> None:
        if text:
            self._page.write_string(row, column, plain(text), look)
        else:
            self._page.write_blank(row, column, None, look)

    def _fit_height(self, row: int, lines: int) -> None:
        """Room for every line of wrapped text: not every reader makes it by itself."""
        if lines > 1:
            self._page.set_row(row, min(lines * LINE, HIGHEST))

    def _widths(self) -> None:
        blocks = self._sheet.blocks
        for index in range(max(len(block.columns) for block in blocks)):
            widths = [block.columns[index].width for block in blocks if index < len(block.columns)]
            letters = column_letters(index)
            self._page.set_column(f"{letters}:{letters}", max(widths))


def _lines(text: str, fit: float) -> int:
    """Lines that text takes when so many characters fit one, broken between words, and within those too long for a line."""
    capitals = sum(map(str.isupper, text))
    if len(text) + CAPITAL * capitals <= fit:
        return 1
    fit *= len(text) / (len(text) + CAPITAL * capitals)
    lines, filled = 1, 0
    for word in text.split(" "):
        if filled and filled + 1 + len(word) > fit:
            lines, filled = lines + 1, 0
        over = max(1, ceil(len(word) / fit)) - 1
        lines += over
        filled = len(word) - int(over * fit) if over else filled + len(word) + (filled > 0)
    return lines


def _stored(found: Scalar) -> Scalar:
    """A formula's value as it is kept: whole numbers without a point."""
    if isinstance(found, float):
        if not isfinite(found):
            raise ValueError("a formula that comes to no number")
        kept = as_stored(found)
        return int(kept) if kept.is_integer() else kept
    return "" if found is None else found


def _set_up_page(page: Worksheet, sheet: Sheet) -> None:
    """A4 landscape, one page wide, headings in sight, the caution and the page number at its foot."""
    page.set_landscape()
    page.set_paper(A4)
    page.fit_to_pages(1, 0)
    page.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.7)
    page.set_footer(f"&L&7{AID}&R&7&P / &N")
    head = FIRST_ROW + 1
    if sheet.frozen:
        page.freeze_panes(head + 1, 0)
    page.repeat_rows(head if sheet.repeated or _alike(sheet) else 0)


def _alike(sheet: Sheet) -> bool:
    """True where the headings of the first table serve for all of them."""
    first, *others = ([column.heading for column in block.columns] for block in sheet.blocks if block.headed)
    return all(heads == first[: len(heads)] for heads in others)
