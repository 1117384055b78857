"""What a set of joints leaves: pieces and their longest paths, the straight panels, and the rules still broken."""

from __future__ import annotations

from collections.abc import Collection
from itertools import pairwise
from typing import Literal, NamedTuple

from elevgen.core.geometry import Span, at_most
from elevgen.joints.paths import Web, components, longest
from elevgen.joints.problem import Face, FaceEnd, Placed, Problem


class Remnant(NamedTuple):
    """A connected piece between joints: its longest path, the stretches of edges in it, and the joints that border it."""

    longest: float
    stretches: tuple[tuple[str, Span], ...]
    joints: tuple[Placed, ...]


class Straight(NamedTuple):
    """A straight stretch of a face between joints or the face's ends."""

    face: Face
    span: Span
    start: FaceEnd
    finish: FaceEnd


class Broken(NamedTuple):
    """A rule not kept by the joints: `spacing` by a remnant, `panel` or `corner` by a straight stretch."""

    rule: Literal["spacing", "panel", "corner"]
    stretches: tuple[tuple[str, Span], ...]
    measured: float
    limit: float


def remnants(problem: Problem, joints: Collection[Placed]) -> tuple[Remnant, ...]:
    """The pieces of the masonry once it is cut at the joints, in the order of their first edges."""
    cuts: dict[str, list[float]] = {}
    for edge_id, at in joints:
        cuts.setdefault(edge_id, []).append(at)
    root = components((e.a, e.b) for e in problem.edges if e.id not in cuts)
    webs: dict[str, Web] = {}
    held: dict[str, list[tuple[str, Span]]] = {}
    borders: dict[str, list[Placed]] = {}
    for edge in problem.edges:
        bounds = [edge.span.start, *sorted(cuts.get(edge.id, ())), edge.span.end]
        for k, (u, v) in enumerate(pairwise(bounds)):
            first, last = k == 0, k == len(bounds) - 2
            name = root.get(edge.a, edge.a) if first else root.get(edge.b, edge.b) if last else f"{edge.id}|{k}"
            web = webs.setdefault(name, Web())
            held.setdefault(name, []).append((edge.id, Span(u, v)))
            borders.setdefault(name, []).extend((edge.id, at) for at, end in ((u, first), (v, last)) if not end)
            if first and last:
                web.links.append((edge.a, edge.b, v - u))
            else:
                web.stubs.append(((edge.id, k), edge.a if first else edge.b if last else name, v - u))
    return tuple(Remnant(longest(webs[name]), tuple(held[name]), tuple(borders[name])) for name in webs)


def straights(problem: Problem, joints: Collection[Placed]) -> tuple[Straight, ...]:
    """Every straight stretch, face by face."""
    faces = {edge.id: edge.face for edge in problem.edges}
    found = []
    for face in problem.faces:
        marks: list[tuple[float, FaceEnd]] = [(face.span.start, face.start)]
        marks += [(at, "joint") for at in sorted(at for edge_id, at in joints if faces[edge_id] == face.id)]
        marks.append((face.span.end, face.finish))
        found += [Straight(face, Span(u, v), start, finish) for (u, start), (v, finish) in pairwise(marks)]
    return tuple(found)


def broken(problem: Problem, joints: Collection[Placed]) -> tuple[Broken, ...]:
    """Every rule the joints do not keep, and by how much."""
    found = [
        Broken("spacing", r.stretches, r.longest, problem.spacing)
        for r in remnants(problem, joints)
        if not at_most(r.longest, problem.spacing)
    ]
    for s in straights(problem, joints):
        limit = s.face.panel_limit(s.span)
        if limit is not None and not at_most(s.span.length, limit):
            found.append(Broken("panel", ((s.face.id, s.span),), s.span.length, limit))
    return (*found, *corners_missed(problem, joints))


def corners_missed(problem: Problem, joints: Collection[Placed]) -> tuple[Broken, ...]:
    """Corners whose first joint stands too far off."""
    return tuple(
        Broken("corner", ((s.face.id, s.span),), s.span.length, s.face.corner_reach)
        for s in straights(problem, joints)
        if s.face.corner_reach is not None
        and {s.start, s.finish} == {"corner", "joint"}
        and not at_most(s.span.length, s.face.corner_reach)
    )
