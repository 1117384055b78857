"""TM 5-809-3 / NAVFAC DM-2.9 (1992): expansion of brickwork, eq. 4-1 (TM-01); loads of lintels, examples 1 and 2 (TM-02, TM-03).

Bibliography: TM 5-809-3 / NAVFAC DM-2.9, 1992, eq. 4-1 (read; the worked figure is ours), lintel examples 1 and 2 (read). Of the
examples the loads, the moment and the pressure under the bearings; the section (fv, k, j, resisting moment) is outside elevgen.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.core.ranges import Range
from elevgen.core.sourced import Value
from elevgen.fittings.arching import peak_pressure
from elevgen.fittings.beam import bend, even, total, triangle
from elevgen.joints.movement import Masonry, Side, joint_movement, moisture_movement, thermal_movement

Said = Callable[[str, str], tuple[Value, str]]


@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_eq_4_1_at_25_ft_and_100_degrees_fahrenheit_derived(inch: float) -> None:
    """(0.0003 + 0.000004 x 100) x 300 in."""
    length = 25 * 12 * inch
    free = moisture_movement(0.0003, length) + thermal_movement(4e-6, length, 100)
    assert free / inch == pytest.approx(0.21, abs=0.005)
    nothing = Range(0, 0)
    panel = Side(length, (Masonry("clay", Range(4e-6, 4e-6), Range(100, 100), nothing, Range(3e-4, 3e-4), nothing),))
    assert joint_movement((panel, panel)).closing.movement.high == pytest.approx(free), "half of each panel beside a joint"


def test_its_growth_stands_beside_the_uk_range(said: Said) -> None:
    assert said("TM 5-809-3", "movement.moisture.high.clay") == (0.3, "read")


def test_lintel_example_1_triangle_of_wall_and_moment_read(over_door: Callable[..., Any]) -> None:
    """TM-02: effective span 4 ft, lintel 62 lb to the ft, wall 50 lb to the square foot: W 200 lb, 257 ft-lb (wL2/8 + WL/6)."""
    load = over_door(clear=40, height=80, top=160, psf=50).by("arching")
    weight = load.masonry / 4.4482216e-3
    assert weight == pytest.approx(200, abs=0.5)
    span = Span(0, 4)
    loads = [*triangle(span, weight), even(span, 62)]
    assert bend(loads, span).moment == pytest.approx(257, abs=0.5)
    assert total(loads) / 2 == pytest.approx(224, abs=0.5)


def test_lintel_example_1_pressure_under_the_bearing_read() -> None:
    """TM-02: 7.3 psi at the most on 8 in by 7 5/8 in, 61 in2, pressed from nothing at the far end."""
    span = Span(0, 4)
    reaction = bend([*triangle(span, 200), even(span, 62)], span).reaction_start
    assert peak_pressure(reaction, 61) == pytest.approx(7.3, abs=0.05)


def test_lintel_example_2_a_load_lower_than_the_point_keeps_it_from_arching_read(over_door: Callable[..., Any]) -> None:
    """TM-03: a door of 12 by 10 ft in a wall of 14 ft, loads at its top and a load 7 ft from the middle of the door."""
    top = 14 * 12 * 25.4
    loads = [
        {"level": top, "at": 0, "length": 720 * 25.4, "load": 5.0},
        {"level": top, "at": (360 + 84) * 25.4, "load": 20.0},
    ]
    load = over_door(clear=144, height=120, top=168, loads=loads)
    assert load.by("arching") is None
    assert {cause.kind for cause in load.why_not("arching")} == {"height", "load"}
    assert load.used.method == "full" and load.used.imposed > 0
