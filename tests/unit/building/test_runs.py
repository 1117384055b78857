"""Runs as graphs: every edge accounted for, judged by networkx."""

from __future__ import annotations

import random
from math import isclose
from types import SimpleNamespace

import networkx
import pytest

from elevgen.building.outline import gross_area
from elevgen.building.trace import trace
from elevgen.core.errors import SpecError


def test_an_open_chain_runs_from_end_to_end_round_its_corners(make: SimpleNamespace) -> None:
    points = [(0, 0), (6100, 0), (6100, 4300), (9900, 4300)]
    walls = [make.wall(f"W{n}", "single", points[n - 1], points[n]) for n in (1, 2, 3)]
    (run,) = trace(make.build(walls))
    assert isclose(run.length, 6100 + 4300 + 3800)
    assert [node.kind for node in run.nodes] == ["end", "corner", "corner", "end"] and not run.closed
    assert [node.id for node in run.nodes] == ["R1.N1", "R1.N2", "R1.N3", "R1.N4"]
    assert [(e.id, e.leaf, e.a, e.b) for e in run.edges] == [
        ("R1.E1", "W1/outer", "R1.N1", "R1.N2"),
        ("R1.E2", "W2/outer", "R1.N2", "R1.N3"),
        ("R1.E3", "W3/outer", "R1.N3", "R1.N4"),
    ]
    assert run.node("R1.N2").position("W1/outer") == 6100 and run.node("R1.N2").position("W2/outer") == 0


@pytest.mark.parametrize("drawn", ["forth", "back"])
def test_a_wall_drawn_the_other_way_round_joins_all_the_same(make: SimpleNamespace, drawn: str) -> None:
    second = ((5000, 0), (5000, 3000)) if drawn == "forth" else ((5000, 3000), (5000, 0))
    walls = [make.wall("A", "single", (0, 0), (5000, 0), line="centre"), make.wall("B", "single", *second, line="centre")]
    (run,) = trace(make.build(walls))
    right_hand = {"forth": 2 * 51.25, "back": 0.0}[drawn]
    assert isclose(run.length, 8000 + right_hand)
    assert [n.kind for n in run.nodes].count("corner") == 1


def test_a_house_with_a_grid_of_partitions(make: SimpleNamespace) -> None:
    walls = make.ring([(0, 0), (12000, 0), (12000, 9000), (0, 9000)])
    walls += [make.wall(f"P{n}", "partition", (3000 * n, 200), (3000 * n, 8800)) for n in (1, 2, 3)]
    walls += [make.wall(f"Q{n}", "solid", (200, 2900 * n), (11800, 2900 * n)) for n in (1, 2)]
    building = make.build(walls)
    outer, inside = trace(building)
    assert outer.closed and not inside.closed
    assert sum(leaf.crossings != () for leaf in building.leaves) == 2 and len(building.leaf("Q1/outer").crossings) == 3
    graph = networkx.MultiGraph([(e.a, e.b) for e in inside.edges])
    assert networkx.is_connected(graph) and set(graph) == {n.id for n in inside.nodes}
    degree = {"corner": 2, "tee": 3, "cross": 4}
    assert all(graph.degree(n.id) == degree[n.kind] for n in inside.nodes)
    assert sorted(n.kind for n in inside.nodes) == ["corner"] * 4 + ["cross"] * 6 + ["tee"] * 10
    ring = 2 * (12000 - 355) + 2 * (9000 - 355)
    assert isclose(inside.length, ring + 3 * (9000 - 555) + 2 * (12000 - 555 - 300))
    for edge in inside.edges:
        assert isclose(inside.node(edge.a).position(edge.leaf), edge.span.start) or edge.leaf[0] == "Q"
        assert edge.span.length > 0


def test_every_leaf_is_in_the_runs_once(make: SimpleNamespace) -> None:
    walls = make.ring([(0, 0), (12000, 0), (12000, 9000), (0, 9000)])
    walls += [make.wall("P1", "partition", (3000, 200), (3000, 8800)), make.wall("F", "solid", (20000, 0), (20000, 5000))]
    building = make.build(walls)
    by_leaf: dict[str, float] = {}
    for run in trace(building):
        assert isclose(run.length, sum(e.span.length for e in run.edges))
        for edge in run.edges:
            by_leaf[edge.leaf] = by_leaf.get(edge.leaf, 0.0) + edge.span.length
    assert {leaf.id: pytest.approx(leaf.span.length) for leaf in building.leaves} == by_leaf


@pytest.mark.parametrize("seed", range(60))
def test_any_scatter_of_walls_is_refused_or_traced_whole(make: SimpleNamespace, seed: int) -> None:
    """Walls between few points, often skew, short or crossing at one place: never another error, never a lost stretch."""
    pick = random.Random(seed)
    points = [(pick.randrange(0, 6000, 250), pick.randrange(0, 6000, 250)) for _ in range(6)]
    pairs = [(pick.choice(points), pick.choice(points)) for _ in range(pick.randrange(2, 8))]
    kinds = ["cavity", "wide", "single", "partition", "solid"]
    walls = [
        make.wall(f"W{n}", pick.choice(kinds), a, b, base=pick.choice([0, 0, 2700]), top=3000) for n, (a, b) in enumerate(pairs)
    ]
    try:
        building = make.build([w for w in walls if w["start"] != w["end"]] or walls)
    except SpecError as error:
        assert all(fault.path[0] == "walls" for fault in error.faults)
        return
    laid = {leaf.id: 0.0 for leaf in building.leaves}
    for run in trace(building):
        for edge in run.edges:
            laid[edge.leaf] += edge.span.length
    for leaf in building.leaves:
        through = [
            c.width for c in leaf.crossings if c.bottom <= leaf.base.lowest(c.along) and c.top >= leaf.top.highest(c.along)
        ]
        assert isclose(laid[leaf.id], leaf.span.length - sum(through), abs_tol=0.1)
        assert 0 <= gross_area(leaf) <= leaf.span.length * leaf.height + 1
