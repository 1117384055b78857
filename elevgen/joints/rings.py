"""Limbs left whole that tie nodes to each other: one by one, or small rings of them that are left whole altogether."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.joints.frontier import TooLarge
from elevgen.joints.limbs import Arm
from elevgen.joints.outlook import thousandths
from elevgen.joints.paths import Web as Masonry
from elevgen.joints.paths import components, reaches

MOST = 8
"""Rings that share limbs with each other before they are called too many."""


class Web(NamedTuple):
    """Limbs left whole together: the nodes they tie, the longest ways between those and those that end inside (0.001 mm)."""

    limbs: tuple[int, ...]
    nodes: tuple[str, ...]
    ways: tuple[tuple[int, ...], ...]
    inward: tuple[int, ...]

    def onto(self, paths: Sequence[int], limit: int) -> list[int] | None:
        """Given the longest path out of each node, the longest from it through the web; None where some path is too long."""
        far = []
        for i, path in enumerate(paths):
            others = (self.ways[i][j] + other for j, other in enumerate(paths) if j != i)
            far.append(max(self.inward[i], *others))
            if path + far[-1] > limit:
                return None
        return far


class Knot(NamedTuple):
    """Limbs to be settled together: one, or all those of rings that share limbs; the webs they may make when left whole."""

    limbs: tuple[int, ...]
    nodes: tuple[str, ...]
    webs: tuple[Web, ...]


def link(n: int, arm: Arm) -> Web:
    """One limb as a web."""
    length = thousandths(arm.limb.line.length)
    return Web((n,), arm.limb.nodes, ((0, length), (length, 0)), (0, 0))


def knots(arms: Sequence[Arm], limit: int) -> list[Knot]:
    """All limbs, by the rings they may close. A ring longer than the longest path allowed is never left whole."""
    rings = sorted(set(_rings(arms, limit)), key=sorted)
    names = [f"{n:06d}" for n in range(len(arms))]
    root = components(((names[min(ring)], names[n]) for ring in rings for n in ring), names)
    together: dict[str, list[int]] = {}
    for n, name in enumerate(names):
        together.setdefault(root[name], []).append(n)
    return [_knot(limbs, [ring for ring in rings if min(ring) in limbs], arms, limit) for limbs in together.values()]


def _knot(limbs: Sequence[int], rings: Sequence[frozenset[int]], arms: Sequence[Arm], limit: int) -> Knot:
    ends = [(node, dead) for n in limbs for node, dead in zip(arms[n].limb.nodes, arms[n].limb.dead, strict=True)]
    nodes = dict.fromkeys(node for node, dead in ends if not dead)
    return Knot(tuple(limbs), tuple(nodes), tuple(_webs(rings, arms, limit)))


_Ways = Mapping[str, Sequence[tuple[int, str, int]]]
"""From each node: limb, far node, length."""


def _rings(arms: Sequence[Arm], limit: int) -> Iterator[frozenset[int]]:
    """The limbs of every ring that is short enough to be left whole."""
    at: dict[str, list[tuple[int, str, int]]] = {}
    for n, arm in enumerate(arms):
        u, v = arm.limb.nodes
        length = thousandths(arm.limb.line.length)
        if arm.whole_cost is not None and length <= limit and not any(arm.limb.dead):
            at.setdefault(u, []).append((n, v, length))
            at.setdefault(v, []).append((n, u, length))
    for start in sorted(at):
        yield from _round(at, start, (start,), (), limit)


def _round(at: _Ways, start: str, passed: tuple[str, ...], used: tuple[int, ...], left: int) -> Iterator[frozenset[int]]:
    """Rings through a node that is the first of theirs by name."""
    for n, far, length in at[passed[-1]]:
        if n in used or length > left:
            continue
        if far == start:
            yield frozenset((*used, n))
        elif far > start and far not in passed:
            yield from _round(at, start, (*passed, far), (*used, n), left - length)


def _webs(rings: Sequence[frozenset[int]], arms: Sequence[Arm], limit: int) -> Iterator[Web]:
    """Every union of rings that may be left whole together."""
    if len(rings) > MOST:
        raise TooLarge
    unions: set[frozenset[int]] = set()
    for ring in rings:
        unions |= {ring, *(ring | union for union in unions)}
    for limbs in sorted(unions, key=sorted):
        nodes = sorted({node for n in limbs for node in arms[n].limb.nodes})
        links = [(*arms[n].limb.nodes, arms[n].limb.line.length) for n in sorted(limbs)]
        found = reaches(Masonry(links, [(node, node, 0.0) for node in nodes]))
        apart = any((u, v) not in found.between for u in nodes for v in nodes if u != v)
        if thousandths(found.inside) <= limit and not apart:
            ways = tuple(tuple(0 if u == v else thousandths(found.between[u, v]) for v in nodes) for u in nodes)
            yield Web(tuple(sorted(limbs)), tuple(nodes), ways, tuple(thousandths(found.inward[node]) for node in nodes))
