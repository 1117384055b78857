"""Speed of the placement, and a long random run against the oracle. Run with -m bench."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from random import Random
from time import perf_counter

import pytest

from elevgen.core.geometry import Span
from elevgen.joints.problem import Candidate, Edge, Face, Problem
from elevgen.joints.solve import solve

pytestmark = pytest.mark.bench


def ring(length: float, step: float, spacing: float) -> Problem:
    """A closed ring of four unequal walls with a place every `step`."""
    shares = (0.17, 0.33, 0.18, 0.32)
    edges, faces = [], []
    for k, share in enumerate(shares):
        span = Span(0.0, length * share)
        count = int((span.length - 200) / step)
        places = tuple(Candidate(100 + i * step, crowding=int(i % 7 == 3)) for i in range(count))
        edges.append(Edge(f"W{k}", f"W{k}", f"n{k}", f"n{(k + 1) % 4}", span, places))
        faces.append(Face(f"W{k}", span, "corner", "corner", spacing / 2))
    return Problem(tuple(edges), tuple(faces), spacing)


def best_of(times: int, problem: Problem) -> float:
    found = []
    for _ in range(times):
        start = perf_counter()
        assert solve(problem).optimal
        found.append(perf_counter() - start)
    return min(found)


def test_a_ring_of_53_m_takes_well_under_50_ms() -> None:
    fine = best_of(5, ring(53200, 100, 12000))
    print(f"\nring of 53.2 m, places every 100 mm: {fine * 1000:.1f} ms")
    assert fine < 0.05
    assert "scipy" not in sys.modules


def test_time_grows_no_worse_than_linearly_round_a_longer_ring() -> None:
    times = {length: best_of(2, ring(length, 225, 6000)) for length in (60_000, 240_000, 960_000)}
    print("\n" + ", ".join(f"{length / 1000:.0f} m: {seconds * 1000:.0f} ms" for length, seconds in times.items()))
    assert times[960_000] / times[60_000] < 24


def test_thousands_of_small_graphs_against_every_subset() -> None:
    path = Path(__file__).parents[1] / "unit" / "joints" / "conftest.py"
    spec = importlib.util.spec_from_file_location("joints_oracle", path)
    assert spec is not None and spec.loader is not None
    oracle = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(oracle)
    compared = 0
    for seed in range(260):
        for shape in oracle.SHAPES:
            rng = Random(f"bench {shape}{seed}")
            problem = oracle.random_problem(rng, shape, candidates=rng.randint(5, 11))
            found = solve(problem)
            assert found.optimal
            assert oracle.price(problem, set(found.joints)) == oracle.best(problem), (shape, seed)
            compared += 1
    assert compared >= 2000
