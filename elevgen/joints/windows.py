"""How far each joint of a set can move within its free stretch while the others make room, exactly.

Every rule sets a limit to one position, to the difference of two (neighbours on a line) or to the sum of two distances
(joints that border one branched piece). The tightest limits such a system implies follow from shortest paths over the
positions and their negatives; the middles of all the windows keep every limit together.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import inf
from typing import Literal, NamedTuple

import numpy as np

from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.paths import Web, components, reaches
from elevgen.joints.problem import Edge, Face, Placed, Problem, spacing_of

Sign = Literal[1, -1]


class _Limit(NamedTuple):
    """`sign` x position of joint `joint`, plus the same of the other if there is one, comes to at most `most`."""

    joint: int
    sign: Sign
    most: float
    other: int | None = None
    other_sign: Sign = 1


def windows(problem: Problem, joints: Sequence[Placed]) -> tuple[Span, ...] | None:
    """The window of each joint; None where no positions in the same free stretches keep every rule.

    A panel limit that slopes is taken at the least it may be, so that a window may then be too narrow, or None in error.
    """
    limits = list(_limits(problem, sorted(joints)))
    if any(limit.most < -TOLERANCE for limit in limits if limit.joint < 0):
        return None
    best = np.full((2 * len(joints), 2 * len(joints)), inf)
    np.fill_diagonal(best, 0.0)
    for limit in limits:
        if limit.joint < 0:
            continue
        one = _node(limit.joint, limit.sign)
        two, most = (one, 2 * limit.most) if limit.other is None else (_node(limit.other, limit.other_sign), limit.most)
        best[two ^ 1, one] = min(best[two ^ 1, one], most)
        best[one ^ 1, two] = min(best[one ^ 1, two], most)
    for via in range(len(best)):
        np.minimum(best, best[:, via, None] + best[via], out=best)
    if best.diagonal().min() < -TOLERANCE:
        return None
    found = [Span(-float(best[2 * n, 2 * n + 1]) / 2, float(best[2 * n + 1, 2 * n]) / 2) for n in range(len(joints))]
    order = {placed: n for n, placed in enumerate(sorted(joints))}
    return tuple(found[order[placed]] for placed in joints)


def _node(joint: int, sign: Sign) -> int:
    """A position is an even node, its negative the odd one after it."""
    return 2 * joint + (sign < 0)


def _limits(problem: Problem, joints: Sequence[Placed]) -> Iterator[_Limit]:
    number = {placed: n for n, placed in enumerate(joints)}
    on: dict[str, list[float]] = {}
    for edge_id, at in joints:
        on.setdefault(edge_id, []).append(at)
    for edge in problem.edges:
        for at in on.get(edge.id, ()):
            home = next((s for s in edge.free if s.contains(at)), Span(at, at))
            yield _Limit(number[edge.id, at], 1, home.end)
            yield _Limit(number[edge.id, at], -1, -home.start)
    yield from _path_limits(problem, on, number)
    for face in problem.faces:
        edges = sorted((e for e in problem.edges if e.face == face.id), key=lambda e: e.span)
        yield from _face_limits(face, edges, [(e.id, at) for e in edges for at in on.get(e.id, ())], number)


def _path_limits(problem: Problem, on: Mapping[str, list[float]], number: Mapping[Placed, int]) -> Iterator[_Limit]:
    root = components(((e.a, e.b) for e in problem.edges if e.id not in on), {n for e in problem.edges for n in (e.a, e.b)})
    webs: dict[str, Web] = {}
    held: dict[str, list[Face]] = {}
    nearest: dict[Hashable, _Limit] = {}
    faces = {face.id: face for face in problem.faces}
    for edge in problem.edges:
        face = faces[edge.face]
        if edge.id not in on:
            webs.setdefault(root[edge.a], Web()).links.append((edge.a, edge.b, edge.span.length))
            held.setdefault(root[edge.a], []).append(face)
            continue
        numbers = [number[edge.id, at] for at in on[edge.id]]
        yield from (_Limit(two, 1, spacing_of((face,), problem.spacing), one, -1) for one, two in pairwise(numbers))
        for node, limit in (
            (edge.a, _Limit(numbers[0], 1, edge.span.start)),
            (edge.b, _Limit(numbers[-1], -1, -edge.span.end)),
        ):
            nearest[edge.id, limit.sign] = limit
            webs.setdefault(root[node], Web()).stubs.append(((edge.id, limit.sign), node, 0.0))
            held.setdefault(root[node], []).append(face)
    for name, web in webs.items():
        spacing, found = spacing_of(held[name], problem.spacing), reaches(web)
        yield _Limit(-1, 1, spacing - found.inside)
        for stub, inward in found.inward.items():
            limit = nearest[stub]
            yield limit._replace(most=limit.most + spacing - inward)
        for (one, two), between in found.between.items():
            a, b = nearest[one], nearest[two]
            most = a.most + b.most + spacing - between
            if a.joint == b.joint:
                yield _Limit(-1, 1, most)
            else:
                yield _Limit(a.joint, a.sign, most, b.joint, b.sign)


def _face_limits(face: Face, edges: Sequence[Edge], joints: Sequence[Placed], number: Mapping[Placed, int]) -> Iterator[_Limit]:
    free = [s for e in edges for s in e.free]
    marks: list[tuple[float, int | None]] = [(at, number[edge_id, at]) for edge_id, at in joints]
    marks = [(face.span.start, None), *marks, (face.span.end, None)]
    for (u, one), (v, two) in pairwise(marks):
        most = None if face.panel is None else face.panel.lowest(Span(u, v))
        if most is None or not any(s.end > u + TOLERANCE and s.start < v - TOLERANCE for s in free):
            continue
        if one is not None and two is not None:
            yield _Limit(two, 1, most, one, -1)
        elif two is not None:
            yield _Limit(two, 1, u + most)
        elif one is not None:
            yield _Limit(one, -1, most - v)
        else:
            yield _Limit(-1, 1, most - (v - u))
    if joints and free and face.corner_reach is not None:
        if face.start == "corner":
            yield _Limit(number[joints[0]], 1, max(face.span.start + face.corner_reach, free[0].start))
        if face.finish == "corner":
            yield _Limit(number[joints[-1]], -1, -min(face.span.end - face.corner_reach, free[-1].end))
