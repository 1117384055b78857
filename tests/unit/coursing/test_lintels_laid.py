"""Lintels in the place of units, laid round: counts and areas by hand, and the bands they keep clear by looking."""

from __future__ import annotations

import json
from typing import Any

import pytest

import elevgen
from elevgen import pipeline
from elevgen.building.model import Unit
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.gauge import Band
from elevgen.coursing.lintel_beds import bedded, kept_clear
from elevgen.coursing.model import LintelSeat
from elevgen.result import Design
from elevgen.spec.load import parse_text

BRICK = Unit("brick", "clay", 215, 65, 102.5, 10)
BANDS = [Band(BRICK, 75.0 * k, 75.0 * k + 10, 75.0 * k + 75) for k in range(20)]


def seat(level: float, depth: float | None, kind: str | None = "concrete") -> LintelSeat:
    return LintelSeat("W", "W/outer", ("O",), level, (Span(1000, 2000),), Span(850, 2150), kind, depth)  # type: ignore[arg-type]


# ---- among the bands


@pytest.mark.parametrize("off", [0.0, 4.0, 10.0])
@pytest.mark.parametrize(("depth", "courses"), [(65, 1), (140, 2), (215, 3), (140 - 4.9, 2), (140 + 4.9, 2), (140 + 5.2, None)])
def test_courses_it_takes_the_place_of(off: float, depth: float, courses: int | None) -> None:
    """Over a head 0 to 10 mm up the bed of 750; a bed may differ by 5 mm."""
    laid = bedded(seat(750 + off, depth), BANDS, 5.0)
    assert (laid.level, laid.level + laid.bed, laid.courses) == (750 + off, 760, courses)


@pytest.mark.parametrize(("kind", "depth"), [("pressed_steel", 140), ("steel_angle", 140), (None, 140), ("concrete", None)])
def test_what_carries_units_or_is_not_chosen_takes_no_place(kind: str | None, depth: float | None) -> None:
    laid = bedded(seat(750, depth, kind), BANDS, 5.0)
    assert (laid.body, laid.bed, laid.courses, kept_clear(laid, BANDS, 5.0)) == (None, 0.0, None, None)


def test_whole_courses_keep_a_perpend_clear_at_each_end_and_no_more() -> None:
    laid = bedded(seat(750, 140), BANDS, 5.0)
    assert laid.body == Rect(850, 760, 2150, 900)
    assert kept_clear(laid, BANDS, 5.0) == Rect(840, 760, 2160, 900)
    lower = bedded(seat(750, 137), BANDS, 5.0)
    assert kept_clear(lower, BANDS, 5.0) == Rect(840, 760, 2160, 900), "the bed over it is made up"


def test_off_the_courses_it_keeps_a_bed_over_and_under_it() -> None:
    laid = bedded(seat(780, 100), BANDS, 5.0)
    assert (laid.bed, laid.courses) == (0.0, None)
    assert kept_clear(laid, BANDS, 5.0) == Rect(840, 770, 2160, 890)


# ---- in a wall

DOOR = {"id": "D1", "kind": "door", "at": 1347.5, "width": 910, "sill": 0, "height": 2100}


def designed(lintel: dict[str, Any], bond: str = "stretcher", build: str = "half_brick", **more: Any) -> Design:
    wall = {"id": "A", "type": "w", "start": [0, 0], "end": [4490, 0], "top": 2700, "openings": [DOOR], "joints": []}
    raw = {
        "spec": 1,
        "leaves": {"b": {"zones": [{"unit": "brick_65"}], "lintel": lintel, "bond": bond, "build": build}},
        "wall_types": {"w": {"outer": "b"}},
        "walls": [wall | more],
    }
    return elevgen.design(parse_text(json.dumps(raw), "t", pipeline.vocabulary()))


def test_units_mortar_and_lintel_by_hand() -> None:
    """A wall 4490 x 2700 with a door 910 x 2100; a concrete lintel 1110 x 140 in place of two courses."""
    plain, concrete = (designed(lintel) for lintel in ({}, {"kind": "concrete", "depth": 140}))
    without, (laid,) = plain.coursing.leaves[0], concrete.coursing.leaves
    net = 4490 * 2700 - 910 * 2100
    assert without.unit_area + without.mortar_area == pytest.approx(net)
    assert laid.unit_area + laid.mortar_area == pytest.approx(net - 1110 * 140)
    # beside it two perpends 140 high, under it and over it the beds of the leaf: units end 10 mm off it in both courses
    (lintel,) = concrete.fittings.lintels
    assert (lintel.span, lintel.underside, lintel.courses) == (Span(1247.5, 2357.5), 2110, 2)
    patterns = {p.id: p for p in concrete.coursing.patterns}
    for course in (29, 30):
        ends = sorted((p.span.start, p.span.end) for p in laid.placements if p.course == course)
        assert ends == [(0, 1237.5), (2367.5, 4490)]
    whole = [p for p in laid.placements if p.course in (28, 31)]
    assert {p.span for p in whole if p.course == 31} == {Span(0, 4490)}
    assert {patterns[p.pattern].height for p in whole} == {65}
    full = {c.unit: c.full + c.cut for c in laid.counts}
    assert full["brick_65"] < {c.unit: c.full + c.cut for c in without.counts}["brick_65"]


@pytest.mark.parametrize(
    ("bond", "build"), [("english", "one_brick"), ("flemish", "one_brick"), ("flemish", "half_brick"), ("stack", "half_brick")]
)
def test_every_bond_is_laid_round_it(bond: str, build: str) -> None:
    design = designed({"kind": "stone", "depth": 215}, bond, build)
    (laid,), (lintel,) = design.coursing.leaves, design.fittings.lintels
    assert laid.unit_area + laid.mortar_area == pytest.approx(4490 * 2700 - 910 * 2100 - lintel.length * 215)
    assert lintel.courses == 3


def test_the_head_that_lands_nowhere_is_paid_for_under_the_lintel() -> None:
    """A head at 2140: of course 29 (2110 to 2175) 35 mm are left over steel, under concrete 30 less its bed."""
    high = DOOR | {"height": 2140}
    steel, concrete = (
        designed(
            {"kind": kind, "depth": 140},
            openings=[
                high,
            ],
        )
        for kind in ("pressed_steel", "concrete")
    )
    paid = [(m.course, m.cut_to) for d in (steel, concrete) for m in d.coursing.leaves[0].misfits if m.what == "head of D1"]
    assert paid == [(29, 35), (29, 20)]


def test_stock_lengths_lengthen_what_is_laid_round() -> None:
    """1110 goes up to 1200 in steps of 150 mm, given by an override: 45 more at each end."""
    step = [{"rule": "lintel.length_step", "value": 150, "unit": "mm", "reason": "the yard's list", "by": "yard"}]
    raw = {
        "spec": 1,
        "overrides": step,
        "leaves": {"b": {"zones": [{"unit": "brick_65"}], "lintel": {"kind": "concrete", "depth": 65}}},
        "wall_types": {"w": {"outer": "b"}},
        "walls": [
            {"id": "A", "type": "w", "start": [0, 0], "end": [4490, 0], "top": 2700, "openings": [DOOR], "joints": []},
        ],
    }
    design = elevgen.design(parse_text(json.dumps(raw), "t", pipeline.vocabulary()))
    (lintel,), (laid,) = design.fittings.lintels, design.coursing.leaves
    assert (lintel.length, lintel.bearing_start, lintel.bearing_end) == (1200, 145, 145)
    assert sorted((p.span.start, p.span.end) for p in laid.placements if p.course == 29) == [(0, 1192.5), (2412.5, 4490)]
