"""Loose steel angles by table, openings narrow enough for no lintel, and loads where masonry arches: a fault and its repair."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.result import Design, Finding
from elevgen.rules.loader import load_book

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
ANGLE, NEEDED, LOAD = "lintel-angle", "opening-lintel", "lintel-load"
FOOT = 304.8
LEAVES: dict[str, Any] = {
    "rules": "us",
    "leaves": {
        "brick": {"zones": [{"unit": "modular_brick"}], "lintel": {"kind": "steel_angle"}},
        "plain": {"zones": [{"unit": "modular_brick"}]},
        "block": {"zones": [{"unit": "concrete_block_8"}]},
    },
    "wall_types": {"veneer": {"outer": "brick"}, "plain": {"outer": "plain"}},
}


def opening(at: str, width: str, sill: str = "0 ft", height: str = "7 ft", name: str = "D1") -> dict[str, Any]:
    return {"id": name, "kind": "opening", "at": at, "width": width, "sill": sill, "height": height}


def wall(*openings: dict[str, Any], top: str = "10 ft", name: str = "A", at: float = 0.0, **more: Any) -> dict[str, Any]:
    return {
        "id": name,
        "type": "veneer",
        "start": [0, at],
        "end": ["24 ft", at],
        "top": top,
        "openings": list(openings),
        **more,
    }


# ---- lintel-angle


def test_the_smallest_angle_of_the_table_is_told_for_all_openings_alike(build: Build, found: Found) -> None:
    walls = [wall(opening("3 ft", "3 ft"), opening("10 ft", "5' 6\"", name="D2"), opening("18 ft", "4 ft", name="D3"))]
    (finding,) = found(build(walls, **LEAVES), ANGLE)
    assert (finding.severity, finding.where, finding.openings) == ("note", "A/outer", ("D1", "D2", "D3"))
    assert finding.text.startswith("L-D1, L-D2 and L-D3: over 5' 6\", less than a storey over it, the smallest angle")
    assert "3 x 3 in, which goes to 6' 0\" (1/4 in thick" in finding.text
    assert finding.text.endswith("an engineer must confirm it")
    assert (finding.measured, finding.limit) == (pytest.approx(5.5 * FOOT), pytest.approx(6 * FOOT))
    assert finding.source is not None
    assert finding.source.status == "quoted"


def test_wider_openings_take_a_line_of_their_own(build: Build, found: Found) -> None:
    walls = [wall(opening("3 ft", "3 ft"), opening("10 ft", "7 ft", name="D2"))]
    said = {f.text.split(":")[0]: f.limit for f in found(build(walls, **LEAVES), ANGLE)}
    assert said == {"L-D1": pytest.approx(6 * FOOT), "L-D2": pytest.approx(8 * FOOT)}


def test_a_span_past_the_table_is_warned_of_and_a_narrower_one_repairs_it(build: Build, found: Found) -> None:
    (bad,) = found(build([wall(opening("2 ft", "20' 1\""))], **LEAVES), ANGLE)
    assert (bad.severity, bad.where, bad.limit) == ("warn", "A/outer/L-D1", pytest.approx(20 * FOOT))
    assert "narrower opening" in bad.text
    (good,) = found(build([wall(opening("2 ft", "19' 11\""))], **LEAVES), ANGLE)
    assert good.severity == "note"
    assert "two 6 x 3 1/2 in" in good.text


@pytest.mark.parametrize(
    ("top", "elsewhere", "storeys", "feet"),
    [
        ("10 ft", (), "less than a storey", 6),
        ("12' 11\"", (), "less than a storey", 6),
        ("13 ft", (), "one storey", 3.5),
        ("19 ft", (), "two storeys", 3),
        ("10 ft", ("16 ft",), "one storey", 3.5),
        ("10 ft", ("12' 11\"",), "less than a storey", 6),
        ("10 ft", ("16 ft", "25 ft"), "two storeys", 3),
        ("13 ft", ("16 ft", "25 ft"), "two storeys", 3),
    ],
)
def test_storeys_over_a_lintel_by_its_masonry_and_by_heads_of_the_building(
    build: Build, found: Found, top: str, elsewhere: tuple[str, ...], storeys: str, feet: float
) -> None:
    """Six feet make a storey; heads over this one's 7 ft in another wall tell that the building goes on over it."""
    far = [opening(f"{2 + 6 * n} ft", "2' 6\"", head, "1 in", f"V{n}") for n, head in enumerate(elsewhere)]
    for one in far:
        one["height"], one["sill"] = "4 ft", _less(one["sill"], 4)
    walls = [wall(opening("3 ft", "3 ft"), top=top)]
    walls += [wall(*far, top="30 ft", name="B", at=9000.0, type="plain")] if far else []
    (finding,) = [f for f in found(build(walls, **LEAVES), ANGLE) if f.leaves == ("A/outer",)]
    assert f", {storeys} over it, the smallest angle" in finding.text
    assert finding.limit == pytest.approx(feet * FOOT)


def _less(level: str, feet: int) -> float:
    """A level so many feet lower, mm."""
    whole, _, inches = level.replace(" ft", "").partition("' ")
    return (float(whole) + float(inches.rstrip('"') or 0) / 12 - feet) * FOOT


def test_more_storeys_than_the_table_has_are_warned_of(build: Build, found: Found) -> None:
    (finding,) = found(build([wall(opening("3 ft", "3 ft"), top="25 ft")], **LEAVES), ANGLE)
    assert finding.severity == "warn"
    assert "3 storeys over a loose angle" in finding.text


def test_a_set_without_the_table_checks_nothing(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    design = build([wall(opening("3 ft", "3 ft"))], **LEAVES)
    keys = [key for key in design.rules.values if key.startswith("lintel.angle.")]
    (finding,) = found(lacking(design, *keys), ANGLE, everything=True)
    assert (finding.severity, finding.where) == ("not_checked", "A/outer/L-D1")
    (finding,) = found(lacking(design, "lintel.load.storey_height.min"), ANGLE, everything=True)
    assert finding.severity == "not_checked"


def test_a_row_taken_away_leaves_the_next_larger(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    design = build([wall(opening("3 ft", "3 ft"))], **LEAVES)
    (finding,) = found(lacking(design, "lintel.angle.3x3.none"), ANGLE)
    assert "is 4 x 3 in," in finding.text


def test_lintels_of_other_kinds_are_no_angles(build: Build, found: Found) -> None:
    (finding,) = found(build([wall(opening("3 ft", "3 ft"), type="plain")], **LEAVES), ANGLE, everything=True)
    assert finding.severity == "pass"


def test_the_uk_has_no_table(build: Build, found: Found) -> None:
    own = {"brick": {"zones": [{"unit": "brick_65"}], "lintel": {"kind": "steel_angle"}}}
    types = {"garden": {"outer": "brick"}}
    walls = [
        {"id": "A", "type": "garden", "start": [0, 0], "end": [6000, 0], "top": 2700}
        | {"openings": [{"id": "V1", "kind": "window", "at": 2000, "width": 1200, "sill": 600, "height": 1200}]}
    ]
    (finding,) = found(build(walls, leaves=own, wall_types=types), ANGLE, everything=True)
    assert finding.severity == "not_checked"
    assert "no British table was seen" in finding.text


# ---- opening-lintel: how narrow an opening needs none


def bare(design: Design) -> Design:
    """The design without its lintels."""
    return replace(design, fittings=replace(design.fittings, lintels=(), lintel_loads=()))


@pytest.mark.parametrize(("width", "severity"), [("23 15/16 in", "pass"), ("2 ft", "fail"), ("1 ft", "pass")])
def test_narrow_openings_may_go_without(build: Build, found: Found, width: str, severity: str) -> None:
    """IRC in a textbook (quoted): lintels over openings of 2 ft and more."""
    (finding,) = found(bare(build([wall(opening("6 ft", width))], **LEAVES)), NEEDED, everything=True)
    assert finding.severity == severity
    if severity == "pass":
        assert finding.limit == pytest.approx(23.9375 * 25.4)
        assert finding.source is not None


def test_openings_side_by_side_are_as_wide_as_they_are_together(build: Build, found: Found) -> None:
    walls = [wall(opening("6 ft", "14 in"), opening("7' 2\"", "14 in", name="D2"), opening("14 ft", "14 in", name="D3"))]
    said = {f.openings: f.severity for f in found(bare(build(walls, **LEAVES)), NEEDED, everything=True)}
    assert said == {("D1",): "fail", ("D2",): "fail", ("D3",): "pass"}


def test_a_set_that_does_not_say_wants_a_lintel(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    design = bare(build([wall(opening("6 ft", "1 ft"))], **LEAVES))
    (finding,) = found(lacking(design, "lintel.needed_over"), NEEDED, everything=True)
    assert finding.severity == "fail"


# ---- lintel-load: a set with arching alone

SIDES = {
    "overrides": [
        {"rule": f"lintel.load.side.{name}", "value": value, "reason": "for this building", "by": "engineer"} | unit
        for name, value, unit in (("min", 24, {"unit": "in"}), ("fraction", 0.2, {}))
    ]
}
"""TEK 17-1B asks for enough masonry at each side without a figure: an engineer gives one."""


def test_arching_alone_leaves_nothing_unchecked(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    design = build([wall(opening("9 ft", "4 ft"), top="13 ft")], **LEAVES, **SIDES)
    assert {load.used.method for load in design.fittings.lintel_loads if load.used} == {"arching"}
    assert {f.severity for f in found(design, LOAD)} == {"note"}
    (gap,) = [f for f in found(lacking(design, "lintel.load.arching.cone"), LOAD) if f.severity == "not_checked"]
    assert "cone" in gap.text


def test_part_of_a_load_triangle_is_a_gap(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    """A set that has the load triangle but for one figure has not done without it."""
    wanted = load_book("uk").values
    own = {"brick": {"zones": [{"unit": "brick_65"}]}}
    walls = [
        {"id": "A", "type": "garden", "start": [0, 0], "end": [6000, 0], "top": 2700}
        | {"openings": [{"id": "V1", "kind": "window", "at": 2000, "width": 1200, "sill": 600, "height": 1200}]}
    ]
    design = build(walls, leaves=own, wall_types={"garden": {"outer": "brick"}})
    for key in (key for key in wanted if key.startswith("lintel.load.")):
        assert "not_checked" in {f.severity for f in found(lacking(design, key), LOAD)}, key


def test_an_opening_in_the_arching_triangle_is_warned_of_and_one_clear_of_it_repairs_it(build: Build, found: Found) -> None:
    low = [opening("9 ft", "4 ft"), opening("10 ft", "2' 6\"", "8 ft", "2 ft", "V1")]
    bad = [f for f in found(build([wall(*low, top="16 ft")], **LEAVES), LOAD) if f.severity == "warn"]
    assert [f.openings for f in bad] == [("D1",)]
    assert "an opening in the triangle under which masonry arches over 1 lintel" in bad[0].text
    assert bad[0].source is not None
    assert bad[0].source.document == "TEK 17-1B"
    high = [low[0], opening("10 ft", "2' 6\"", "10' 6\"", "2 ft", "V1")]
    assert [f for f in found(build([wall(*high, top="16 ft")], **LEAVES), LOAD) if f.severity == "warn"] == []


def test_arching_used_where_an_opening_cuts_it_fails(build: Build, found: Found) -> None:
    low = [opening("9 ft", "4 ft"), opening("10 ft", "2' 6\"", "8 ft", "2 ft", "V1")]
    design = build([wall(*low, top="16 ft")], **LEAVES)
    (whole,) = build([wall(low[0], top="16 ft")], **LEAVES, **SIDES).fittings.lintel_loads
    assert whole.used is not None
    assert whole.used.method == "arching"
    loads = tuple(
        replace(load, readings=whole.readings, refused=()) if load.lintel == whole.lintel else load
        for load in design.fittings.lintel_loads
    )
    wrong = replace(design, fittings=replace(design.fittings, lintel_loads=loads))
    failing = [f for f in found(wrong, LOAD) if f.severity == "fail"]
    assert any("as if the masonry over it arched" in f.text for f in failing)


def test_a_load_that_does_not_arch_is_measured_again_without_a_load_triangle(build: Build, found: Found) -> None:
    """No wall of eight inches over the point of the triangle: all above counts, and no load triangle widens it."""
    design = build([wall(opening("6 ft", "8 ft"), top="9 ft")], **LEAVES)
    assert [load.used.method for load in design.fittings.lintel_loads if load.used] == ["full"]
    lacking, *judged = found(design, LOAD, everything=True)
    assert lacking.severity == "not_checked" and "lintel.load.side.min" in lacking.text
    assert [f.severity for f in judged] == ["note", "pass"]
    first = design.fittings.lintel_loads[0]
    heavier = replace(first.readings[0], masonry=first.readings[0].masonry * 1.1)
    wrong = replace(design, fittings=replace(design.fittings, lintel_loads=(replace(first, readings=(heavier,)),)))
    assert any(f.severity == "fail" and "masonry reckoned" in f.text for f in found(wrong, LOAD))
