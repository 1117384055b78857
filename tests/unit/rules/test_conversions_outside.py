"""Units that documents print, against pint: every factor of the loader, and lengths as specs write them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from elevgen.core.measures import parse_length
from elevgen.rules.entries import WRITTEN_IN

pint = pytest.importorskip("pint")
UNITS = pint.UnitRegistry()
IN_PINT = {
    "mm": "mm", "m": "m", "in": "inch", "ft": "foot",
    "mm/m": "mm/m", "percent": "1/100", "in/in": "inch/inch", "mm_per_m": "mm/m", "in/10ft": "inch/(10*foot)",
    "per_m2": "1/m**2", "per_sf": "1/foot**2",
    "kg": "kg", "lb": "pound", "kg/m3": "kg/m**3", "lb/ft3": "pound/foot**3",
    "ml": "ml", "floz": "US_fluid_ounce",
    "m3/m2": "m**3/m**2", "cf/100sf": "foot**3/(100*foot**2)", "m3/1000": "m**3", "cf/1000": "foot**3",
    "mm/m/K": "mm/m/kelvin", "per_K": "1/kelvin", "per_degF": "1/delta_degF", "K": "kelvin", "degF": "delta_degF",
    "MPa": "MPa", "psi": "psi", "ksi": "ksi", "per_MPa": "1/MPa", "per_psi": "1/psi",
    "mm2/m": "mm**2/m", "cm2/m": "cm**2/m", "in2/ft": "inch**2/foot",
}  # fmt: skip
"""What pint calls a unit of ours. One that is missing here fails: add it."""
PAIRS = [(ours, written, factor) for ours, factors in WRITTEN_IN.items() for written, factor in factors.items()]


@pytest.mark.parametrize(("ours", "written", "factor"), PAIRS, ids=str)
def test_every_unit_a_document_may_print_is_turned_as_pint_turns_it(ours: str, written: str, factor: float) -> None:
    one, unit = (UNITS.Quantity(1.0) * UNITS.parse_expression(IN_PINT[name]) for name in (written, ours))
    assert (one / unit).to("").magnitude == pytest.approx(factor, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "feet", "inches"),
    [
        ("7 5/8 in", 0, Fraction(61, 8)),
        ("12' 4 1/2\"", 12, Fraction(9, 2)),
        ("3/8 in", 0, Fraction(3, 8)),
        ("22' 2 2/3\"", 22, Fraction(8, 3)),
    ],
)
def test_feet_and_inches_of_a_spec_are_as_long_as_pint_says(text: str, feet: int, inches: Fraction) -> None:
    length = UNITS.Quantity(feet, "foot") + UNITS.Quantity(float(inches), "inch")
    assert parse_length(text) == pytest.approx(length.to("mm").magnitude, abs=1e-9)
