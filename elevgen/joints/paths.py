"""Longest continuous paths through uncut masonry.

A path passes each meeting at most once and uses no stretch twice; it may end right against a meeting it has passed,
as a walk round a closed ring does.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, field
from math import inf


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


@dataclass(frozen=True, slots=True)
class Reaches:
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
    """The longest path of a web, its stubs included."""
    found = reaches(web)
    lengths = {name: length for name, _, length in web.stubs}
    ends = [length + found.inward[name] for name, length in lengths.items()]
    pairs = [lengths[a] + gone + lengths[b] for (a, b), gone in found.between.items()]
    return max((found.inside, *ends, *pairs))


def _walk(
    ways: Mapping[str, list[tuple[int, str, float]]], node: str, passed: frozenset[str], used: frozenset[int], gone: float
) -> Iterable[tuple[str | None, float]]:
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
