"""Values of cutting, lifting and packs that no document was seen for: what is coded, and that each says how it is known."""

from __future__ import annotations

import pytest

from elevgen.rules.book import RuleBook


@pytest.mark.parametrize(
    ("key", "value", "unit", "status"),
    [
        ("cutting.saw", 4, "mm", "practice"),
        ("lift.height", 1500, "mm", "practice"),
        ("lifting.mass", 20, "kg", "memory"),
        ("unit.density.clay", 2200, "kg/m3", "practice"),
        ("unit.density.aircrete", 750, "kg/m3", "practice"),
        ("unit.density.dense_concrete", 2300, "kg/m3", "practice"),
        ("pack.sealant.cartridge", 310, "ml", "practice"),
        ("pack.sealant.foil_pack", 600, "ml", "practice"),
    ],
)
def test_values_from_memory_and_practice_say_so(uk: RuleBook, key: str, value: float, unit: str, status: str) -> None:
    sourced = uk.get(key)
    assert (sourced.value, sourced.unit, sourced.status) == (value, unit, status)
    assert sourced.note


def test_a_lift_is_twenty_courses_of_brick(uk: RuleBook) -> None:
    """Of 65 mm and a bed of 10 mm (Technical Information Sheet 9, read)."""
    course = uk.units["brick_65"].height + uk.get("joint.nominal").number
    assert uk.get("lift.height").number == 20 * course
