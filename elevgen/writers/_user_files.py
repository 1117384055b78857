"""Files of a user's that hold tables: workbooks and CSV read into rows of plain values. What is wrong is said with its place."""

from __future__ import annotations

import csv
import io
import warnings
from collections.abc import Iterable
from itertools import zip_longest
from pathlib import Path
from typing import NamedTuple, NoReturn
from zipfile import BadZipFile, ZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.utils import get_column_letter

from elevgen.core.errors import RateFault, RatesError

LARGEST = 20_000_000
"""Bytes of the largest file that is read."""
LARGEST_UNPACKED = 400_000_000
"""Bytes of the largest workbook once unpacked."""
CELL_LIMIT = 1_000_000
"""Characters a field of a CSV file may have before it is taken for a quote that was never closed."""

Cells = tuple[object, ...]


class UserSheet(NamedTuple):
    """A sheet, or a whole CSV file: rows as they stand, and the cells (row, column from 1) whose formula has no stored value.

    `name` is empty for CSV.
    """

    name: str
    rows: tuple[Cells, ...]
    unreckoned: frozenset[tuple[int, int]] = frozenset()

    def value(self, row: int, column: int) -> object:
        """What stands in a cell, both counted from 1; None outside of what is filled."""
        cells = self.rows[row - 1] if row <= len(self.rows) else ()
        return cells[column - 1] if column <= len(cells) else None

    def row_place(self, row: int) -> str:
        return f"sheet {self.name}, row {row}" if self.name else f"row {row}"

    def place(self, row: int, column: int, heading: str) -> str:
        """Where a cell is: `sheet Prices, row 4, column D (rate)`, in CSV `row 4, column 4 (rate)`."""
        shown = get_column_letter(column) if self.name else str(column)
        return f"{self.row_place(row)}, column {shown} ({heading})"


class UserBook(NamedTuple):
    """A workbook: its sheets in order, and the cells that defined names stand for, as sheet and place ("B7")."""

    sheets: tuple[UserSheet, ...]
    names: dict[str, tuple[str, int, int]]


def read_bytes(path: Path) -> bytes:
    """The file as it is. Raises RatesError where it is no file or too large; OSError where it cannot be read."""
    if path.is_dir():
        refuse(path.name, "", "this is a folder", allowed="a file")
    size = path.stat().st_size
    if size > LARGEST:
        refuse(path.name, "", "the file is too large", f"{size} bytes", f"{LARGEST} bytes")
    return path.read_bytes()


def is_workbook(data: bytes) -> bool:
    """True for what is packed as an xlsx is; another suffix does not matter."""
    return data.startswith(b"PK\x03\x04")


def workbook(data: bytes, name: str) -> UserBook:
    """A workbook's stored values. Raises RatesError where it is none, or is damaged."""
    _refuse_bomb(data, name)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles and extensions of other programs, none of which is read
            stored = load_workbook(io.BytesIO(data), data_only=True)
            written = load_workbook(io.BytesIO(data))
        return UserBook(tuple(_sheet(stored, written, title) for title in _titles(stored)), _names(stored))
    except Exception as error:  # the library raises whatever it trips over
        refuse(name, "", "this workbook cannot be read", f"{type(error).__name__}: {error}"[:120], "an .xlsx workbook")


def csv_text(data: bytes, name: str) -> str:
    """The text of a CSV file. Raises RatesError where it is not UTF-8."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data.count(b"\n", 0, error.start) + 1
        refuse(name, f"row {row}", "the file is not UTF-8 text", f"byte 0x{data[error.start]:02x}", "CSV saved as UTF-8")


def csv_rows(text: str, separator: str, name: str) -> tuple[Cells, ...]:
    """The rows of a CSV text. Raises RatesError at a quote that is not closed."""
    rows: list[Cells] = []
    before = csv.field_size_limit(CELL_LIMIT)
    try:
        rows.extend(map(tuple, csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)))
    except csv.Error as error:
        where = f"row {len(rows) + 1}"
        refuse(name, where, f"not to be read as CSV: {error}", allowed='every quote closed; a quote in a text as ""')
    finally:
        csv.field_size_limit(before)
    return tuple(rows)


def refuse(name: str, where: str, message: str, given: str = "", allowed: str = "", nearest: str = "") -> NoReturn:
    """Raise RatesError with one fault."""
    raise RatesError((RateFault(where or "the file", message, given, allowed, nearest),), name)


def words(value: object) -> str:
    """What a cell says, as text without blanks around it: a code typed as a number keeps its figures."""
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).strip()


def heading(value: object) -> str:
    """A heading for comparison: letters of either case, blanks of any number."""
    return " ".join(words(value).casefold().split())


def _titles(book: Workbook) -> Iterable[str]:
    return [sheet.title for sheet in book.worksheets]


def _sheet(stored: Workbook, written: Workbook, title: str) -> UserSheet:
    rows = []
    unreckoned = set()
    pairs = zip_longest(stored[title].iter_rows(), written[title].iter_rows(), fillvalue=())
    for number, (values, formulas) in enumerate(pairs, 1):
        rows.append(tuple(cell.value for cell in values))
        for column, (value, formula) in enumerate(zip(values, formulas, strict=False), 1):
            if formula.data_type == "f" and value.value is None:
                unreckoned.add((number, column))
    return UserSheet(title, tuple(rows), frozenset(unreckoned))


def _names(book: Workbook) -> dict[str, tuple[str, int, int]]:
    """Defined names that stand for one cell; others, and broken ones, are passed over."""
    names = {}
    for name, defined in book.defined_names.items():
        try:
            ((title, place),) = list(defined.destinations)
            cell = book[title][place.replace("$", "")]
            names[name] = (title, cell.row, cell.column)
        except Exception:  # whatever a foreign name stands for, it is none of ours
            continue
    return names


def _refuse_bomb(data: bytes, name: str) -> None:
    try:
        with ZipFile(io.BytesIO(data)) as archive:
            size = sum(member.file_size for member in archive.infolist())
    except (BadZipFile, ValueError, OSError):
        refuse(name, "", "this workbook cannot be read", "a damaged file", "an .xlsx workbook")
    if size > LARGEST_UNPACKED:
        refuse(name, "", "the workbook is too large", f"{size} bytes unpacked", f"{LARGEST_UNPACKED} bytes")
