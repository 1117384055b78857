"""How cells look: every format made once, and shared by its cells."""

from __future__ import annotations

from collections.abc import Mapping

from xlsxwriter import Workbook
from xlsxwriter.format import Format

from elevgen.writers._xlsx_model import CellKind, OpenKind

FORMATS: dict[CellKind, str] = {
    "text": "@",
    "wrap": "@",
    "note": "@",
    "figure": "@",
    "nr": "#,##0_)",
    "mm": "#,##0.0_)",
    "tenth": "#,##0.0_)",
    "level": '+0.000_);-0.000_);"±"0.000_)',
    "area": "#,##0.00_)",
    "amount": "#,##0.00##_)",
    "money": "#,##0.00_)",
    "percent": "0.0##_)",
    "value": "General",
}
"""Numbers keep off the text in the next column by the width of a bracket."""
OPEN_FORMATS: dict[OpenKind, str] = {
    "rate": FORMATS["money"],
    "price": FORMATS["money"],
    "waste": FORMATS["percent"],
    "percent": FORMATS["percent"],
    "pack": FORMATS["amount"],
    "note": "@",
}
WRAPPED: tuple[CellKind, ...] = ("text", "wrap")
LIVE = "live"
"""Text that starts like a formula: the quote prefix keeps it text when edited."""
FONT: Mapping[str, object] = {"font_name": "Calibri", "font_size": 10}
LINES: Mapping[str, object] = {"border": 1, "border_color": "#A6A6A6"}
PALE, TYPE_HERE, STANDS_OUT = "#E7EAEE", "#FFF6D6", "#F3F4F6"


class Looks:
    """Formats of one workbook, by what they are for."""

    def __init__(self, book: Workbook) -> None:
        self._book = book
        self.title = self._made(font_size=14, bold=True)
        self.purpose = self._made(italic=True)
        self.notice = self._made(bold=True, font_color="#B3261E")
        self.heading = self._made(font_size=11, bold=True)
        self.header = self._made(LINES, bold=True, bg_color=PALE, text_wrap=True, valign="top")
        self.empty = self._made(italic=True)
        self._cells = {(kind, strong): self._cell(kind, strong) for kind in (*FORMATS, LIVE) for strong in (False, True)}
        self._open = {(kind, live): self._open_cell(kind, live) for kind in OPEN_FORMATS for live in (False, True)}

    def cell(self, kind: CellKind | str, strong: bool) -> Format:
        """A locked cell; `strong` in a row that stands out."""
        return self._cells[kind, strong]

    def open(self, kind: OpenKind, live: bool) -> Format:
        """A cell to type into: tinted, and not locked; `live` for text that starts like a formula."""
        return self._open[kind, live]

    def _cell(self, kind: CellKind | str, strong: bool) -> Format:
        live = kind == LIVE
        more: dict[str, object] = {"num_format": "@" if live else FORMATS[kind]}  # type: ignore[index]
        if live or kind in WRAPPED:
            more["text_wrap"] = True
        if kind == "figure":
            more["align"] = "right"
        if live:
            more["quote_prefix"] = True
        if strong:
            more |= {"bold": True, "bg_color": STANDS_OUT}
        return self._made({} if kind == "note" else LINES, valign="top", **more)

    def _open_cell(self, kind: OpenKind, live: bool) -> Format:
        return self._made(
            LINES,
            valign="top",
            num_format=OPEN_FORMATS[kind],
            bg_color=TYPE_HERE,
            locked=False,
            text_wrap=kind == "note",
            quote_prefix=live,
        )

    def _made(self, more: Mapping[str, object] = {}, **most: object) -> Format:
        return self._book.add_format({**FONT, **more, **most})
