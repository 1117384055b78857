"""The bill flat, one row an item, for programs that read nothing but CSV. Written when it is asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import TypeVar

from elevgen.core.errors import OutputError
from elevgen.takeoff.pricing import billed_quantity, line_amount
from elevgen.takeoff.sections import by_item, section
from elevgen.writers._package import Package
from elevgen.writers._xlsx_text import TextTooLongError, plain

FORMAT = "csv"
DEFAULT = False

T = TypeVar("T")
S = TypeVar("S")
Field = str | float | int | Decimal | None

_LIVE = re.compile(r"(^|;)([\s\x22\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]*)(?=[=+\-@\uff1d\uff0b\uff0d\uff20])")
"""What a spreadsheet may take for a formula: at the start, or where a semicolon would part columns; blanks, quotes and
unseen characters before it, and the wide forms of the signs, count too."""


def render(package: Package) -> dict[str, bytes]:
    """`<name>-bill.csv`: UTF-8 with its mark, lines ended as RFC 4180 has it, texts in quotes, numbers with a decimal point.

    Raises OutputError for text longer than a cell holds.
    """
    name = f"{package.design.name}-bill.csv"
    heads = ("Section", "Code", "Description", *_in_order(package, "Quantity", "Unit"), "Rate", "Amount", "Note")
    try:
        lines = [",".join(map(field_text, line)) for line in (heads, *_rows(package))]
    except TextTooLongError as error:
        raise OutputError(Path(name), str(error)) from error
    return {name: "".join(f"{line}\r\n" for line in lines).encode("utf-8-sig")}


def field_text(value: Field) -> str:
    """A field as it is written: text in quotes and harmless, a number plain and to 12 figures, nothing for None."""
    if value is None or value == "":
        return ""
    if isinstance(value, str):
        return '"' + harmless(value).replace('"', '""') + '"'
    return format(value if isinstance(value, Decimal) else Decimal(f"{value:.12g}"), "f")


def harmless(text: str) -> str:
    """One line of text that no spreadsheet takes for a formula, with an apostrophe before what it might (CWE-1236)."""
    return _LIVE.sub(r"\1'\2", plain(text))


def _rows(package: Package) -> Iterator[tuple[Field, ...]]:
    takeoff = package.takeoff.for_people
    for code, places in by_item(takeoff.quantities):
        own = package.rates.of(code)
        quantity = billed_quantity(takeoff, code, places[0].unit)
        amount = None if own.rate is None else Decimal(f"{line_amount(quantity, own.rate):.2f}")
        measured: tuple[Field, Field] = _in_order(package, quantity, places[0].unit)
        yield (section(code), code, places[0].item, *measured, own.rate, amount, own.note)


def _in_order(package: Package, quantity: T, unit: S) -> tuple[T | S, T | S]:
    """The two columns in the order that the measurement rules give a bill."""
    return (unit, quantity) if package.takeoff.measured_by.unit_first else (quantity, unit)
