"""What is left of a run once its joints are cut, and the longest way through each piece of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import NamedTuple

from elevgen.building.model import Run
from elevgen.core.geometry import Span

BUDGET = 20_000
"""Steps spent on one piece with several ways round before the longest way found is given as `at least`."""


class Stretch(NamedTuple):
    """A straight part of a piece between two nodes; `a` lies at the start of the span, `b` at its end."""

    a: str
    b: str
    leaf: str
    span: Span

    def at(self, node: str) -> tuple[str, float]:
        """Leaf and position of one of its nodes."""
        return self.leaf, self.span.start if node == self.a else self.span.end


class Way(NamedTuple):
    """A way through a piece, and the least that the leaves it passes allow.

    From a place on one leaf to a place on another; `closed` when it comes back to where it began.
    `exact` is False when there may be a longer one. `stretches` are those it passes, in order.
    """

    length: float
    allowed: float
    start: tuple[str, float]
    end: tuple[str, float]
    leaves: tuple[str, ...]
    closed: bool
    exact: bool
    stretches: tuple[Stretch, ...]


_Links = dict[str, list[tuple[int, str]]]


def pieces(run: Run, cuts: Mapping[str, Sequence[float]]) -> list[tuple[Stretch, ...]]:
    """The connected pieces of a run after cutting every leaf at its positions."""
    members: dict[str, list[Stretch]] = {}
    for edge in run.edges:
        for part in _cut(edge.id, edge.leaf, edge.span, edge.a, edge.b, cuts.get(edge.leaf, ())):
            together = [part]
            for piece in {id(p): p for node in (part.a, part.b) if (p := members.get(node))}.values():
                together += piece
            for stretch in together:
                members[stretch.a] = members[stretch.b] = together
    return [tuple(piece) for piece in {id(p): p for p in members.values()}.values()]


def _cut(edge: str, leaf: str, span: Span, a: str, b: str, cuts: Sequence[float]) -> Iterator[Stretch]:
    node, at = a, span.start
    for number, cut in enumerate(sorted(c for c in cuts if span.contains(c))):
        yield Stretch(node, f"{edge}|{number}<", leaf, Span(at, min(max(cut, at), span.end)))
        node, at = f"{edge}|{number}>", min(max(cut, at), span.end)
    yield Stretch(node, b, leaf, Span(at, span.end))


def longest(piece: Sequence[Stretch], allowed: Mapping[str, float]) -> Way:
    """The way through the piece that is longest against the least its leaves allow.

    A way passes no node twice and uses no stretch twice; it may end against a node it has passed, as a way all round
    a ring does. Leaves not in `allowed` have no limit.
    """
    links: _Links = {}
    for i, stretch in enumerate(piece):
        links.setdefault(stretch.a, []).append((i, stretch.b))
        links.setdefault(stretch.b, []).append((i, stretch.a))
    limits = [allowed.get(stretch.leaf, inf) for stretch in piece]
    is_tree = len(links) == len(piece) + 1
    if is_tree and len(set(limits)) == 1:
        far, _ = _farthest(piece, links, piece[0].a)
        other, route = _farthest(piece, links, far)
        return _way(piece, limits, far, other, route, exact=True)
    starts = [node for node, ways in links.items() if len(ways) == 1] if is_tree else list(links)
    best = (-1.0, -1.0)
    way = _way(piece, limits, piece[0].a, piece[0].b, [0], exact=True)
    budget = BUDGET
    for start in starts:
        for end, route, length, least in _walks(piece, links, limits, start):
            if (score := (length / least, length)) > best:
                best, way = score, _way(piece, limits, start, end, route, exact=True)
            budget -= 1
            if budget == 0:
                return way._replace(exact=False)
    return way


def _farthest(piece: Sequence[Stretch], links: _Links, start: str) -> tuple[str, list[int]]:
    """The node of a tree farthest from `start`, and the way from `start` to it."""
    came: dict[str, tuple[float, int, str]] = {start: (0.0, -1, "")}
    waiting = [start]
    for node in waiting:
        for i, beyond in links[node]:
            if beyond not in came:
                came[beyond] = (came[node][0] + piece[i].span.length, i, node)
                waiting.append(beyond)
    far = node = max(waiting, key=lambda n: came[n][0])
    route: list[int] = []
    while node != start:
        route.append(came[node][1])
        node = came[node][2]
    return far, route[::-1]


def _walks(
    piece: Sequence[Stretch], links: _Links, limits: Sequence[float], start: str
) -> Iterator[tuple[str, list[int], float, float]]:
    """Every way from a node: where it has got to, the stretches passed, their length and the least they allow."""
    route: list[int] = []
    reached = [(start, 0.0, inf)]
    untried = [iter(links[start])]
    passed = {start}
    while untried:
        step = next(untried[-1], None)
        if step is None:
            untried.pop()
            passed.discard(reached.pop()[0])
            if route:
                route.pop()
            continue
        i, node = step
        length, least = reached[-1][1] + piece[i].span.length, min(reached[-1][2], limits[i])
        if node in passed:
            if i not in route:
                yield node, [*route, i], length, least
        else:
            route.append(i)
            reached.append((node, length, least))
            untried.append(iter(links[node]))
            passed.add(node)
            yield node, route, length, least


def _way(piece: Sequence[Stretch], limits: Sequence[float], start: str, end: str, route: Sequence[int], *, exact: bool) -> Way:
    return Way(
        length=sum(piece[i].span.length for i in route),
        allowed=min((limits[i] for i in route), default=inf),
        start=piece[route[0]].at(start) if route else piece[0].at(start),
        end=piece[route[-1]].at(end) if route else piece[0].at(end),
        leaves=tuple(dict.fromkeys(piece[i].leaf for i in route)),
        closed=start == end and len(route) > 1,
        exact=exact,
        stretches=tuple(piece[i] for i in route),
    )
