"""Corners from above: what the coursing lays at a corner fills it once, in both courses; alike corners once.

Everything is measured by polygons; nothing is taken from how the pieces were worked out but their outlines. Corners out of square
stand in test_corners_out_of_square.py.
"""

from __future__ import annotations

import sys
from math import cos, radians, sin
from pathlib import Path
from random import Random

import pytest
from corner_measures import LEAVES, check, laid_corners, ring
from shapely import unary_union

from elevgen import pipeline
from elevgen.drawing.corner_details import clashes, corner_details
from elevgen.drawing.corners import corners_of, pieces_of
from elevgen.drawing.course_plan import Courses
from elevgen.result import Design
from elevgen.spec.models import Spec

sys.path.append(str(Path(__file__).parents[2] / "whole"))
from buildings import random_spec

BONDS = {
    "english": (20, 16),
    "flemish": (19, 16),
    "header": (20, 16),
    "english_garden_wall_3": (20, 16),
    "flemish_garden_wall": (20, 16.5),
}
"""Lengths in units that courses of these bonds fill without a broken bond."""


@pytest.mark.parametrize("seed", range(0, 24, 2))
def test_square_corners_of_random_buildings_close_and_nothing_lies_twice(seed: int) -> None:
    design = pipeline.design(Spec.model_validate(random_spec(seed)), f"seed {seed}")
    corners = {m for m in design.building.meetings if m.kind == "corner" and m.connection == "bonded"}
    assert bool(check(design)) == bool(corners)


@pytest.mark.parametrize("seed", range(8))
def test_corners_of_any_angle_close(seed: int) -> None:
    """Rings of three to seven walls round a centre, from sharp angles to blunt ones."""
    draw = Random(seed)
    count = 3 + seed % 5
    turns = sorted((n + draw.uniform(-0.22, 0.22)) * 360 / count for n in range(count))
    assert check(ring([(5310 * cos(radians(t)), 4890 * sin(radians(t))) for t in turns])) >= 4 * count - 4


@pytest.mark.parametrize("bond", BONDS)
def test_walls_one_brick_thick_close_at_corners_and_re_entrant_ones(bond: str) -> None:
    along, across = BONDS[bond]
    x, y, x2, y2 = (n * 225.0 - 10.0 for n in (along, across, along - 10, across - 5))
    points = [(0.0, 0.0), (x, 0.0), (x, y2), (x2, y2), (x2, y), (0.0, y)]
    assert check(ring(points, {"bond": bond, "build": "one_brick", "zones": [{"unit": "brick_65"}]})) == 12


def test_two_three_quarter_pieces_abreast_make_the_quoin_of_header_bond() -> None:
    """In every course of a corner two, 158.75 long and as wide as a brick; the other wall begins a perpend behind them."""
    x, y = 20 * 225.0 - 10.0, 16 * 225.0 - 10.0
    header = {"bond": "header", "build": "one_brick", "zones": [{"unit": "brick_65"}]}
    design = ring([(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)], header)
    assert check(design) == 8
    for corner, laid in laid_corners(design):
        cut = [piece for piece in pieces_of(laid) if piece.cut]
        assert len({piece.leaf for piece in cut}) == 1, corner.id
        assert [piece.outline.area for piece in cut] == pytest.approx([158.75 * 102.5] * 2)
        assert unary_union([piece.outline for piece in cut]).envelope.area == pytest.approx(158.75 * 215.0)


def test_each_corner_is_drawn_to_the_coursing_s_own_area(studio: Design) -> None:
    """Away from any corner, a course's pieces cover what its pattern says: length of pieces by thickness of leaf."""
    courses = Courses(studio.building, studio.coursing)
    patterns = {p.id: p for p in studio.coursing.patterns}
    for laid in studio.coursing.leaves:
        leaf = studio.building.leaf(laid.leaf)
        mine = [p for p in laid.placements if p.course == 3]
        shown = sum(p.length for at in mine for p in patterns[at.pattern].pieces if p.kind != "return")
        hidden = sum(sum(patterns[at.pattern].hidden) for at in mine)
        drawn = sum(p.outline.area for p in courses.plan(laid.leaf, 3, leaf.span).pieces)
        assert drawn == pytest.approx((shown + hidden) * leaf.thickness, rel=1e-6), laid.leaf


def test_corners_alike_are_drawn_once_and_named() -> None:
    """A square of whole bricks: opposite corners are alike, those between them have the two courses the other way about."""
    side = 20 * 225 - 10.0
    design = ring([(0, 0), (side, 0), (side, side), (0, side)], {"zones": [{"unit": "brick_65"}]})
    details = corner_details(design)
    told = [(d.corner.name, *d.alike, *d.changed) for d in details.drawn]
    assert sorted(name for names in told for name in names) == ["W1/W2", "W1/W4", "W2/W3", "W3/W4"]
    assert len(told) < 4 and details.left_out == ()


def test_no_more_are_drawn_than_asked_for_and_the_others_are_named(studio: Design) -> None:
    details = corner_details(studio, most=2)
    assert len(details.drawn) == 2
    every = [c.name for c in corners_of(studio.building)]
    known = [n for d in details.drawn for n in (d.corner.name, *d.alike, *d.changed)]
    assert sorted([*known, *details.left_out]) == sorted(every) and details.left_out


def test_units_that_the_coursing_lays_in_one_place_are_found(duplex: Design) -> None:
    """None on a real building, in whose inner leaves joints stand 10 mm past the leaf they turn into; some where a wall in header
    bond meets one in English bond, whose quoin the coursing does not settle."""
    assert not any(clashes(laid) for _, laid in laid_corners(duplex))
    x, y = 20 * 225.0 - 10.0, 16 * 225.0 - 10.0
    raw = {
        "spec": 1,
        "leaves": {b: {"bond": b, "build": "one_brick", "zones": [{"unit": "brick_65"}]} for b in ("header", "english")},
        "wall_types": {b: {"outer": b} for b in ("header", "english")},
        "walls": [
            {"id": "W1", "type": "header", "start": [0, 0], "end": [x, 0], "base": 0, "top": 900, "joints": []},
            {"id": "W2", "type": "english", "start": [x, 0], "end": [x, y], "base": 0, "top": 900, "joints": []},
        ],
    }
    found = [clashes(laid) for _, laid in laid_corners(pipeline.design(Spec.model_validate(raw), "two bonds"))]
    assert any(("W1/outer", "W2/outer") in pairs for pairs in found)


@pytest.mark.parametrize("at", [108, 114, 117.5, 121])
def test_a_joint_just_past_the_leaf_round_the_corner_lets_the_other_wall_through(at: float) -> None:
    """In the courses that stop there is nothing between the corner and the joint but the end of the other wall's brick."""
    raw = {
        "spec": 1,
        "leaves": LEAVES,
        "wall_types": {"half": {"outer": "brick"}},
        "walls": [
            {"id": "W1", "type": "half", "start": [0, 0], "end": [4040, 0], "base": 0, "top": 900, "joints": []},
            {"id": "W2", "type": "half", "start": [4040, 0], "end": [4040, 3000], "base": 0, "top": 900},
        ],
    }
    raw["walls"][1]["joints"] = [{"at": at, "width": 10}]
    design = pipeline.design(Spec.model_validate(raw), "joint at the corner")
    check(design)
    laid = design.coursing.of("W2/outer")
    assert laid.unit_area + laid.mortar_area == pytest.approx((3000 - 10) * 900)
