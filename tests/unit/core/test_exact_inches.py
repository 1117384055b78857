"""Inches from input to label without a hair lost: fractions say what is due, pint turns units as an outside judge."""

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.core.figures import feet_and_inches, figures
from elevgen.core.measures import parse_length
from elevgen.core.units import CUSTOMARY, METRIC_OF, customary, decimal, metric
from elevgen.coursing.cutpieces import tenths

INCH = Fraction(127, 5)
FEET = figures("feet")
REGISTRY = pint.UnitRegistry()
AS_PINT = {
    "in": "inch", "ft": "foot", "sq ft": "foot ** 2", "cu ft": "foot ** 3", "fl oz": "US_fluid_ounce", "lb": "pound",
    "plf": "force_pound / foot", "lb-ft": "force_pound * foot", "lb/cu ft": "pound / foot ** 3",
    "psi": "psi", "per psi": "1 / psi",
    "sq in": "inch ** 2", "sq in/ft": "inch ** 2 / foot", "fl oz/ft": "US_fluid_ounce / foot",
    "in/100 ft": "inch / (100 * foot)",
    "sq ft/ft": "foot", "per sq ft": "1 / foot ** 2", "nr/sq ft": "1 / foot ** 2",
    "cu ft/sq ft": "foot", "cu ft/1000": "foot ** 3",
    "°F": "delta_degF", "in/in/°F": "1 / delta_degF",
}  # fmt: skip
METRIC_AS_PINT = {
    "mm": "mm", "m": "m", "m2": "m ** 2", "m3": "m ** 3", "ml": "ml", "l": "l", "kg": "kg", "kN": "kN", "kN/m": "kN / m",
    "kNm": "kN * m", "kg/m3": "kg / m ** 3", "MPa": "MPa", "per_MPa": "1 / MPa",
    "mm2": "mm ** 2", "mm2/m": "mm ** 2 / m", "ml/m": "ml / m",
    "mm/m": "mm / m", "mm_per_m": "mm / m", "m2/m": "m", "per m2": "1 / m ** 2", "per_m2": "1 / m ** 2", "nr/m2": "1 / m ** 2",
    "m3/m2": "m", "m3/1000": "m ** 3", "K": "delta_degC", "mm/m/K": "mm / m / delta_degC",
}  # fmt: skip


def label(inches: Fraction) -> str:
    """What is due, from the fraction itself: the nearest sixteenth, halves to the even one."""
    parts = round(inches * 16)
    feet, rest = divmod(parts, 192)
    whole, part = divmod(rest, 16)
    words = " ".join(([str(whole)] if whole or feet or not part else []) + ([str(Fraction(part, 16))] if part else []))
    return f"{feet}' {words}\"" if feet else f'{words}"'


def test_every_sixteenth_up_to_a_hundred_feet_is_read_and_said_the_same():
    for sixteenths in range(100 * 12 * 16 + 1):
        inches = Fraction(sixteenths, 16)
        said = label(inches)
        assert feet_and_inches(float(inches * INCH)) == said
        assert parse_length(said) == float(inches * INCH)
        assert parse_length(f"{inches} in") == float(inches * INCH)


@pytest.mark.parametrize("sixteenths", [0, 1, 2, 7, 190, 191, 192, 1000, 19_199])
def test_half_a_sixteenth_goes_to_the_even_one(sixteenths):
    inches = Fraction(2 * sixteenths + 1, 32)
    assert feet_and_inches(float(inches * INCH)) == label(inches)
    assert round(inches * 16) % 2 == 0


@pytest.mark.parametrize(
    ("module", "first"),
    [
        (Fraction(8), ['8"', "1' 4\"", "2' 0\""]),
        (Fraction(8, 3), ['2 11/16"', '5 5/16"', '8"']),
        (Fraction(16, 5), ['3 3/16"', '6 3/8"', '9 5/8"']),
        (Fraction(16), ["1' 4\"", "2' 8\"", "4' 0\""]),
    ],
)
def test_a_place_is_its_number_times_the_module_however_far(module, first):
    mm = float(module * INCH)
    assert [feet_and_inches(k * mm) for k in (1, 2, 3)] == first
    for k in range(1500):
        assert feet_and_inches(k * mm) == label(k * module), k


@given(st.integers(1, 40 * 12 * 32), st.integers(-200, 200))
def test_a_cut_length_is_said_to_the_sixteenth_it_is(parts, dust):
    """Whole thirty-seconds stay; the millionth of a millimetre that reckoning leaves does not push one over."""
    inches = Fraction(parts, 32)
    assert feet_and_inches(tenths(float(inches * INCH) + dust * 1e-7, FEET)) == label(inches)


@given(st.floats(1, 5000))
def test_a_cut_length_is_never_shorter_than_asked_nor_a_tenth_longer(length):
    for written in (tenths(length), tenths(length, FEET)):
        assert length - 2e-4 <= written <= length + 0.1 + 1e-9


def test_a_tenth_of_a_millimetre_is_not_always_the_sixteenth():
    """Why cut lengths in inches are not taken up to tenths: 3 1/32 in is 76.99375 mm, 77.0 after it, past half a sixteenth."""
    assert feet_and_inches(float(Fraction(97, 32) * INCH)) == '3"'
    assert feet_and_inches(tenths(float(Fraction(97, 32) * INCH))) == '3 1/16"'
    assert feet_and_inches(tenths(float(Fraction(97, 32) * INCH), FEET)) == '3"'


@pytest.mark.parametrize("unit", sorted(CUSTOMARY))
def test_pint_turns_every_unit_as_the_table_does(unit):
    shown = customary(unit)
    theirs = "force_pound" if unit == "kN" else AS_PINT[shown.name]
    due = (REGISTRY(f"1.0 * {METRIC_AS_PINT[unit]}") / REGISTRY(f"1.0 * ({theirs})")).to("dimensionless").magnitude
    assert shown.of(1.0) == pytest.approx(due, rel=1e-12)
    assert shown.back(shown.of(37.25)) == pytest.approx(37.25, rel=1e-12)


def test_what_the_table_does_not_name_is_shown_as_it_is():
    assert (customary("nr").name, customary("nr").of(7.0), metric("m2").of(3.5)) == ("nr", 7.0, 3.5)
    assert METRIC_OF == {"ft": "m", "sq ft": "m2", "cu ft": "m3", "fl oz": "l"}


def test_sizes_of_a_bills_units_are_written_exact():
    """NIST Handbook 44, appendix C, from memory: a foot 0.3048 m; a US fluid ounce 29.5735295625 ml."""
    assert [decimal(customary(unit).size) for unit in ("m", "m2", "m3", "l", "nr")] == [
        "0.3048",
        "0.09290304",
        "0.028316846592",
        "0.0295735295625",
        "1",
    ]


def test_amounts_in_sentences():
    metric_figures = figures("mm")
    assert [f.amount(1.5, "m2") for f in (metric_figures, FEET)] == ["1.50 m2", "16.15 sq ft"]
    assert [f.weight(20.0) for f in (metric_figures, FEET)] == ["20 kg", "44.1 lb"]
    assert [f.amount(2.0, "kN/m", 1) for f in (metric_figures, FEET)] == ["2.0 kN/m", "137.0 plf"]
    assert [f.range(9.525, 12.7) for f in (metric_figures, FEET)] == ["9.5 to 12.7 mm", '3/8" to 1/2"']
    assert [f.range(12.7, 12.7) for f in (metric_figures, FEET)] == ["12.7 mm", '1/2"']
    assert [f.fine(2.0, 7.5) for f in (metric_figures, FEET)] == ["2 to 7.5 mm", "0.079 to 0.295 in"]
    assert [f.plain(7620.0) for f in (metric_figures, FEET)] == ["7.62 m", "25' 0\""]
    assert [f.about(1500.0) for f in (metric_figures, FEET)] == ["1.5 m", "5 ft"]
