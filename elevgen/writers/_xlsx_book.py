"""Sheets of plain data written as a workbook with openpyxl: styles, widths, frozen heads, print setup; rows as text.

Every style is made once and shared by its cells; nothing a user typed reaches a header, a footer or a sheet name.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import copy
from datetime import datetime
from io import BytesIO
from math import ceil
from typing import NamedTuple
from zipfile import ZIP_STORED, ZipFile

from openpyxl import Workbook
from openpyxl.cell.cell import Cell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.writer.excel import ExcelWriter

from elevgen.writers._shared import CAUTION_LINE
from elevgen.writers._xlsx_model import Block, CellKind, Sheet, Value
from elevgen.writers._xlsx_rows import Rows
from elevgen.writers._xlsx_text import could_come_alive, plain
from elevgen.writers._xlsx_zip import repacked

A4 = 9
HEADER_ROW = 5
"""Row of the first table's headings: title, purpose, a gap and the table's own line come before it."""

FORMATS: dict[CellKind, str] = {
    "text": "@",
    "wrap": "@",
    "note": "@",
    "nr": "#,##0",
    "mm": "#,##0.0",
    "level": '+0.000;-0.000;"±"0.000',
    "area": "#,##0.00",
    "amount": "#,##0.00##",
    "percent": "0.0##",
    "value": "General",
}
LINE = 13.5
"""Height of a line of text, points."""
HIGHEST = 409.0
"""The format allows no higher row, points."""
WIDE = 1.0
"""Width of a character of running text against the width columns are measured in, broken lines allowed for."""

WRAPPED: tuple[CellKind, ...] = ("text", "wrap")


class Looks(NamedTuple):
    """Styles by use, as the workbook numbers them. `live` is for text that starts like a formula: the quote prefix keeps
    it text when edited."""

    title: int
    purpose: int
    heading: int
    header: int
    empty: int
    cells: dict[CellKind, int]
    live: int


def workbook_bytes(sheets: Iterable[Sheet], title: str, created: datetime) -> bytes:
    """The workbook as a file. Raises TextTooLongError for text no cell can hold."""
    book = Workbook()
    first = book.active
    assert first is not None
    looks = _looks(book, first)
    book.remove(first)
    rows = [_write_sheet(book.create_sheet(sheet.name), sheet, looks) for sheet in sheets]
    book.properties.creator = "elevgen"
    book.properties.title = plain(title)
    book.properties.created = book.properties.modified = created
    filled = {f"xl/worksheets/sheet{number}.xml": each.into for number, each in enumerate(rows, 1)}
    return repacked(_saved(book), filled)


def _saved(book: Workbook) -> bytes:
    """Saved without openpyxl's own time stamp, and not yet compressed: repacking does that."""
    out = BytesIO()
    with ZipFile(out, "w", ZIP_STORED) as archive:
        ExcelWriter(book, archive).save()
    return out.getvalue()


def _write_sheet(page: Worksheet, sheet: Sheet, looks: Looks) -> Rows:
    """Sets a page up; returns its rows, which go into its file once the library has written it."""
    rows = Rows()
    rows.put(1, 1, sheet.name, looks.title)
    rows.put(2, 1, sheet.purpose, looks.purpose)
    row = HEADER_ROW - 1
    for block in sheet.blocks:
        row = _write_block(rows, row, block, looks) + 1
    for index in range(max(len(block.columns) for block in sheet.blocks)):
        widths = [block.columns[index].width for block in sheet.blocks if index < len(block.columns)]
        page.column_dimensions[get_column_letter(index + 1)].width = max(widths)
    _set_up_page(page)
    if sheet.frozen:
        page.freeze_panes = f"A{HEADER_ROW + 1}"
    if sheet.frozen and not any(block.headed for block in sheet.blocks[1:]):
        page.print_title_rows = f"{HEADER_ROW}:{HEADER_ROW}"
    return rows


def _write_block(rows: Rows, row: int, block: Block, looks: Looks) -> int:
    """Write a block from a row on; returns the row after it."""
    rows.put(row, 1, block.heading, looks.heading)
    row += 1
    if block.headed:
        for index, column in enumerate(block.columns, 1):
            rows.put(row, index, column.heading, looks.header)
        _fit_height(rows, row, [(column.heading, column.width) for column in block.columns])
        row += 1
    if not block.rows:
        rows.put(row, 1, "none", looks.empty)
        return row + 1
    wrapped = [(index, column.width) for index, column in enumerate(block.columns) if column.kind in WRAPPED]
    for values in block.rows:
        for index, (value, column) in enumerate(zip(values, block.columns, strict=True), 1):
            rows.put(row, index, value, _look(value, column.kind, looks))
        _fit_height(rows, row, [(values[index], width) for index, width in wrapped])
        row += 1
    return row


def _look(value: Value, kind: CellKind, looks: Looks) -> int:
    """A whole number among quantities is shown as one; text a spreadsheet could take for a formula is quoted."""
    if isinstance(value, str) and could_come_alive(value):
        return looks.live
    return looks.cells["nr" if kind == "amount" and isinstance(value, int) else kind]


def _fit_height(rows: Rows, row: int, texts: list[tuple[Value, float]]) -> None:
    """Room for every line of wrapped text: not every reader makes it by itself."""
    lines = max((ceil(len(text) * WIDE / width) for text, width in texts if isinstance(text, str)), default=1)
    if lines > 1:
        rows.set_height(row, min(lines * LINE, HIGHEST))


def _looks(book: Workbook, page: Worksheet) -> Looks:
    thin = Side(style="thin", color="A6A6A6")
    lines = Border(top=thin, bottom=thin, left=thin, right=thin)
    top = Alignment(vertical="top")
    wrap = Alignment(vertical="top", wrap_text=True)

    def made(font: Font | None = None, fill: PatternFill | None = None, **more: object) -> int:
        cell = page.cell(1, 1)
        assert isinstance(cell, Cell)
        cell.font = font or Font(name="Calibri", size=10)
        cell.fill = fill or PatternFill()
        cell.border = more.get("border", Border())  # type: ignore[assignment]
        cell.alignment = more.get("alignment", top)  # type: ignore[assignment]
        cell.number_format = str(more.get("number_format", "General"))
        style = copy(cell._style)  # type: ignore[attr-defined]
        style.quotePrefix = int(bool(more.get("quoted")))
        return int(book._cell_styles.add(style))  # type: ignore[attr-defined]

    bold = Font(name="Calibri", size=10, bold=True)
    pale = PatternFill("solid", fgColor="E7EAEE")
    cells = {
        kind: made(
            border=Border() if kind == "note" else lines, alignment=wrap if kind in WRAPPED else top, number_format=number_format
        )
        for kind, number_format in FORMATS.items()
    }
    return Looks(
        title=made(Font(name="Calibri", size=14, bold=True)),
        purpose=made(Font(name="Calibri", size=10, italic=True)),
        heading=made(Font(name="Calibri", size=11, bold=True)),
        header=made(bold, pale, border=lines, alignment=wrap),
        empty=made(Font(name="Calibri", size=10, italic=True)),
        cells=cells,
        live=made(border=lines, alignment=wrap, number_format="@", quoted=True),
    )


def _set_up_page(page: Worksheet) -> None:
    """A4 landscape, one page wide, the caution and the page number at its foot."""
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = A4
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    page.page_margins.left = page.page_margins.right = 0.4
    page.page_margins.top, page.page_margins.bottom = 0.5, 0.7
    foot = page.oddFooter
    assert foot is not None
    foot.left.text, foot.left.size = CAUTION_LINE, 7
    foot.right.text, foot.right.size = "&P / &N", 7
