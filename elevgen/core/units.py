"""In what units quantities are shown to people: metric as they are kept, or those customary where lengths are in feet.

One table, exact: a foot is 0.3048 m, a pound 0.45359237 kg, a US fluid ounce 29.5735295625 ml (NIST Special Publication 811,
appendix B.8; NIST Handbook 44, appendix C: from memory). A pound of force is a pound at 9.80665 m/s2.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

FOOT = Fraction(3048, 10_000)
POUND = Fraction(45_359_237, 10**8)
FLUID_OUNCE = Fraction(295_735_295_625, 10**10)
GRAVITY = Fraction(980_665, 10**5)
"""A foot in m, a pound in kg, a US fluid ounce in ml, standard gravity in m/s2."""
INCH = FOOT / 12
FORCE = POUND * GRAVITY / 1000
"""An inch in m; a pound of force in kN."""


class ShownUnit(NamedTuple):
    """A unit as it is written, and how large it is in the metric unit it stands for."""

    name: str
    size: Fraction

    def of(self, value: float) -> float:
        """A metric value in this unit."""
        return float(Fraction(value) / self.size) if self.size != 1 else value

    def back(self, value: float) -> float:
        """The metric value of one in this unit."""
        return float(Fraction(value) * self.size) if self.size != 1 else value


CUSTOMARY = MappingProxyType(
    {
        "mm": ShownUnit("in", INCH * 1000),
        "m": ShownUnit("ft", FOOT),
        "m2": ShownUnit("sq ft", FOOT**2),
        "m3": ShownUnit("cu ft", FOOT**3),
        "ml": ShownUnit("fl oz", FLUID_OUNCE),
        "l": ShownUnit("fl oz", FLUID_OUNCE / 1000),
        "kg": ShownUnit("lb", POUND),
        "kN": ShownUnit("lb", FORCE),
        "kN/m": ShownUnit("plf", FORCE / FOOT),
        "kNm": ShownUnit("lb-ft", FORCE * FOOT),
        "kg/m3": ShownUnit("lb/cu ft", POUND / FOOT**3),
        "MPa": ShownUnit("psi", FORCE / 1000 / INCH**2),
        "per_MPa": ShownUnit("per psi", 1000 * INCH**2 / FORCE),
        "mm2": ShownUnit("sq in", INCH**2 * 10**6),
        "mm2/m": ShownUnit("sq in/ft", INCH**2 * 10**6 / FOOT),
        "ml/m": ShownUnit("fl oz/ft", FLUID_OUNCE / FOOT),
        "mm/m": ShownUnit("in/100 ft", INCH * 1000 / (FOOT * 100)),
        "mm_per_m": ShownUnit("in/100 ft", INCH * 1000 / (FOOT * 100)),
        "m2/m": ShownUnit("sq ft/ft", FOOT),
        "per m2": ShownUnit("per sq ft", 1 / FOOT**2),
        "per_m2": ShownUnit("per sq ft", 1 / FOOT**2),
        "nr/m2": ShownUnit("nr/sq ft", 1 / FOOT**2),
        "m3/m2": ShownUnit("cu ft/sq ft", FOOT),
        "m3/1000": ShownUnit("cu ft/1000", FOOT**3),
        "K": ShownUnit("°F", Fraction(5, 9)),
        "mm/m/K": ShownUnit("in/in/°F", Fraction(9, 5) * 1000),
    }
)
"""How metric units are shown where lengths are in feet and inches. What is not named here is shown as it is."""


METRIC_OF = MappingProxyType({CUSTOMARY[unit].name: unit for unit in ("m", "m2", "m3", "l")})
"""The metric unit of each customary one a bill has."""


def customary(unit: str) -> ShownUnit:
    """How a metric unit is shown where lengths are in feet and inches."""
    return CUSTOMARY.get(unit) or ShownUnit(unit, Fraction(1))


def metric(unit: str) -> ShownUnit:
    """A metric unit is shown as it is."""
    return ShownUnit(unit, Fraction(1))


def decimal(size: Fraction) -> str:
    """A size of a bill's unit as a decimal, exact: `0.028316846592` for a cubic foot in m3."""
    return format(Decimal(size.numerator) / Decimal(size.denominator), "f")
