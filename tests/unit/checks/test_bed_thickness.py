"""Beds thicker than those round them; each with its repair.

LABC Warranty technical manual v8 (read): no more than 5 mm off the average of any eight in succession.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [4490, 0], "top": 1500}


def thicker(design: Design, course: int, by: float) -> Design:
    """Everything from a course up is laid higher by so much."""
    (laid,) = design.coursing.leaves
    courses = tuple(replace(c, level=c.level + by) if c.number >= course else c for c in laid.courses)
    return replace(design, coursing=replace(design.coursing, leaves=(replace(laid, courses=courses),)))


@pytest.mark.parametrize(("by", "severity"), [(0, "pass"), (5.7, "pass"), (5.75, "warn"), (-5.7, "pass"), (-6, "warn")])
def test_a_bed_against_the_average_of_eight(build: Build, found: Found, by: float, severity: str) -> None:
    """Of eight beds one is thicker by x: it is 7/8 x off their average, which is 5 mm at 5.714."""
    (finding,) = found(thicker(build([WALL]), 11, by), "bed-thickness", everything=True)
    assert finding.severity == severity
    assert finding.measured == pytest.approx(abs(by) * 7 / 8)
    if severity == "warn":
        assert "under course 11" in finding.text


def test_a_top_bed_made_up_is_found_and_a_top_that_lands_is_not(build: Build, found: Found) -> None:
    """326 is four courses and 26 mm: too little to split a brick, so the top bed is 36 mm. 1,520 is twenty courses of 76."""
    (finding,) = found(build([WALL | {"top": 326}]), "bed-thickness")
    assert (finding.severity, finding.measured) == ("warn", pytest.approx(26 * 3 / 4))
    assert "under course 4 is 36 mm, 19.5 mm off the average of 4 beds" in finding.text
    assert not found(build([WALL | {"top": 1520}]), "bed-thickness")


def test_beds_of_another_unit_are_not_held_to_it(build: Build, found: Found) -> None:
    thin = {"thin": {"material": "aircrete", "length": 440, "height": 222, "width": 100, "joint": 3}}
    leaves = {"brick": {"zones": [{"unit": "brick_65", "to": 450}, {"unit": "thin"}]}}
    design = build([WALL | {"top": 1350}], units=thin, leaves=leaves, wall_types={"garden": {"outer": "brick"}})
    (finding,) = found(design, "bed-thickness", everything=True)
    assert (finding.severity, finding.text) == ("pass", "beds from 3 to 10 mm")


def test_without_the_rule_nothing_is_passed(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    assert [f.severity for f in found(lacking(build([WALL]), "bed.tolerance"), "bed-thickness")] == ["not_checked"]
