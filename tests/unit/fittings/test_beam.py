"""A beam on two supports: textbook cases, and any loads against a beam cut into thousands of slices."""

from __future__ import annotations

from random import Random

import pytest

from elevgen.core.geometry import Span
from elevgen.fittings.beam import Line, Point, Press, bend, even, even_load, total, triangle, within

BEAM = Span(120.0, 920.0)


def sliced(loads: list[Press], supports: Span, parts: int = 8000) -> tuple[float, float, float]:
    """Reactions and the greatest moment by adding up slices."""
    lumps: list[tuple[float, float]] = []
    for load in loads:
        if isinstance(load, Point):
            lumps.append((load.at, load.load))
            continue
        step = (load.end - load.start) / parts
        for n in range(parts):
            at = load.start + (n + 0.5) * step
            lumps.append((at, (load.at_start + (load.at_end - load.at_start) * (n + 0.5) / parts) * step))
    lumps = sorted((min(max(at, supports.start), supports.end), each) for at, each in lumps)
    end = sum(each * (at - supports.start) for at, each in lumps) / supports.length
    start = sum(each for _, each in lumps) - end
    moment, passed, turned, most = 0.0, 0.0, 0.0, 0.0
    for at, each in lumps:
        moment = start * (at - supports.start) - (passed * at - turned)
        most = max(most, moment)
        passed, turned = passed + each, turned + each * at
    return start, end, most


def test_an_even_load_bends_by_w_l_squared_over_8() -> None:
    bent = bend([even(BEAM, 3.0)], BEAM)
    assert bent == pytest.approx((1200, 1200, 1200, 3 * 800**2 / 8, 520))
    assert even_load(bent, BEAM) == pytest.approx(3.0)


def test_a_triangle_bends_by_w_l_over_6_and_counts_a_third_more_than_its_mean() -> None:
    bent = bend(triangle(BEAM, 600.0), BEAM)
    assert bent == pytest.approx((300, 300, 300, 600 * 800 / 6, 520))
    assert even_load(bent, BEAM) == pytest.approx(600 / 800 * 4 / 3)


@pytest.mark.parametrize("at", [120.0 + 1e-9, 300.0, 520.0, 919.0])
def test_a_load_at_one_point_bends_by_p_a_b_over_l(at: float) -> None:
    a, b = at - 120, 920 - at
    bent = bend([Point(at, 40.0)], BEAM)
    assert bent.moment == pytest.approx(40 * a * b / 800)
    assert (bent.reaction_start, bent.reaction_end) == pytest.approx((40 * b / 800, 40 * a / 800))


def test_an_even_load_over_a_part_presses_the_nearer_end_more() -> None:
    bent = bend([even(Span(120, 320), 5.0)], BEAM)
    assert bent.reaction_start == pytest.approx(5 * 200 * 700 / 800)
    assert bent.moment == pytest.approx(bent.reaction_start**2 / (2 * 5))


def test_what_lies_beyond_a_support_goes_straight_into_it() -> None:
    inner, outer = bend([even(BEAM, 2.0)], BEAM), bend([even(BEAM.grown(75), 2.0)], BEAM)
    assert outer.reaction_start == pytest.approx(inner.reaction_start + 150)
    assert (outer.moment, outer.shear) == pytest.approx((inner.moment, inner.shear))
    assert even_load(outer, BEAM) == pytest.approx(2.0)
    at_ends = bend([Point(120, 7.0), Point(950, 9.0), Point(100, 1.0)], BEAM)
    assert at_ends == pytest.approx((8, 9, 0, 0, 120))


def test_no_load_does_nothing() -> None:
    assert bend([], BEAM)[:4] == (0, 0, 0, 0)


def test_loads_inside_a_span() -> None:
    loads = [Line(0, 100, 0, 10), Point(100, 4), Point(101, 4)]
    assert total(within(loads, Span(50, 100))) == pytest.approx(50 * 7.5 + 4)


@pytest.mark.parametrize("seed", range(150))
def test_any_loads_against_thousands_of_slices(seed: int) -> None:
    draw = Random(seed)
    supports = Span(draw.uniform(-500, 500), draw.uniform(600, 4000))
    loads: list[Press] = []
    for _ in range(draw.randint(1, 6)):
        a, b = sorted(draw.uniform(supports.start - 300, supports.end + 300) for _ in range(2))
        if draw.random() < 0.4:
            loads.append(Point(a, draw.uniform(0, 50)))
        else:
            loads.append(Line(a, b, draw.choice((0.0, draw.uniform(0, 0.05))), draw.uniform(0, 0.05)))
    start, end, most = sliced(loads, supports)
    bent = bend(loads, supports)
    assert bent.reaction_start == pytest.approx(start, rel=1e-4, abs=1e-4)
    assert bent.reaction_end == pytest.approx(end, rel=1e-4, abs=1e-4)
    assert bent.reaction_start + bent.reaction_end == pytest.approx(total(loads))
    assert bent.moment == pytest.approx(most, rel=1e-3, abs=1e-3)
    assert even_load(bent, supports) * supports.length**2 / 8 >= bent.moment - 1e-9
