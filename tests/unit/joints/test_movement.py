"""The movement of a joint and the width it asks for, as arithmetic: directions, sides, ranges, inverses, units."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.core.ranges import Range
from elevgen.joints.movement import JointMovement, Masonry, Side, joint_movement, movement_of, temperature_changes
from elevgen.joints.sealing import (
    Sealing,
    length_served,
    movement_allowed,
    movement_taken,
    sealant_width,
    width_for,
    worked_widths,
)

NOTHING = Range(0.0, 0.0)
CLAY = Masonry("clay", Range(5e-6, 8e-6), Range(20, 52), Range(10, 45), Range(-2e-4, 1e-3), Range(2e-4, 2e-4))
BLOCK = Masonry("dense_concrete", Range(6e-6, 12e-6), Range(20, 31), Range(10, 45), Range(-6e-4, -1e-4), Range(2e-4, 4e-4))
QUARTER = Sealing(25, "installed_width", 3.0)

lengths = st.floats(100, 40_000)
strains = st.floats(0, 2e-3)


@st.composite
def masonry(draw: st.DrawFn) -> Masonry:
    def both(low: float, high: float) -> Range:
        a, b = sorted((draw(st.floats(low, high)), draw(st.floats(low, high))))
        return Range(a, b)

    kinds = ("clay", "aircrete", "stone")
    return Masonry(draw(st.sampled_from(kinds)), both(3e-6, 14e-6), both(0, 60), both(0, 60), both(-1e-3, 1e-3), both(0, 7e-4))


@st.composite
def sealings(draw: st.DrawFn) -> Sealing:
    left = draw(st.one_of(st.none(), st.floats(0, 10)))
    of = draw(st.sampled_from(("installed_width", "closed_width")))
    return Sealing(draw(st.floats(5, 100)), of, draw(st.floats(0, 5)), left)  # type: ignore[arg-type]


def between(left: Masonry, right: Masonry, one: float, other: float, sealing: Sealing | None = QUARTER) -> JointMovement:
    return joint_movement((Side(one, (left,)), Side(other, (right,))), None, sealing)


def test_clay_that_grows_closes_a_joint_and_block_that_shrinks_opens_it() -> None:
    clay, block = between(CLAY, CLAY, 9000, 7000), between(BLOCK, BLOCK, 9000, 7000)
    assert clay.closing.moisture == Range(0, pytest.approx(8.0))
    assert clay.opening.moisture == Range(0, pytest.approx(1.6)), "what clay may shrink, and none of its growth"
    assert block.closing.moisture == NOTHING, "shrinkage never closes a joint"
    assert block.opening.moisture == Range(pytest.approx(0.8), pytest.approx(4.8))
    assert (clay.governs, block.governs) == ("closing", "opening")


def test_the_sum_of_one_joint_by_hand() -> None:
    """9 m of clay and 7 m of block: half of each."""
    found = between(CLAY, BLOCK, 9000, 7000)
    closing = 4500 * (8e-6 * 52 + 1e-3 + 2e-4) + 3500 * (12e-6 * 31 + 0 + 4e-4)
    opening = 4500 * (8e-6 * 45 + 2e-4 + 2e-4) + 3500 * (12e-6 * 45 + 6e-4 + 4e-4)
    assert found.closing.movement.high == pytest.approx(closing)
    assert found.opening.movement.high == pytest.approx(opening)
    assert [side.material for side in found.closing.sides] == ["clay", "dense_concrete"]
    assert found.closing.width is not None
    assert found.closing.width.high == pytest.approx(closing * 4 + 3)
    assert found.width is not None
    assert found.width.high == pytest.approx(max(closing, opening) * 4 + 3)
    assert found.closing.movement.low == pytest.approx(4500 * (5e-6 * 20 + 0 + 2e-4) + 3500 * (6e-6 * 20 + 0 + 2e-4))


def test_of_several_materials_on_a_side_the_one_that_moves_furthest_in_each_case_decides() -> None:
    zones = Side(6000, (CLAY, BLOCK))
    found = joint_movement((zones, zones), None, QUARTER)
    assert [side.material for side in found.closing.sides] == ["clay", "clay"]
    assert [side.material for side in found.opening.sides] == ["dense_concrete", "dense_concrete"]
    alone = [between(m, m, 6000, 6000) for m in (CLAY, BLOCK)]
    assert found.width is not None
    assert found.width.high == max(a.width.high for a in alone if a.width)


def test_laid_at_any_temperature_of_a_range_the_worst_is_taken() -> None:
    """Hottest 105, coldest -15, laid at 60 to 75: up to 45 hotter, up to 90 colder."""
    rise, fall = temperature_changes(105, -15, Range(60, 75))
    assert (rise, fall) == (Range(30, 45), Range(75, 90))
    assert temperature_changes(20, 10, Range(25, 30)) == (NOTHING, Range(15, 20)), "never colder than nothing"


def test_a_sealants_movement_may_be_said_of_the_installed_or_of_the_closed_width() -> None:
    assert sealant_width(4, 25, "installed_width") == 16
    assert sealant_width(4, 25, "closed_width") == 20, "16 when closed, and 4 more"
    assert worked_widths(10, 25) == Range(7.5, 12.5)
    shut = worked_widths(20, 25, "closed_width")
    assert shut == Range(16, 24)
    assert movement_taken(10, 25, "closed_width") == pytest.approx(2)


def test_a_joint_that_must_stay_open_needs_no_sealant_to_be_sized() -> None:
    bare = Sealing(None, "installed_width", 0.0, left_open=5.0)
    assert width_for(Range(9, 15), "closing", bare) == Range(14, 20)
    assert width_for(Range(9, 15), "opening", bare) is None
    assert movement_allowed(20, "closing", bare) == 15
    found = between(CLAY, CLAY, 8000, 8000, bare)
    assert found.opening.width is None
    assert found.width == found.closing.width
    assert found.governs == "closing"


def test_without_a_sealant_the_movement_is_known_and_the_width_is_not() -> None:
    found = between(CLAY, BLOCK, 9000, 7000, None)
    assert found.closing.movement == between(CLAY, BLOCK, 9000, 7000).closing.movement
    assert (found.width, found.closing.width, found.serves(16)) == (None, None, None)


@given(masonry(), masonry(), lengths, lengths, sealings())
def test_a_joint_as_wide_as_asked_serves_just_what_is_beside_it(
    left: Masonry, right: Masonry, one: float, other: float, sealing: Sealing
) -> None:
    found = between(left, right, one, other, sealing)
    assert found.width is not None
    served = found.serves(found.width.high)
    if served is not None and max(found.closing.movement.high, found.opening.movement.high) > 1e-3:
        assert served == pytest.approx((one + other) / 2, rel=1e-6)


@given(masonry(), masonry(), lengths, lengths, sealings(), st.floats(1, 3))
def test_more_masonry_never_asks_for_less(
    left: Masonry, right: Masonry, one: float, other: float, sealing: Sealing, times: float
) -> None:
    small, large = between(left, right, one, other, sealing), between(left, right, one * times, other, sealing)
    assert small.width is not None
    assert large.width is not None
    assert large.width.low >= small.width.low - 1e-9
    assert large.width.high >= small.width.high - 1e-9
    assert small.width.low <= small.width.high


@given(masonry(), masonry(), lengths, lengths, sealings())
def test_turned_about_it_is_the_same_joint(left: Masonry, right: Masonry, one: float, other: float, sealing: Sealing) -> None:
    there, back = between(left, right, one, other, sealing), between(right, left, other, one, sealing)
    assert there.width is not None
    assert back.width is not None
    assert there.width.high == pytest.approx(back.width.high)
    assert there.width.low == pytest.approx(back.width.low)


@given(masonry(), lengths, sealings())
def test_inches_give_what_millimetres_give(wall: Masonry, length: float, sealing: Sealing) -> None:
    in_mm = between(wall, wall, length, length, sealing)
    left = None if sealing.left_open is None else sealing.left_open / 25.4
    in_inches = between(
        wall, wall, length / 25.4, length / 25.4, Sealing(sealing.capability, sealing.of, sealing.tolerance / 25.4, left)
    )
    assert in_mm.width is not None
    assert in_inches.width is not None
    assert in_inches.width.high * 25.4 == pytest.approx(in_mm.width.high)


@given(masonry(), lengths)
def test_the_middle_stays_and_each_end_moves_by_half(wall: Masonry, length: float) -> None:
    whole = movement_of(wall, "closing", 2 * length).total.high
    halves = 2 * movement_of(wall, "closing", length).total.high
    assert whole == pytest.approx(halves)


@given(st.floats(0.1, 100), st.floats(1, 100), st.sampled_from(("installed_width", "closed_width")), st.floats(0, 5))
def test_width_and_movement_taken_are_each_others_inverse(movement: float, capability: float, of: str, tolerance: float) -> None:
    width = sealant_width(movement, capability, of, tolerance)  # type: ignore[arg-type]
    assert movement_taken(width, capability, of, tolerance) == pytest.approx(movement)  # type: ignore[arg-type]


def test_a_joint_narrower_than_its_tolerance_takes_nothing() -> None:
    assert movement_taken(2, 25, tolerance=3) == 0
    assert length_served(0.0, 1e-3) == 0
