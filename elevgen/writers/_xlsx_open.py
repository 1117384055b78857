"""What may be typed into open cells, and what a user is told there."""

from __future__ import annotations

from collections import defaultdict
from itertools import groupby
from typing import NamedTuple

from xlsxwriter.worksheet import Worksheet

from elevgen.writers._xlsx_cells import column_letters
from elevgen.writers._xlsx_model import OpenKind


class Says(NamedTuple):
    """The message beside an open cell."""

    title: str
    message: str


SAYS: dict[OpenKind, Says] = {
    "rate": Says("Rate", "Your rate for one unit of measurement, labour and all. Leave it empty for what you do not price."),
    "price": Says("Price", "What one unit of measurement costs to buy, not one pack. Leave it empty where you do not know it."),
    "waste": Says("Waste %", "Your own waste, in per cent of what is needed. The figure it was drawn with stands beside it."),
    "pack": Says("Pack holds", "How much one pack holds, in the unit of measurement. Empty: ordered loose."),
    "percent": Says("Per cent", "In per cent. Empty counts as none."),
    "note": Says("Note", "For yourself."),
}


class OpenCells:
    """Open cells of a sheet, gathered to be told what they take."""

    def __init__(self) -> None:
        self._rows: dict[tuple[OpenKind, int], list[int]] = defaultdict(list)

    def add(self, kind: OpenKind, row: int, column: int) -> None:
        """One open cell, rows in their order."""
        self._rows[kind, column].append(row)

    def validate(self, page: Worksheet) -> None:
        """Numbers of at least nothing; notes take anything."""
        for (kind, column), rows in self._rows.items():
            page.data_validation(rows[0], column, rows[0], column, {**_rule(kind), "multi_range": _ranges(rows, column)})


def _rule(kind: OpenKind) -> dict[str, object]:
    says = SAYS[kind]
    told: dict[str, object] = {"input_title": says.title, "input_message": says.message}
    if kind == "note":
        return {"validate": "any", **told}
    wrong = {"error_title": says.title, "error_message": "A number, 0 or more; or leave the cell empty."}
    return {"validate": "decimal", "criteria": ">=", "value": 0, **told, **wrong}


def _ranges(rows: list[int], column: int) -> str:
    """Rows of a column as ranges: `E6:E9 E12:E14`."""
    letters = column_letters(column)
    runs = [[row for _, row in run] for _, run in groupby(enumerate(rows), lambda pair: pair[1] - pair[0])]
    return " ".join(f"{letters}{run[0] + 1}:{letters}{run[-1] + 1}" for run in runs)
