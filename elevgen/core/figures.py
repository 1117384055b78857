"""How lengths and levels are written on drawings: in millimetres and metres, or in feet and inches."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol

from elevgen.core.measures import MM_PER_INCH, level, metres, millimetres

Lengths = Literal["mm", "feet"]
FINEST = 16
"""Inches are written to this part of an inch: a sixteenth."""


class Figures(Protocol):
    """A way of writing lengths. Everything given is in millimetres."""

    @property
    def note(self) -> str:
        """In what a drawing's figures are, for its title."""

    @property
    def step(self) -> float:
        """What sizes are made a whole number of on site (mm)."""

    def length(self, value: float, places: int = 1) -> str:
        """A length or a place, without its unit where the drawing's note says it."""

    def measure(self, value: float) -> str:
        """A length with its unit, for sentences."""

    def run(self, value: float) -> str:
        """A long length with its unit, for adding up and for buying."""

    def level(self, value: float) -> str:
        """A level from datum, always with its sign."""


@dataclass(frozen=True, slots=True)
class Metric:
    """Whole millimetres where they are whole; levels in metres with three decimals."""

    note: str = "Lengths in mm, levels in m."
    step: float = 1.0

    def length(self, value: float, places: int = 1) -> str:
        return millimetres(value, places)

    def measure(self, value: float) -> str:
        return f"{millimetres(value)} mm"

    def run(self, value: float) -> str:
        return f"{metres(value)} m"

    def level(self, value: float) -> str:
        return level(value)


@dataclass(frozen=True, slots=True)
class FeetAndInches:
    """Feet, inches and the nearest sixteenth: `12' 4 1/2"`; below a foot `7 5/8"`."""

    note: str = "Lengths and levels in feet and inches, to the nearest 1/16 inch."
    step: float = float(MM_PER_INCH / FINEST)

    def length(self, value: float, places: int = 1) -> str:
        return feet_and_inches(value)

    def measure(self, value: float) -> str:
        return feet_and_inches(value)

    def run(self, value: float) -> str:
        return feet_and_inches(value)

    def level(self, value: float) -> str:
        text = feet_and_inches(value)
        return '±0"' if text == '0"' else text if text.startswith("-") else f"+{text}"


def figures(lengths: Lengths) -> Figures:
    """The way of writing of that name."""
    return FeetAndInches() if lengths == "feet" else Metric()


def feet_and_inches(value: float) -> str:
    """Millimetres as feet, inches and sixteenths; halves go to the even sixteenth."""
    parts = round(Fraction(value).limit_denominator(10**6) / MM_PER_INCH * FINEST)
    sign, parts = ("-", -parts) if parts < 0 else ("", parts)
    feet, rest = divmod(parts, 12 * FINEST)
    inches, sixteenths = divmod(rest, FINEST)
    part = f"{Fraction(sixteenths, FINEST)}" if sixteenths else ""
    words = " ".join(word for word in (f"{inches}" if inches or not part else "", part) if word)
    if not feet:
        return f'{sign}{words}"'
    return f"{sign}{feet}' {words}\""
