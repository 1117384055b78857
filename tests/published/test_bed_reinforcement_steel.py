"""Steel in beds: wire areas, laps, development lengths, least areas and the force check, as documents print them.

Bibliography: UBC 2104.8 in Masonry Construction magazine (quoted); TMS 602-16 and 602-22 on an association's page (quoted); 2003
IBC in TEK 12-6 (read); TEK 10-3 and IRC R606.12.3.2 (conditions read), wire areas from memory; Austrian clay association guide
(read); National Building Code of Canada 9.20.9.1 (read); ACI 530-99 in Masonry Construction magazine (quoted); estimating page
(quoted); NHBC Standards 6.1.18 (read); arithmetic of the force check (derived).
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from elevgen.building.model import Leaf, Unit
from elevgen.building.resolve import resolve
from elevgen.checks import reinforcement_area, reinforcement_force, reinforcement_lap, stack_bond
from elevgen.checks._steel import steel_a_metre, wire_area
from elevgen.core.geometry import Span
from elevgen.coursing.allowances import read_allowances
from elevgen.coursing.model import Course, Coursing, LeafCoursing
from elevgen.fittings.fit import fit
from elevgen.fittings.steel import (
    development_length,
    lap_by_diameters,
    lap_in_other_bed,
    least_lap,
    width_most,
)
from elevgen.joints.model import JointPlan
from elevgen.result import Design, Finding
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

INCH = 25.4
PSI = 4.4482216152605 / INCH**2
IN2_PER_FT = INCH**2 / 0.3048
"""mm2 to a metre in a square inch to a foot."""
NINE_GAUGE, THREE_SIXTEENTHS = 0.148, 0.1875
UBC, NBC = "UBC", "National Building Code of Canada"


def overrides(rules: dict[str, tuple[float, str]]) -> list[dict[str, Any]]:
    return [
        {"rule": f"bed_reinforcement.{key}" if not key.startswith("bond.") else key, "value": value, "unit": unit}
        | {"reason": "document", "by": "engineer"}
        for key, (value, unit) in rules.items()
    ]


def fitted(unit: dict[str, Any], rules: dict[str, tuple[float, str]], length: float, height: float, **leaf: Any) -> Design:
    """A wall of one leaf with courses at its gauge and no opening."""
    given = {
        "spec": 1,
        "units": {"u": unit},
        "overrides": overrides(rules),
        "leaves": {"l": {"zones": [{"unit": "u"}], **leaf}},
        "wall_types": {"t": {"outer": "l"}},
        "walls": [{"id": "W1", "type": "t", "start": (0, 0), "end": (length, 0), "base": 0, "top": height}],
    }
    spec = Spec.model_validate(given)
    book = load_book("uk", spec.overrides)
    reader = RuleReader(book)
    building = resolve(spec, reader)
    plan, coursing = JointPlan((), (), ()), Coursing((), tuple(map(laid, building.leaves)))
    fittings = fit(building, (), plan, coursing, reader)
    return Design("test", spec, "", book, reader.used(), building, (), plan, coursing, fittings, ())


def laid(leaf: Leaf) -> LeafCoursing:
    unit, height = leaf.zones[0].unit, leaf.top.highest(leaf.span)
    levels = [k * unit.gauge + unit.joint for k in range(round(height / unit.gauge))]
    courses = tuple(Course(k, unit.name, level, unit.joint, unit.height, leaf.span) for k, level in enumerate(levels, 1))
    return LeafCoursing(leaf.id, courses, (), (), (), 0.0, 0.0, ())


def block(width: float = 7.625) -> dict[str, Any]:
    """A hollow block of 16 by 8 inches with its joint, so wide (in)."""
    size = {"length": 15.625 * INCH, "height": 7.625 * INCH, "width": width * INCH, "joint": 0.375 * INCH}
    return {"material": "dense_concrete", **size}


@pytest.mark.parametrize(("diameter", "printed"), [(0.148, 0.017), (0.188, 0.028)])
def test_wire_areas_w1_7_and_w2_8_from_memory(diameter: float, printed: float) -> None:
    assert wire_area(diameter) == pytest.approx(printed, abs=0.0005)


@pytest.mark.parametrize(
    ("diameter", "grout", "mortar", "exactly"),
    [(NINE_GAUGE, 8, 12, (7.99, 11.1)), (THREE_SIXTEENTHS, 11, 14, (10.1, 14.06))],
)
def test_ubc_2104_8_laps_quoted(
    published: Any, diameter: float, grout: float, mortar: float, exactly: tuple[float, float]
) -> None:
    laps = lap_by_diameters(diameter, 54), lap_by_diameters(diameter, 75)
    assert laps == pytest.approx(exactly, abs=0.05)
    check = "UBC-01" if diameter == NINE_GAUGE else "UBC-02"
    for held_in, printed, lap in zip(("grout", "mortar"), (grout, mortar), laps, strict=True):
        published(
            check,
            f"wire {diameter:g} in, lap in {held_in}",
            printed,
            lap,
            unit="in",
            within=1,
            document=UBC,
            clause="2104.8",
            status="quoted",
        )


def test_ubc_2104_8_lap_in_the_next_bed_24_in_quoted(published: Any) -> None:
    ours = lap_in_other_bed(NINE_GAUGE, 54, 8)
    published(
        "UBC-01",
        "wire 0.148 in, lap in alternate beds",
        24,
        ours,
        unit="in",
        within=0.05,
        document=UBC,
        clause="2104.8",
        status="quoted",
    )


def test_ubc_laps_reach_the_wall_when_a_rule_set_gives_diameters_quoted() -> None:
    rules = {"lap.diameters": (75.0, "ratio"), "wire.diameter": (THREE_SIXTEENTHS, "in"), "lap": (6.0, "in")}
    design = fitted(block(), rules, 9000, 203.2 * 12, reinforced_every=406.4)
    lapped = [r for r in design.fittings.bed_reinforcement if r.laps]
    assert {round(r.lap / INCH, 2) for r in lapped} == {14.06}
    assert [f.severity for f in reinforcement_lap.check(design)] == ["pass"]


@pytest.mark.parametrize(("edition", "lap"), [("TMS 602-16", 6), ("TMS 602-22", 8)])
def test_tms_602_laps_6_and_8_in_quoted(published: Any, edition: str, lap: float) -> None:
    design = fitted(block(), {"lap": (lap, "in")}, 9000, 203.2 * 12, reinforced_every=406.4)
    (ours,) = {round(r.lap / INCH, 2) for r in design.fittings.bed_reinforcement if r.laps}
    published("TMS-01", "lap of bed reinforcement as laid", lap, ours, unit="in", document=edition, status="quoted")
    (finding,) = reinforcement_lap.check(design)
    assert (finding.severity, finding.limit) == ("pass", pytest.approx(lap * INCH))


@pytest.mark.parametrize(("stress", "inches"), [(30_000, 6.66), (27_027, 6.0), (20_000, 6.0)])
def test_tek_12_6_development_0_0015_d_f_but_6_in_read(published: Any, stress: float, inches: float) -> None:
    per_stress = 0.0015 / PSI
    ours = development_length(NINE_GAUGE * INCH, stress * PSI, per_stress, 6 * INCH) / INCH
    published(
        "",
        f"development of 9 gauge wire at {stress} psi",
        inches,
        ours,
        unit="in",
        within=0.005,
        document="2003 IBC in TEK 12-6",
        status="derived",
    )


def test_tek_12_6_development_is_a_least_lap_where_a_rule_set_has_it_read() -> None:
    rules = {
        "lap": (6.0, "in"),
        "wire.diameter": (NINE_GAUGE, "in"),
        "development.per_stress": (0.0015, "per_psi"),
        "development.stress": (30_000.0, "psi"),
        "development.min": (6.0, "in"),
    }
    design = fitted(block(), rules, 9000, 203.2 * 12, reinforced_every=406.4)
    lap = least_lap(RuleReader(design.rules))
    assert lap is not None
    assert lap / INCH == pytest.approx(6.66, abs=0.005)
    assert {r.lap >= lap for r in design.fittings.bed_reinforcement if r.laps} == {True}


@pytest.mark.parametrize(("rows", "printed", "exactly"), [(500, 0.8, 0.785), (250, 1.6, 1.571)])
def test_austrian_guide_two_5_mm_wires_read(published: Any, rows: float, printed: float, exactly: float) -> None:
    """0.8 and 1.6 cm2 to a metre as printed."""
    ours = steel_a_metre(wire_area(5, 2), rows) / 100
    assert ours == pytest.approx(exactly, abs=0.0005)
    published(
        "ATKL-02",
        f"two wires of 5 mm, rows at {rows} mm",
        printed,
        ours,
        unit="cm2/m",
        within=0.05,
        document="Austrian clay association, guide",
    )


@pytest.mark.parametrize(
    ("wire", "rows", "printed", "severity"),
    [(0.148, 16, 0.0255, "pass"), (0.148, 24, 0.017, "note"), (0.188, 24, 0.0277, "pass")],
)
def test_tek_10_3_least_steel_0_025_in2_a_foot_read_with_wire_areas_from_memory(
    published: Any, wire: float, rows: float, printed: float, severity: str
) -> None:
    rules = {"wire.diameter": (wire, "in"), "area.per_height": (0.025, "in2/ft"), "area.fraction": (1e-6, "ratio")}
    design = fitted(block(), rules, 4000, 203.2 * 24, reinforced_every=rows * INCH)
    finding = next(f for f in reinforcement_area.check(design) if f.source and f.source.key.endswith("per_height"))
    assert finding.measured is not None
    assert finding.limit is not None
    assert (finding.severity, finding.limit / IN2_PER_FT) == (severity, pytest.approx(0.025))
    check = "TEK10-04" if wire == 0.188 else "TEK10-03"
    given = f"two wires of {wire} in at {rows} in: area a foot (wire area from memory)"
    published(
        check, given, printed, finding.measured / IN2_PER_FT, unit="in2/ft", within=0.0005, status="derived", document="TEK 10-3"
    )


@pytest.mark.parametrize(
    ("gross", "both", "each"), [(5.625, 0.135, 0.047), (7.625, 0.183, 0.064), (9.625, 0.231, 0.081), (11.625, 0.279, 0.098)]
)
def test_irc_r606_12_3_2_part_of_the_gross_section_read(published: Any, gross: float, both: float, each: float) -> None:
    for fraction, printed in ((0.002, both), (0.0007, each)):
        design = fitted(block(gross), {"area.fraction": (fraction, "ratio")}, 4000, 203.2 * 12, reinforced_every=406.4)
        (finding,) = reinforcement_area.check(design)
        assert finding.limit is not None
        given = f"wall {gross} in thick, {fraction} of the gross section"
        published(
            "IRC-02",
            given,
            printed,
            finding.limit / IN2_PER_FT,
            unit="in2/ft",
            within=0.0005,
            document="IRC",
            clause="R606.12.3.2",
        )


def test_nbc_9_20_9_1_stack_bond_two_bars_at_460_laps_150_read(published: Any) -> None:
    rules = {"bond.stack.bed_spacing": (460.0, "mm"), "lap": (150.0, "mm"), "wire.diameter": (3.76, "mm")}
    brick = {"material": "clay", "length": 190, "height": 57, "width": 90, "joint": 10}
    design = fitted(brick, rules, 9000, 67 * 40, bond="stack")
    (judged,) = stack_bond.check(design)
    assert judged.measured is not None
    assert (judged.severity, judged.limit) == ("note", 460)
    assert 460 - 67 < judged.measured <= 460
    (lap,) = {r.lap for r in design.fittings.bed_reinforcement if r.laps}
    published("NBC-03", "stack bond: lap of the bars as laid", 150, lap, unit="mm", document=NBC, clause="9.20.9.1")
    published("NBC-03", "stack bond: bars at no more than", 460, judged.limit, unit="mm", document=NBC, clause="9.20.9.1")
    assert [f.severity for f in reinforcement_lap.check(design)] == ["pass"]


@pytest.mark.parametrize(("length", "overlap"), [(11.5, 2.875), (9, 2.25)])
def test_aci_530_99_running_bond_laps_a_quarter_quoted(published: Any, length: float, overlap: float) -> None:
    unit = Unit("u", "clay", length * INCH, 2.25 * INCH, 3.5 * INCH, 0.5 * INCH)
    limits = read_allowances(RuleReader(load_book("uk"))).limits(unit)
    assert limits.lap / INCH >= overlap
    published(
        "RB-01",
        f"unit of {length:g} in, least overlap",
        overlap,
        limits.lap / INCH,
        unit="in",
        within=0.005,
        document="ACI 530-99",
        status="quoted",
    )


def test_aci_530_99_without_lap_a_wire_every_18_in_quoted() -> None:
    design = fitted(block(), {"bond.stack.bed_spacing": (18.0, "in")}, 4000, 203.2 * 12, bond="stack")
    levels = sorted({r.level for r in design.fittings.bed_reinforcement})
    assert {round((b - a) / INCH, 3) for a, b in pairwise(levels)} == {16}, "the second bed of 8 in"


@pytest.mark.parametrize(("rows", "courses"), [(16, 2), (24, 3)])
def test_estimating_page_length_by_blocks_quoted(published: Any, rows: float, courses: int) -> None:
    """Blocks x 1.34 / 2 at 16 in, / 3 at 24 in, in feet; a wall so high that its foot and top come to little."""
    height, across = 600, 12
    design = fitted(block(), {}, 406.4 * across, 203.2 * height, reinforced_every=rows * INCH)
    feet = sum(r.span.length for r in design.fittings.bed_reinforcement) / 304.8
    ours = feet / (height * across) * courses
    published(
        "EST-17",
        f"bed reinforcement at {rows} in, feet a block and course",
        1.34,
        ours,
        unit="ft",
        within=0.01 * courses,
        document="Estimating page on reinforcement",
        status="quoted",
    )


def force(design: Design) -> Finding:
    (finding,) = reinforcement_force.check(design)
    return finding


@pytest.mark.parametrize(
    ("every", "printed", "words", "severity"), [(225, 276, "stay fine", "pass"), (450, 551, "opens wide", "note")]
)
def test_force_of_a_crack_against_two_4_mm_wires_derived(
    published: Any, every: float, printed: float, words: str, severity: str
) -> None:
    """Leaf 102.5, f_t 0.3: printed with the area as 25.1 mm2."""
    brick = {"material": "clay", "length": 215, "height": 65, "width": 102.5, "joint": 10}
    finding = force(fitted(brick, {}, 4000, 2700, reinforced_every=every))
    assert finding.measured is not None
    assert wire_area(4, 2) == pytest.approx(25.1, abs=0.05)
    ours = finding.measured * wire_area(4, 2) / 25.1
    published(
        "BJR-01",
        f"leaf 102.5, two 4 mm wires at {every} mm",
        printed,
        ours,
        unit="MPa",
        within=0.5,
        status="derived",
        document="Arithmetic",
    )
    assert (finding.severity, finding.limit) == (severity, 500)
    assert words in finding.text
    assert "guidance, not a design" in finding.text


def test_nhbc_6_1_18_lap_225_and_cover_20_read(published: Any) -> None:
    reader = RuleReader(load_book("uk"))
    published(
        "NHBC-10", "least lap of bed reinforcement", 225, least_lap(reader), unit="mm", document="NHBC Standards", clause="6.1.18"
    )
    cover = (102.5 - width_most(102.5, reader)) / 2
    published("NHBC-10", "cover in a leaf of 102.5", 20, cover, unit="mm", document="NHBC Standards", clause="6.1.18")
    brick = {"material": "clay", "length": 215, "height": 65, "width": 102.5, "joint": 10}
    design = fitted(brick, {}, 9000, 2700, reinforced_every=450)
    assert {round(lap.length, 6) for r in design.fittings.bed_reinforcement for lap in r.lap_at} == {225}
    assert all(isinstance(lap, Span) for r in design.fittings.bed_reinforcement for lap in r.lap_at)
