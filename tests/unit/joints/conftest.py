"""Small random graphs, and an oracle that tries every subset of their candidates and measures paths with networkx.

The folder is on the path so that tests can import `plans`.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from itertools import chain, combinations, pairwise
from math import inf
from pathlib import Path
from random import Random
from types import SimpleNamespace

import networkx as nx
import pytest

from elevgen.building.model import Profile
from elevgen.core.geometry import Span
from elevgen.joints.problem import Candidate, Edge, Face, Placed, Problem

sys.path.insert(0, str(Path(__file__).parent))

TOL = 0.01


def pieces(problem: Problem, joints: set[Placed]) -> list[tuple[nx.Graph, set[Placed]]]:
    """What is left after cutting, each piece as a graph of short stretches with the free candidates it holds.

    Every link gets a hair's breadth at both ends, so that a path can end against a node it has passed.
    """
    graph = nx.Graph()
    held: dict[object, Placed] = {}
    for edge in problem.edges:
        cuts = [c.at for c in edge.candidates if (edge.id, c.at) in joints]
        bounds = [edge.span.start, *cuts, edge.span.end]
        for k, (u, v) in enumerate(pairwise(bounds)):
            names = [edge.a if k == 0 else (edge.id, k, "l"), (edge.id, k, 1), (edge.id, k, 2)]
            names.append(edge.b if k == len(bounds) - 2 else (edge.id, k, "r"))
            for (p, q), length in zip(pairwise(names), (0.0, v - u, 0.0), strict=True):
                graph.add_edge(p, q, length=length, face=edge.face)
            for c in edge.candidates:
                if u < c.at < v:
                    held[(edge.id, c.at)] = names[1]
    return [(graph.subgraph(nodes), {p for p, node in held.items() if node in nodes}) for nodes in nx.connected_components(graph)]


def allowed(problem: Problem, piece: nx.Graph) -> float:
    """The longest path of a piece, by the strictest of the faces it has; with branches by the strictest of all."""
    ends = [node for edge in problem.edges for node in (edge.a, edge.b)]
    here = {way["face"] for _, _, way in piece.edges(data=True) if way["length"] > 2 * TOL}
    if any(ends.count(node) > 2 for node in ends):
        return problem.spacing
    return min((f.spacing for f in problem.faces if f.id in here and f.spacing < inf), default=problem.spacing)


def longest(piece: nx.Graph) -> float:
    best = 0.0

    def walk(node, passed, gone):
        nonlocal best
        best = max(best, gone)
        for far in piece[node]:
            if far not in passed:
                walk(far, passed | {far}, gone + piece[node][far]["length"])

    for node in piece:
        walk(node, {node}, 0.0)
    return best


def must(problem: Problem) -> set[Placed]:
    """Given joints, and those bordering stretches no candidate can shorten."""
    everything = {(e.id, c.at) for e in problem.edges for c in e.candidates}
    wanted = {(e.id, c.at) for e in problem.edges for c in e.candidates if c.given}
    for graph, _ in pieces(problem, everything):
        if longest(graph) > allowed(problem, graph) + TOL:
            for node in graph:
                if isinstance(node, tuple) and node[2] in ("l", "r"):
                    edge = next(e for e in problem.edges if e.id == node[0])
                    wanted.add((edge.id, edge.candidates[node[1] - (node[2] == "l")].at))
    return wanted


def price(problem: Problem, joints: set[Placed]) -> tuple | None:
    """The stated cost of an answer; None when a rule is broken that a joint could keep."""
    return face_price(problem, joints) if paths_short_enough(problem, joints) else None


def paths_short_enough(problem: Problem, joints: set[Placed]) -> bool:
    return all(not held or longest(graph) <= allowed(problem, graph) + TOL for graph, held in pieces(problem, joints))


def face_price(problem: Problem, joints: set[Placed]) -> tuple | None:
    """The cost with path lengths left out; None when a panel is too long that a joint could shorten."""
    missed, even = 0, 0
    chosen = [(e, c) for e in problem.edges for c in e.candidates if (e.id, c.at) in joints]
    degree: dict[str, int] = {}
    for node in chain.from_iterable((e.a, e.b) for e in problem.edges):
        degree[node] = degree.get(node, 0) + 1
    for face in problem.faces:
        mine = [e for e in problem.edges if e.face == face.id]
        on_face = sorted(c.at for e, c in chosen if e.face == face.id)
        free = [c.at for e in mine for c in e.candidates if c.at not in on_face]
        marks = [(face.span.start, face.start), *((at, "joint") for at in on_face), (face.span.end, face.finish)]
        for (u, ku), (v, kv) in pairwise(marks):
            limit = None if face.panel is None else face.panel.lowest(Span(u, v))
            if limit is not None and v - u > limit + TOL and any(u < at < v for at in free):
                return None
            if face.corner_reach is not None and {ku, kv} == {"corner", "joint"}:
                over = v - u - face.corner_reach
                missed += round(over * 10) if over > TOL else 0
        meetings = [e.span.start for e in mine if degree[e.a] > 2] + [e.span.end for e in mine if degree[e.b] > 2]
        breaks = sorted({face.span.start, face.span.end, *meetings, *on_face})
        even += sum(round((v - u) * 10) ** 2 for u, v in pairwise(breaks))
    cs = [c for _, c in chosen]
    return (
        missed,
        len(cs),
        sum(c.crowding for c in cs),
        sum(not c.hidden for c in cs),
        even,
        sum(not c.on_grid for c in cs),
    )


def best(problem: Problem) -> tuple:
    forced = must(problem)
    free = sorted({(e.id, c.at) for e in problem.edges for c in e.candidates} - forced)
    subsets = chain.from_iterable(combinations(free, k) for k in range(len(free) + 1))
    found: tuple | None = None
    for subset in subsets:
        cost = face_price(problem, forced | set(subset))
        if cost is not None and (found is None or cost < found) and paths_short_enough(problem, forced | set(subset)):
            found = cost
    assert found is not None
    return found


SHAPES = ("chain", "ring", "tee", "chord", "lollipop", "cross", "two rings", "far chord", "ladder", "rooms", "small rooms")


def random_problem(rng: Random, shape: str, candidates: int = 9) -> Problem:
    """Unequal legs, random places, some walls without any, corner and panel rules on some faces."""
    spacing = rng.choice([6000.0, 5500.0, 12000.0])
    plans: dict[str, list[tuple[str, str, str]]] = {
        # face, from, to; edges of one face follow each other
        "chain": [("A", "n0", "n1"), ("B", "n1", "n2"), ("C", "n2", "n3")][: rng.randint(1, 3)],
        "ring": [("A", "n0", "n1"), ("B", "n1", "n2"), ("C", "n2", "n3"), ("D", "n3", "n0")],
        "tee": [("A", "n0", "n1"), ("A", "n1", "n2"), ("B", "n1", "n3"), ("C", "n2", "n4")],
        "chord": [
            ("A", "n0", "t0"),
            ("A", "t0", "n1"),
            ("B", "n1", "n2"),
            ("C", "n2", "t1"),
            ("C", "t1", "n0"),
            ("P", "t0", "t1"),
        ],
        "lollipop": [("A", "n0", "n1"), ("B", "n1", "n2"), ("C", "n2", "n0"), ("D", "n0", "n4")],
        "cross": [("A", "n0", "x"), ("A", "x", "n1"), ("B", "n2", "x"), ("B", "x", "n3"), ("C", "n1", "n4")],
        "two rings": [("A", "n0", "t"), ("A", "t", "n1"), ("B", "n1", "n2"), ("C", "n0", "n2"), ("P", "t", "n2")],
        "ladder": [
            ("A", "n0", "t0"),
            ("A", "t0", "t1"),
            ("A", "t1", "n1"),
            ("B", "n2", "u0"),
            ("B", "u0", "u1"),
            ("B", "u1", "n3"),
            ("C", "n0", "n2"),
            ("D", "n1", "n3"),
            ("P", "t0", "u0"),
            ("Q", "t1", "u1"),
        ],
        "rooms": [
            ("A", "n0", "t"),
            ("A", "t", "n1"),
            ("B", "n1", "n2"),
            ("C", "n0", "u"),
            ("C", "u", "n2"),
            ("P", "t", "x"),
            ("P", "x", "u"),
            ("Q", "x", "n3"),
        ],
        "far chord": [("A", "n0", "t0"), ("A", "t0", "t1"), ("A", "t1", "n1"), ("B", "n1", "n0"), ("P", "t0", "t1")],
    }
    small = shape.startswith("small ")
    plan = plans[shape.removeprefix("small ")]
    at: dict[str, float] = {}
    spans, ends = [], {}
    for face, _, _ in plan:
        at.setdefault(face, rng.choice([0.0, 340.5, -1250.0]))
        length = rng.choice([rng.randint(400, 2500), rng.randint(2500, 7000), rng.randint(4000, 13000)]) + rng.choice([0.0, 0.5])
        if small and rng.random() < 0.8:
            length = rng.randint(300, 1500)
        spans.append(Span(at[face], at[face] + length))
        at[face] += length
    share = [rng.random() for _ in plan]
    places: list[set[float]] = [set() for _ in plan]
    for _ in range(candidates):
        k = rng.choices(range(len(plan)), weights=[s * x.length for s, x in zip(share, spans, strict=True)])[0]
        places[k].add(spans[k].start + rng.randint(50, int(spans[k].length) - 50))
    degree: dict[str, int] = {}
    for _, a, b in plan:
        degree[a], degree[b] = degree.get(a, 0) + 1, degree.get(b, 0) + 1
    edges = []
    for k, ((face, a, b), span) in enumerate(zip(plan, spans, strict=True)):
        cs = tuple(
            Candidate(x, rng.choice((0, 0, 0, 1, 2, 11)), rng.random() < 0.2, rng.random() < 0.7, rng.random() < 0.06)
            for x in sorted(places[k])
        )
        edges.append(Edge(f"{face}{k}", face, a, b, span, cs))
        ends.setdefault(face, [a, b])[1] = b
    faces = []
    for face, (a, b) in sorted(ends.items()):
        mine = [e.span for e in edges if e.face == face]
        span = Span(mine[0].start, mine[-1].end)
        kinds = ["free" if degree[n] == 1 else "corner" if n.startswith("n") else "stem" for n in (a, b)]
        panel = None
        if rng.random() < 0.4:
            one, two = (float(rng.randint(2500, 9000)) for _ in range(2))
            panel = Profile(((span.start, one), (span.end, one if rng.random() < 0.5 else two)))
        reach = rng.choice([None, spacing / 2, 1800.0])
        faces.append(Face(face, span, kinds[0], kinds[1], reach, panel))
    return Problem(tuple(edges), tuple(faces), spacing)


def unlike(problem: Problem, rng: Random, spacings: Sequence[float] = (5500.0, 7500.0, 12000.0)) -> Problem:
    """The same masonry with faces of different materials."""
    faces = tuple(face._replace(spacing=rng.choice(spacings)) for face in problem.faces)
    return problem._replace(faces=faces, spacing=min(face.spacing for face in faces))


def mirrored(problem: Problem) -> Problem:
    """The same masonry seen in a glass: every face runs the other way."""
    edges = tuple(
        Edge(
            e.id, e.face, e.b, e.a, Span(-e.span.end, -e.span.start), tuple(c._replace(at=-c.at) for c in reversed(e.candidates))
        )
        for e in problem.edges
    )
    faces = tuple(
        f._replace(
            span=Span(-f.span.end, -f.span.start),
            start=f.finish,
            finish=f.start,
            panel=None if f.panel is None else Profile(tuple((-at, v) for at, v in reversed(f.panel.points))),
        )
        for f in problem.faces
    )
    return Problem(edges, faces, problem.spacing)


def shifted(problem: Problem, by: float) -> Problem:
    edges = tuple(
        e._replace(span=e.span.shifted(by), candidates=tuple(c._replace(at=c.at + by) for c in e.candidates))
        for e in problem.edges
    )
    faces = tuple(
        f._replace(
            span=f.span.shifted(by),
            panel=None if f.panel is None else Profile(tuple((at + by, v) for at, v in f.panel.points)),
        )
        for f in problem.faces
    )
    return Problem(edges, faces, problem.spacing)


@pytest.fixture(scope="session")
def oracle() -> SimpleNamespace:
    return SimpleNamespace(
        best=best,
        paths_short_enough=paths_short_enough,
        price=price,
        must=must,
        random_problem=random_problem,
        unlike=unlike,
        SHAPES=SHAPES,
        mirrored=mirrored,
        shifted=shifted,
    )
