"""Each check of damp-proof courses: a design that breaks the rule, the same one put right, and one without the rule."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.fittings.model import DampCourse
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
Lacking = Callable[..., Design]

WALL: dict[str, Any] = {"id": "A", "type": "cavity", "start": [0, 0], "end": [8090, 0], "base": -225, "top": 2700}
GARDEN: dict[str, Any] = {"id": "G", "type": "garden", "start": [0, 0], "end": [6065, 0], "base": -225, "top": 1575}


def with_courses(design: Design, change: Callable[[DampCourse], DampCourse | None]) -> Design:
    courses = tuple(new for course in design.fittings.damp_courses if (new := change(course)))
    return replace(design, fittings=replace(design.fittings, damp_courses=courses))


# dpc-in-bed


def test_a_datum_in_the_middle_of_the_units(build: Build, found: Found) -> None:
    """Blocks from 150 under the datum have their beds at -150, 75 and 300: the datum is 140 up a block."""
    (finding,) = found(build([WALL | {"base": -150}]), "dpc-in-bed")
    assert (finding.severity, finding.where, finding.leaves) == ("warn", "A/inner/DPC", ("A/inner",))
    assert "falls 140 mm up the units of course 1: the nearest beds are at -0.150 and +0.075" in finding.text
    assert not found(build([WALL]), "dpc-in-bed")


@pytest.mark.parametrize(("level", "broken"), [(0, False), (10, False), (37.5, True), (75, False), (-225, False), (2700, False)])
def test_a_listed_one_is_judged_by_the_beds(build: Build, found: Found, level: float, broken: bool) -> None:
    design = build([WALL | {"damp_courses": [{"leaf": "outer", "level": level, "at": 500, "length": 3000}]}])
    assert [f.severity for f in found(design, "dpc-in-bed")] == ["warn"] * broken


# dpc-above-ground


@pytest.mark.parametrize(
    ("ground", "measured"), [(-150, 150), (-149, 149), ([[0, -300], [4000, -75], [8090, -300]], 75), (-225, 225)]
)
def test_height_above_the_ground(build: Build, found: Found, ground: Any, measured: float) -> None:
    """NHBC craftsmanship guide (quoted): at least 150 mm."""
    (finding,) = found(build([WALL | {"ground": ground}]), "dpc-above-ground", everything=True)
    assert (finding.severity, finding.measured) == ("pass" if measured >= 150 else "fail", measured)
    assert finding.source and finding.limit == 150
    if measured < 150:
        assert "the first bed high enough is at" in finding.text


def test_the_first_bed_high_enough_is_named(build: Build, found: Found) -> None:
    (finding,) = found(build([WALL | {"ground": -60}]), "dpc-above-ground")
    assert "the first bed high enough is at +0.150" in finding.text, "-60 + 150 is 90: the beds are at 75 and 150"


def test_without_ground_it_is_said_once_for_the_building(build: Build, found: Found) -> None:
    walls = [WALL, WALL | {"id": "B", "start": [0, 9000], "end": [8090, 9000]}]
    (finding,) = found(build(walls), "dpc-above-ground", everything=True)
    assert (finding.severity, finding.where) == ("not_checked", "building")
    assert "A and B" in finding.text and "150 mm" in finding.text
    half = found(build([walls[0] | {"ground": -200}, walls[1]]), "dpc-above-ground", everything=True)
    assert [f.severity for f in half] == ["not_checked", "pass"] and "outside B;" in half[0].text


def test_a_wall_in_the_ground_without_a_damp_proof_course(build: Build, found: Found) -> None:
    (finding,) = found(build([WALL | {"ground": -200, "damp_courses": []}]), "dpc-above-ground")
    assert finding.severity == "warn"


def test_without_the_rule_height_is_not_checked(build: Build, found: Found, lacking: Lacking) -> None:
    bare = lacking(build([WALL | {"ground": -75}]), "dpc.above_ground")
    assert {f.severity for f in found(bare, "dpc-above-ground")} == {"not_checked"}


# dpc-continuous


def test_a_gap_in_a_listed_one(build: Build, found: Found) -> None:
    listed = [
        {"leaf": "outer", "level": 0, "at": 0, "length": 3000},
        {"leaf": "outer", "level": 0, "at": 3400, "length": 4690},
        {"leaf": "inner", "level": 0, "at": 0, "length": 8090},
    ]
    (finding,) = found(build([WALL | {"damp_courses": listed}]), "dpc-continuous")
    assert (finding.severity, finding.leaves, finding.measured) == ("fail", ("A/outer",), 400)
    assert "from 3000 to 3400" in finding.text
    assert not found(build([WALL | {"damp_courses": [*listed, "place"]}]), "dpc-continuous"), "the tool closes it"


def test_a_step_up_without_its_own(build: Build, found: Found) -> None:
    good = build([WALL | {"base": [[0, -225], [3000, -225], [3000, 450], [8090, 450]]}])
    assert not found(good, "dpc-continuous")
    findings = found(with_courses(good, lambda c: c if c.level == 0 else None), "dpc-continuous")
    assert {(f.severity, f.leaves[0], f.measured) for f in findings} == {("fail", "A/outer", 5090), ("fail", "A/inner", 5090)}


def test_a_gate_down_through_it_needs_none(build: Build, found: Found) -> None:
    gate = {"id": "Y", "kind": "opening", "at": 2040, "width": 1210, "sill": -225, "height": 1800}
    assert not found(build([GARDEN | {"openings": [gate]}]), "dpc-continuous")


def test_too_few_laps_and_too_short_ones(build: Build, found: Found) -> None:
    good = build([WALL | {"type": "garden", "end": [62_090, 0]}], {"A/outer": [6000.0, 12500.0]})
    assert not found(good, "dpc-continuous")
    (course,) = good.fittings.damp_courses
    assert (course.laps, course.lap) == (4, 100), "two at joints, two at ends of rolls: 62.09 m out of 30 m"
    (few,) = found(with_courses(good, lambda c: replace(c, laps=3)), "dpc-continuous")
    assert (few.severity, few.measured, few.limit) == ("fail", 3, 4)
    (short,) = found(with_courses(good, lambda c: replace(c, lap=90.0)), "dpc-continuous")
    assert (short.severity, short.measured, short.limit) == ("fail", 90, 100)


def test_without_the_rule_laps_are_not_checked(build: Build, found: Found, lacking: Lacking) -> None:
    assert {f.severity for f in found(lacking(build([WALL]), "dpc.lap"), "dpc-continuous")} == {"not_checked"}


# dpc-under-coping


def test_a_wall_that_stands_free_without_one_under_its_coping(build: Build, found: Found) -> None:
    good = build([GARDEN | {"stands": "free_standing"}])
    assert [f.severity for f in found(good, "dpc-under-coping")] == ["note"], "what it must not be of"
    assert "polyethylene" in found(good, "dpc-under-coping")[0].text
    bare = with_courses(good, lambda c: c if c.place == "base" else None)
    (finding,) = found(bare, "dpc-under-coping")
    assert (finding.severity, finding.measured) == ("fail", 6065)
    short = with_courses(good, lambda c: c if c.place == "base" else replace(c, span=Span(0, 6000)))
    assert ("fail", 65) in [(f.severity, f.measured) for f in found(short, "dpc-under-coping")]


def test_one_too_narrow_for_a_cavity_parapet(build: Build, found: Found) -> None:
    good = build([WALL | {"stands": "parapet"}])
    assert {c.width for c in good.fittings.damp_courses if c.place == "coping"} == {302.5}
    assert [f.severity for f in found(good, "dpc-under-coping")] == ["note"]
    narrow = with_courses(good, lambda c: replace(c, width=102.5))
    assert ("fail", 102.5) in [(f.severity, f.measured) for f in found(narrow, "dpc-under-coping")]


def test_a_wall_of_a_building_has_no_coping(build: Build, found: Found) -> None:
    (finding,) = found(build([GARDEN]), "dpc-under-coping", everything=True)
    assert finding.severity == "pass"


def test_without_the_rule_its_kind_is_not_checked(build: Build, found: Found, lacking: Lacking) -> None:
    bare = lacking(build([GARDEN | {"stands": "parapet"}]), "dpc.coping.barred")
    assert [f.severity for f in found(bare, "dpc-under-coping")] == ["not_checked"]


# cavity-below-dpc


@pytest.mark.parametrize(("base", "severity"), [(-225, "pass"), (-300, "pass"), (-150, "note")])
def test_where_the_fill_of_the_cavity_stops(build: Build, found: Found, base: float, severity: str) -> None:
    """NHBC 6.1.17 Table 9 (read): 225 mm under the damp-proof course."""
    (finding,) = found(build([WALL | {"base": base}]), "cavity-below-dpc", everything=True)
    assert (finding.severity, finding.measured, finding.limit) == (severity, -base, 225)


def test_without_the_rule_the_fill_is_not_checked(build: Build, found: Found, lacking: Lacking) -> None:
    assert [f.severity for f in found(lacking(build([WALL]), "cavity.below_dpc"), "cavity-below-dpc")] == ["not_checked"]
