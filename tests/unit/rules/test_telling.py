"""Values in the unit people use, metric and in feet and inches."""

from __future__ import annotations

from fractions import Fraction

import pytest
from pint import UnitRegistry

from elevgen.core.figures import Lengths
from elevgen.core.sourced import Sourced, Value
from elevgen.rules.keys import KEYS
from elevgen.rules.loader import country_ids, load_book
from elevgen.rules.telling import told


def value(held: Value, unit: str) -> Sourced:
    return Sourced("a.key", held, unit, "Code", "", "", "read")


@pytest.mark.parametrize(
    ("held", "unit", "lengths", "words"),
    [
        (12000.0, "mm", "mm", "12 m"),
        (999.5, "mm", "mm", "999.5 mm"),
        (1000.0, "mm", "mm", "1 m"),
        (1350.0, "mm", "mm", "1.35 m"),
        (102.5, "mm", "mm", "102.5 mm"),
        (-0.2, "mm/m", "mm", "-0.2 mm per m"),
        (0.0055, "mm/m/K", "mm", "0.0055 mm per m and °C"),
        (2.5, "per_m2", "mm", "2.5 per m2"),
        (3.0, "ratio", "mm", "3"),
        (35.0, "degC", "mm", "35 °C"),
        (((75.0, 200.0), (1100.0, 225.0)), "mm", "mm", "up to 75 mm: 200 mm, up to 1.1 m: 225 mm"),
        ((6.0, 13.0), "mm", "mm", "6 mm, 13 mm"),
        (("hemp", "foam_rubber"), "word", "mm", "hemp, foam rubber"),
        ("half_spacing_each_side", "word", "mm", "half spacing each side"),
        (float(Fraction(149, 12) * Fraction(3048, 10)), "mm", "feet", "12' 5\""),
        (float(Fraction(61, 8) * Fraction(254, 10)), "mm", "feet", '7 5/8"'),
        (100.0, "mm", "feet", '3.937"'),
        (25.4 / 3.048, "mm_per_m", "feet", "1 in per 10 ft"),
        (0.0072, "mm/m/K", "feet", "4e-06 in per in and °F"),
        (0.3, "mm/m", "feet", "0.0003 in per in"),
        (35.0, "degC", "feet", "95 °F"),
        (50.0, "K", "feet", "90 °F difference"),
    ],
)
def test_a_value_is_told_as_people_say_it(held: Value, unit: str, lengths: Lengths, words: str) -> None:
    assert told(value(held, unit), lengths) == words


@pytest.mark.parametrize(
    ("unit", "metric", "imperial", "words"),
    [
        ("MPa", "megapascal", "psi", " psi"),
        ("kg", "kilogram", "pound", " lb"),
        ("kg/m3", "kilogram/meter**3", "pound/foot**3", " lb per cu ft"),
        ("per_m2", "1/meter**2", "1/foot**2", " per sq ft"),
        ("mm2/m", "millimeter**2/meter", "inch**2/foot", " sq in per ft"),
        ("ml", "milliliter", "US_fluid_ounce", " fl oz"),
        ("m3/m2", "meter", "foot/100", " cu ft per 100 sq ft"),
        ("m3/1000", "meter**3", "foot**3", " cu ft per 1000"),
        ("per_MPa", "1/megapascal", "1/psi", " per psi"),
    ],
)
def test_imperial_units_are_those_an_outside_library_reckons(unit: str, metric: str, imperial: str, words: str) -> None:
    ureg: UnitRegistry[float] = UnitRegistry()
    number, _, rest = told(value(1234.5, unit), "feet").partition(" ")
    assert f" {rest}" == words
    expected = ureg.Quantity(1234.5, metric).to(imperial if "/100" not in imperial else "foot").magnitude
    assert float(number) == pytest.approx(expected * (100 if "/100" in imperial else 1), rel=6e-3)


@pytest.mark.parametrize("country", country_ids())
def test_every_value_of_every_set_is_told_in_words(country: str) -> None:
    book = load_book(country)
    for key, held in book.values.items():
        for lengths in ("mm", "feet"):
            words = told(held, lengths)  # type: ignore[arg-type]
            assert words.strip() == words != ""
            assert "_" not in words, (key, words)
            if KEYS[key].unit == "mm" and KEYS[key].kind == "number":
                assert words.endswith("m" if lengths == "mm" else ('"', "mm)", "m)"))
