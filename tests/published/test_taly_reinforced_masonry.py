"""Taly, Design of Reinforced Masonry Structures: lintel examples 4.26 and 4.27 (TALY-01 to 03).

Bibliography: Taly, Design of Reinforced Masonry Structures, examples 4.26a, 4.26b and 4.27 (read). Loads, moments and shears
only: the design of the section (steel, stresses, strength) is outside elevgen. Load factors are those of the examples.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.fittings.arching import cone_load, cone_width, effective_span, height_needed
from elevgen.fittings.beam import bend, even, total, triangle
from elevgen.rules.book import RuleBook

DOCUMENT = "Taly, Design of Reinforced Masonry Structures"

Carried = Callable[..., None]

POUND = 4.4482216e-3
FOOT = 304.8


def rule(uk: RuleBook, name: str) -> float:
    return uk.get(f"lintel.load.{name}").number


def test_4_26b_effective_span_and_height_for_arching_read(published: Any, uk: RuleBook, over_door: Callable[..., Any]) -> None:
    """TALY-01: 5 ft-4 in clear, 8 in bearings: 6 ft; 3.67 ft of wall needed over the lintel, 11.33 ft there."""
    published(
        "TALY-01", "5 ft 4 in clear, 8 in bearings, effective span", 6, effective_span(64, 64 + 8) / 12, unit="ft", clause="4.26b"
    )
    angle, above = rule(uk, "arching.angle"), rule(uk, "arching.above_apex")
    ours = height_needed(6 * FOOT, angle, above) / FOOT
    published("TALY-01", "wall needed over it to arch", 3.67, ours, unit="ft", within=0.005, clause="4.26b")
    load = over_door(clear=64, height=88, top=88 + 136)
    assert load.supports.length / FOOT == pytest.approx(6)
    assert load.by("arching") is not None
    assert over_door(clear=64, height=88, top=88 + 44).by("arching") is not None
    assert over_door(clear=64, height=88, top=88 + 43.9).by("arching") is None


def test_4_26b_weight_of_the_triangle_read(published: Any, over_door: Callable[..., Any]) -> None:
    """TALY-01: 78 lb to the square foot on 6 ft: W 702 lb, as the product reckons it for a wall of that weight."""
    load = over_door(clear=64, height=88, top=88 + 136).by("arching")
    published("TALY-01", "78 psf on 6 ft, W", 702, load.masonry / POUND, unit="lb", within=0.5, clause="4.26b")
    assert load.reaction_start / POUND == pytest.approx(351, abs=0.5)
    assert load.moment / POUND / (FOOT / 1000) == pytest.approx(702 * 6 / 6, abs=0.5)


def test_4_26b_factored_moment_and_shear_read(published: Any) -> None:
    """TALY-01: 1.4 W 983, moment 983 by WL/6, 1474 lb-ft in all; shear 492 + 328 = 820. Strip of 78 lb to the ft (derived)."""
    span, factor = Span(0, 6), 1.4
    arch, strip = triangle(span, 702 * factor), even(span, 78 * factor)
    published("TALY-01", "1.4 W", 983, total(arch), unit="lb", within=0.5, clause="4.26b")
    published("TALY-01", "its moment", 983, bend(arch, span).moment, unit="lb-ft", within=0.5, clause="4.26b")
    published("TALY-01", "moment of the strip", 491.4, bend([strip], span).moment, unit="lb-ft", within=0.05, clause="4.26b")
    both = bend([*arch, strip], span)
    published("TALY-01", "moment of both", 1474, both.moment, unit="lb-ft", within=0.5, clause="4.26b")
    assert bend(triangle(span, 983), span).shear == pytest.approx(492, abs=0.5)
    assert bend([strip], span).shear == pytest.approx(328, abs=0.5)
    published("TALY-01", "shear (the example adds what it has rounded)", 820, both.shear, unit="lb", within=1, clause="4.26b")


def test_4_26a_all_above_on_a_long_span_read(published: Any) -> None:
    """TALY-02: 744 dead and 200 roof live, lb to the ft on 20.67 ft: 1042 or 1213 factored; 64.78 k-ft, 12.54 k."""
    span = Span(0, 20.67)
    dead, live = even(span, 744), even(span, 200)
    combined = [(dead.times(1.4),), (dead.times(1.2), live.times(1.6))]
    for printed, loads in zip((1042, 1213), combined, strict=True):
        ours = round(total(loads) / span.length)
        published("TALY-02", "744 dead, 200 live, factored", printed, ours, unit="plf", clause="4.26a")
    bent = bend([even(span, 1213)], span)
    published("TALY-02", "moment", 64.78, bent.moment / 1000, unit="k-ft", within=0.005, clause="4.26a")
    published("TALY-02", "shear", 12.54, bent.shear / 1000, unit="k", within=0.005, clause="4.26a")
    assert bend(combined[1], span).moment / 1000 == pytest.approx(64.78, abs=0.02), "without rounding to 1213"


def test_4_27_a_load_at_one_point_spreads_in_a_cone_of_60_degrees_read(published: Any, uk: RuleBook) -> None:
    """TALY-03: 12 k at 4 ft: 4.62 ft wide, 2597 lb to the ft; 1 ft past the end (derived) 1.31 ft of it is on the span."""
    angle = rule(uk, "arching.cone")
    published("TALY-03", "load at 4 ft, width of its cone", 4.62, cone_width(4, angle), unit="ft", within=0.005, clause="4.27")
    line = cone_load(-1.0, 12000, 4, angle, Span(0, 6))
    assert line is not None
    published("TALY-03", "12 k over it (the example divides by 4.62)", 2597, line.at_start, unit="plf", within=1.5, clause="4.27")
    published(
        "TALY-03",
        "of it on the span (1 ft past the end, derived)",
        1.31,
        line.end - line.start,
        unit="ft",
        within=0.005,
        clause="4.27",
    )
    assert cone_load(-3.0, 12000, 4, angle, Span(0, 6)) is None


def test_4_27_shear_at_the_loaded_end_read(published: Any) -> None:
    """TALY-03: 492 of the triangle and 1092 lb to the ft over 1.31 ft: 1923 lb. How 2597 becomes 1092 is not printed for us."""
    arch, strip = triangle(Span(0, 6), 983), even(Span(0, 1.31), 1092)
    assert total([strip]) == pytest.approx(1431, abs=0.5)
    ours = bend(arch, Span(0, 6)).shear + total([strip])
    published("TALY-03", "shear at the loaded end", 1923, ours, unit="lb", within=1, clause="4.27")
    together = bend([*arch, strip], Span(0, 6))
    assert together.reaction_start < 1923, "the far end takes its part of the strip: the example leaves it on the near one"
    assert together.reaction_start == pytest.approx(491.5 + 1092 * 1.31 * (6 - 1.31 / 2) / 6)
    assert together.reaction_start + together.reaction_end == pytest.approx(983 + 1092 * 1.31)


def test_the_rule_set_carries_the_cone_as_read(carried: Carried) -> None:
    carried("Taly", "lintel.load.arching.cone", 60, "read")
