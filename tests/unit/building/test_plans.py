"""Plans of many shapes: run lengths against shapely's own offsets, and leaf faces against hand arithmetic."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, isclose
from types import SimpleNamespace

import pytest
from shapely.geometry import Polygon

from elevgen.building.trace import trace

PLANS = {
    "rectangle": [(0, 0), (12140, 0), (12140, 7310), (0, 7310)],
    "L": [(0, 0), (9200, 0), (9200, 4100), (5300, 4100), (5300, 7700), (0, 7700)],
    "T": [(0, 0), (10100, 0), (10100, 3300), (6900, 3300), (6900, 8200), (4100, 8200), (4100, 3300), (0, 3300)],
    "U": [(0, 0), (11000, 0), (11000, 8000), (7900, 8000), (7900, 3500), (3600, 3500), (3600, 6100), (0, 6100)],
    "skew": [(0, 0), (8000, -900), (10400, 5200), (6100, 4300), (1200, 6900)],
    "triangle": [(100, 50), (9000, 700), (2500, 6400)],
}


@pytest.mark.parametrize("name", PLANS)
def test_both_leaves_of_a_plan_are_rings_as_long_as_shapely_makes_them(name: str, make: SimpleNamespace) -> None:
    building = make.build(make.ring(PLANS[name]))
    outer, inner = trace(building)
    plan = Polygon(PLANS[name])
    assert outer.closed and inner.closed
    assert isclose(outer.length, plan.length, rel_tol=1e-9)
    assert isclose(inner.length, plan.buffer(-177.5, join_style="mitre", mitre_limit=50).length, rel_tol=1e-9)
    assert {leaf.split("/")[1] for leaf in outer.leaves} == {"outer"}
    assert len(outer.nodes) == len(outer.edges) == len(PLANS[name])
    assert all(node.kind == "corner" and len(node.at) == 2 for node in outer.nodes)


@pytest.mark.parametrize("name", PLANS)
def test_the_two_leaves_of_every_corner_take_turns(name: str, make: SimpleNamespace) -> None:
    building = make.build(make.ring(PLANS[name]))
    for meeting in building.meetings:
        host, stem = building.leaf(meeting.host), building.leaf(meeting.stem)
        ends = [e for e in (host.start_end, host.finish_end) if e.other == stem.id]
        others = [e for e in (stem.start_end, stem.finish_end) if e.other == host.id]
        assert len(ends) == len(others) == 1
        assert ends[0].through_on_even != others[0].through_on_even
        assert ends[0].kind == others[0].kind == "corner"


@pytest.mark.parametrize("name", ["rectangle", "L", "T", "U"])
def test_in_a_ring_of_even_corners_both_ends_of_a_leaf_run_through_together(name: str, make: SimpleNamespace) -> None:
    for leaf in make.build(make.ring(PLANS[name])).leaves:
        assert leaf.start_end.through_on_even == leaf.finish_end.through_on_even


def test_convex_faces_run_to_the_far_face_and_reentrant_ones_stop_at_the_near(make: SimpleNamespace) -> None:
    building = make.build(make.ring(PLANS["L"]))
    into, out = building.leaf("W3/outer"), building.leaf("W4/outer")
    assert (into.start_end.near, into.start_end.far, into.span.start) == (102.5, 0.0, 0.0)
    assert (into.finish_end.near, into.finish_end.far, into.span.end) == (3900.0, 4002.5, 3900.0)
    assert (out.start_end.near, out.start_end.far, out.span.start) == (0.0, -102.5, 0.0)
    inner = building.leaf("W3/inner")
    assert inner.span.start == 177.5
    assert (inner.finish_end.near, inner.finish_end.far, inner.span.end) == (4077.5, 4177.5, 4077.5)
    assert building.leaf("W4/inner").span.start == -177.5


def test_leaves_of_unequal_thickness_meet_at_their_own_faces(make: SimpleNamespace) -> None:
    walls = make.ring(PLANS["rectangle"])
    walls[1]["type"] = walls[2]["type"] = "wide"
    building = make.build(walls)
    first, second = building.leaf("W1/inner"), building.leaf("W2/inner")
    assert first.span.start == 177.5
    assert (first.finish_end.near, first.finish_end.far) == (12140 - 362.5, 12140 - 222.5)
    assert (second.start_end.near, second.start_end.far) == (277.5, 177.5)
    assert building.wall("W2").thickness == 362.5
    _, inner = trace(building)
    assert isclose(inner.length, 2 * (12140 - 222.5 - 177.5) + 2 * (7310 - 222.5 - 177.5))


def test_a_courtyard_is_a_ring_of_its_own_and_its_walls_are_outer_walls(make: SimpleNamespace) -> None:
    outside = [(0, 0), (14200, 0), (14200, 11300), (0, 11300)]
    yard = [(4100, 3900), (4100, 7000), (9800, 7000), (9800, 3900)]  # clockwise: the yard on the right hand
    building = make.build([*make.ring(outside), *make.ring(yard, kind="single", name="Y")])
    runs = trace(building)
    assert [run.closed for run in runs] == [True, True, True]
    assert isclose(runs[2].length, Polygon(yard).length)
    assert not any(wall.internal for wall in building.walls)
    assert building.wall("Y1").line == "face"
    assert all(leaf.exposed == (leaf.side == "outer") for leaf in building.leaves)
    cavity = make.build([*make.ring(outside), *make.ring(yard, name="Y")])
    inner = next(run for run in trace(cavity) if "Y1/inner" in run.leaves)
    assert isclose(inner.length, Polygon(yard).buffer(177.5, join_style="mitre").length)


def test_a_ring_of_single_leaves_inside_is_a_core_and_stands_on_its_centre_line(make: SimpleNamespace) -> None:
    core = [(4000, 3000), (6500, 3000), (6500, 5000), (4000, 5000)]
    building = make.build([*make.ring(PLANS["rectangle"]), *make.ring(core, kind="partition", name="C")])
    assert all(building.wall(f"C{n}").internal and building.wall(f"C{n}").line == "centre" for n in range(1, 5))
    run = next(run for run in trace(building) if "C1/outer" in run.leaves)
    assert isclose(run.length, 2 * (2500 + 2000) + 8 * 50)


@pytest.mark.parametrize("end", [177.5, 277.5, 227.5, 0.0, 290.0])
def test_a_partition_may_be_drawn_to_any_depth_of_its_host(end: float, make: SimpleNamespace) -> None:
    partition = make.wall("P1", "partition", (5200, end), (5200, 7310 - end))
    building = make.build([*make.ring(PLANS["rectangle"]), partition])
    leaf = building.leaf("P1/outer")
    assert building.wall("P1").internal and building.wall("P1").line == "centre" and leaf.offset == -50.0
    assert not leaf.exposed
    assert isclose(leaf.span.start, 277.5 - end, abs_tol=1e-9)
    assert isclose(leaf.span.length, 7310 - 2 * 277.5)
    assert (leaf.start_end.kind, leaf.start_end.other) == ("abutting", "W1/inner")
    assert (leaf.finish_end.kind, leaf.finish_end.other) == ("abutting", "W3/inner")
    assert [(m.kind, m.host, m.host_at) for m in building.meetings if m.stem == "P1/outer"] == [
        ("tee", "W1/inner", 5200.0),
        ("tee", "W3/inner", 12140.0 - 5200.0),
    ]
    inside = next(run for run in trace(building) if "P1/outer" in run.leaves)
    assert isclose(inside.length, 2 * (12140 - 355) + 2 * (7310 - 355) + 7310 - 555)
    assert not inside.closed and sorted(node.kind for node in inside.nodes) == ["corner"] * 4 + ["tee"] * 2


def test_a_wing_against_the_outside_touches_the_outer_leaf_with_both_its_leaves(make: SimpleNamespace) -> None:
    wing = [make.wall("X1", "cavity", (3000, -4000), (3000, -10)), make.wall("X2", "cavity", (8000, -4000), (3000, -4000))]
    building = make.build([*make.ring(PLANS["rectangle"]), *wing])
    for leaf_id in ("X1/outer", "X1/inner"):
        end = building.leaf(leaf_id).finish_end
        assert (end.kind, end.other, end.near) == ("abutting", "W1/outer", 4000.0)
    hosts = {m.stem: m.host_at for m in building.meetings if m.kind == "tee"}
    assert hosts == {"X1/outer": 3000 - 51.25, "X1/inner": 3000 - 227.5}


def test_a_crossed_partition_is_interrupted_and_that_is_no_part_of_its_face(make: SimpleNamespace) -> None:
    crossing = [
        make.wall("P1", "solid", (5200, 200), (5200, 7100)),
        make.wall("P2", "partition", (200, 3000), (11900, 3000)),
    ]
    building = make.build([*make.ring(PLANS["rectangle"]), *crossing])
    stem = building.leaf("P2/outer")
    assert building.leaf("P1/outer").crossings == ()
    (hole,) = stem.crossings
    assert hole in stem.voids
    assert (hole.left, hole.right, hole.bottom, hole.top) == (4930.0, 5070.0, 0.0, 2700.0)
    (cross,) = (m for m in building.meetings if m.kind == "cross")
    assert (cross.host, cross.stem, cross.host_at, cross.stem_at) == ("P1/outer", "P2/outer", 2800.0, 5000.0)
    inside = next(run for run in trace(building) if "P2/outer" in run.leaves)
    (node,) = (node for node in inside.nodes if node.kind == "cross")
    assert node.at == (("P1/outer", 2800.0), ("P2/outer", 4930.0), ("P2/outer", 5070.0))
    assert len(inside.edges_at(node.id)) == 4
    partitions = (7310 - 555) + (12140 - 555 - 140)
    assert isclose(inside.length, 2 * (12140 - 355) + 2 * (7310 - 355) + partitions)


def test_a_wall_crossing_a_cavity_wall_meets_each_leaf_on_its_own_side(make: SimpleNamespace) -> None:
    walls = [make.wall("A", "cavity", (0, 0), (6000, 0)), make.wall("B", "solid", (2000, -3000), (2000, 2500))]
    building = make.build(walls)
    (hole,) = building.leaf("B/outer").crossings
    assert (hole.left, hole.right) == (3000.0, 3277.5)
    outer, inner = trace(building)
    assert set(outer.leaves) == {"A/outer", "B/outer"} and isclose(outer.length, 6000 + 3000)
    assert set(inner.leaves) == {"A/inner", "B/outer"} and isclose(inner.length, 6000 + 5500 - 3277.5)


def test_two_stems_opposite_one_another_make_one_node_on_their_host(make: SimpleNamespace) -> None:
    walls = [
        make.wall("A", "solid", (0, 0), (6000, 0), line="centre"),
        make.wall("B", "solid", (2500, 0), (2500, 3000), line="centre"),
        make.wall("C", "solid", (2500, -2000), (2500, 0), line="centre"),
    ]
    (run,) = trace(make.build(walls))
    (node,) = (n for n in run.nodes if n.kind == "tee")
    assert len(run.edges_at(node.id)) == 4
    assert isclose(run.length, 6000 + 3000 - 70 + 2000 - 70)
    assert sorted(n.kind for n in run.nodes) == ["end"] * 4 + ["tee"]


def test_a_partition_in_line_with_a_reentrant_corner_does_not_break_it(make: SimpleNamespace) -> None:
    building = make.build([*make.ring(PLANS["L"]), make.wall("P1", "partition", (5300, 4100), (5300, 250))])
    outer, inside = trace(building)
    assert outer.closed and isclose(outer.length, Polygon(PLANS["L"]).length)
    assert building.leaf("P1/outer").start_end.other == "W3/inner"
    assert isclose(building.leaf("P1/outer").span.length, 4100 - 2 * 277.5)
    assert "P1/outer" in inside.leaves


def test_walls_of_one_line_run_on(make: SimpleNamespace) -> None:
    points = [(0, 0), (4000, 0), (4010, 0), (9000, 0), (9000, 5000), (0, 5000)]
    walls = [make.wall(f"W{n}", "cavity", a, b) for n, (a, b) in enumerate(pairwise([*points, points[0]]), 1) if n != 2]
    building = make.build(walls)
    outer, inner = trace(building)
    assert outer.closed and isclose(outer.length, 28000) and inner.closed
    end = building.leaf("W1/outer").finish_end
    assert (end.kind, end.near, end.far, end.other) == ("corner", 4005.0, 4005.0, "W3/outer")
    assert building.leaf("W3/outer").span.start == -5.0


def test_a_slight_bend_is_taken_as_straight(make: SimpleNamespace) -> None:
    walls = [make.wall("A", "cavity", (0, 0), (4000, 0)), make.wall("B", "cavity", (4000, 0), (8000, 350))]
    outer, inner = trace(make.build(walls))
    for run in (outer, inner):
        assert isclose(run.length, 4000 + hypot(4000, 350))
        assert [node.kind for node in run.nodes] == ["end", "corner", "end"]


def test_a_wing_of_one_leaf_pairs_with_the_outer_leaf_and_the_inner_abuts_it(make: SimpleNamespace) -> None:
    walls = [make.wall("A", "cavity", (0, 0), (5000, 0)), make.wall("B", "solid", (5000, 0), (5000, 3000))]
    building = make.build(walls)
    assert building.leaf("A/outer").finish_end.other == "B/outer" and building.leaf("A/outer").finish_end.near == 4860.0
    inner = building.leaf("A/inner")
    assert (inner.finish_end.kind, inner.finish_end.other, inner.span.end) == ("abutting", "B/outer", 4860.0)
    (tee,) = (m for m in building.meetings if m.kind == "tee")
    assert (tee.host, tee.stem, tee.host_at) == ("B/outer", "A/inner", 227.5)
    away = [make.wall("A", "cavity", (0, 0), (5000, 0)), make.wall("B", "solid", (5000, 0), (5000, -3000))]
    inner = make.build(away).leaf("A/inner")
    assert (inner.finish_end.kind, inner.finish_end.other, inner.span.end) == ("stopped", None, 5140.0)


def test_walls_of_two_storeys_do_not_meet(make: SimpleNamespace) -> None:
    ground = make.ring(PLANS["rectangle"])
    first = [make.wall("F1", "partition", (0, 3000), (12140, 3000), base=2700, top=5400)]
    building = make.build([*ground, *first])
    assert not any("F1/outer" in (m.host, m.stem) for m in building.meetings)
    assert make.build([*ground, make.wall("F0", "cavity", (0, 0), (12140, 0), base=2700, top=5000)])


def test_ends_a_little_apart_still_make_a_corner_and_further_ones_do_not(make: SimpleNamespace) -> None:
    near = [make.wall("A", "cavity", (0, 0), (5000, 0)), make.wall("B", "cavity", (5015, 18), (5015, 3000))]
    assert [m.kind for m in make.build(near).meetings] == ["corner", "corner"]
    apart = [make.wall("A", "cavity", (0, 0), (5000, 0)), make.wall("B", "cavity", (5030, -20), (5030, -3000))]
    assert make.build(apart).meetings == ()


def test_a_wall_drawn_up_to_the_back_of_another_makes_a_corner_with_it(make: SimpleNamespace) -> None:
    walls = [make.wall("A", "cavity", (0, 0), (5000, 0)), make.wall("B", "cavity", (5000, 277.5), (5000, 3000))]
    building = make.build(walls)
    assert [m.kind for m in building.meetings] == ["corner", "corner"]
    assert isclose(trace(building)[0].length, 5000 + 3000)
    assert isclose(building.leaf("B/outer").span.start, -277.5)
