from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.core.geometry import Span
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
