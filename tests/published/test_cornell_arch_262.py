"""Cornell University, ARCH 262: the width of a sealed joint, worst of closing and opening (JW-01 to JW-05). Inches, Fahrenheit.

Bibliography: Cornell University, ARCH 262, 2007 solutions (read); problem sheets of 2001, 2002 and 2004 (inputs read, results
worked out by us).
"""

from __future__ import annotations

from typing import Any

import pytest

from elevgen.core.ranges import Range
from elevgen.joints.movement import JointMovement, Masonry, Side, joint_movement, temperature_changes
from elevgen.joints.sealing import Sealing, sealant_width

DOCUMENT = "Cornell University, ARCH 262"

COEFFICIENT = 3.6e-6
"""Brick, per degree Fahrenheit."""
GROWTH = 0.0002
INCH = 25.4


def exact(figure: float) -> Range:
    return Range(figure, figure)


def brick(rise: Range, fall: Range) -> Masonry:
    return Masonry("clay", exact(COEFFICIENT), rise, fall, exact(GROWTH), exact(0.0))


def joint(length: float, rise: Range, fall: Range, other: float | None, sealing: Sealing) -> JointMovement:
    """Between two panels of one length: half of each moves it."""
    side = Side(length, (brick(rise, fall),))
    return joint_movement((side, side), None if other is None else exact(other), sealing)


@pytest.fixture(scope="module", params=[1.0, INCH], ids=["inches", "millimetres"])
def solved(request: pytest.FixtureRequest) -> tuple[JointMovement, float]:
    """2007: 30 ft, laid at 60 to 75, wall at -15 to 105 degrees Fahrenheit, 1/4 in of the structure, sealant 50 %."""
    rise, fall = temperature_changes(105, -15, Range(60, 75))
    unit = request.param
    return joint(360 * unit, rise, fall, 0.25 * unit, Sealing(50, "installed_width", 0.0)), unit


def test_2007_closing_and_opening_part_by_part(published: Any, solved: tuple[JointMovement, float]) -> None:
    found, inch = solved
    closing, opening = found.closing, found.opening
    assert closing.thermal.high / inch == pytest.approx(0.0583, abs=0.00005)
    assert closing.moisture.high / inch == pytest.approx(0.072, abs=0.00005)
    published("JW-01", "2007, closing", 0.3803, closing.movement.high / inch, unit="in", within=0.0002)
    published("JW-01", "2007, closing, of temperature", 0.0583, closing.thermal.high / inch, unit="in", within=0.00005)
    published("JW-01", "2007, closing, of growth", 0.072, closing.moisture.high / inch, unit="in", within=0.00005)
    assert opening.thermal.high / inch == pytest.approx(0.1166, abs=0.00005)
    assert opening.moisture.high == 0, "no growth in the opening case"
    published("JW-01", "2007, opening", 0.3666, opening.movement.high / inch, unit="in", within=0.0002)
    published("JW-01", "2007, opening, of temperature", 0.1166, opening.thermal.high / inch, unit="in", within=0.00005)


def test_2007_widths_of_both_cases_and_the_worse(published: Any, solved: tuple[JointMovement, float]) -> None:
    found, inch = solved
    assert found.closing.width is not None
    assert found.opening.width is not None
    assert found.width is not None
    published("JW-01", "2007, width for closing", 0.7607, found.closing.width.high / inch, unit="in", within=0.0002)
    published("JW-01", "2007, width for opening", 0.7332, found.opening.width.high / inch, unit="in", within=0.0002)
    assert (found.governs, found.width.high) == ("closing", found.closing.width.high)


def test_2007_with_an_eighth_for_building_derived(published: Any, solved: tuple[JointMovement, float]) -> None:
    found, inch = solved
    width = sealant_width(found.closing.movement.high, 50, tolerance=0.125 * inch) / inch
    published("JW-02", "2007, with 1/8 in for building", 0.8857, width, unit="in", within=0.0002, status="derived")
    assert round(width * 8) == 7, "7/8 in"


@pytest.mark.parametrize(
    ("length", "swing", "other", "capability", "tolerance", "width"),
    [
        pytest.param(240, 95, 0.125, 50, 0.125, 0.635, id="2002"),
        pytest.param(300, 100, None, 25, 0.125, 0.797, id="2001"),
        pytest.param(144, 90, 0.125, 50, 0.1875, 0.588, id="2004"),
    ],
)
@pytest.mark.parametrize("inch", [1.0, INCH])
def test_other_years_one_swing_of_temperature_derived(
    published: Any,
    length: float,
    swing: float,
    other: float | None,
    capability: float,
    tolerance: float,
    width: float,
    inch: float,
) -> None:
    sealing = Sealing(capability, "installed_width", tolerance * inch)
    found = joint(length * inch, exact(swing), exact(swing), None if other is None else other * inch, sealing)
    assert found.width is not None
    check = {240: "JW-03", 300: "JW-04", 144: "JW-05"}[round(length)]
    published(
        check,
        f"{length:g} in, {swing:g} degF, {capability:g} %",
        width,
        found.width.high / inch,
        unit="in",
        within=0.0005,
        status="derived",
    )
