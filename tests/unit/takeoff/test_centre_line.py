"""A leaf's own centre line against shapely's parallel curves: L, rings with a corner turned in, corners not square."""

import sys
from itertools import pairwise
from math import hypot, radians, tan
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from elevgen.takeoff.areas import shared_face
from elevgen.takeoff.centre_line import cavity_span, centre_span

sys.path.insert(0, str(Path(__file__).parent))
from faces import built, ring

NOTCHED = ((0, 0), (7300, 0), (7300, 2900), (4100, 2900), (4100, 5600), (0, 5600))
"""An L in plan: five corners turn out, one turns in; no two sides alike."""
SKEW = ((0, 0), (6100, -800), (8300, 2500), (1200, 4700))
"""No corner square."""


def lengths(building, side="outer"):
    return [centre_span(building, leaf).length for leaf in building.leaves if leaf.side == side]


def parallel(corners, inwards):
    """The lengths of the sides of the ring at a distance inside its outer faces."""
    inner = Polygon(corners).buffer(-inwards, join_style="mitre", mitre_limit=20)
    points = list(inner.exterior.coords)
    return sorted(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))


@pytest.mark.parametrize("corners", [NOTCHED, SKEW])
@pytest.mark.parametrize(("type", "thick"), [("brick", 102.5), ("block", 140), ("thick", 215)])
def test_every_side_of_a_ring_is_as_long_as_the_parallel_through_its_middle(corners, type, thick):
    found = lengths(built(ring(*corners, type=type)))
    assert sorted(found) == pytest.approx(parallel(corners, thick / 2), abs=1e-6)


@pytest.mark.parametrize("corners", [NOTCHED, SKEW])
def test_each_leaf_of_a_cavity_wall_has_a_centre_line_of_its_own(corners):
    building = built(ring(*corners, type="cavity"))
    assert sorted(lengths(building)) == pytest.approx(parallel(corners, 102.5 / 2), abs=1e-6)
    assert sorted(lengths(building, "inner")) == pytest.approx(parallel(corners, 102.5 + 75 + 140 / 2), abs=1e-6)


@pytest.mark.parametrize("corners", [NOTCHED, SKEW])
def test_a_cavity_is_as_long_as_the_parallel_through_its_middle(corners):
    building = built(ring(*corners, type="cavity"))
    found = [cavity_span(building, wall, shared_face(building, wall).span).length for wall in building.walls]
    assert sorted(found) == pytest.approx(parallel(corners, 102.5 + 75 / 2), abs=1e-6)


def test_a_cavity_ends_with_its_leaves_where_it_meets_no_other():
    walls = [{"start": [0, 0], "end": [5000, 0], "type": "cavity"}, {"start": [5000, 0], "end": [5000, 3000]}]
    building = built(walls)
    wall = building.walls[0]
    shared = shared_face(building, wall).span
    assert cavity_span(building, wall, shared) == shared


@pytest.mark.parametrize("elbow", [(5200, 3100), (5200, -3100), (8000, 1900), (3100, 2300)])
def test_an_l_with_two_loose_ends(elbow):
    line = LineString([(0, 0), (5200, 0), elbow])
    walls = [{"start": [0, 0], "end": [5200, 0]}, {"start": [5200, 0], "end": list(elbow)}]
    middle = list(line.offset_curve(102.5 / 2, join_style="mitre", mitre_limit=20).coords)
    sides = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(middle)]
    assert lengths(built(walls)) == pytest.approx(sides, abs=1e-6)


@given(st.floats(35, 145), st.sampled_from([("brick", 102.5), ("thick", 215.0)]))
@settings(deadline=None, max_examples=40)
def test_a_corner_that_turns_out_takes_half_the_thickness_by_the_tangent_of_half_the_turn(turn, kind):
    from math import cos, sin

    end = (6000 + 4000 * cos(radians(turn)), 4000 * sin(radians(turn)))
    walls = [{"start": [0, 0], "end": [6000, 0], "type": kind[0]}, {"start": [6000, 0], "end": list(end), "type": kind[0]}]
    first, second = built(walls).leaves
    taken = kind[1] / 2 * tan(radians(turn / 2))
    building = built(walls)
    assert first.span.length - centre_span(building, first).length == pytest.approx(taken, abs=1e-6)
    assert second.span.length - centre_span(building, second).length == pytest.approx(taken, abs=1e-6)


def test_a_corner_of_two_thicknesses_lies_where_the_two_centre_lines_meet():
    walls = [
        {"start": [0, 0], "end": [5000, 0], "type": "thick"},
        {"start": [5000, 0], "end": [5000, 3000], "type": "brick"},
    ]
    assert lengths(built(walls)) == pytest.approx([5000 - 102.5 / 2, 3000 - 215 / 2])


def test_a_wall_against_the_side_of_another_stops_at_its_face_on_its_own_line():
    walls = [
        {"start": [0, 0], "end": [8000, 0], "type": "thick"},
        {"start": [3000, 215], "end": [5000, 4215], "line": "face"},
    ]
    building = built(walls)
    leaf = building.leaf("W2/outer")
    assert leaf.start_end.kind == "abutting"
    own = LineString([(3000, 215), (5000, 4215)]).offset_curve(102.5 / 2)
    far = own.coords[-1]
    beyond = LineString([(far[0] - 2000 * 2, far[1] - 4000 * 2), far])
    left = beyond.difference(Polygon([(0, 0), (8000, 0), (8000, 215), (0, 215)]))
    expected = max(part.length for part in left.geoms)
    assert centre_span(building, leaf).length == pytest.approx(expected, abs=1e-6)
    assert leaf.span.length != pytest.approx(expected, abs=1)


def test_a_loose_wall_is_as_long_as_it_is():
    building = built([{"start": [0, 0], "end": [5321, 0]}])
    (leaf,) = building.leaves
    assert centre_span(building, leaf) == leaf.span
