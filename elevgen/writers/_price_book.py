"""A user's price book, xlsx or CSV: lines with a code or a description, a unit, a rate and perhaps a buying price."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from elevgen.core.errors import RateFault, RatesError
from elevgen.takeoff.pricing import PriceBook, PriceLine, unit_as_taken
from elevgen.writers._user_figures import Figures, raise_faults, shown
from elevgen.writers._user_files import UserSheet, csv_rows, csv_text, heading, is_workbook, read_bytes, refuse, words, workbook

COLUMNS = ("code", "description", "unit", "rate", "price")
LOOKED_AT = 40
"""Rows in which the headings are looked for."""
ALLOWED = (
    f"code or description (or both), unit and rate, in one of the first {LOOKED_AT} rows; price too if you have buying prices"
)
SEPARATORS = (",", ";")


class Found(NamedTuple):
    """Where the headings stand: their row, and the column of each."""

    row: int
    columns: dict[str, int]

    @property
    def missing(self) -> tuple[str, ...]:
        named = () if {"code", "description"} & self.columns.keys() else ("code or description",)
        return (*named, *(name for name in ("unit", "rate") if name not in self.columns))


def read_price_book(path: Path) -> PriceBook:
    """A price book. The first sheet with the headings is read, other columns are passed over.

    Raises RatesError with all that is wrong with it, OSError where there is no such file.
    """
    data = read_bytes(path)
    sheet, separator = _sheet_of(data, path.name) if is_workbook(data) else _sheet_of_csv(data, path.name)
    found = _headings(sheet)
    figures = Figures(sheet, either_mark=separator == ";")
    _refuse_repeated(sheet, found, figures.faults)
    if separator:
        figures.faults += _overlong_rows(sheet, found.row)
    lines = [line for row in range(found.row + 1, len(sheet.rows) + 1) if (line := _line(figures, row, found.columns))]
    figures.faults += _contradictions(lines)
    raise_faults(figures.faults, path.name)
    return PriceBook(path.name, tuple(lines))


def _sheet_of(data: bytes, name: str) -> tuple[UserSheet, str]:
    sheets = workbook(data, name).sheets
    for sheet in sheets:
        if not _headings(sheet).missing:
            return sheet, ""
    raise _no_headings(sheets, name)


def _sheet_of_csv(data: bytes, name: str) -> tuple[UserSheet, str]:
    """The rows, by the separator with which they have the headings."""
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        refuse(name, "", "an old binary workbook (.xls), or one with a password", allowed="a workbook saved as .xlsx, or CSV")
    text = csv_text(data, name)
    tried = {separator: [line.split(separator) for line in text.splitlines()[:LOOKED_AT]] for separator in SEPARATORS}
    sheets = {mark: UserSheet("", tuple(tuple(c.strip(' "') for c in row) for row in rows)) for mark, rows in tried.items()}
    for separator, sheet in sheets.items():
        if not _headings(sheet).missing:
            read = UserSheet("", csv_rows(text, separator, name))
            if _headings(read).missing:  # in quotes that made one cell of them
                raise _no_headings((read,), name)
            return read, separator
    raise _no_headings(tuple(sheets.values()), name)


def _headings(sheet: UserSheet) -> Found:
    """The first row that has all the headings, else the one that has most of them."""
    best = Found(0, {})
    for number, cells in enumerate(sheet.rows[:LOOKED_AT], 1):
        columns: dict[str, int] = {}
        for column, value in enumerate(cells, 1):
            if (name := heading(value)) in COLUMNS:
                columns.setdefault(name, column)
        found = Found(number, columns)
        if not found.missing:
            return found
        if len(columns) > len(best.columns):
            best = found
    return best


def _no_headings(sheets: tuple[UserSheet, ...], name: str) -> RatesError:
    """What stands in the row that comes nearest to one of headings, and what it lacks."""
    found, sheet = max(((_headings(s), s) for s in sheets), key=lambda pair: len(pair[0].columns), default=(Found(0, {}), None))
    if sheet is None or not found.row:
        first = next((cells for s in sheets for cells in s.rows if any(map(words, cells))), ())
        given = shown(", ".join(filter(None, map(words, first)))) or "nothing"
        return RatesError((RateFault("the file", "no row has the headings of a price book", given, ALLOWED),), name)
    given = shown(", ".join(filter(None, map(words, sheet.rows[found.row - 1]))))
    message = f"the column {' and the column '.join(found.missing)} is missing"
    return RatesError((RateFault(sheet.row_place(found.row), message, given, ALLOWED),), name)


def _refuse_repeated(sheet: UserSheet, found: Found, faults: list[RateFault]) -> None:
    """Two columns of one name: which of them counts cannot be known."""
    for column, value in enumerate(sheet.rows[found.row - 1], 1):
        if (name := heading(value)) in found.columns and found.columns[name] != column:
            faults.append(RateFault(sheet.place(found.row, column, name), f"a second column {name}", "", f"one column {name}"))


def _overlong_rows(sheet: UserSheet, headings: int) -> list[RateFault]:
    """Rows of a CSV file with more cells than there are headings: what belongs where cannot be known."""
    width = len(sheet.rows[headings - 1])
    allowed = f"{width}, as there are headings; a text or a number with the separator in it in quotes"
    return [
        RateFault(sheet.row_place(number), "more cells than there are headings", f"{len(cells)} cells", allowed)
        for number, cells in enumerate(sheet.rows[headings:], headings + 1)
        if any(words(value) for value in cells[width:])
    ]


def _line(figures: Figures, row: int, columns: dict[str, int]) -> PriceLine | None:
    """A row's line; None for one that is empty or a heading of the user's, with no unit and no figure."""
    code, description, unit = (figures.text(row, columns.get(name), name) for name in ("code", "description", "unit"))
    rate, price = (figures.at(row, columns.get(name), name) for name in ("rate", "price"))
    if not unit and rate is None and price is None:
        return None
    return PriceLine(code, description, unit, rate, price, figures.sheet.row_place(row))


def _contradictions(lines: list[PriceLine]) -> list[RateFault]:
    """One code in two lines that do not say the same."""
    faults = []
    first: dict[str, PriceLine] = {}
    for line in lines:
        if not line.code:
            continue
        earlier = first.setdefault(line.code, line)
        for what, one, two in (
            ("unit", unit_as_taken(earlier.unit), unit_as_taken(line.unit)),
            ("rate", earlier.rate, line.rate),
            ("price", earlier.price, line.price),
        ):
            if one is not None and two is not None and one != two:
                allowed = f"one {what} for a code: {earlier.source} has {shown(one)}"
                faults.append(
                    RateFault(line.source, f"the code {shown(line.code)} again, with another {what}", shown(two), allowed)
                )
    return faults
