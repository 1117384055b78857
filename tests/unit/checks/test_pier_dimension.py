"""Short masonry in whole and half units: each case that breaks the rule, its repair, and what the bricklayer would have laid.

Brick tutorial on a trade web page (quoted): under about 1 m, to 1002.5 mm, piers and panels keep to brick sizes.
Lengths CO- and CO: Technical Information Sheet 9, Brickwork Dimensions (read).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
CODE = "pier-dimension"
WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [7190, 0], "top": 1500}


def window(name: str, at: float, width: float = 1360.0) -> dict[str, Any]:
    return {"id": name, "kind": "window", "at": at, "width": width, "sill": 300, "height": 910}


def two(pier: float, at: float = 1115.0) -> dict[str, Any]:
    """Two windows six bricks wide with a pier between them, 5 bricks from the wall's start."""
    return WALL | {"openings": [window("V1", at), window("V2", at + 1360 + pier)]}


def warned(findings: list[Finding]) -> list[Finding]:
    return [f for f in findings if f.severity == "warn"]


@pytest.mark.parametrize(
    ("pier", "words"),
    [
        (700.0, "665 (3 units) or 777.5 (3 1/2 units)"),
        (450.0, "440 (2 units) or 552.5 (2 1/2 units)"),
        (300.0, "215 (1 unit) or 327.5 (1 1/2 units)"),
    ],
)
def test_between_two_openings(build: Build, found: Found, pier: float, words: str) -> None:
    (finding,) = warned(found(build([two(pier)]), CODE))
    assert (finding.openings, finding.leaves, finding.measured) == (("V1", "V2"), ("A/outer",), pytest.approx(pier))
    assert words in finding.text
    assert finding.source is not None
    assert finding.source.status == "quoted"


@pytest.mark.parametrize("pier", [327.5, 440.0, 665.0, 890.0, 1002.5, 660.0, 672.0, 1003.0, 1100.0])
def test_a_number_of_bricks_what_the_perpends_take_up_and_a_long_pier_pass(build: Build, found: Found, pier: float) -> None:
    """660 and 672 are three bricks with perpends of 7.5 and 13.5; above 1002.5 the rule does not ask."""
    assert not warned(found(build([two(pier)]), CODE))


@pytest.mark.parametrize(("pier", "ok"), [(659.0, True), (658.9, False), (675.0, True), (675.1, False)])
def test_the_perpends_take_up_no_more_than_they_may(build: Build, found: Found, pier: float, ok: bool) -> None:
    """Three bricks have two perpends of 7 to 15 mm between them: 659 to 675."""
    assert (not warned(found(build([two(pier)]), CODE))) is ok


@pytest.mark.parametrize(("at", "ok"), [(665.0, True), (700.0, False)])
def test_between_the_end_of_the_wall_and_an_opening(build: Build, found: Found, at: float, ok: bool) -> None:
    findings = warned(found(build([WALL | {"openings": [window("V1", at)]}]), CODE))
    assert [f.openings for f in findings] == ([] if ok else [("V1",)])


@pytest.mark.parametrize(("pier", "ok"), [(665.0, True), (712.0, False)])
def test_between_a_movement_joint_and_an_opening(build: Build, found: Found, pier: float, ok: bool) -> None:
    """A joint 16 mm wide whose near edge is so far past the reveal at 2,475."""
    wall = WALL | {"openings": [window("V1", 1115)]}
    findings = warned(found(build([wall], {"A/outer": [2475 + pier + 8]}), CODE))
    assert [(f.openings, f.joints) for f in findings] == ([] if ok else [(("V1",), ("J1",))])


RETURN: dict[str, Any] = {"id": "B", "type": "garden", "start": [7190, 0], "end": [7190, 3000], "top": 1500}


@pytest.mark.parametrize(("pier", "ok"), [(665.0, True), (890.0, True), (675.1, False), (720.0, False)])
def test_at_an_outer_corner_to_the_outer_face(build: Build, found: Found, pier: float, ok: bool) -> None:
    wall = WALL | {"openings": [window("V1", 7190 - pier - 1360)]}
    assert (not warned(found(build([wall, RETURN]), CODE))) is ok


@pytest.mark.parametrize(("pier", "ok"), [(675.0, True), (900.0, True), (630.0, False), (725.0, False)])
def test_at_an_inner_corner_to_the_return(build: Build, found: Found, pier: float, ok: bool) -> None:
    """The wall turns outward: its face ends at the return's, three bricks and three joints from the reveal (CO)."""
    back = {"id": "B", "type": "garden", "start": [7190, 0], "end": [7190, -3000], "top": 1500}
    bare = build([WALL, back]).building.leaf("A/outer").span.end
    wall = WALL | {"openings": [window("V1", bare - pier - 1360)]}
    assert (not warned(found(build([wall, back]), CODE))) is ok


def test_what_passes_is_laid_without_a_cut_and_what_does_not_is_cut(build: Build, found: Found) -> None:
    """Every pier from 220 to 1,000 mm against the pieces the set-out really laid in it, found by where they are."""
    seen = set()
    for tenths in range(2200, 10000, 331):
        pier = tenths / 10
        design = build([two(pier)])
        patterns = {p.id: p for p in design.coursing.patterns}
        within = [
            patterns[p.pattern]
            for p in design.coursing.of("A/outer").placements
            if p.span.start >= 2474 and p.span.end <= 2476 + pier
        ]
        assert len(within) == 12
        modular = all(min(abs(x.length - 215), abs(x.length - 102.5)) < 0.01 for p in within for x in p.pieces)
        passes = not warned(found(design, CODE))
        assert passes == modular, pier
        seen.add(passes)
    assert seen == {True, False}


def test_blocks_and_faces_nobody_sees_are_noted(build: Build, found: Found) -> None:
    findings = found(build([two(700.0) | {"type": "cavity"}]), CODE)
    assert {f.leaves: f.severity for f in findings if "V2" in f.openings and "width" not in f.where} == {
        ("A/outer",): "warn",
        ("A/inner",): "note",
    }


def test_the_width_of_an_opening_is_noted_with_the_widths_that_are_units(build: Build, found: Found) -> None:
    odd = WALL | {"openings": [window("V1", 1115, 1300.0), window("V2", 4265, 910.0)]}
    (note,) = found(build([odd]), CODE)
    assert (note.severity, note.openings) == ("note", ("V1",))
    assert "V1, 1300: 1247.5 (5 1/2 units) or 1360 (6 units)" in note.text
    assert not found(build([WALL | {"openings": [window("V1", 1115)]}]), CODE)


@pytest.mark.parametrize("key", ["opening.pier.coordinated", "perpend.min", "perpend.max"])
def test_without_the_rule_nothing_is_passed(build: Build, found: Found, lacking: Callable[..., Design], key: str) -> None:
    assert [f.severity for f in found(lacking(build([two(700.0)]), key), CODE)] == ["not_checked"]


def up_to_a_corner(build: Build, pier: float, outward: bool, connection: str, first: str) -> tuple[Design, bool]:
    """A pier between a window and a corner, and whether all of it is laid in whole and half bricks.

    The last piece at the corner is left out: it goes round it, or is toothed into the return.
    """
    wall = WALL | {"openings": [window("V1", 7190 - pier - 1360)]}
    other = RETURN | {"end": [7190, -3000]} if outward else RETURN
    walls = [wall, other] if first == "A" else [other, wall]
    design = build(walls, junctions=[{"walls": ["A", "B"], "connection": connection}])
    patterns = {p.id: p for p in design.coursing.patterns}
    laid = [
        [x for x in patterns[p.pattern].pieces if x.kind != "return"]
        for p in design.coursing.of("A/outer").placements
        if p.span.start > 7190 - pier - 2 and 300 < p.level < 1200
    ]
    assert len(laid) == 12
    inside = [x.length for row in laid for x in (row if len(row) < 2 else row[:-1])]
    return design, all(min(abs(length - 215), abs(length - 102.5)) < 0.01 for length in inside)


@pytest.mark.parametrize("first", ["A", "B"])
@pytest.mark.parametrize(
    ("outward", "connection", "fitting"),
    [
        (False, "bonded", (327.5, 440.0, 552.5, 665.0, 777.5, 890.0)),
        (True, "bonded", (450.0, 562.5, 675.0, 787.5, 900.0)),
        (False, "tied", (440.0, 665.0, 890.0)),
        (True, "tied", (450.0, 675.0, 900.0)),
    ],
)
def test_at_a_corner_as_the_set_out_has_it(
    build: Build, found: Found, outward: bool, connection: str, fitting: tuple[float, ...], first: str
) -> None:
    """What passes is laid without a cut, at an outer corner and an inner one, of the wall named first and of the other."""
    seen = set()
    for pier in (*fitting, 501.0, 612.0, 700.0, 951.0):
        design, modular = up_to_a_corner(build, pier, outward, connection, first)
        passes = not warned(found(design, CODE))
        assert modular or not passes, pier
        assert passes or pier not in fitting or connection == "tied", pier
        seen.add(passes)
    assert seen == {True, False}


@pytest.mark.parametrize(("pier", "outward"), [(330.0, False), (890.0, True)])
def test_the_perpend_beside_a_return_is_opened_before_anything_is_cut(
    build: Build, found: Found, pier: float, outward: bool
) -> None:
    """330 is a brick, a half and a perpend of 12.5, in both courses; 890 to a return is four bricks with perpends of 7.5."""
    design, modular = up_to_a_corner(build, pier, outward, "bonded", "A")
    assert not warned(found(design, CODE))
    assert modular
