"""Each check of trays, weeps and finishes: a design that breaks the rule, the same one put right, and one without the rule."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.fittings.model import JointParts, Mesh, Tray
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
Lacking = Callable[..., Design]

DOOR = {"id": "D1", "kind": "door", "at": 1347.5, "width": 910, "sill": 0, "height": 2100}
WINDOW = {"id": "V1", "kind": "window", "at": 4047.5, "width": 1810, "sill": 900, "height": 1200}
WALL: dict[str, Any] = {"id": "A", "type": "cavity", "start": [0, 0], "end": [8090, 0], "base": -225, "top": 5400}
HOUSE = WALL | {"openings": [DOOR, WINDOW]}
LEAN_TO = {"line": [[500, 3300], [3500, 2800]]}
RENDERED: dict[str, Any] = {
    "brick": {"zones": [{"unit": "brick_65"}], "finish": "render"},
    "block": {"zones": [{"unit": "aircrete_block_100"}], "finish": "plaster"},
}


def with_trays(design: Design, change: Callable[[Tray], Tray | None]) -> Design:
    trays = tuple(new for tray in design.fittings.trays if (new := change(tray)))
    return replace(design, fittings=replace(design.fittings, trays=trays))


@pytest.fixture(scope="module")
def house(build: Build) -> Design:
    return build([HOUSE])


@pytest.fixture(scope="module")
def lean_to(build: Build) -> Design:
    return build([WALL | {"abutments": [LEAN_TO]}])


def test_what_the_tool_makes_itself_passes(house: Design, lean_to: Design, found: Found) -> None:
    for design in (house, lean_to):
        for code in ("tray-over-opening", "tray-rise", "weep-spacing", "abutment-tray", "joint-bridged"):
            assert [f.text for f in found(design, code)] == [], code


# tray-over-opening


def test_an_opening_without_a_tray(house: Design, found: Found) -> None:
    (finding,) = found(with_trays(house, lambda t: None if t.opening == "V1" else t), "tray-over-opening")
    assert (finding.severity, finding.openings, finding.measured) == ("fail", ("V1",), 1810)


def test_a_tray_over_part_of_the_opening(house: Design, found: Found) -> None:
    short = with_trays(house, lambda t: replace(t, span=Span(t.span.start, 5000.0)) if t.opening == "V1" else t)
    (finding,) = found(short, "tray-over-opening")
    assert (finding.severity, finding.measured) == ("fail", 857.5)


def test_a_tray_two_courses_too_high_is_none(house: Design, found: Found) -> None:
    assert len(found(with_trays(house, lambda t: replace(t, level=t.level + 150.0)), "tray-over-opening")) == 2


@pytest.mark.parametrize(("cut", "past"), [(1.0, 24.0), (25.0, 0.0), (60.0, -35.0)])
def test_a_tray_that_ends_too_soon_past_its_lintel(house: Design, found: Found, cut: float, past: float) -> None:
    """LABC Warranty, cavity trays (read): 25 mm past."""
    short = with_trays(house, lambda t: replace(t, span=Span(t.span.start + cut, t.span.end)) if t.opening == "D1" else t)
    (finding,) = found(short, "tray-over-opening")
    assert (finding.severity, finding.openings, finding.measured, finding.limit) == ("fail", ("D1",), pytest.approx(past), 25)


def test_a_tray_without_a_stop_end(house: Design, found: Found) -> None:
    findings = found(with_trays(house, lambda t: replace(t, stop_ends=1)), "tray-over-opening")
    assert [(f.severity, f.measured, f.limit) for f in findings] == [("fail", 1, 2)] * 2
    assert findings[0].text.startswith("the tray has 1 stop end:")


def test_a_listed_tray_is_kept_and_judged(build: Build, found: Found) -> None:
    short = {"level": 2100, "at": 1340, "length": 925, "stop_ends": 2}
    (finding,) = found(build([HOUSE | {"trays": [short, "place"]}]), "tray-over-opening")
    assert (finding.severity, finding.openings) == ("fail", ("D1",))
    assert [f.openings for f in found(build([HOUSE | {"trays": [short]}]), "tray-over-opening")] == [("D1",), ("V1",)]
    good = {"level": 2100, "at": 1100, "length": 1400, "stop_ends": 2}
    assert not found(build([HOUSE | {"trays": [good, "place"]}]), "tray-over-opening")


def test_a_movement_joint_beside_a_lintel_stops_its_tray(build: Build, found: Found) -> None:
    design = build([HOUSE], {"A/outer": [6020.0]})
    assert max(tray.span.end for tray in design.fittings.trays) <= 6012
    assert not found(design, "tray-over-opening") and not found(design, "joint-bridged")


def test_without_the_rule_trays_are_not_checked(house: Design, found: Found, lacking: Lacking) -> None:
    assert {f.severity for f in found(lacking(house, "tray.past_lintel"), "tray-over-opening")} == {"not_checked"}


# tray-rise


@pytest.mark.parametrize(("top", "severity"), [(2400, "pass"), (2250, "pass"), (2175, "warn")])
def test_wall_enough_over_a_tray_for_its_rise(build: Build, found: Found, top: float, severity: str) -> None:
    (finding,) = found(build([WALL | {"top": top, "openings": [DOOR]}]), "tray-rise", everything=True)
    if top == 2250:
        assert finding.severity == "note", "150 mm of wall, and no bed at its top"
    else:
        assert finding.severity == severity
    assert finding.measured == (top - 2100 if severity == "warn" or top == 2250 else 150)


def test_an_upper_edge_in_no_bed(house: Design, found: Found) -> None:
    high = with_trays(house, lambda t: replace(t, upper=t.level + 160.0 + 100.0))
    assert {f.severity for f in found(high, "tray-rise")} == {"fail"}
    low = with_trays(house, lambda t: replace(t, upper=t.level - 75.0))
    assert {(f.severity, f.measured) for f in found(low, "tray-rise")} == {("fail", -75)}
    loose = with_trays(house, lambda t: replace(t, upper=None))
    assert {f.severity for f in found(loose, "tray-rise")} == {"note"}


def test_without_the_rule_rise_is_not_checked(house: Design, found: Found, lacking: Lacking) -> None:
    assert {f.severity for f in found(lacking(house, "tray.rise"), "tray-rise")} == {"not_checked"}


# weep-spacing


def test_weeps_are_in_the_perpends_of_the_course_on_the_tray(house: Design) -> None:
    patterns = {pattern.id: pattern for pattern in house.coursing.patterns}
    for tray in house.fittings.trays:
        lines = {
            round(p.span.start + perpend.at + perpend.width / 2, 3)
            for p in house.coursing.of("A/outer").placements
            if tray.level <= p.level < tray.level + 11
            for perpend in patterns[p.pattern].perpends
        }
        assert tray.cut_weeps == () and {round(at, 3) for at in tray.weeps} <= lines


def test_a_weep_in_the_middle_of_a_brick(house: Design, found: Found) -> None:
    moved = with_trays(house, lambda t: replace(t, weeps=(t.weeps[0] + 40.0, *t.weeps[1:])))
    findings = found(moved, "weep-spacing")
    assert {f.severity for f in findings} == {"fail"} and "in no perpend" in findings[0].text
    told = with_trays(moved, lambda t: replace(t, cut_weeps=t.weeps[:1]))
    assert {f.severity for f in found(told, "weep-spacing")} <= {"note", "warn"}


def test_weeps_too_far_apart_or_too_few(house: Design, found: Found) -> None:
    """LABC Warranty, weep holes (read): 900 mm; two to an opening (NHBC, from memory)."""
    ends = with_trays(house, lambda t: replace(t, weeps=(t.weeps[0], t.weeps[-1])))
    assert [(f.severity, f.openings) for f in found(ends, "weep-spacing")] == [("fail", ("D1",)), ("fail", ("V1",))]
    one = with_trays(house, lambda t: replace(t, weeps=t.weeps[:1]))
    assert {(f.severity, f.measured, f.limit) for f in found(one, "weep-spacing")} == {("fail", 1, 2)}


def test_none_at_a_stop_end(house: Design, found: Found) -> None:
    def shifted(tray: Tray) -> Tray:
        return replace(tray, span=Span(tray.span.start - 450.0, tray.span.end)) if tray.opening == "V1" else tray

    (finding,) = found(with_trays(house, shifted), "weep-spacing")
    assert finding.severity == "warn" and "perpend" in finding.text


def test_without_the_rule_weeps_are_not_checked(house: Design, found: Found, lacking: Lacking) -> None:
    for key in ("weep.spacing", "weep.minimum"):
        assert {f.severity for f in found(lacking(house, key), "weep-spacing")} == {"not_checked"}


# abutment-tray


def test_a_lower_roof_without_trays(lean_to: Design, found: Found) -> None:
    (finding,) = found(with_trays(lean_to, lambda t: None), "abutment-tray")
    assert (finding.severity, finding.leaves, finding.measured) == ("fail", ("A/outer",), 3000)


def test_one_step_left_out_or_too_low_or_too_high(lean_to: Design, found: Found) -> None:
    steps = sorted(lean_to.fittings.trays, key=lambda t: t.span)
    third = steps[2].id
    for change in (
        lambda t: None if t.id == third else t,
        lambda t: replace(t, level=t.level - 75.0) if t.id == third else t,
        lambda t: replace(t, level=t.level + 225.0) if t.id == third else t,
    ):
        findings = [f for f in found(with_trays(lean_to, change), "abutment-tray") if "no tray over" in f.text]
        assert [f.severity for f in findings] == ["fail"]


def test_the_lowest_tray_without_its_stop_end_or_its_weep(lean_to: Design, found: Found) -> None:
    lowest = min(lean_to.fittings.trays, key=lambda t: t.level).id
    (open_end,) = found(with_trays(lean_to, lambda t: replace(t, stop_ends=1) if t.id == lowest else t), "abutment-tray")
    assert (open_end.severity, open_end.measured, open_end.limit) == ("fail", 1, 2)
    (dry,) = found(with_trays(lean_to, lambda t: replace(t, weeps=()) if t.id == lowest else t), "abutment-tray")
    assert dry.severity == "fail" and "without a weep" in dry.text


def test_no_room_under_the_top_is_said(build: Build, found: Found) -> None:
    (finding,) = found(build([WALL | {"top": 2925, "abutments": [{"line": [[500, 2850], [3500, 2850]]}]}]), "abutment-tray")
    assert (finding.severity, finding.measured) == ("warn", 3000)


def test_a_wall_without_a_cavity_takes_no_tray(build: Build, found: Found) -> None:
    design = build([WALL | {"type": "garden", "abutments": [LEAN_TO]}])
    assert design.fittings.trays == ()
    assert [f.severity for f in found(design, "abutment-tray")] == ["note"]


def test_without_the_rule_abutments_are_not_checked(lean_to: Design, found: Found, lacking: Lacking) -> None:
    assert {f.severity for f in found(lacking(lean_to, "tray.abutment.above"), "abutment-tray")} == {"not_checked"}


# corner-mesh, finish-at-joint


@pytest.fixture(scope="module")
def rendered(build: Build) -> Design:
    return build([HOUSE], {"A/outer": [3200.0]}, leaves=RENDERED)


def with_mesh(design: Design, keep: Callable[[Mesh], bool]) -> Design:
    return replace(design, fittings=replace(design.fittings, mesh=tuple(m for m in design.fittings.mesh if keep(m))))


def test_a_corner_without_mesh(rendered: Design, found: Found) -> None:
    assert not found(rendered, "corner-mesh")
    bare = with_mesh(rendered, lambda m: not (m.leaf == "A/inner" and m.opening == "V1" and m.side == "left" and m.end == "sill"))
    (finding,) = found(bare, "corner-mesh")
    assert (finding.severity, finding.leaves, finding.openings) == ("fail", ("A/inner",), ("V1",))
    assert (finding.measured, finding.limit) == (3, 4)


def test_bare_masonry_needs_none(house: Design, found: Found) -> None:
    assert house.fittings.mesh == ()
    assert [f.severity for f in found(house, "corner-mesh", everything=True)] == ["pass"]


def test_without_the_rule_mesh_is_not_checked(rendered: Design, found: Found, lacking: Lacking) -> None:
    assert {f.severity for f in found(lacking(rendered, "finish.mesh.length"), "corner-mesh")} == {"not_checked"}


def test_a_joint_in_render_without_a_bead_on_one_side(rendered: Design, found: Found) -> None:
    assert [f.severity for f in found(rendered, "finish-at-joint")] == ["note"], "where render begins"

    def halved(part: JointParts) -> JointParts:
        return replace(part, stop_beads=part.stop_beads / 2)

    one = replace(rendered, fittings=replace(rendered.fittings, joint_parts=tuple(map(halved, rendered.fittings.joint_parts))))
    finding = found(one, "finish-at-joint")[0]
    assert (finding.severity, finding.joints, finding.measured, finding.limit) == ("fail", ("J1",), 5625, 11250)


def test_render_begins_over_the_damp_proof_course_from_memory(rendered: Design, found: Found, lacking: Lacking) -> None:
    (note,) = found(rendered, "finish-at-joint")
    assert note.leaves == ("A/outer",) and "at +0.150" in note.text
    assert note.source and note.source.status == "memory"
    assert [f.severity for f in found(lacking(rendered, "finish.above_dpc"), "finish-at-joint")] == ["not_checked"]
