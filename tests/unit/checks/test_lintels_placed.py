"""Lintels among the courses, at movement joints, and as listed in the spec: what breaks a rule, and the same put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.fittings.model import Lintel, Tie
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

DOOR = {"id": "D1", "kind": "door", "at": 1347.5, "width": 910, "sill": 0, "height": 2110}
WINDOW = {"id": "V1", "kind": "window", "at": 4047.5, "width": 1810, "sill": 900, "height": 1210}
WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [8090, 0], "top": 2700, "openings": [DOOR, WINDOW]}
BRICK = {"zones": [{"unit": "brick_65"}]}


def of(kind: str | None, depth: float | None) -> dict[str, Any]:
    """A leaf of bricks with such lintels."""
    return {"leaves": {"brick": BRICK | {"lintel": {"kind": kind, "depth": depth}}, "block": BRICK}}


def said(findings: list[Finding]) -> dict[str, tuple[str, str]]:
    return {f.where.rsplit("/", 1)[1]: (f.severity, f.text) for f in findings}


# ---- lintel-courses


@pytest.mark.parametrize(("depth", "courses"), [(65, 1), (140, 2), (215, 3)])
def test_depths_of_whole_courses_pass(build: Build, found: Found, depth: float, courses: int) -> None:
    """Bricks of 75 mm gauge: 65, 140 and 215 (trade web pages, quoted) are 1, 2 and 3 courses with the beds between."""
    design = build([WALL], **of("concrete", depth))
    assert {x.courses for x in design.fittings.lintels} == {courses}
    assert {f.severity for f in found(design, "lintel-courses", everything=True)} == {"pass"}
    text = {f.text for f in found(design, "lintel-courses", everything=True)}
    assert text == {f"lies on a bed, in place of {courses} course{'s' if courses > 1 else ''}"}


def test_a_depth_between_courses_names_the_course_and_what_would_fit(build: Build, found: Found) -> None:
    """100 deep on 2110: its top at 2210 is 25 mm up course 30 (2185 to 2250): less a bed of 10, 30 mm of it are left."""
    first, _ = found(build([WALL], **of("concrete", 100)), "lintel-courses")
    assert (first.severity, first.measured, first.limit) == ("warn", 100, 65)
    assert first.text == (
        "100 mm deep its top at +2.210 is level with no course: cut course 30 to 30 mm over it; a depth of 65 or 140 mm would be"
    )
    second, _ = found(build([WALL], **of("stone", 190)), "lintel-courses")
    assert second.text.startswith("190 mm deep its top at +2.300 is level with no course: make the bed over it up to 35 mm")
    assert second.text.endswith("a depth of 140 or 215 mm would be")


def test_enough_is_left_of_a_block_to_be_cut(build: Build, found: Found) -> None:
    """Blocks of 225 gauge: 140 on a bed at 2035 ends at 2175, 65 mm of course 10 less its bed are left over it."""
    low = DOOR | {"height": 2035}
    block = {"zones": [{"unit": "dense_block_100"}], "lintel": {"kind": "concrete", "depth": 140}}
    design = build([WALL | {"openings": [low]}], leaves={"brick": block, "block": block})
    (finding,) = found(design, "lintel-courses")
    assert "cut course 10 to 65 mm over it; a depth of 215 mm would be" in finding.text
    right = build(
        [WALL | {"openings": [low]}], leaves={"brick": block | {"lintel": {"kind": "concrete", "depth": 215}}, "block": block}
    )
    assert not found(right, "lintel-courses")


def test_an_underside_off_the_beds_names_the_course_and_the_heads_that_would_land(build: Build, found: Found) -> None:
    """A head at 2140 or 2135 in beds of 10 mm to 75: 30 or 25 mm up course 29 (2110 to 2175), less the bed under the lintel.

    Units are cut to no less than 20 mm (coursing.split.min, practice).
    """

    def high(head: float) -> Design:
        return build([WALL | {"openings": [DOOR, WINDOW | {"height": head - 900}]}], **of(None, None))

    (finding,) = found(high(2140), "lintel-courses")
    assert (finding.where, finding.severity, finding.measured, finding.limit) == ("A/outer/L-V1", "warn", 2140, 2110)
    assert "comes 30 mm up course 29: under both bearings cut that course to 20 mm" in finding.text
    (thin,) = found(high(2135), "lintel-courses")
    assert "leave that course out and make the bed up to 35 mm" in thin.text
    assert finding.text.endswith("over a head at +2.110 or +2.175 it would lie on a bed")
    assert not found(build([WALL], **of(None, None)), "lintel-courses")


@pytest.mark.parametrize("head", [2100, 2104, 2110])
def test_a_head_anywhere_in_a_bed_has_its_lintel_level_with_the_units(build: Build, found: Found, head: float) -> None:
    design = build([WALL | {"openings": [DOOR | {"height": head}]}], **of("concrete", 140))
    (lintel,) = design.fittings.lintels
    assert (lintel.level, lintel.underside, lintel.courses) == (head, 2110, 2)
    assert not found(design, "lintel-courses")


def test_steel_carries_its_units_whatever_its_depth(build: Build, found: Found) -> None:
    design = build([WALL], **of("pressed_steel", 193))
    assert not found(design, "lintel-courses")
    assert {(x.kind, x.depth, x.courses, x.body) for x in design.fittings.lintels} == {("pressed_steel", 193, None, None)}


def test_no_room_for_a_lintel_is_a_failure(build: Build, found: Found) -> None:
    over = {"id": "V2", "kind": "window", "at": 1400, "width": 700, "sill": 2300, "height": 300}
    deep = build([WALL | {"openings": [DOOR, over]}], **of("concrete", 215))
    fails = [f for f in found(deep, "lintel-courses") if f.severity == "fail"]
    assert [(f.where, f.text) for f in fails] == [
        ("A/outer/L-D1", "215 mm deep it runs into V2: no room for it"),
        ("A/outer/L-V2", "215 mm deep it is 115 mm higher than the wall over it: no room for it"),
    ]
    shallow = build([WALL | {"openings": [DOOR, over]}], **of("concrete", 65))
    assert not [f for f in found(shallow, "lintel-courses") if f.severity == "fail"]


def test_two_lintels_in_one_place_are_found(build: Build, found: Found) -> None:
    listed = [{"over": ["D1"], "at": 1197.5, "length": 1210}, {"over": ["D1"], "at": 1100, "length": 1200}]
    design = build([WALL | {"openings": [DOOR], "lintels": listed}], **of("concrete", 140))
    assert [f.text for f in found(design, "lintel-courses")] == [
        "140 mm deep it takes the same place as A/outer/L-1: no room for it",
        "140 mm deep it takes the same place as A/outer/L-2: no room for it",
    ]


# ---- lintel-clear


def test_what_is_drawn_where_a_lintel_lies_is_named(build: Build, found: Found) -> None:
    """Course 29 and 30 are the lintel: a bed between them holds nothing; on its top, at 2250, it does."""
    design = build([WALL | {"openings": [DOOR]}], **of("concrete", 140))

    def with_steel(*levels: float) -> Design:
        (some, *_) = design.fittings.bed_reinforcement
        laid = tuple(replace(some, level=at, span=Span(900, 2700)) for at in levels)
        return replace(design, fittings=replace(design.fittings, bed_reinforcement=laid))

    (finding,) = found(with_steel(2175, 2250), "lintel-clear")
    assert (finding.severity, finding.where) == ("warn", "A/outer/L-D1")
    assert finding.text == "reinforcement at +2.175 drawn where it lies: to go into the bed over it instead"
    assert not found(with_steel(2250, 2325), "lintel-clear")


def test_ties_in_a_lintel_of_either_leaf_are_named(build: Build, found: Found) -> None:
    design = build([WALL | {"type": "cavity", "openings": [DOOR]}], **of("concrete", 140))

    def with_ties(*places: tuple[float, float]) -> Design:
        (given,) = design.fittings.ties
        ties = replace(given, ties=tuple(Tie(at, level, "field") for at, level in places))
        return replace(design, fittings=replace(design.fittings, ties=(ties,), bed_reinforcement=()))

    inside, beside, over = (1500, 2175), (1180, 2175), (1500, 2250)
    (finding,) = found(with_ties(inside, beside, over), "lintel-clear")
    assert (finding.severity, finding.text) == ("warn", "1 tie drawn where it lies: to go into the bed over it instead")
    assert not found(with_ties(beside, over), "lintel-clear")


def test_units_in_a_lintels_place_fail(build: Build, found: Found) -> None:
    design = build([WALL | {"openings": [DOOR]}], **of("concrete", 65))
    deeper = tuple(replace(x, depth=140) for x in design.fittings.lintels)
    told = replace(design, fittings=replace(design.fittings, lintels=deeper, bed_reinforcement=()))
    (finding,) = found(told, "lintel-clear")
    assert (finding.severity, finding.text.endswith("pieces of masonry laid in its place")) == ("fail", True)
    right = build([WALL | {"openings": [DOOR]}], **of("concrete", 140))
    assert not [f for f in found(right, "lintel-clear") if f.severity == "fail"]


def test_reinforcement_over_a_lintel_begins_at_its_top(build: Build, found: Found) -> None:
    """Over 2110 the beds at 2175 and 2250 are the first; 140 of concrete end at 2250, the first over units are 2325, 2400.

    NHBC 6.11.5: the first two beds above an opening, the one the lintel lies in not one of them.
    """
    levels = {}
    for depth in (None, 140):
        design = build([WALL | {"openings": [DOOR]}], **of("concrete", depth))
        levels[depth] = sorted({r.level for r in design.fittings.bed_reinforcement if r.level > 2000})
        assert not found(design, "opening-reinforced")
        assert not found(design, "lintel-clear")
    assert levels == {None: [2175, 2250], 140: [2325, 2400]}
    low = build([WALL | {"openings": [DOOR]}], **of("concrete", None)).fittings.bed_reinforcement
    concrete = build([WALL | {"openings": [DOOR]}], **of("concrete", 140))
    bare = replace(concrete, fittings=replace(concrete.fittings, bed_reinforcement=low))
    assert [(f.severity, f.where) for f in found(bare, "opening-reinforced")] == [("fail", "A/outer/D1 head")]


# ---- lintel-at-joint


def test_a_joint_clear_of_a_lintel_passes(build: Build, found: Found) -> None:
    assert not found(build([WALL], {"A/outer": [3300.0]}), "lintel-at-joint")


def test_a_joint_at_a_lintels_end_is_named_with_its_slip(build: Build, found: Found) -> None:
    """The joint stands 120 mm past the reveal of V1, 5857.5: its lintel stops at the joint's edge, 8 mm short of the middle."""
    design = build([WALL], {"A/outer": [5977.5]})
    (lintel,) = [x for x in design.fittings.lintels if x.openings == ("V1",)]
    assert lintel.bearing_end == 112
    (finding,) = found(design, "lintel-at-joint")
    assert (finding.severity, finding.where, finding.joints) == ("note", "A/outer/L-V1", ("J1",))
    assert "stands at its right end" in finding.text
    for words in ("past the end of the lintel", "a gap of 16 mm", "two layers of damp-proof course", "an engineer's to confirm"):
        assert words in finding.text
    assert "common practice, no source" in finding.text


def test_a_listed_lintel_across_a_joint(build: Build, found: Found) -> None:
    """Listed 300 mm past the reveal, over a joint 120 mm past it; stopped at the joint's edge it is right but for the slip."""

    def listed(end: float) -> Design:
        lintel = {"over": ["V1"], "at": 3897.5, "length": end - 3897.5}
        return build([WALL | {"lintels": [lintel, "place"]}], {"A/outer": [5977.5]})

    (finding,) = found(listed(6157.5), "lintel-at-joint")
    assert (finding.severity, finding.where, finding.measured) == ("warn", "A/outer/L-1", 112)
    assert (
        "runs through its right bearing: stop the lintel short at the edge of the joint, 112 mm past the reveal" in finding.text
    )
    assert [f.severity for f in found(listed(5969.5), "lintel-at-joint")] == ["note"]


def test_a_joint_across_a_clear_span_fails(build: Build, found: Found) -> None:
    (finding,) = found(build([WALL], {"A/outer": [5000.0]}), "lintel-at-joint")
    assert (finding.severity, finding.where) == ("fail", "A/outer/L-V1")
    assert "J1 crosses it over an opening" in finding.text


def test_a_joint_in_a_pier_under_a_listed_lintel_fails(build: Build, found: Found) -> None:
    """Two openings 440 mm apart under one lintel as listed, the joint in the middle of the pier: a lintel each is right."""
    beside = WINDOW | {"id": "V2", "at": 4047.5 + 1810 + 440, "width": 685}
    wall = WALL | {"openings": [WINDOW, beside]}
    one = {"over": ["V1", "V2"], "at": 3897.5, "length": 3235}
    design = build([wall | {"lintels": [one]}], {"A/outer": [6077.5]})
    (lintel,) = design.fittings.lintels
    assert [span.length for span in lintel.clears] == [1810, 685]
    (finding,) = found(design, "lintel-at-joint")
    assert (finding.severity, "over a pier it bears on" in finding.text) == ("fail", True)
    assert not [f for f in found(build([wall], {"A/outer": [6077.5]}), "lintel-at-joint") if f.severity == "fail"]


# ---- as listed


def test_listed_lintels_are_kept_and_others_placed_only_where_asked(build: Build, found: Found) -> None:
    listed = {"over": ["D1"], "at": 1250.0, "length": 1100.0, "kind": "stone", "depth": 140}
    both = build([WALL | {"lintels": [listed, "place"]}], **of("concrete", 65))
    given, placed = both.fittings.lintels
    assert (given.id, given.given, given.span, given.level) == ("A/outer/L-1", True, Span(1250, 2350), 2110)
    assert (given.bearing_start, given.bearing_end) == (97.5, 92.5)
    assert (given.kind, given.depth, given.courses) == ("stone", 140, 2)
    assert (placed.id, placed.given, placed.kind, placed.depth) == ("A/outer/L-V1", False, "concrete", 65)
    assert not found(both, "opening-lintel")
    (short,) = found(both, "lintel-bearing")
    assert (short.where, short.measured, short.limit) == ("A/outer/L-1", 92.5, 100)
    alone = build([WALL | {"lintels": [listed]}], **of("concrete", 65))
    assert [x.id for x in alone.fittings.lintels] == ["A/outer/L-1"]
    assert [(f.severity, f.where) for f in found(alone, "opening-lintel")] == [("fail", "A/outer/V1")]


def test_a_listed_lintel_is_its_leafs_own_unless_it_says(build: Build) -> None:
    def kinds(**own: Any) -> set[tuple[str | None, float | None]]:
        listed = {"over": ["D1"], "at": 1197.5, "length": 1210, **own}
        design = build([WALL | {"openings": [DOOR], "lintels": [listed]}], **of("concrete", 140))
        return {(x.kind, x.depth) for x in design.fittings.lintels}

    assert kinds() == kinds(kind="concrete") == {("concrete", 140)}
    assert kinds(depth=215) == {("concrete", 215)}
    assert kinds(kind="steel_angle") == {("steel_angle", None)}, "the leaf's depth is that of another kind"


def test_a_listed_lintel_stops_short_of_a_reveal(build: Build, found: Found) -> None:
    listed = {"over": ["D1"], "at": 1380.0, "length": 1100.0}
    (finding,) = found(build([WALL | {"openings": [DOOR], "lintels": [listed]}]), "lintel-bearing")
    assert (finding.severity, finding.text) == ("fail", "stops 32.5 mm short of the reveal, needs 100 mm")


def test_a_listed_lintel_in_one_leaf_leaves_the_other_to_be_placed(build: Build, found: Found) -> None:
    listed = {"over": ["D1"], "leaf": "inner", "at": 1150.0, "length": 1300.0}
    design = build([WALL | {"type": "cavity", "openings": [DOOR], "lintels": [listed, "place"]}], **of(None, None))
    assert [x.id for x in design.fittings.lintels] == ["A/outer/L-D1", "A/inner/L-1"]
    assert not found(design, "opening-lintel")


def test_a_listed_lintel_over_a_neighbour_serves_it_too(build: Build, found: Found) -> None:
    """Listed for V1 only, it lies over all of V2 as well: no other is placed there, and both its spans are known."""
    beside = WINDOW | {"id": "V2", "at": 4047.5 + 1810 + 440, "width": 685}
    one = {"over": ["V1"], "at": 3897.5, "length": 3235}
    design = build([WALL | {"openings": [WINDOW, beside], "lintels": [one, "place"]}])
    (lintel,) = design.fittings.lintels
    assert (lintel.openings, [span.length for span in lintel.clears]) == (("V1",), [1810, 685])
    assert not found(design, "opening-lintel")


def test_a_placed_lintel_stops_at_a_listed_one(build: Build) -> None:
    """V2 begins 440 mm past V1, whose listed lintel takes 330 of them: 110 are left for the other's bearing."""
    beside = WINDOW | {"id": "V2", "at": 4047.5 + 1810 + 440, "width": 685}
    one = {"over": ["V1"], "at": 3897.5, "length": 150 + 1810 + 330}
    design = build([WALL | {"type": "cavity", "openings": [WINDOW, beside], "lintels": [one, "place"]}], **of("concrete", 140))
    outer = {x.id: x for x in design.fittings.lintels if x.leaf == "A/outer"}
    assert outer["A/outer/L-V2"].bearing_start == 110


@pytest.mark.parametrize(("kind", "severity", "limit"), [("pressed_steel", "fail", 150), ("concrete", "pass", 100)])
def test_pressed_steel_bears_150(build: Build, found: Found, kind: str, severity: str, limit: float) -> None:
    """LABC Warranty, structural lintels and bearings (read, LABC-03): at least 100, pressed steel 150."""
    listed = {"over": ["D1"], "at": 1237.5, "length": 1130, "kind": kind}
    design = build([WALL | {"openings": [DOOR], "lintels": [listed]}])
    (finding,) = found(design, "lintel-bearing", everything=True)
    assert (finding.severity, finding.measured, finding.limit) == (severity, 110, limit)
    placed = build([WALL | {"openings": [DOOR]}], **of(kind, None))
    assert [x.bearing_start for x in placed.fittings.lintels] == [limit]


def test_lintels_told_to_be_elsewhere_are_measured_where_they_are(build: Build, found: Found) -> None:
    """A lintel lowered by 30 mm after laying is off the beds, whatever it says of its courses."""
    design = build([WALL], **of("concrete", 140))

    def lowered(x: Lintel) -> Lintel:
        return replace(x, level=x.level + 30) if "D1" in x.openings else x

    moved = replace(design, fittings=replace(design.fittings, lintels=tuple(map(lowered, design.fittings.lintels))))
    assert [f.where for f in found(moved, "lintel-courses")] == ["A/outer/L-D1"]
    assert [f.severity for f in found(moved, "area-balance", everything=True)] == ["pass"], "its size is the same"
    gone = replace(design, fittings=replace(design.fittings, lintels=design.fittings.lintels[1:]))
    assert [f.severity for f in found(gone, "area-balance")] == ["fail"]
