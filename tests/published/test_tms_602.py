"""TMS 602 (MSJC specification), tolerances of masonry as it is built.

Bibliography: TMS 602 article 3.3, MSJC 3.3, quoted by others: level of beds 1/4 in in 10 ft, 1/2 in at most; plumb 1/4 in in
10 ft, 3/8 in in 20 ft, 1/2 in at most. Plumb is no proportion: the set holds to 3/8 in over 10 ft and carries 1/2 in beside it.
"""

from __future__ import annotations

import pytest

from elevgen.fittings.tolerances import level_tolerance, plumb_tolerance
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Override

INCH, FOOT = 25.4, 304.8


@pytest.mark.parametrize(("feet", "inches"), [(10, 0.25), (4, 0.1), (20, 0.5), (21, 0.5), (60, 0.5)])
def test_tms_02_level_of_beds_quoted(feet: float, inches: float) -> None:
    assert level_tolerance(RuleReader(load_book("us")), feet * FOOT) == pytest.approx(inches * INCH)


@pytest.mark.parametrize(("feet", "inches"), [(10, 0.25), (6, 0.15), (20, 0.375)])
def test_tms_02_plumb_in_10_and_in_20_ft_quoted(feet: float, inches: float) -> None:
    assert plumb_tolerance(RuleReader(load_book("us")), feet * FOOT) == pytest.approx(inches * INCH)


@pytest.mark.parametrize(("feet", "inches"), [(10, 0.25), (40, 0.5)])
def test_tms_02_plumb_at_most_half_an_inch_quoted(feet: float, inches: float) -> None:
    """The figure carried beside, taken in its place."""
    (most,) = load_book("us").alternatives["tolerance.plumb.beyond"]
    assert (most.number, most.status) == (0.5 * INCH, "quoted")
    given = Override(rule="tolerance.plumb.beyond", value=0.5, unit="in", reason="over 20 ft", by="engineer")
    assert plumb_tolerance(RuleReader(load_book("us", (given,))), feet * FOOT) == pytest.approx(inches * INCH)
