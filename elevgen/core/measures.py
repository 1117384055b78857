"""Lengths as people write them, exact for inches; and the labels they are shown with.

A bare number is millimetres. A string carries its unit: `"12.14 m"`, `"910 mm"`, `"12' 4 1/2\\""`, `"8 in"`.
Fractions are kept exact until the one conversion to float millimetres.
"""

from __future__ import annotations

import re
from fractions import Fraction

MM_PER_INCH = Fraction(127, 5)

_UNITS: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": MM_PER_INCH,
    '"': MM_PER_INCH,
    "ft": MM_PER_INCH * 12,
    "'": MM_PER_INCH * 12,
}
_NUMBER = r"[0-9]*\.?[0-9]+|[0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+"
_ONE_UNIT = re.compile(rf"([+-]?)\s*({_NUMBER})\s*(mm|cm|m|in|ft|'|\")")
_FEET_INCHES = re.compile(rf"([+-]?)\s*([0-9]+)\s*(?:'|ft)\s*-?\s*({_NUMBER})\s*(?:\"|in)")
_LONGEST = 40

METRE = 1000.0
SQUARE_METRE = METRE**2
CUBIC_METRE = METRE**3
"""In mm, square mm and cubic mm."""
ALLOWED = 'a number of millimetres, or text with a unit: "12.14 m", "910 mm", "12\' 4 1/2\\""'


def parse_length(given: str) -> float:
    """Millimetres of a length written with its unit.

    Raises ValueError, naming what is allowed, for anything else.
    """
    text = given.strip() if len(given) <= _LONGEST else ""
    try:
        if match := _ONE_UNIT.fullmatch(text):
            sign, number, unit = match.groups()
            value = _fraction(number) * _UNITS[unit]
        elif match := _FEET_INCHES.fullmatch(text):
            sign, feet, inches = match.groups()
            value = (Fraction(feet) * 12 + _fraction(inches)) * MM_PER_INCH
        else:
            raise ValueError
    except (ValueError, ZeroDivisionError):
        shown = given if len(given) <= _LONGEST else given[: _LONGEST - 3] + "..."
        raise ValueError(f"{shown!r} is not a length; allowed: {ALLOWED}") from None
    return float(-value if sign == "-" else value)


def _fraction(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def millimetres(value: float, places: int = 1) -> str:
    """A length for a label: whole where it is whole, else to `places` (`102.5`, `2110`)."""
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def level(value: float) -> str:
    """A level in metres with its sign, three decimals (`+2.110`, `±0.000`)."""
    metres = round(value / 1000, 3)
    return "±0.000" if metres == 0 else f"{metres:+.3f}"


def metres(value: float, places: int = 2) -> str:
    """A length of millimetres shown in metres (`23.40`)."""
    return f"{value / 1000:.{places}f}"
