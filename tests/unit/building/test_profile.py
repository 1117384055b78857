"""Profiles: levels that slope and step along a wall."""

from elevgen.building.model import Profile
from elevgen.core.geometry import Span

GABLE = Profile(((0.0, 2400.0), (3500.0, 4800.0), (8000.0, 2600.0)))
STEPPED = Profile(((0.0, 2700.0), (3000.0, 2700.0), (3000.0, 3300.0), (7000.0, 3300.0), (7000.0, 2100.0), (9000.0, 2100.0)))


def test_slopes_are_straight_between_points_and_level_beyond_them() -> None:
    for side in (GABLE.level_left_of, GABLE.level_right_of):
        assert side(1750.0) == 3600.0
        assert side(3500.0) == 4800.0
        assert abs(side(5750.0) - 3700.0) < 1e-9
        assert side(-250.0) == 2400.0
        assert side(8250.0) == 2600.0


def test_a_step_has_another_level_on_each_side() -> None:
    assert (STEPPED.level_left_of(3000.0), STEPPED.level_right_of(3000.0)) == (2700.0, 3300.0)
    assert (STEPPED.level_left_of(7000.0), STEPPED.level_right_of(7000.0)) == (3300.0, 2100.0)
    assert STEPPED.level_left_of(3001.0) == STEPPED.level_right_of(3001.0) == 3300.0


def test_a_step_is_met_within_tolerance() -> None:
    assert STEPPED.highest(Span(1000.0, 3000.0 + 1e-9)) == 2700.0
    assert STEPPED.lowest(Span(3000.0 - 1e-9, 5000.0)) == 3300.0
    assert STEPPED.level_right_of(3000.0 - 1e-9) == 3300.0
    assert STEPPED.level_left_of(3000.0 + 1e-9) == 2700.0


def test_steps_at_the_very_ends_and_several_points_at_one_place() -> None:
    odd = Profile(((0.0, 100.0), (0.0, 200.0), (500.0, 200.0), (500.0, 900.0), (500.0, 300.0), (800.0, 300.0), (800.0, 50.0)))
    assert (odd.level_left_of(0.0), odd.level_right_of(0.0)) == (100.0, 200.0)
    assert (odd.level_left_of(500.0), odd.level_right_of(500.0)) == (200.0, 300.0)
    assert (odd.level_left_of(800.0), odd.level_right_of(800.0)) == (300.0, 50.0)


def test_highest_and_lowest_look_inside_the_span_only() -> None:
    assert GABLE.highest(Span(3000.0, 4000.0)) == 4800.0
    assert abs(GABLE.highest(Span(0.0, 1750.0)) - 3600.0) < 1e-9
    assert GABLE.lowest(Span(0.0, 8000.0)) == 2400.0
    assert (STEPPED.lowest(Span(3000.0, 7000.0)), STEPPED.highest(Span(7000.0, 9000.0))) == (3300.0, 2100.0)


def test_clipped_keeps_the_points_between_and_adds_the_ends() -> None:
    assert STEPPED.clipped(Span(1000.0, 8000.0)) == (
        (1000.0, 2700.0),
        (3000.0, 2700.0),
        (3000.0, 3300.0),
        (7000.0, 3300.0),
        (7000.0, 2100.0),
        (8000.0, 2100.0),
    )
    assert STEPPED.clipped(Span(3000.0, 7000.0)) == ((3000.0, 3300.0), (7000.0, 3300.0))


def test_a_mirrored_profile_has_left_and_right_exchanged() -> None:
    for profile in (GABLE, STEPPED):
        mirrored = Profile(tuple((-at, level) for at, level in reversed(profile.points)))
        for at in (-100.0, 0.0, 1234.5, 3000.0, 3500.0, 7000.0, 7777.0, 8000.0, 9000.0, 9500.0):
            assert abs(profile.level_left_of(at) - mirrored.level_right_of(-at)) < 1e-9
            assert abs(profile.level_right_of(at) - mirrored.level_left_of(-at)) < 1e-9
