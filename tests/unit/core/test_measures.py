from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.core.measures import level, metres, millimetres, parse_length

INCH = Fraction(254, 10)
QUICK = settings(max_examples=150, deadline=None, derandomize=True, database=None)


@pytest.mark.parametrize(
    ("text", "exact"),
    [
        ("12.14 m", Fraction(12140)),
        ("910 mm", Fraction(910)),
        ("-150mm", Fraction(-150)),
        ("10.25 cm", Fraction(205, 2)),
        (".5 m", Fraction(500)),
        ("12' 4 1/2\"", (12 * 12 + Fraction(9, 2)) * INCH),
        ("12'-4 1/2\"", (12 * 12 + Fraction(9, 2)) * INCH),
        ("12ft 4in", 148 * INCH),
        ("12'", 144 * INCH),
        ("12.5'", 150 * INCH),
        ("3/8 in", Fraction(3, 8) * INCH),
        ('7 5/8"', Fraction(61, 8) * INCH),
        ("-1' 1/3\"", -(12 + Fraction(1, 3)) * INCH),
        (" 8 in ", 8 * INCH),
    ],
)
def test_lengths_with_units(text, exact):
    assert parse_length(text) == float(exact)


@pytest.mark.parametrize(
    "text",
    ["", " ", "910", "12.14 M", "1,200 mm", "1/0 in", "4'' 3", "--3 mm", "1e3 mm", "1.5 1/2 in", "ten m", "1 2 mm", "m", "'",
     "9" * 400 + " m", "9" * 5000 + " m", " " * 5000 + "1 m", "\u0661 m", "12' 4", "3 m 5 cm"],
)  # fmt: skip
def test_anything_else_is_refused_with_what_is_allowed(text):
    with pytest.raises(ValueError, match="is not a length; allowed: a number of millimetres"):
        parse_length(text)


@QUICK
@given(feet=st.integers(0, 400), inches=st.integers(0, 11), top=st.integers(0, 63), power=st.integers(1, 6), minus=st.booleans())
def test_feet_inches_and_fractions_are_exact(feet, inches, top, power, minus):
    bottom = 2**power
    exact = (feet * 12 + inches + Fraction(top, bottom)) * INCH * (-1 if minus else 1)
    assert parse_length(f"{'-' if minus else ''}{feet}' {inches} {top}/{bottom}\"") == float(exact)


@QUICK
@given(whole=st.integers(-(10**7), 10**7), unit=st.sampled_from(["mm", "cm", "m"]))
def test_metric_is_exact(whole, unit):
    assert parse_length(f"{whole / 1000:.3f} {unit}") == float(Fraction(whole, 1000) * {"mm": 1, "cm": 10, "m": 1000}[unit])


@pytest.mark.parametrize(
    ("value", "text"),
    [(102.5, "102.5"), (2110.0, "2110"), (-0.04, "0"), (0.05, "0.1"), (1000, "1000"), (-150.0, "-150"), (99.96, "100")],
)
def test_millimetre_labels(value, text):
    assert millimetres(value) == text


def test_labels_of_levels_and_metres():
    assert [level(v) for v in (2110, -150, 0, -0.4, 12345.6)] == ["+2.110", "-0.150", "±0.000", "±0.000", "+12.346"]
    assert [metres(v) for v in (23400, 7, 123456)] == ["23.40", "0.01", "123.46"]
    assert millimetres(1234.5678, places=3) == "1234.568"
    assert millimetres(1200, places=0) == "1200"
