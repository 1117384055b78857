"""An earlier workbook of ours, filled in by its user: what stands in the open cells, to be carried across by item code.

Sheets are found by name, columns by heading, settings by their defined name, else by their label: so it may have been saved by
any program since, and columns may have been moved.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isclose
from pathlib import Path
from typing import NamedTuple, NoReturn

from elevgen.core.errors import RateFault
from elevgen.takeoff.pricing import KeptBook, KeptLine
from elevgen.takeoff.rates import Own
from elevgen.writers._user_figures import Figures, NotAFigureError, figure, raise_faults, shown
from elevgen.writers._user_files import UserBook, UserSheet, heading, is_workbook, read_bytes, refuse, words, workbook
from elevgen.writers._xlsx_bill import BILL
from elevgen.writers._xlsx_money import SETTINGS, SUMS
from elevgen.writers._xlsx_orders import ORDERS

ALLOWED = "a workbook made by elevgen draw: a sheet Bill with the columns Code, Unit and Rate"
HIGHEST_PERCENT = 1000.0
LEAST_PACK = 1e-9


class Row(NamedTuple):
    """A row of a table with an item in it, and where the columns of that table are."""

    number: int
    columns: dict[str, int]


def read_kept_rates(path: Path) -> KeptBook:
    """What a user had in an earlier workbook.

    Raises RatesError where it is no such workbook or holds figures that cannot be used, OSError where there is no such file.
    """
    data = read_bytes(path)
    if not is_workbook(data):
        refuse(path.name, "", "this is no workbook", allowed=ALLOWED)
    book = workbook(data, path.name)
    sheets = {sheet.name: sheet for sheet in book.sheets}
    if BILL.sheet not in sheets:
        refuse(path.name, "", "there is no sheet Bill", shown(", ".join(sheets)), ALLOWED)
    faults: list[RateFault] = []
    bill = tuple(_bill_lines(sheets[BILL.sheet], path.name, faults))
    orders = tuple(_order_lines(sheets[ORDERS.sheet], faults)) if ORDERS.sheet in sheets else ()
    settings = _settings(book, sheets.get(SUMS.sheet), faults)
    raise_faults(faults, path.name)
    return KeptBook(path.name, bill, orders, settings)


def _bill_lines(sheet: UserSheet, name: str, faults: list[RateFault]) -> Iterator[KeptLine]:
    figures = Figures(sheet, faults=faults)
    rows = list(_rows(sheet))
    if not any({"unit", "rate"} <= row.columns.keys() for row in rows):
        _refuse_bill(sheet, name)
    for number, columns in rows:
        own = Own(
            rate=figures.at(number, columns.get("rate"), "Rate"), note=figures.text(number, columns.get("note"), "Note") or None
        )
        if own != Own():
            yield _line(figures, number, columns, "item", own)


def _order_lines(sheet: UserSheet, faults: list[RateFault]) -> Iterator[KeptLine]:
    figures = Figures(sheet, faults=faults)
    for number, columns in _rows(sheet):
        waste = figures.at(number, columns.get("waste %"), "Waste %", most=HIGHEST_PERCENT)
        pack = figures.at(number, columns.get("pack holds"), "Pack holds", least=LEAST_PACK)
        own = Own(
            price=figures.at(number, columns.get("price"), "Price"),
            waste=_changed(waste, sheet, number, columns.get("waste % as drawn")),
            pack=_changed(pack, sheet, number, columns.get("pack as drawn")),
            order_note=figures.text(number, columns.get("note"), "Note") or None,
        )
        if own != Own():
            yield _line(figures, number, columns, "material", own)


def _line(figures: Figures, number: int, columns: dict[str, int], item: str, own: Own) -> KeptLine:
    code, name, unit = (figures.text(number, columns.get(key), key.capitalize()) for key in ("code", item, "unit"))
    return KeptLine(code, name, unit, own, figures.sheet.row_place(number))


def _rows(sheet: UserSheet) -> Iterator[Row]:
    """Every row under a heading `Code` that has a code and a unit; a row with that heading begins another table."""
    columns: dict[str, int] = {}
    for number, cells in enumerate(sheet.rows, 1):
        named = [heading(value) for value in cells]
        if "code" in named:
            columns = {name: column for column, name in reversed(list(enumerate(named, 1))) if name}
        elif columns and all(words(sheet.value(number, columns[key])) for key in ("code", "unit") if key in columns):
            yield Row(number, columns)


def _changed(value: float | None, sheet: UserSheet, row: int, drawn: int | None) -> float | None:
    """A figure where it is the user's own: not the one that was drawn."""
    if value is None or drawn is None:
        return None
    try:
        given = figure(sheet.value(row, drawn))
    except NotAFigureError:
        return value
    return None if given is not None and isclose(value, given, rel_tol=1e-9, abs_tol=1e-12) else value


def _settings(book: UserBook, summary: UserSheet | None, faults: list[RateFault]) -> dict[str, float]:
    """Percentages other than 0, by defined name, else from the cell that comes after their label on the sheet Summary."""
    sheets = {sheet.name: sheet for sheet in book.sheets}
    found = {}
    for label, name, _ in SETTINGS:
        if name in book.names:
            title, row, column = book.names[name]
            sheet = sheets.get(title)
        else:
            sheet, (row, column) = summary, _after_label(summary, label)
        if sheet is not None and row:
            percent = Figures(sheet, faults=faults).at(row, column, label, most=HIGHEST_PERCENT)
            if percent:
                found[name] = percent
    return found


def _after_label(sheet: UserSheet | None, label: str) -> tuple[int, int]:
    """Row and column of the first filled cell to the right of a label; 0, 0 where there is none."""
    for number, cells in enumerate(sheet.rows if sheet else (), 1):
        for column, value in enumerate(cells, 1):
            if heading(value) == heading(label):
                filled = (c for c, held in enumerate(cells[column:], column + 1) if words(held))
                return (number, next(filled, column + 1))
    return (0, 0)


def _refuse_bill(sheet: UserSheet, name: str) -> NoReturn:
    found = [", ".join(words(value) for value in cells if words(value)) for cells in sheet.rows if "code" in map(heading, cells)]
    given = shown(found[0]) if found else "no row with the heading Code"
    refuse(name, "sheet Bill", "the bill has no column for rates", given, ALLOWED)
