"""The load triangle, its zone, and how loads come down on its base."""

from __future__ import annotations

from math import sqrt

import pytest

from elevgen.building.given import Load
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.beam import Line, bend, total
from elevgen.fittings.load_triangle import Shares, load_on_base, spread, triangle_over

OVER = triangle_over(Span(1000, 3000), 2100.0, 1.1, 45.0, 60.0)
SHARES = Shares(1.0, 0.5, 45.0)


def test_sizes_follow_from_the_angles() -> None:
    assert (OVER.base.start, OVER.base.end) == pytest.approx((900, 3100))
    assert OVER.height == pytest.approx(1100)
    assert OVER.zone_height == pytest.approx(1100 * sqrt(3))
    higher = OVER.across(2100 + 400)
    assert higher is not None and (higher.start, higher.end) == pytest.approx((1300, 2700))
    assert OVER.across(3200.1) is None and OVER.across(2099.9) is None


@pytest.mark.parametrize(
    ("rect", "hit"),
    [
        (Rect(800, 0, 3200, 2100), False),  # the opening itself
        (Rect(0, 2200, 1000, 2600), False),  # touches the side at its lower corner
        (Rect(0, 2200, 1001, 2600), True),
        (Rect(2899, 2300, 3500, 2600), True),
        (Rect(2901, 2300, 3500, 2600), False),
        (Rect(1500, 3200, 2500, 3600), False),  # stands on the point
        (Rect(1500, 3199, 2500, 3600), True),
        (Rect(0, 0, 905, 2101), True),  # past the reveal, and a little over the foot
    ],
)
def test_what_stands_in_it(rect: Rect, hit: bool) -> None:
    assert OVER.touches(rect) is hit


def test_a_point_load_in_the_triangle_counts_whole_and_spreads_at_45_degrees() -> None:
    (line,) = load_on_base(Load(None, 2100 + 300, 1700, None, 12.0), OVER, SHARES)
    assert isinstance(line, Line)
    assert (line.start, line.end, line.total) == pytest.approx((1400, 2000, 12))


def test_a_point_load_in_the_zone_counts_half() -> None:
    (line,) = load_on_base(Load(None, 2100 + 300, 1150, None, 12.0), OVER, SHARES)
    assert isinstance(line, Line)
    assert (line.start, line.end, line.total) == pytest.approx((850, 1450, 6))


def test_an_even_load_spreads_place_by_place() -> None:
    """200 long, 300 to each side: rises over 200, level over 400, falls over 200; in two halves it is the same."""
    whole = spread(Span(1900, 2100), 6.0, 300.0)
    assert [(x.start, x.end) for x in whole if isinstance(x, Line)] == [(1600, 1800), (1800, 2200), (2200, 2400)]
    assert total(whole) == pytest.approx(6)
    halves = [*spread(Span(1900, 2000), 3.0, 300.0), *spread(Span(2000, 2100), 3.0, 300.0)]
    beam = Span(1000, 3000)
    assert bend(halves, beam) == pytest.approx(bend(whole, beam))


@pytest.mark.parametrize(
    "load", [Load(None, 2400, 1050, None, 12.0), Load(None, 4100, 2000, None, 5.0), Load(None, 2000, 2000, None, 5.0)]
)
def test_a_load_outside_does_not_count(load: Load) -> None:
    assert load_on_base(load, OVER, SHARES) == ()


def test_a_spread_load_counts_by_where_its_parts_stand() -> None:
    """At 500 mm the triangle is 1200 wide, the zone 2200 - 1000 / tan 60: what is left of it counts half."""
    wide = 2200 - 1000 / sqrt(3)
    pressed = load_on_base(Load(None, 2600, 0, 10000, 3.0), OVER, SHARES)
    assert total(pressed) == pytest.approx(3.0 * (1.2 + (wide - 1200) / 1000 / 2))
    assert (min(x.start for x in pressed[:3]), max(x.end for x in pressed[:3])) == pytest.approx((900, 3100))  # type: ignore[union-attr]


def test_a_spread_load_over_the_triangle_counts_half_in_the_zone() -> None:
    pressed = load_on_base(Load(None, 2100 + 1200, 0, 10000, 2.0), OVER, SHARES)
    assert total(pressed) == pytest.approx(0.5 * 2.0 * (2200 - 2400 / sqrt(3)) / 1000)


def test_a_load_on_the_base_itself_is_not_spread() -> None:
    (press,) = load_on_base(Load(None, 2100, 1700, None, 4.0), OVER, SHARES)
    assert press == (1700, 4.0)
