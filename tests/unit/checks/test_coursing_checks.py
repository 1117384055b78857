"""Each check of the coursing: a leaf that breaks the rule, and the same one put right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from elevgen.coursing.model import Pattern, Perpend, Piece
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [4490, 0], "top": 1500}


def pattern_of(lengths: Sequence[float], pattern: Pattern) -> Pattern:
    """The pattern with other pieces: `lengths` with 10 mm perpends between them."""
    pieces, perpends, at = [], [], 0.0
    for length in lengths:
        if pieces:
            perpends.append(Perpend(at, 10.0))
            at += 10.0
        pieces.append(Piece(at, length, "full" if length == 215 else "cut"))
        at += length
    assert at == pytest.approx(pattern.length)
    return replace(pattern, pieces=tuple(pieces), perpends=tuple(perpends))


def with_pattern(design: Design, number: int, lengths: Sequence[float]) -> Design:
    """The design with the pattern of a course's first placement laid otherwise."""
    laid = design.coursing.leaves[0]
    name = next(p.pattern for p in laid.placements if p.course == number)
    changed = tuple(pattern_of(lengths, p) if p.id == name else p for p in design.coursing.patterns)
    return replace(design, coursing=replace(design.coursing, patterns=changed))


def half_course(design: Design) -> int:
    """The first course that begins with a half."""
    laid = design.coursing.leaves[0]
    return next(p.course for p in laid.placements if design.coursing.pattern(p.pattern).pieces[0].length == 102.5)


@pytest.mark.parametrize("code", ["lap", "piece-minimum", "piece-maximum", "course-misfit", "area-balance"])
def test_a_wall_that_lands_and_bonds_passes(build: Build, found: Found, code: str) -> None:
    assert [f.severity for f in found(build([WALL]), code, everything=True)] == ["pass"]


def test_a_straight_joint_is_found(build: Build, found: Found) -> None:
    design = build([WALL])
    assert found(design, "lap", everything=True)[0].measured == pytest.approx(112.5)
    stacked = with_pattern(design, 2, [215.0] * 20)
    straight = with_pattern(stacked, 1, [215.0] * 20)
    (finding,) = found(straight, "lap")
    assert (finding.severity, finding.measured, finding.limit) == ("warn", 0, 53.75)
    assert "too short in 19 places" in finding.text


def test_a_lap_is_measured_at_its_worst_place(build: Build, found: Found) -> None:
    """One perpend moved to 40 mm from the one below: a piece of 142.5 in place of a brick."""
    design = build([WALL])
    lengths = [102.5, *[215.0] * 9, 142.5, 215.0 + 72.5, *[215.0] * 8, 102.5]
    (finding,) = found(with_pattern(design, half_course(design), lengths), "lap")
    assert finding.measured == pytest.approx(40)


@pytest.mark.parametrize(("piece", "severity"), [(102.5, "pass"), (102.4, "warn"), (50.0, "warn")])
def test_pieces_are_not_under_a_half(build: Build, found: Found, piece: float, severity: str) -> None:
    design = build([WALL])
    lengths = [piece, *[215.0] * 8, 215.0 + (102.5 - piece), *[215.0] * 10, 102.5]
    (finding,) = found(with_pattern(design, half_course(design), lengths), "piece-minimum", everything=True)
    assert (finding.severity, finding.measured) == (severity, piece)


@pytest.mark.parametrize(("shown", "hidden", "severity"), [(215.0, 0.0, "pass"), (112.5, 102.5, "pass"), (112.6, 102.5, "warn")])
def test_no_piece_is_longer_than_its_unit(build: Build, found: Found, shown: float, hidden: float, severity: str) -> None:
    """The first piece of one course, longer by what is hidden of it in a return; its neighbour takes up the rest."""
    design = build([WALL])
    laid = with_pattern(design, half_course(design), [shown, *[215.0] * 8, 317.5 - shown, *[215.0] * 10, 102.5])
    name = next(p.pattern for p in laid.coursing.leaves[0].placements if p.course == half_course(design))
    patterns = tuple(replace(p, hidden=(hidden, 0.0)) if p.id == name else p for p in laid.coursing.patterns)
    design = replace(laid, coursing=replace(laid.coursing, patterns=patterns))
    (finding,) = found(design, "piece-maximum", everything=True)
    assert finding.severity == severity
    assert finding.measured == (None if severity == "pass" else pytest.approx(shown + hidden))
    assert severity == "pass" or f"{shown + hidden:g} mm out of a unit of 215 mm" in finding.text


def test_a_piece_counts_with_what_is_hidden_of_it(build: Build, found: Found) -> None:
    design = build([WALL])
    short = with_pattern(design, half_course(design), [50.0, *[215.0] * 8, 267.5, *[215.0] * 10, 102.5])
    assert found(short, "piece-minimum")
    patterns = tuple(replace(p, hidden=(60.0, 0.0)) for p in short.coursing.patterns)
    assert not found(replace(short, coursing=replace(short.coursing, patterns=patterns)), "piece-minimum")


def test_a_sill_off_the_courses_is_named_with_levels_that_land(build: Build, found: Found) -> None:
    def with_sill(sill: float) -> Design:
        window = {"id": "V1", "kind": "window", "at": 1572.5, "width": 1360, "sill": sill, "height": 1500 - sill}
        return build([WALL | {"openings": [window]}])

    (finding,) = found(with_sill(620.0), "course-misfit")
    assert (finding.severity, finding.where, finding.measured, finding.limit) == ("warn", "A/outer sill of V1", 620, 600)
    assert "+0.600 or +0.675" in finding.text
    assert not found(with_sill(600.0), "course-misfit")


ODD: list[dict[str, Any]] = [
    WALL | {"top": [[0, 900], [1700, 2380], [4490, 1130]], "base": [[0, -75], [2000, -75], [2000, 150], [4490, 150]]},
    WALL
    | {
        "top": 2710,
        "openings": [
            {"id": "V1", "kind": "window", "at": 333, "width": 1210, "sill": 613, "height": 1111},
            {"id": "V2", "kind": "window", "at": 1632, "width": 807, "sill": 613, "height": 700},
        ],
    },
]


@pytest.mark.parametrize("wall", ODD)
@pytest.mark.parametrize("joints", [{}, {"A/outer": [2911.0]}])
def test_the_parts_of_an_odd_face_make_up_the_whole(
    build: Build, found: Found, wall: dict[str, Any], joints: dict[str, Any]
) -> None:
    (finding,) = found(build([wall], joints), "area-balance", everything=True)
    assert finding.severity == "pass", finding.text


@pytest.mark.parametrize("wall", ODD)
def test_what_is_lost_or_counted_twice_is_found(build: Build, found: Found, wall: dict[str, Any]) -> None:
    design = build([wall], {"A/outer": [2911.0]})
    (laid,) = design.coursing.leaves
    lost = replace(laid, placements=laid.placements[1:])
    thicker = replace(laid, mortar_area=laid.mortar_area * 1.0001)
    for wrong in (lost, thicker):
        bad = replace(design, coursing=replace(design.coursing, leaves=(wrong,)))
        assert [f.severity for f in found(bad, "area-balance")] == ["fail"]


def test_one_level_missed_in_several_openings_and_both_leaves_is_one_finding(build: Build, found: Found) -> None:
    """Bricks course every 75 mm, blocks every 225 mm: 620 lies between 600 and 675, and between 450 and 675."""

    def window(name: str, at: float, sill: float) -> dict[str, Any]:
        return {"id": name, "kind": "window", "at": at, "width": 910, "sill": sill, "height": 1500 - sill}

    three = [window("V1", 572.5, 620), window("V2", 1832.5, 620), window("V3", 3092.5, 900)]
    findings = found(build([WALL | {"type": "cavity", "openings": three}]), "course-misfit")
    shared = next(f for f in findings if "V1" in f.openings)
    assert (shared.where, shared.openings) == ("A sills of V1 and V2", ("V1", "V2"))
    assert shared.leaves == ("A/outer", "A/inner")
    assert shared.text == (
        "+0.620 does not land on a course. Outer leaf: +0.600 or +0.675 would; a bed of 20 mm in course 9; beds of 12.5 mm in "
        "place of 10, from ±0.000 up, would land it, but both leaves keep theirs, which meet for the ties. Inner leaf: +0.450 or "
        "+0.675 would; units cut to 160 mm in course 3; beds of 95 mm in place of 10, from ±0.000 up, would land it, but differ "
        "too much, by over 5 mm from the usual"
    )
    assert (shared.measured, shared.limit) == (620, 600)
    assert not [f for f in findings if f is not shared and {"V1", "V2"} & set(f.openings) and "sill" in f.where]


def test_levels_that_would_do_are_said_once_where_both_leaves_agree(build: Build, found: Found) -> None:
    window = {"id": "V1", "kind": "window", "at": 1572.5, "width": 910, "sill": 620, "height": 880}
    brick = {"zones": [{"unit": "brick_65"}]}
    design = build([WALL | {"type": "cavity", "openings": [window]}], leaves={"brick": brick, "block": brick})
    (finding,) = found(design, "course-misfit")
    assert (finding.where, finding.leaves) == ("A sill of V1", ("A/outer", "A/inner"))
    assert finding.text.startswith("+0.620 does not land on a course: +0.600 or +0.675 would; a bed of 20 mm in course 9;")


def test_the_bed_that_would_land_a_level_loses_others(build: Build, found: Found) -> None:
    """590 over eight courses is 73.75: the head at 1,190 and the top at 1,500 land with beds of 10 mm only."""
    window = {"id": "V1", "kind": "window", "at": 1572.5, "width": 910, "sill": 590, "height": 620}
    (finding,) = found(build([WALL | {"openings": [window]}]), "course-misfit")
    assert "units cut to 55 mm in course 8" in finding.text
    assert finding.text.endswith("beds of 8.8 mm in place of 10, from ±0.000 up, would land it, but lose 2 levels that now land")


def test_a_bed_outside_the_tolerance_is_measured_against_it(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    """322 is 5 courses of 64.4, less than a brick, or 4 of 80.5: beds of 15.5 mm."""
    design = build([WALL | {"top": 322}])
    (finding,) = found(design, "course-misfit")
    assert finding.text.endswith(
        "; a bed of 32 mm in course 4; beds of 15.5 mm in place of 10, from ±0.000 up, would land it, but differ too much, "
        "by over 5 mm from the usual"
    )
    (unlimited,) = found(lacking(design, "bed.tolerance"), "course-misfit")
    assert unlimited.text.endswith("would land it, but differ too much")
