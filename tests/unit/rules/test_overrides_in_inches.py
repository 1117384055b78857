"""Overrides given in inches and feet are the millimetres they say, and what they replace is told as the set writes it."""

from typing import NamedTuple

import pytest

from elevgen.rules.loader import load_book


class Given(NamedTuple):
    rule: str
    value: float | str
    unit: str
    reason: str = "the maker's advice"
    by: str = "engineer"


@pytest.mark.parametrize(
    ("value", "unit", "mm"), [(20, "ft", 6096.0), (240, "in", 6096.0), ("20' 6\"", "", 6248.4), ("246 1/2 in", "", 6261.1)]
)
def test_an_override_in_inches_is_exact_and_says_what_it_replaces_in_feet(value, unit, mm):
    key = "movement_joint.spacing.normal.clay"
    book = load_book("us", (Given(key, value, unit),))
    assert book.values[key].number == pytest.approx(mm, abs=1e-9)
    assert "in place of 25' 0\", BIA" in book.values[key].note
    assert "in place of 12 m, " in load_book("uk", (Given(key, value, unit),)).values[key].note
