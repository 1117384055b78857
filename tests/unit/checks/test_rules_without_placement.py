"""Rule sets that do not say how lintels bear or how far apart ties are: none is placed, none held against the building."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from elevgen.checks import opening_lintel, tie_density
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

DOOR = {"id": "D1", "kind": "door", "at": 1347.5, "width": 910, "sill": 0, "height": 2110}
WINDOW = {"id": "V1", "kind": "window", "at": 4047.5, "width": 1810, "sill": 900, "height": 1210}
WALL: dict[str, Any] = {"id": "A", "type": "cavity", "start": [0, 0], "end": [8090, 0], "top": 2700, "openings": [DOOR, WINDOW]}
LISTED = {"lintels": [{"over": ["D1"], "at": 1100, "length": 1400}]}
"""One lintel the spec lists, in both leaves; then no others are placed."""


def said(findings: list[Finding]) -> dict[str, str]:
    return {f.where: f.severity for f in findings}


def test_no_lintels_are_placed_where_nothing_says_how_they_bear(build: Build, found: Found) -> None:
    design = build([WALL], rules="eu")
    assert not design.fittings.lintels
    missing = found(design, opening_lintel.CODE)
    assert said(missing) == {"building": "not_checked"}
    assert [(f.leaves, f.openings) for f in missing] == [(("A/outer", "A/inner"), ("D1", "V1"))]
    assert all("EN 845-2" in f.text for f in missing)


def test_listed_lintels_lie_where_the_spec_says_all_the_same(build: Build, found: Found) -> None:
    design = build([WALL | LISTED], rules="eu")
    assert {(x.leaf, x.span.start, x.span.end) for x in design.fittings.lintels} == {
        (f"A/{leaf}", 1100, 2500) for leaf in ("outer", "inner")
    }
    assert said(found(design, opening_lintel.CODE)) == {f"A/{leaf}/V1": "fail" for leaf in ("outer", "inner")}, (
        "V1 has none listed"
    )


def test_ties_without_a_grid_are_not_placed_and_not_counted(build: Build, found: Found) -> None:
    design = build([WALL], rules="eu")
    assert not design.fittings.ties
    (finding,) = found(design, tie_density.CODE)
    assert finding.severity == "not_checked"
    assert "no grid" in finding.text
    (surveyed,) = found(build([WALL | {"ties": []}], rules="eu"), tie_density.CODE)
    assert (surveyed.severity, surveyed.limit) == ("fail", 2.0), "EN 1996-1-1 8.5.2.2(2), from memory"
