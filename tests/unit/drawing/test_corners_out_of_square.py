"""Corners at other than right angles, outer and re-entrant ones, of thin walls and of walls one brick thick.

Everything is measured by polygons and on plan; nothing is taken from how the pieces were worked out.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, radians, sin
from typing import Any

import pytest
from corner_measures import WIDEST, check, laid_corners, left_open, overlaps, ring
from shapely import Polygon, unary_union

from elevgen.building.model import Leaf, Wall
from elevgen.core.geometry import Span
from elevgen.drawing.corner_details import clashes, corner_details, longer_at_the_back
from elevgen.drawing.course_plan import Courses, PlanPiece, on_plan
from elevgen.drawing.plan import footprint
from elevgen.result import Design


def notched(turn: float, leaf: dict[str, Any] | None = None) -> Design:
    """Walls round five corners, the fourth re-entrant and so many degrees off straight on, askew to the axes."""
    into, out = radians(187 + turn / 2), radians(187 - turn / 2)
    x, y, arm = 4000.0, 3000.0, 4100.0 if leaf else 3100.0
    before, after = (x - arm * cos(into), y - arm * sin(into)), (x + (arm + 190) * cos(out), y + (arm + 190) * sin(out))
    return ring([(after[0] - 6100, -1500.0), (before[0] + 6400, -1500.0), before, (x, y), after], leaf)


TURNS = (21.0, 33.0, 47.0, 58.5, 73.0, 84.0, 97.0, 109.0, 124.0, 138.0, 151.0)


@pytest.mark.parametrize("turn", TURNS)
def test_re_entrant_corners_of_any_angle_are_filled(turn: float) -> None:
    """From almost straight on to almost back: no piece in the other wall's place, nothing open, every lap a quarter of a unit."""
    design = notched(turn)
    seen = 0
    for corner, laid in laid_corners(design):
        if corner.re_entrant:
            assert overlaps(laid) == []
            assert [m for m in corner.meetings if left_open(design, corner, m, laid) > 30.0] == []
            seen += 1
    assert seen == 2
    assert [f.text for f in design.findings if f.code == "lap" and f.severity != "pass"] == []


@pytest.mark.parametrize("turn", TURNS)
def test_what_lies_behind_a_re_entrant_corner_is_reckoned_to_the_far_face(turn: float) -> None:
    """Out of sight lie units and perpends from the corner on to where the far face lies furthest out, measured on plan: what
    a piece has hidden and the pieces before it are as long, and none is longer than its unit."""
    design = notched(turn)
    patterns = {p.id: p for p in design.coursing.patterns}
    for leaf_id, other_id in (("W3/outer", "W4/outer"), ("W3/inner", "W4/inner")):
        leaf, unit = design.building.leaf(leaf_id), design.building.leaf(leaf_id).zones[0].unit
        walls = [design.building.wall(design.building.leaf(x).wall) for x in (leaf_id, other_id)]
        strips = [long_strip(w, design.building.leaf(x)) for w, x in zip(walls, (leaf_id, other_id), strict=True)]
        d = [(b - a) / walls[0].length for a, b in zip(walls[0].start, walls[0].end, strict=True)]
        crossed = strips[0].intersection(strips[1]).exterior.coords
        reach = max((x - walls[0].start[0]) * d[0] + (y - walls[0].start[1]) * d[1] for x, y in crossed) - leaf.span.end
        ends = [patterns[p.pattern] for p in design.coursing.of(leaf_id).placements if abs(p.span.end - leaf.span.end) < 0.01]
        through = [p for p in ends if p.hidden[1]]
        assert len(through) * 2 == len(ends)
        for pattern in through:
            before = sum(piece.length + unit.joint for piece in pattern.unseen)
            assert pattern.hidden[1] + before == pytest.approx(reach)
            assert all(0 < pattern.real(k) <= unit.length + 0.01 for k in range(len(pattern.pieces) + len(pattern.unseen)))
            assert pattern.pieces[-1].length >= unit.length / 4 - 0.01


def long_strip(wall: Wall, leaf: Leaf) -> Polygon:
    """A leaf carried on far past both ends."""
    low, high = leaf.offset, leaf.offset + leaf.thickness
    return Polygon([on_plan(wall, s, t) for s, t in ((-9e4, low), (9e4, low), (9e4, high), (-9e4, high))])


@pytest.mark.parametrize("turn", TURNS)
def test_leaves_end_on_plan_where_their_faces_meet(turn: float) -> None:
    """At any angle the footprints of two leaves share the line from the corner on one face to that on the other, no more."""
    building = notched(turn).building
    for meeting in building.meetings:
        one, other = (
            Polygon(footprint(building.wall(leaf.wall), leaf)) for leaf in map(building.leaf, (meeting.host, meeting.stem))
        )
        assert one.intersection(other).area < 1.0
        shared = one.buffer(0.01).intersection(other.buffer(0.01)).length / 2
        assert shared >= building.leaf(meeting.host).thickness


def test_re_entrant_corners_that_are_not_square_are_filled() -> None:
    check(ring([(0.0, 0.0), (8000.0, 0.0), (8000.0, 6000.0), (4000.0, 3000.0), (0.0, 6000.0)]))


# --- walls one brick thick ----------------------------------------------------------------------------------------------

SHAPES = {
    "four walls": [(0.0, 0.0), (6000.0, 0.0), (7000.0, 5000.0), (1200.0, 4100.0)],
    "three walls": [(0.0, 0.0), (6100.0, -300.0), (2300.0, 4700.0)],
    "an arrow": [(0.0, 0.0), (6000.0, 0.0), (7000.0, 5000.0), (3900.0, 2700.0), (1200.0, 4100.0)],
}
BONDS = ("english", "flemish", "header", "english_garden_wall_3", "flemish_garden_wall", "stretcher", "stack")


def one_brick(bond: str) -> dict[str, Any]:
    return {"bond": bond, "build": "one_brick", "zones": [{"unit": "brick_65"}]}


def whole_courses(design: Design, number: int) -> list[PlanPiece]:
    courses = Courses(design.building, design.coursing)
    everywhere = Span(-1e4, 1e5)
    return [piece for leaf in design.building.leaves for piece in courses.plan(leaf.id, number, everywhere).pieces]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("bond", BONDS)
def test_walls_one_brick_thick_close_at_any_angle(bond: str, shape: str) -> None:
    assert check(ring(SHAPES[shape], one_brick(bond))) == 2 * len(SHAPES[shape])


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("bond", ["english", "flemish"])
def test_outer_and_re_entrant_corners_one_brick_thick_close_and_lap(bond: str, turn: float) -> None:
    """From almost straight on to almost back; every lap a quarter of a unit to half a millimetre, from perpend to perpend.

    The bond gives 56.25 mm, of which perpends opened to fit take up to 2.5.
    """
    design = notched(turn, one_brick(bond))
    assert check(design) == 10
    for leaf in design.building.leaves:
        for lower, upper in pairwise(lines(design, leaf.id)):
            assert min(abs(a - b) for a in lower for b in upper) >= 215 / 4 - 0.5, leaf.id


def lines(design: Design, leaf: str) -> list[list[float]]:
    """The centre lines of the perpends of every course, those between ends of units from round a corner too."""
    patterns = {p.id: p for p in design.coursing.patterns}
    found: dict[int, list[float]] = {}
    for placed in design.coursing.of(leaf).placements:
        for perpend in patterns[placed.pattern].perpends:
            found.setdefault(placed.course, []).append(placed.span.start + perpend.at + perpend.width / 2)
    return [found[number] for number in sorted(found)]


@pytest.mark.parametrize("number", [1, 2])
@pytest.mark.parametrize("bond", BONDS)
def test_whole_courses_of_walls_one_brick_thick_are_filled_once_by_the_units_counted(bond: str, number: int) -> None:
    """All round, not at corners alone; and as many pieces lie there as the coursing counts."""
    design = ring(SHAPES["an arrow"], one_brick(bond))
    pieces = whole_courses(design, number)
    solid = unary_union([piece.outline for piece in pieces])
    assert sum(piece.outline.area for piece in pieces) == pytest.approx(solid.area, abs=2.0)
    feet = unary_union([Polygon(footprint(design.building.wall(leaf.wall), leaf)) for leaf in design.building.leaves])
    assert solid.difference(feet.buffer(0.01, join_style="mitre")).area < 2.0
    assert feet.difference(solid.buffer(WIDEST / 2, join_style="mitre", mitre_limit=10.0)).area < 30.0
    patterns = {p.id: p for p in design.coursing.patterns}
    placed = [p for laid in design.coursing.leaves for p in laid.placements if p.course == number]
    assert len(pieces) == sum(sum(patterns[p.pattern].counts) for p in placed)


@pytest.mark.parametrize("bond", BONDS)
def test_a_wall_hardly_out_of_square_keeps_the_quoin_of_its_bond(bond: str) -> None:
    """What leans by less than 1 mm through the wall is laid as if it were square, piece by piece."""
    x, y = 20 * 225.0 - 10.0, 16 * 225.0 - 10.0
    square, askew = (ring([(0.0, 0.0), (x, 0.0), (x + lean, y), (lean, y)], one_brick(bond)) for lean in (0.0, 12.0))
    for one, other in zip(square.coursing.leaves, askew.coursing.leaves, strict=True):
        assert [(c.full, c.cut) for c in one.counts] == [(c.full, c.cut) for c in other.counts]


@pytest.mark.parametrize("turn", [0.4, 1.5])
def test_walls_almost_in_a_line_are_drawn_inside_their_leaf(turn: float) -> None:
    """Whose faces would meet farther off than the walls are long: what is drawn of a course stays in its leaf, piece by piece."""
    up = 4000.0 * sin(radians(turn / 2))
    design = ring([(0.0, -4000.0), (8000.0, -4000.0), (8000.0, up), (4000.0, 0.0), (0.0, up)])
    seen = 0
    for _, laid in laid_corners(design):
        for row in laid.courses:
            leaf = design.building.leaf(row.leaf)
            strip = long_strip(design.building.wall(leaf.wall), leaf).buffer(0.01)
            assert all(piece.outline.is_valid and strip.contains(piece.outline) for piece in row.pieces)
            seen += len(row.pieces)
    assert seen > 50


def test_a_blunt_corner_says_where_units_do_not_reach_at_the_back() -> None:
    """Where faces turn by less than a right angle the back of what stops there is longer than its face; nowhere else is it."""
    design = ring(SHAPES["four walls"], one_brick("english"))
    units = {unit.name: unit for unit in design.building.units}
    told = {d.corner.name: longer_at_the_back(d, units) for d in corner_details(design).drawn}
    assert told == {"W1/W2": True, "W2/W3": False, "W3/W4": True, "W1/W4": False}
    assert not any(clashes(laid) for d in corner_details(design).drawn for laid in (d.first, d.second))
