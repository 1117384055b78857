"""Whether fewer joints would do off the bond: a count no answer undercuts wherever its joints stand, and places to try."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE
from elevgen.joints.audit import corners_missed
from elevgen.joints.eased import levelled, slopes
from elevgen.joints.line import asked_along, build, excess
from elevgen.joints.loose import fewest_anywhere
from elevgen.joints.problem import Candidate, Edge, Face, Placed, Problem, spacing_of
from elevgen.joints.pushing import fewest_on_chain, fewest_round_ring
from elevgen.joints.stretch import on_edges, stretches
from elevgen.joints.windows import windows

OffBond = Callable[[str, float], Candidate]
"""The candidate at a place of an edge off the bond's grid."""

_CHOICES = 4
"""Ways of spreading as few joints over the free stretches that are worth trying."""

_ROUNDS = 8
"""Times cells are split before a count is left unproven."""

_SAME = 0.001
"""Places closer than this (mm) are one candidate: well below what a limit is tested with."""


class Fewer(NamedTuple):
    """Fewer joints than `bound` will not do wherever they stand; `places` off the bond with which that many may."""

    bound: int
    places: tuple[Placed, ...] = ()


def fewer_on_line(
    problem: Problem, edges: Sequence[tuple[Edge, bool]], closed: bool, joints: Sequence[Placed], price: OffBond
) -> Fewer:
    """The same for a chain or a ring, given its best joints at candidates.

    Exact, but for a ring with panels limited by a sloping height: there the slope is left out of the proof.
    """
    length = sum(e.span.length for e, _ in edges)
    longest = max(spacing_of((face,), problem.spacing) for face in problem.faces)
    if ceil((length - TOLERANCE) / longest) - (not closed) >= len(joints):
        return Fewer(len(joints))
    missed = sum(excess(b.measured - b.limit) for b in corners_missed(problem, joints))
    found = _pushed(problem, edges, closed, problem.faces, len(joints) - 1, missed)
    bound = len(found[0]) if found else len(joints)
    if closed and any(slopes(face, spacing_of((face,), problem.spacing)) for face in problem.faces):
        easier = _pushed(problem, edges, closed, [levelled(f) for f in problem.faces], bound - 1, missed)
        bound = len(easier[0]) if easier else bound
    return Fewer(bound, tuple(_places(problem, [on_edges(edges, xs) for xs in found], price)))


def fewer_in_branches(problem: Problem, joints: Sequence[Placed], price: OffBond) -> Fewer:
    """The same for a part with branches.

    Its joints are counted in cells between candidates, which are split until the count is enough or can really be placed.
    Where neither happens soon, too little is proven.
    """
    cells, bound = problem, 0
    for _ in range(_ROUNDS):
        loose = fewest_anywhere(cells)
        bound = max(bound, loose.bound)
        if bound >= len(joints):
            return Fewer(len(joints))
        if not loose.joints:
            break
        if windows(problem, loose.joints):
            return Fewer(bound, tuple(_places(problem, [loose.joints], price)))
        cells = with_places(cells, _halves(cells, loose.joints), price)
    return Fewer(bound)


def _halves(problem: Problem, joints: Sequence[Placed]) -> Iterator[Placed]:
    """Joints between candidates, and the middles of the cells beside them."""
    edges = {edge.id: edge for edge in problem.edges}
    for edge_id, at in joints:
        home = next((s for s in edges[edge_id].free if s.contains(at)), None)
        if home is not None:
            beside = [c.at for c in edges[edge_id].candidates if home.contains(c.at)]
            k = bisect_left(beside, at)
            yield edge_id, at
            yield from ((edge_id, (u + v) / 2) for u, v in pairwise(beside[max(k - 1, 0) : k + 2]))


def with_places(problem: Problem, places: Iterable[Placed], price: OffBond) -> Problem:
    """The problem with those places as candidates too."""
    more: dict[str, list[float]] = {}
    for edge_id, at in places:
        more.setdefault(edge_id, []).append(at)
    return problem._replace(edges=tuple(_with(e, more[e.id], price) if e.id in more else e for e in problem.edges))


def _with(edge: Edge, places: Iterable[float], price: OffBond) -> Edge:
    candidates = {c.at: c for c in edge.candidates}
    for at in sorted(places):
        if all(abs(at - other) > _SAME for other in candidates) and edge.span.start < at < edge.span.end:
            candidates[at] = price(edge.id, at)
    return edge._replace(candidates=tuple(candidates[at] for at in sorted(candidates)))


def _pushed(
    problem: Problem, edges: Sequence[tuple[Edge, bool]], closed: bool, faces: Sequence[Face], most: int, missed: int
) -> list[tuple[float, ...]]:
    line, _ = build(edges, {f.id: f for f in faces}, problem.spacing)
    way = stretches(line.segments, edges)
    asked = asked_along(line.segments, problem.wanted)
    return (fewest_round_ring if closed else fewest_on_chain)(way, most, missed, asked)


def _places(problem: Problem, answers: Sequence[Sequence[Placed]], price: OffBond) -> Iterator[Placed]:
    """Each joint of the answers, the ends of its window and the middle, for the few answers likely to be liked best."""
    by_home: dict[tuple[object, ...], list[Sequence[Placed]]] = {}
    for joints in answers:
        by_home.setdefault(_homes(problem, joints), []).append(joints)
    choices = []
    for alike in by_home.values():
        room = windows(problem, alike[0])
        middles = [(edge, w.middle) for (edge, _), w in zip(alike[0], room, strict=True)] if room else list(alike[0])
        ends = [(edge, at) for (edge, _), w in zip(alike[0], room or (), strict=False) for at in (w.start, w.end)]
        choices.append((_liking(middles, price), [*middles, *ends, *(placed for joints in alike for placed in joints)]))
    for _, places in sorted(choices, key=lambda choice: choice[0])[:_CHOICES]:
        yield from places


def _homes(problem: Problem, joints: Sequence[Placed]) -> tuple[object, ...]:
    """Which free stretch each joint stands in."""
    free = {edge.id: edge.free for edge in problem.edges}
    return tuple((edge_id, next((s for s in free[edge_id] if s.contains(at)), at)) for edge_id, at in joints)


def _liking(joints: Sequence[Placed], price: OffBond) -> tuple[int, int, float]:
    """What ranks answers with as many joints, nearly: crowding, joints not hidden, uneven lengths on each edge."""
    candidates = [price(*placed) for placed in joints]
    squares = sum((v - u) ** 2 for (one, u), (two, v) in pairwise(sorted(joints)) if one == two)
    return sum(c.crowding for c in candidates), sum(not c.hidden for c in candidates), round(squares, 1)
