from __future__ import annotations

import random
from itertools import product
from math import inf

import networkx as nx
import pytest

from elevgen.building.model import Run, RunEdge
from elevgen.checks._paths import Stretch, longest, pieces
from elevgen.core.geometry import Span


def stretch(a: str, b: str, length: float, leaf: str = "W1/outer") -> Stretch:
    return Stretch(a, b, leaf, Span(0.0, length))


def random_piece(rng: random.Random, rings: int) -> list[Stretch]:
    """A random tree with some more stretches between its nodes."""
    size = rng.randint(2, 7)
    found = [stretch(str(rng.randrange(n)), str(n), rng.randint(100, 9000), f"L{rng.randrange(3)}") for n in range(1, size)]
    for _ in range(rings):
        a, b = rng.sample(range(size), 2) if size > 1 else (0, 0)
        found.append(stretch(str(a), str(b), rng.randint(100, 9000), f"L{rng.randrange(3)}"))
    return found


def oracle(piece: list[Stretch], allowed: dict[str, float]) -> float:
    """The greatest length to what is allowed over all ways that networkx finds, those ending on themselves included."""
    graph = nx.MultiGraph()
    for i, s in enumerate(piece):
        graph.add_edge(s.a, s.b, key=i)
    worst = 0.0
    for a, b in product(graph.nodes, repeat=2):
        ways = [[]] if a == b else list(nx.all_simple_edge_paths(graph, a, b))
        for way in ways:
            used = [key for _, _, key in way]
            passed = {a, *(v for _, v, _ in way)}
            closing = [key for _, far, key in graph.edges(b, keys=True) if far in passed and key not in used]
            for keys in (used, *([*used, key] for key in closing)):
                if keys:
                    length = sum(piece[k].span.length for k in keys)
                    worst = max(worst, length / min(allowed.get(piece[k].leaf, inf) for k in keys))
    return worst


@pytest.mark.parametrize("rings", [0, 1, 2])
@pytest.mark.parametrize("alike", [True, False])
def test_longest_way_is_the_one_networkx_finds(rings: int, alike: bool) -> None:
    rng = random.Random(17 * rings + alike)
    for _ in range(60):
        piece = random_piece(rng, rings)
        allowed = dict.fromkeys(("L0", "L1", "L2"), 6000.0) if alike else {"L0": 12000.0, "L1": 6000.0, "L2": 7500.0}
        way = longest(piece, allowed)
        assert way.exact
        assert way.length / way.allowed == pytest.approx(oracle(piece, allowed))


def test_a_ring_is_as_long_as_its_whole_round() -> None:
    ring = [stretch("a", "b", 8000), stretch("b", "c", 3100), stretch("c", "d", 8000), stretch("d", "a", 3100)]
    way = longest(ring, {"W1/outer": 12000.0})
    assert way.length == 22200
    assert way.closed


def test_a_way_goes_through_a_tee_but_takes_one_arm_only() -> None:
    tee = [stretch("a", "t", 4100), stretch("t", "b", 5200), stretch("t", "c", 1300)]
    assert longest(tee, {}).length == 9300


def test_unlike_leaves_are_held_to_the_stricter() -> None:
    chain = [stretch("a", "b", 9000, "clay"), stretch("b", "c", 1500, "block")]
    way = longest(chain, {"clay": 12000.0, "block": 6000.0})
    assert (way.length, way.allowed) == (10500, 6000)
    assert longest(chain, {"clay": 12000.0, "block": 30000.0}).allowed == 12000


def test_many_ways_round_are_given_up_as_at_least() -> None:
    grid = [stretch(f"{x},{y}", f"{x + 1},{y}", 1000) for x, y in product(range(5), range(6))]
    grid += [stretch(f"{x},{y}", f"{x},{y + 1}", 1000) for x, y in product(range(6), range(5))]
    way = longest(grid, {"W1/outer": 12000.0})
    assert not way.exact
    assert way.length > 12000


def test_joints_cut_a_run_where_they_stand() -> None:
    edges = (
        RunEdge("E1", "A", Span(0, 10000), "n1", "n2"),
        RunEdge("E2", "B", Span(0, 6000), "n2", "n3"),
        RunEdge("E3", "C", Span(500, 4000), "n2", "n4"),
    )
    run = Run("R1", edges, (), 19500, False)
    found = sorted(sum(s.span.length for s in piece) for piece in pieces(run, {"A": (7000, 2500), "C": (1500,)}))
    assert found == [2500, 2500, 4500, 10000]
    assert sorted(sum(s.span.length for s in piece) for piece in pieces(run, {})) == [19500]
