"""How lengths, levels and amounts are written for people: in millimetres and metres, or in feet and inches."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol

from elevgen.core.measures import METRE, MM_PER_INCH, level, metres, millimetres
from elevgen.core.units import ShownUnit, customary, metric

Lengths = Literal["mm", "feet"]
FINEST = 16
"""Inches are written to this part of an inch: a sixteenth."""


class Figures(Protocol):
    """A way of writing lengths and amounts. Lengths given are in millimetres, amounts in the metric unit named with them."""

    @property
    def note(self) -> str:
        """In what a drawing's figures are, for its title."""

    @property
    def step(self) -> float:
        """What sizes are made a whole number of on site (mm)."""

    @property
    def in_feet(self) -> bool:
        """Whether lengths are in feet and inches, and all amounts in customary units."""

    def scale(self, of: int) -> str:
        """A drawing's scale, 1 to so many."""

    def length(self, value: float, places: int = 1) -> str:
        """A length or a place, without its unit where the drawing's note says it."""

    def measure(self, value: float, places: int = 1) -> str:
        """A length with its unit, for sentences."""

    def range(self, low: float, high: float, places: int = 1) -> str:
        """A stretch or a range with its unit once, for sentences; one figure where both ends show alike."""

    def fine(self, low: float, high: float | None = None) -> str:
        """A movement or a wire, too small for a tape, with its unit: one figure, or from one to another."""

    def run(self, value: float, places: int = 2) -> str:
        """A long length with its unit, for adding up and for buying."""

    def plain(self, value: float) -> str:
        """A long length with its unit and no more figures than it needs (`12 m`, `7.5 m`)."""

    def about(self, value: float) -> str:
        """A long length that is itself a round figure, to the nearest whole foot (`1.5 m`, `5 ft`)."""

    def level(self, value: float) -> str:
        """A level from datum, always with its sign."""

    def unit(self, unit: str) -> ShownUnit:
        """The unit that is shown in place of a metric one."""

    def amount(self, value: float, unit: str, places: int = 2) -> str:
        """An amount that is no length, with its unit and so many decimals."""

    def few(self, value: float, unit: str, places: int = 4) -> str:
        """An amount with its unit and no more decimals than it needs."""

    def weight(self, value: float, places: int = 1) -> str:
        """A weight of so many kilograms, with its unit and no more figures than it needs."""


class _Amounts:
    """What is written alike whatever the units: an amount in the unit that is shown in place of its metric one."""

    __slots__ = ()

    def unit(self, unit: str) -> ShownUnit:
        raise NotImplementedError

    def amount(self, value: float, unit: str, places: int = 2) -> str:
        shown = self.unit(unit)
        return f"{shown.of(value):.{places}f} {shown.name}"

    def few(self, value: float, unit: str, places: int = 4) -> str:
        shown = self.unit(unit)
        return f"{millimetres(shown.of(value), places)} {shown.name}"

    def weight(self, value: float, places: int = 1) -> str:
        return self.few(value, "kg", places)


@dataclass(frozen=True, slots=True)
class Metric(_Amounts):
    """Whole millimetres where they are whole; levels in metres with three decimals."""

    note: str = "Lengths in mm, levels in m."
    step: float = 1.0
    in_feet: bool = False

    def scale(self, of: int) -> str:
        return f"1:{of}"

    def length(self, value: float, places: int = 1) -> str:
        return millimetres(value, places)

    def measure(self, value: float, places: int = 1) -> str:
        return f"{millimetres(value, places)} mm"

    def range(self, low: float, high: float, places: int = 1) -> str:
        return f"{_from_to(millimetres(low, places), millimetres(high, places))} mm"

    def fine(self, low: float, high: float | None = None) -> str:
        return self.range(low, low if high is None else high)

    def run(self, value: float, places: int = 2) -> str:
        return f"{metres(value, places)} m"

    def plain(self, value: float) -> str:
        return f"{millimetres(value / METRE, 2)} m"

    def about(self, value: float) -> str:
        return self.plain(value)

    def level(self, value: float) -> str:
        return level(value)

    def unit(self, unit: str) -> ShownUnit:
        return metric(unit)


@dataclass(frozen=True, slots=True)
class FeetAndInches(_Amounts):
    """Feet, inches and the nearest sixteenth: `12' 4 1/2"`; below a foot `7 5/8"`. Amounts in customary units (`units`)."""

    note: str = "Lengths and levels in feet and inches, to the nearest 1/16 inch."
    step: float = float(MM_PER_INCH / FINEST)
    in_feet: bool = True

    def scale(self, of: int) -> str:
        inches = Fraction(12, of)
        return f"1:{of}" if 2 * FINEST % inches.denominator else f'{_inches(inches)}" = 1\' 0"'

    def length(self, value: float, places: int = 1) -> str:
        return feet_and_inches(value)

    def measure(self, value: float, places: int = 1) -> str:
        return feet_and_inches(value)

    def range(self, low: float, high: float, places: int = 1) -> str:
        return _from_to(feet_and_inches(low), feet_and_inches(high))

    def fine(self, low: float, high: float | None = None) -> str:
        shown = [millimetres(customary("mm").of(x), 3) for x in (low, low if high is None else high)]
        return f"{_from_to(*shown)} in"

    def run(self, value: float, places: int = 2) -> str:
        return feet_and_inches(value)

    def plain(self, value: float) -> str:
        return feet_and_inches(value)

    def about(self, value: float) -> str:
        return f"{customary('m').of(value / METRE):.0f} ft"

    def level(self, value: float) -> str:
        text = feet_and_inches(value)
        return '±0"' if text == '0"' else text if text.startswith("-") else f"+{text}"

    def unit(self, unit: str) -> ShownUnit:
        return customary(unit)


def _from_to(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


METRIC: Figures = Metric()


def figures(lengths: Lengths) -> Figures:
    """The way of writing of that name."""
    return FeetAndInches() if lengths == "feet" else METRIC


def feet_and_inches(value: float) -> str:
    """Millimetres as feet, inches and sixteenths; halves go to the even sixteenth.

    After feet the inches are always there, as drawings here have them: `12' 0 3/8"`, that nobody reads as 12 feet 3.
    """
    parts = round(Fraction(value).limit_denominator(10**6) / MM_PER_INCH * FINEST)
    sign, parts = ("-", -parts) if parts < 0 else ("", parts)
    feet, rest = divmod(parts, 12 * FINEST)
    words = _inches(Fraction(rest, FINEST), nought=bool(feet))
    if not feet:
        return f'{sign}{words}"'
    return f"{sign}{feet}' {words}\""


def _inches(value: Fraction, *, nought: bool = False) -> str:
    """Whole inches and the fraction left; `nought`: the whole ones also where there are none."""
    whole, part = divmod(value, 1)
    return " ".join([str(whole)] * bool(whole or nought or not part) + [str(part)] * bool(part))
