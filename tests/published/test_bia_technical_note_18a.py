"""BIA Technical Notes 18 and 18A: spacing of expansion joints by their width (TN18A-01, TN18A-02, TN18-02). Both unit systems.

Bibliography: BIA Technical Note 18A, Accommodating Expansion of Brickwork, November 2006, p.4 (the result 23 ft-2 in is read, the
equation and its inputs are from memory); a trade web article of 2011 for 17 ft-4 in (quoted); BIA Technical Note 18, October
2006, summary (read).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.core.ranges import Range
from elevgen.joints.movement import Masonry, Side, joint_movement
from elevgen.joints.sealing import Sealing, length_served, movement_taken

DOCUMENT = "BIA Technical Note 18A"

Carried = Callable[..., None]

STRAIN = 0.0005 + 4e-6 * 100
INCH, FOOT = 25.4, 304.8


def spacing(width: float, capability: float, strain: float = STRAIN) -> float:
    return length_served(movement_taken(width, capability), strain)


def feet_and_inches(inches: float) -> tuple[int, int]:
    return divmod(round(inches), 12)


def test_half_an_inch_at_50_per_cent_inputs_from_memory(published: Any) -> None:
    """18A p.4: 23 ft-2 in (7.06 m)."""
    assert spacing(0.5, 50) == pytest.approx(277.8, abs=0.05)
    given = "joint 1/2 in, 50 %, 0.0009, spacing (equation and inputs from memory)"
    published("TN18A-01", given, 23 * 12 + 2, round(spacing(0.5, 50)), unit="in", within=0.5, clause="p.4")
    assert spacing(0.5 * INCH, 50) / 1000 == pytest.approx(7.06, abs=0.005)


def test_three_eighths_at_50_per_cent_quoted(published: Any) -> None:
    """0.0009 in all, 0.1875 in usable, 208 in, 17 ft-4 in."""
    assert pytest.approx(0.0009) == STRAIN
    assert movement_taken(0.375, 50) == 0.1875
    given = "joint 3/8 in, 50 %, 0.0009, spacing"
    published(
        "TN18A-02", given, 208, spacing(0.375, 50), unit="in", within=0.5, document="Trade web article of 2011", status="quoted"
    )
    assert feet_and_inches(spacing(0.375, 50)) == (17, 4)


def test_the_smaller_growth_of_tm_5_809_3_derived(published: Any) -> None:
    less = spacing(0.5, 50, 0.0003 + 4e-6 * 100)
    assert less == pytest.approx(357.1, abs=0.05)
    published("TN18-02", "joint 1/2 in, 50 %, growth 0.0003, spacing", 29.8, less / 12, unit="ft", within=0.05, status="derived")
    assert spacing(0.5, 50) / 12 == pytest.approx(23.1, abs=0.05)


@pytest.mark.parametrize(("width", "length"), [(0.5, 277.8), (0.375, 208.3)])
def test_a_joint_between_such_panels_serves_as_much_inputs_from_memory(width: float, length: float) -> None:
    """The same inversion through a joint's own record, whatever stands beside it: 15 ft and 20 ft here."""
    nothing = Range(0, 0)
    brick = Masonry("clay", Range(4e-6, 4e-6), Range(100, 100), nothing, Range(5e-4, 5e-4), nothing)
    found = joint_movement((Side(180, (brick,)), Side(240, (brick,))), None, Sealing(50, "installed_width", 0.0))
    assert found.serves(width) == pytest.approx(length, abs=0.05)


def test_its_figures_stand_beside_the_uk_range(carried: Carried) -> None:
    carried("BIA Technical Note 18", "movement.moisture.high.clay", 0.5, "read")
    carried("BIA Technical Note 18", "movement.thermal.high.clay", 0.0072, "read")
