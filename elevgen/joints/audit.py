"""What a set of joints leaves: pieces and their longest paths, the straight panels, and the rules still broken."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from elevgen.core.geometry import Span, at_most
from elevgen.joints.paths import Web, components, longest
from elevgen.joints.problem import HAIR, Edge, Face, FaceEnd, Placed, Problem, spacing_of, strictest_face


class Remnant(NamedTuple):
    """A connected piece between joints: its longest path, the stretches of edges in it, and the joints that border it.

    `spacing` is the longest path allowed in it, by the strictest of the faces it has, `face`.
    """

    longest: float
    stretches: tuple[tuple[str, Span], ...]
    joints: tuple[Placed, ...]
    spacing: float
    face: str

    @property
    def short_enough(self) -> bool:
        return at_most(self.longest, self.spacing)


class Straight(NamedTuple):
    """A straight stretch of a face between joints or the face's ends."""

    face: Face
    span: Span
    start: FaceEnd
    finish: FaceEnd


class Broken(NamedTuple):
    """A rule not kept by the joints: `spacing` by a remnant, `panel` or `corner` by a straight stretch.

    `face` is the one whose rule it is: of a remnant the strictest.
    """

    rule: Literal["spacing", "panel", "corner"]
    stretches: tuple[tuple[str, Span], ...]
    measured: float
    limit: float
    face: str


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
    faces, face_of = {face.id: face for face in problem.faces}, {edge.id: edge.face for edge in problem.edges}
    found = []
    for name, web in webs.items():
        strictest = strictest_face(faces[face_of[edge]] for edge in _more_than_a_hair(held[name]))
        allowed = spacing_of((strictest,), problem.spacing)
        found.append(Remnant(longest(web), tuple(held[name]), tuple(borders[name]), allowed, strictest.id))
    return tuple(found)


def _more_than_a_hair(held: Sequence[tuple[str, Span]]) -> list[str]:
    """The edges a piece has some of: a joint at the very end of an edge leaves nothing of it."""
    return [edge for edge, span in held if span.length > HAIR] or [edge for edge, _ in held]


def joined(
    pieces: Collection[Remnant], joint: Placed, edges: Mapping[str, Edge], faces: Mapping[str, Face], otherwise: float
) -> Problem:
    """The masonry there would be without a joint, between the other joints: the one piece that borders it, or the two that do.

    Its edges are named by those they are parts of and where they start there (`W1/outer:0@0.0`).
    """
    parts: list[Edge] = []
    for piece in pieces:
        for name, span in piece.stretches:
            edge = edges[name]
            a, b = (name, span.start, ">"), (name, span.end, "<")
            ends = [
                node if at == end else f"{name}@{at}" if (name, at) == joint else f"{name}@{at}{side}"
                for (_, at, side), end, node in ((a, edge.span.start, edge.a), (b, edge.span.end, edge.b))
            ]
            parts.append(Edge(f"{name}@{span.start}", edge.face, ends[0], ends[1], span))
    return Problem(tuple(parts), tuple(faces[name] for name in sorted({part.face for part in parts})), otherwise)


def rejoined(
    pieces: Collection[Remnant], joint: Placed, edges: Mapping[str, Edge], faces: Mapping[str, Face], otherwise: float
) -> Remnant:
    """The one piece there would be without a joint."""
    (whole,) = remnants(joined(pieces, joint, edges, faces, otherwise), ())
    return whole


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
        Broken("spacing", r.stretches, r.longest, r.spacing, r.face) for r in remnants(problem, joints) if not r.short_enough
    ]
    shortest = {face.id: face.panels().start for face in problem.faces}
    for s in straights(problem, joints):
        limit = None if at_most(s.span.length, shortest[s.face.id]) else s.face.panel_limit(s.span)
        if limit is not None and not at_most(s.span.length, limit):
            found.append(Broken("panel", ((s.face.id, s.span),), s.span.length, limit, s.face.id))
    return (*found, *corners_missed(problem, joints))


def corners_missed(problem: Problem, joints: Collection[Placed]) -> tuple[Broken, ...]:
    """Corners whose first joint stands too far off."""
    return tuple(
        Broken("corner", ((s.face.id, s.span),), s.span.length, s.face.corner_reach, s.face.id)
        for s in straights(problem, joints)
        if s.face.corner_reach is not None
        and {s.start, s.finish} == {"corner", "joint"}
        and not at_most(s.span.length, s.face.corner_reach)
    )
