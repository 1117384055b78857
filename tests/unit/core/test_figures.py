"""Lengths on drawings, metric and in feet and inches."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.core.figures import feet_and_inches, figures
from elevgen.core.measures import parse_length


@pytest.mark.parametrize(
    ("inches", "said"),
    [
        (0, '0"'),
        (Fraction(3, 8), '3/8"'),
        (Fraction(61, 8), '7 5/8"'),
        (12, "1' 0\""),
        (Fraction(297, 2), "12' 4 1/2\""),
        (Fraction(-25, 16), '-1 9/16"'),
        (Fraction(193, 16), "1' 0 1/16\""),
    ],
)
def test_inches_are_said_exactly(inches, said):
    assert feet_and_inches(float(Fraction(inches) * Fraction(127, 5))) == said


@given(st.integers(-200_000, 200_000))
def test_what_is_said_reads_back_to_the_sixteenth(sixteenths):
    mm = float(Fraction(sixteenths, 16) * Fraction(127, 5))
    said = feet_and_inches(mm)
    assert parse_length(said) == pytest.approx(mm, abs=1e-9)


@given(st.floats(-50_000, 50_000))
def test_nothing_is_further_than_half_a_sixteenth_from_what_is_said(mm):
    assert abs(parse_length(feet_and_inches(mm)) - mm) <= 25.4 / 32 + 1e-3


def test_levels_always_have_their_sign():
    feet, metric = figures("feet"), figures("mm")
    assert [feet.level(x) for x in (0, 2438.4, -152.4)] == ['±0"', "+8' 0\"", '-6"']
    assert [metric.level(x) for x in (0, 2438.4, -152.4)] == ["±0.000", "+2.438", "-0.152"]


def test_units_are_said_where_the_note_does_not_say_them():
    assert (figures("mm").measure(102.5), figures("mm").run(2110.4)) == ("102.5 mm", "2.11 m")
    assert figures("feet").measure(101.6) == '4"'
