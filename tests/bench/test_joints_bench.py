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


def terrace(houses: int, spacing: float = 6000.0) -> Problem:
    """Front, back and party walls of a row of unequal houses with windows, all one run: about 19 m of wall a house."""
    rng = Random(f"terrace {houses}")
    xs = [0.0]
    for _ in range(houses):
        xs.append(xs[-1] + rng.choice((4725.0, 5175.0, 5400.0, 6075.0)))
    edges, faces = [], []
    for side in "FR":
        faces.append(Face(side, Span(0.0, xs[-1]), "corner", "corner", spacing / 2))
        for n, span in enumerate(map(Span, xs, xs[1:])):
            window = Span(span.middle, span.middle).grown(800.0).shifted(rng.choice((-450.0, 0.0, 225.0)))
            edges.append(Edge(f"{side}{n:03d}", side, f"{side}n{n:03d}", f"{side}n{n + 1:03d}", span, between(span, window)))
    for n in range(houses + 1):
        kind = "corner" if n in (0, houses) else "stem"
        span = Span(0.0, 8100.0)
        edges.append(Edge(f"P{n:03d}", f"P{n:03d}", f"Fn{n:03d}", f"Rn{n:03d}", span, between(span, None)))
        faces.append(Face(f"P{n:03d}", span, kind, kind, spacing / 2))
    return Problem(tuple(edges), tuple(faces), spacing)


def between(span: Span, window: Span | None) -> tuple[Candidate, ...]:
    """Places every half block, clear of the ends and of a window; crowding by how near they are to it."""
    places = (span.start + 337.5 + 225 * k for k in range(int((span.length - 675) / 225) + 1))
    if window is None:
        return tuple(map(Candidate, places))
    apart = ((at, max(window.start - at, at - window.end)) for at in places)
    return tuple(Candidate(at, crowding=max(int((675 - by) // 50), 0)) for at, by in apart if by > 0)


def test_a_terrace_of_200_houses_in_under_2_s_and_no_worse_than_linear() -> None:
    times = {houses: best_of(3, terrace(houses)) for houses in (20, 50, 100, 200)}
    metres = {houses: sum(edge.span.length for edge in terrace(houses).edges) / 1000 for houses in times}
    print("\n" + ", ".join(f"{n} houses, {metres[n]:.0f} m: {seconds:.2f} s" for n, seconds in times.items()))
    assert times[200] < 2
    assert times[200] / times[20] < 12.5


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
