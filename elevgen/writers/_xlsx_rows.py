"""The rows of a sheet, as a workbook file spells them.

Written as text and not through the library's cells: a workbook holds thousands, and an object for each took most of its
time. Styles, widths, print setup and the package are the library's.
"""

from __future__ import annotations

from html import escape

from openpyxl.utils import get_column_letter

from elevgen.writers._xlsx_model import Value
from elevgen.writers._xlsx_text import escaped, plain

NO_ROWS = b"<sheetData></sheetData>"
NO_EXTENT = b'<dimension ref="A1:A1" />'
"""What the library writes of a sheet without cells."""


class Rows:
    """Cells gathered row by row, from left to right."""

    def __init__(self) -> None:
        self._cells: dict[int, list[str]] = {}
        self._heights: dict[int, float] = {}
        self._columns = 1

    def put(self, row: int, column: int, value: Value, style: int) -> None:
        """One cell; `style` is its number in the workbook. Raises TextTooLongError."""
        self._cells.setdefault(row, []).append(_cell(f"{get_column_letter(column)}{row}", value, style))
        self._columns = max(self._columns, column)

    def set_height(self, row: int, height: float) -> None:
        """A row's height in points; other rows are one line high."""
        self._heights[row] = height

    def into(self, sheet: bytes) -> bytes:
        """The sheet's file as the library wrote it without cells, with these in it."""
        extent = f'<dimension ref="A1:{get_column_letter(self._columns)}{max(self._cells)}" />'
        rows = "".join(self._row(row, cells) for row, cells in sorted(self._cells.items()))
        if not (NO_ROWS in sheet and NO_EXTENT in sheet):
            raise ValueError("the library no longer writes an empty sheet as expected")
        return sheet.replace(NO_EXTENT, extent.encode()).replace(NO_ROWS, f"<sheetData>{rows}</sheetData>".encode())

    def _row(self, row: int, cells: list[str]) -> str:
        height = f' ht="{self._heights[row]:.16g}" customHeight="1"' if row in self._heights else ""
        return f'<row r="{row}"{height}>{"".join(cells)}</row>'


def _cell(place: str, value: Value, style: int) -> str:
    """One cell. Numbers to 12 figures: the last ones of a sum are not the same in every Python."""
    if value is None or value == "":
        return f'<c r="{place}" s="{style}" t="n" />'
    if isinstance(value, str):
        text = escape(escaped(plain(value)), quote=False)
        space = ' xml:space="preserve"' if text != text.strip() else ""
        return f'<c r="{place}" s="{style}" t="inlineStr"><is><t{space}>{text}</t></is></c>'
    if isinstance(value, bool):
        return f'<c r="{place}" s="{style}" t="b"><v>{value:d}</v></c>'
    return f'<c r="{place}" s="{style}" t="n"><v>{value:.12g}</v></c>'
