"""TMS 602 (MSJC specification), tolerances of masonry as it is built.

Bibliography: TMS 602 article 3.3, MSJC 3.3, quoted by others: level of beds 1/4 in in 10 ft and 1/2 in at most. Plumb is
1/4 in in 10 ft, 3/8 in in 20 ft, 1/2 in at most, which is no proportion: only its first and last figure are reproduced.
"""

from __future__ import annotations

import pytest

from elevgen.fittings.tolerances import level_tolerance, plumb_tolerance
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Override

INCH, FOOT = 25.4, 304.8


def reader(what: str, far: str, feet: float) -> RuleReader:
    """The set with the specification's figures given in place of its own, as it prints them."""
    figures = (("per_metre", 0.25, "in/10ft"), (far, feet, "ft"), ("beyond", 0.5, "in"))
    given = [
        Override(rule=f"tolerance.{what}.{key}", value=value, unit=unit, reason="TMS 602", by="engineer")
        for key, value, unit in figures
    ]
    return RuleReader(load_book("uk", given))


@pytest.mark.parametrize(("feet", "inches"), [(10, 0.25), (4, 0.1), (20, 0.5), (21, 0.5), (60, 0.5)])
def test_tms_02_level_of_beds_quoted(feet: float, inches: float) -> None:
    assert level_tolerance(reader("level", "length", 20), feet * FOOT) == pytest.approx(inches * INCH)


@pytest.mark.parametrize(("feet", "inches"), [(10, 0.25), (40, 0.5)])
def test_tms_02_plumb_in_10_ft_and_at_most_quoted(feet: float, inches: float) -> None:
    assert plumb_tolerance(reader("plumb", "height", 10), feet * FOOT) == pytest.approx(inches * INCH)
