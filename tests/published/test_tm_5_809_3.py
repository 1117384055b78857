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
from elevgen.fittings.arching import peak_pressure
from elevgen.fittings.beam import bend, even, total, triangle
from elevgen.joints.movement import Masonry, Side, joint_movement, moisture_movement, thermal_movement

DOCUMENT = "TM 5-809-3 / NAVFAC DM-2.9 (1992)"

Carried = Callable[..., None]


@pytest.mark.parametrize("inch", [1.0, 25.4])
def test_eq_4_1_at_25_ft_and_100_degrees_fahrenheit_derived(published: Any, inch: float) -> None:
    """(0.0003 + 0.000004 x 100) x 300 in."""
    length = 25 * 12 * inch
    free = moisture_movement(0.0003, length) + thermal_movement(4e-6, length, 100)
    published(
        "TM-01", "25 ft, 100 degF, 0.0003 + 4e-6", 0.21, free / inch, unit="in", within=0.005, status="derived", clause="eq 4-1"
    )
    nothing = Range(0, 0)
    panel = Side(length, (Masonry("clay", Range(4e-6, 4e-6), Range(100, 100), nothing, Range(3e-4, 3e-4), nothing),))
    assert joint_movement((panel, panel)).closing.movement.high == pytest.approx(free), "half of each panel beside a joint"


def test_its_growth_stands_beside_the_uk_range(carried: Carried) -> None:
    carried("TM 5-809-3", "movement.moisture.high.clay", 0.3, "read")


def test_lintel_example_1_triangle_of_wall_and_moment_read(published: Any, over_door: Callable[..., Any]) -> None:
    """TM-02: effective span 4 ft, lintel 62 lb to the ft, wall 50 lb to the square foot: W 200 lb, 257 ft-lb (wL2/8 + WL/6)."""
    load = over_door(clear=40, height=80, top=160, psf=50).by("arching")
    weight = load.masonry / 4.4482216e-3
    published("TM-02", "50 psf on 4 ft, W", 200, weight, unit="lb", within=0.5, clause="Ex. 1")
    span = Span(0, 4)
    loads = [*triangle(span, weight), even(span, 62)]
    published("TM-02", "with 62 plf, moment", 257, bend(loads, span).moment, unit="ft-lb", within=0.5, clause="Ex. 1")
    assert total(loads) / 2 == pytest.approx(224, abs=0.5)


def test_lintel_example_1_pressure_under_the_bearing_read(published: Any) -> None:
    """TM-02: 7.3 psi at the most on 8 in by 7 5/8 in, 61 in2, pressed from nothing at the far end."""
    span = Span(0, 4)
    reaction = bend([*triangle(span, 200), even(span, 62)], span).reaction_start
    published("TM-02", "pressure on 61 in2", 7.3, peak_pressure(reaction, 61), unit="psi", within=0.05, clause="Ex. 1")


def test_lintel_example_2_a_load_lower_than_the_point_keeps_it_from_arching_read(
    published: Any, over_door: Callable[..., Any]
) -> None:
    """TM-03: a door of 12 by 10 ft in a wall of 14 ft, loads at its top and a load 7 ft from the middle of the door."""
    top = 14 * 12 * 25.4
    loads = [
        {"level": top, "at": 0, "length": 720 * 25.4, "load": 5.0},
        {"level": top, "at": (360 + 84) * 25.4, "load": 20.0},
    ]
    load = over_door(clear=144, height=120, top=168, loads=loads)
    given = "door 12 x 10 ft in a wall of 14 ft, a load at 7 ft: arches"
    published("TM-03", given, False, load.by("arching") is not None, clause="Ex. 2")
    assert {cause.kind for cause in load.why_not("arching")} == {"height", "load"}
    assert load.used.method == "full" and load.used.imposed > 0
