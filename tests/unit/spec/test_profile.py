import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.building.model import Profile
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.spec.profile import highest, levels_at, lowest

GABLE = ((0.0, 2700.0), (4000.0, 3900.0), (9000.0, 2400.0))
STEPS = ((0.0, -150.0), (5000.0, -150.0), (5000.0, -375.0), (9000.0, -375.0))


def test_levels_before_and_after_a_place():
    assert levels_at(GABLE, 2000) == (3300, 3300)
    assert levels_at(GABLE, 6500) == (3150, 3150)
    assert levels_at(STEPS, 5000) == (-150, -375)
    assert levels_at(STEPS, -10) == (-150, -150)
    assert levels_at(STEPS, 9999) == (-375, -375)


def test_highest_and_lowest_over_a_stretch():
    assert highest(GABLE, Span(3000, 6500)) == 3900
    assert lowest(GABLE, Span(3000, 6500)) == 3150
    assert highest(STEPS, Span(5000, 8000)) == -375
    assert highest(STEPS, Span(4999, 8000)) == -150


@pytest.mark.parametrize("hair", [1e-9, -1e-9, 0.009, -0.009])
def test_a_hair_past_a_step_is_at_the_step(hair):
    assert levels_at(STEPS, 5000 + hair) == (-150, -375)
    assert highest(STEPS, Span(5000 + hair, 8000)) == -375
    assert lowest(STEPS, Span(1000, 5000 + hair)) == -150


def test_further_than_tolerance_past_a_step_is_past_it():
    assert levels_at(STEPS, 5000.02) == (-375, -375)
    assert highest(STEPS, Span(4999.98, 8000)) == -150


@pytest.mark.parametrize("points", [GABLE, STEPS])
def test_the_levels_are_those_the_building_is_made_with(points):
    built = Profile(points)
    hairs = (at + hair for at, _ in points for hair in (-0.02, -0.009, -1e-9, 0, 1e-9, 0.009, 0.02))
    for at in (*range(-100, 9200, 37), *hairs):
        before, after = levels_at(points, at)
        assert before == pytest.approx(built.level_left_of(at), abs=TOLERANCE)
        assert after == pytest.approx(built.level_right_of(at), abs=TOLERANCE)


@settings(max_examples=100, deadline=None, derandomize=True, database=None)
@given(
    steps=st.lists(st.tuples(st.integers(0, 900), st.integers(-500, 5000)), min_size=2, max_size=8),
    start=st.integers(0, 3000),
    width=st.integers(1, 3000),
)
def test_no_sample_lies_outside_lowest_to_highest(steps, start, width):
    at, points = 0, []
    for forward, level in steps:
        at += forward
        points.append((float(at), float(level)))
    over = Span(start, start + width)
    low, high = lowest(tuple(points), over), highest(tuple(points), over)
    for k in range(1, 20):
        before, after = levels_at(tuple(points), start + width * k / 20)
        assert low - 1e-9 <= min(before, after)
        assert max(before, after) <= high + 1e-9
