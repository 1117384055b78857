"""Before solving: joints that must stand are put in, the masonry is cut at them, and what is left falls into parts.

Each piece that joints leave is held to the spacing of the strictest face it has. With branches a whole part is held to its
strictest face, whatever the joints to come may cut off from it: there less is known than for chains and rings (`mixed`).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import Span, at_most
from elevgen.joints.graph import has_branches
from elevgen.joints.paths import Web, components, exceeds
from elevgen.joints.problem import HAIR, Edge, Face, Placed, Problem, Wanted, spacing_of


class Part(NamedTuple):
    """One connected part between standing joints; `origin` names the edge of the whole problem each edge was cut from."""

    problem: Problem
    origin: Mapping[str, str]


def settle(problem: Problem) -> tuple[tuple[Placed, ...], tuple[Part, ...]]:
    """The joints that must stand, and the parts with candidates that remain to be solved."""
    given = given_joints(problem)
    parts = _as_solved(problem, given)
    hopeless = {(part.origin[edge], at) for part in parts for edge, at in _bordering_hopeless(part.problem)}
    if not hopeless:
        return tuple(given), parts
    standing = sorted(hopeless.union(given))
    return tuple(standing), _as_solved(problem, standing)


def _as_solved(problem: Problem, standing: Sequence[Placed]) -> tuple[Part, ...]:
    """The parts that remain, those with branches of one spacing."""
    parts = parts_at(problem, standing)
    return tuple(p._replace(problem=alike(p.problem, p.problem.spacing)) if is_mixed(p.problem) else p for p in parts)


def is_mixed(problem: Problem) -> bool:
    """Whether a part has branches and faces of unlike spacings."""
    return len({face.spacing for face in problem.faces}) > 1 and has_branches(problem.edges)


def alike(problem: Problem, spacing: float) -> Problem:
    """The problem with one spacing for all its faces."""
    return problem._replace(faces=tuple(f._replace(spacing=spacing) for f in problem.faces), spacing=spacing)


def given_joints(problem: Problem) -> list[Placed]:
    """The joints that stand already."""
    return sorted({(edge.id, c.at) for edge in problem.edges for c in edge.candidates if c.given})


def _bordering_hopeless(problem: Problem) -> set[Placed]:
    """Candidates bordering a stretch without candidates that is longer than its faces allow all the same."""
    found: set[Placed] = set()
    webs: dict[str, Web] = {}
    borders: dict[str, list[Placed]] = {}
    faces = {face.id: face for face in problem.faces}
    held: dict[str, list[Face]] = {}
    plain = [e for e in problem.edges if not e.candidates]
    root = components(((e.a, e.b) for e in plain), {n for e in problem.edges for n in (e.a, e.b)})
    for edge in problem.edges:
        if not edge.candidates:
            webs.setdefault(root[edge.a], Web()).links.append((edge.a, edge.b, edge.span.length))
            held.setdefault(root[edge.a], []).append(faces[edge.face])
            continue
        allowed = spacing_of((faces[edge.face],), problem.spacing)
        for left, right in pairwise(edge.candidates):
            if not at_most(right.at - left.at, allowed):
                found |= {(edge.id, left.at), (edge.id, right.at)}
        for node, c, length in (
            (edge.a, edge.candidates[0], edge.candidates[0].at - edge.span.start),
            (edge.b, edge.candidates[-1], edge.span.end - edge.candidates[-1].at),
        ):
            webs.setdefault(root[node], Web()).stubs.append(((edge.id, node, len(webs[root[node]].stubs)), node, length))
            borders.setdefault(root[node], []).append((edge.id, c.at))
            if length > HAIR:
                held.setdefault(root[node], []).append(faces[edge.face])
    for name, web in webs.items():
        if name in held and exceeds(web, spacing_of(held[name], problem.spacing)):
            found.update(borders.get(name, ()))
    return found


def parts_at(problem: Problem, standing: Sequence[Placed]) -> tuple[Part, ...]:
    """The parts with candidates that masonry falls into when it is cut at these joints."""
    cuts: dict[str, list[float]] = {}
    face_cuts: dict[str, list[float]] = {}
    face_of = {edge.id: edge.face for edge in problem.edges}
    for edge_id, at in standing:
        cuts.setdefault(edge_id, []).append(at)
        face_cuts.setdefault(face_of[edge_id], []).append(at)
    origin: dict[str, str] = {}
    edges: list[Edge] = []
    for edge in problem.edges:
        for piece in _cut_edge(edge, cuts.get(edge.id, []), face_cuts.get(edge.face, [])):
            origin[piece.id] = edge.id
            edges.append(piece)
    faces = {f.id: f for face in problem.faces for f in _cut_face(face, face_cuts.get(face.id, []))}
    root = components((e.a, e.b) for e in edges)
    groups: dict[str, list[Edge]] = {}
    for piece in edges:
        groups.setdefault(root[piece.a], []).append(piece)
    parts = []
    for group in groups.values():
        if any(e.candidates for e in group):
            used = tuple(faces[f] for f in sorted({e.face for e in group}))
            wanted = tuple(_still_wanted(problem, standing, group, face_cuts))
            part = Problem(tuple(group), used, spacing_of(used, problem.spacing), wanted)
            parts.append(Part(part, {e.id: origin[e.id] for e in group}))
    return tuple(parts)


def _still_wanted(
    problem: Problem, standing: Sequence[Placed], part: Sequence[Edge], face_cuts: Mapping[str, Sequence[float]]
) -> Iterator[Wanted]:
    """What is asked for in a part and is not there yet, on the part's own faces."""
    face_of = {edge.id: edge.face for edge in problem.edges}
    for wanted in problem.wanted:
        if any(wanted.met_at(face_of[edge], at) for edge, at in standing):
            continue
        cut = tuple(
            (f"{face}#{bisect_right(sorted(face_cuts.get(face, ())), span.start)}", span) for face, span in wanted.stretches
        )
        here = wanted._replace(stretches=cut)
        if any(here.met_at(edge.face, c.at) for edge in part for c in edge.candidates):
            yield here


def _cut_edge(edge: Edge, cuts: list[float], face_cuts: list[float]) -> list[Edge]:
    bounds = [edge.span.start, *sorted(cuts), edge.span.end]
    last = len(bounds) - 2
    pieces = []
    for k, (start, end) in enumerate(pairwise(bounds)):
        inside = tuple(c for c in edge.candidates if start < c.at < end)
        face = f"{edge.face}#{bisect_right(sorted(face_cuts), start)}"
        a, b = edge.a if k == 0 else f"{edge.id}>{k}", edge.b if k == last else f"{edge.id}<{k}"
        free = tuple(s for s in (f.common(Span(start, end)) for f in edge.free) if s is not None)
        pieces.append(Edge(f"{edge.id}#{k}", face, a, b, Span(start, end), inside, free))
    return pieces


def _cut_face(face: Face, cuts: list[float]) -> list[Face]:
    bounds = [face.span.start, *sorted(cuts), face.span.end]
    last = len(bounds) - 2
    return [
        face._replace(
            id=f"{face.id}#{k}",
            span=Span(start, end),
            start=face.start if k == 0 else "joint",
            finish=face.finish if k == last else "joint",
        )
        for k, (start, end) in enumerate(pairwise(bounds))
    ]
