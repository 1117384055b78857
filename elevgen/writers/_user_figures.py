"""Figures in a user's cells: numbers are taken only where they can be read in one way."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from math import inf, isfinite

from elevgen.core.errors import RateFault, RatesError
from elevgen.writers._user_files import UserSheet, words

HIGHEST = 1e9
"""Highest figure taken: above it a bill no longer adds up to the penny."""

LARGEST_FLOAT = 1.7e308
UNRECKONED = "the formula has no stored value, open and save it in a spreadsheet"

_POINT = re.compile(r"\d+(\.\d*)?|\.\d+")
_COMMA = re.compile(r"\d+(,\d*)?|,\d+")
_TWO_WAYS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")
"""`1.234` and `1,234`: a thousand and more, or one and a bit. Where both marks may stand, nobody can tell."""
_MINUS = re.compile(r"[-\u2212]\s*\d")


class NotAFigureError(ValueError):
    """Why a cell holds no figure to be used, and what is allowed."""

    def __init__(self, message: str, allowed: str) -> None:
        self.message, self.allowed = message, allowed
        super().__init__(message)


def figure(value: object, *, either_mark: bool = False, least: float = 0.0, most: float = HIGHEST) -> float | None:
    """The figure in a cell, None where it is empty. `either_mark`: a decimal comma is allowed. Raises NotAFigureError."""
    allowed = f"a number from {least:.12g} to {most:,.12g}".replace(",", " ")
    if isinstance(value, bool) or not isinstance(value, int | float):
        text = words(value).replace("\u00a0", "")
        if not text:
            return None
        number = _number(text, either_mark, allowed)
    else:
        number = float(value) if abs(value) <= LARGEST_FLOAT else inf
    if not isfinite(number):
        raise NotAFigureError("not a number", allowed)
    if number < 0:
        raise NotAFigureError("a negative number", allowed)
    if not least <= number <= most:
        raise NotAFigureError("a number out of range", allowed)
    return number


def _number(text: str, either_mark: bool, allowed: str) -> float:
    if either_mark and _TWO_WAYS.fullmatch(text):
        whole, part = re.split("[.,]", text)
        raise NotAFigureError("a number that can be read in two ways", f"{whole}{part}, or {whole},{part}0 for a fraction")
    if _POINT.fullmatch(text):
        return float(text)
    if _COMMA.fullmatch(text):
        if either_mark:
            return float(text.replace(",", "."))
        raise NotAFigureError(
            "a decimal comma", f"{allowed}, with a decimal point; a comma only in CSV with semicolons between the columns"
        )
    raise NotAFigureError("a negative number" if _MINUS.match(text) else "not a number", allowed)


@dataclass
class Figures:
    """Reads the figures of one sheet and gathers all that is wrong with them."""

    sheet: UserSheet
    either_mark: bool = False
    faults: list[RateFault] = field(default_factory=list)

    def at(self, row: int, column: int | None, heading: str, least: float = 0.0, most: float = HIGHEST) -> float | None:
        """The figure in a cell; None where there is none, or where it is wrong, which is then noted."""
        if column is None:
            return None
        place = self.sheet.place(row, column, heading)
        if (row, column) in self.sheet.unreckoned:
            self.faults.append(RateFault(place, UNRECKONED, allowed="a number, or a formula stored with what it gives"))
            return None
        value = self.sheet.value(row, column)
        try:
            return figure(value, either_mark=self.either_mark, least=least, most=most)
        except NotAFigureError as error:
            self.faults.append(RateFault(place, error.message, shown(value), error.allowed))
            return None

    def text(self, row: int, column: int | None, heading: str) -> str:
        """The text in a cell, without blanks around it."""
        if column is None:
            return ""
        if (row, column) in self.sheet.unreckoned:
            place = self.sheet.place(row, column, heading)
            self.faults.append(RateFault(place, UNRECKONED))
        return words(self.sheet.value(row, column))


def raise_faults(faults: list[RateFault], name: str) -> None:
    """Raise RatesError where there are any."""
    if faults:
        raise RatesError(tuple(faults), name)


def shown(value: object, longest: int = 80) -> str:
    """A value for a message: short, and with nothing in it that a terminal could obey."""
    text = "".join(c if c.isprintable() else "\ufffd" for c in str(value))
    return text if len(text) <= longest else f"{text[: longest - 3]}..."
