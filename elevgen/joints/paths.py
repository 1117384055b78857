"""Longest continuous paths through uncut masonry.

A path passes each meeting at most once and uses no stretch twice; it may end right against a meeting it has passed,
as a walk round a closed ring does.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from math import inf
from typing import NamedTuple

from elevgen.core.geometry import at_most

BUDGET = 20_000
"""Paths looked at before the longest found so far has to do."""


@dataclass(slots=True)
class Web:
    """Uncut masonry: `links` run from node to node, `stubs` from a node to a joint or an end."""

    links: list[tuple[str, str, float]] = field(default_factory=list)
    stubs: list[tuple[Hashable, str, float]] = field(default_factory=list)

    def ways(self) -> Mapping[str, list[tuple[int, str, float]]]:
        """From each node: link number, far node, length."""
        ways: dict[str, list[tuple[int, str, float]]] = {}
        for n, (u, v, length) in enumerate(self.links):
            ways.setdefault(u, []).append((n, v, length))
            ways.setdefault(v, []).append((n, u, length))
        return ways


class Reaches(NamedTuple):
    """What can be walked in a web: between stubs (by their names), from a stub to a dead end, and without any stub.

    Figures leave out the stubs' own lengths.
    """

    between: Mapping[tuple[Hashable, Hashable], float]
    inward: Mapping[Hashable, float]
    inside: float


def reaches(web: Web) -> Reaches:
    """Every longest path of a web."""
    ways = web.ways()
    at: dict[str, list[Hashable]] = {}
    for name, node, _ in web.stubs:
        at.setdefault(node, []).append(name)
    between: dict[tuple[Hashable, Hashable], float] = {}
    inward: dict[Hashable, float] = {}
    for name, node, _ in web.stubs:
        best = 0.0
        for reached, gone in _walk(ways, node, frozenset((node,)), frozenset(), 0.0):
            best = max(best, gone)
            for other in at.get(reached, ()) if reached is not None else ():
                if other != name:
                    between[name, other] = max(between.get((name, other), -inf), gone)
        inward[name] = best
    inside = 0.0
    for n, (u, v, length) in enumerate(web.links):
        for start in (u, v):
            end = v if start == u else u
            for _, gone in _walk(ways, end, frozenset((end,)), frozenset((n,)), length):
                inside = max(inside, gone)
    return Reaches(between, inward, inside)


def longest(web: Web) -> float:
    """The longest path of a web, its stubs included; in a web with very many ways round, the longest of the first ones tried."""
    if not web.links and len(web.stubs) <= 2:
        return sum(length for _, _, length in web.stubs)
    return max(islice(_lengths(web), BUDGET), default=0.0)


def exceeds(web: Web, limit: float) -> bool:
    """True when some path of the web is longer than the limit."""
    whole = sum(length for _, _, length in web.links) + sum(length for _, _, length in web.stubs)
    return not at_most(whole, limit) and any(not at_most(length, limit) for length in _lengths(web))


def _lengths(web: Web) -> Iterator[float]:
    """The length of every path that begins at a stub's end, or right against a node."""
    ways = web.ways()
    stubs: dict[str, list[tuple[Hashable, float]]] = {}
    for name, node, length in web.stubs:
        stubs.setdefault(node, []).append((name, length))
    begins = [(node, frozenset[int](), name, length) for name, node, length in web.stubs]
    begins += [(far, frozenset((n,)), None, length) for n, (u, v, length) in enumerate(web.links) for far in (u, v)]
    for node, used, own, gone in begins:
        for reached, way in _walk(ways, node, frozenset((node,)), used, gone):
            beyond = (length for name, length in stubs.get(reached, ()) if name != own) if reached is not None else ()
            yield way + max(beyond, default=0.0)


def _walk(
    ways: Mapping[str, list[tuple[int, str, float]]], node: str, passed: frozenset[str], used: frozenset[int], gone: float
) -> Iterator[tuple[str | None, float]]:
    """Every place reached: (node, way gone) where it can be passed, (None, way gone) where the walk ends against it."""
    yield node, gone
    for n, far, length in ways.get(node, ()):
        if n in used:
            continue
        if far in passed:
            yield None, gone + length
        else:
            yield from _walk(ways, far, passed | {far}, used | {n}, gone + length)


def components(edges: Iterable[tuple[str, str]], nodes: Iterable[str] = ()) -> dict[str, str]:
    """For each node the first node, in sorted order, it is connected to."""
    parent: dict[str, str] = {node: node for node in nodes}

    def root(node: str) -> str:
        parent.setdefault(node, node)
        while parent[node] != node:
            parent[node] = parent[parent[node]]
            node = parent[node]
        return node

    for a, b in edges:
        ra, rb = root(a), root(b)
        if ra != rb:
            parent[max(ra, rb)] = min(ra, rb)
    return {node: root(node) for node in sorted(parent)}
