"""Trace: the runs of tied masonry, as graphs of straight stretches.

Lengths are measured along the right-hand faces of the leaves, so round the outside of a building.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Meeting, NodeKind, Run, RunEdge, RunNode
from elevgen.core.geometry import TOLERANCE, Span

_Place = tuple[str, float]
"""A leaf, and a position along it."""


class _Stretch(NamedTuple):
    """A straight stretch of a leaf between two nodes, each known by one of its places."""

    leaf: str
    span: Span
    a: _Place
    b: _Place


def trace(building: Building) -> tuple[Run, ...]:
    """Every run of the building, in the order of its first leaf.

    Bonded and tied meetings connect; jointed and free ones do not. A leaf that a wall runs right through is two
    stretches, which that wall connects or, where they are jointed, parts into two runs. So does a gate from base to top.
    """
    nodes = _Nodes(building)
    stretches = [stretch for leaf in building.leaves for stretch in nodes.stretches(leaf)]
    kinds = _node_kinds(building.meetings, nodes)
    places = nodes.places()
    return tuple(_run(f"R{n}", group, kinds, places) for n, group in enumerate(_connected(stretches), start=1))


class _Nodes:
    """The places where leaves end or are met; those that masonry connects are one node."""

    def __init__(self, building: Building) -> None:
        self.gaps = {leaf.id: leaf.breaks for leaf in building.leaves}
        self.on_leaf: dict[str, list[float]] = {leaf.id: [] for leaf in building.leaves}
        self.parent: dict[_Place, _Place] = {}
        for leaf in building.leaves:
            for span in (leaf.span, *self.gaps[leaf.id]):
                self.place(leaf.id, span.start)
                self.place(leaf.id, span.end)
        for meeting in building.meetings:
            if meeting.continuous:
                host = self.place(meeting.host, meeting.host_at)
                for at in self._met_at(meeting):
                    self.parent[self.root(self.place(meeting.stem, at))] = self.root(host)

    def place(self, leaf: str, at: float) -> _Place:
        """The place on a leaf at a position, made if there is none yet."""
        known = next((p for p in self.on_leaf[leaf] if abs(p - at) <= TOLERANCE), None)
        if known is None:
            known = at
            self.on_leaf[leaf].append(at)
            self.parent[leaf, at] = (leaf, at)
        return leaf, known

    def root(self, place: _Place) -> _Place:
        while self.parent[place] != place:
            place = self.parent[place]
        return place

    def stretches(self, leaf: Leaf) -> list[_Stretch]:
        """The leaf between its nodes, without the gaps where other walls run through or nothing is built."""
        found = []
        for a, b in pairwise(sorted(self.on_leaf[leaf.id])):
            span = Span(a, b)
            if not any(gap.contains(span.middle) for gap in self.gaps[leaf.id]):
                found.append(_Stretch(leaf.id, span, self.root((leaf.id, a)), self.root((leaf.id, b))))
        return found

    def places(self) -> dict[_Place, list[_Place]]:
        """Every place of each node, leaf by leaf."""
        found: dict[_Place, list[_Place]] = {}
        for leaf, positions in self.on_leaf.items():
            for at in sorted(positions):
                found.setdefault(self.root((leaf, at)), []).append((leaf, at))
        return found

    def _met_at(self, meeting: Meeting) -> tuple[float, ...]:
        """The stem's places at a meeting: both sides of a gap when it is met in the middle of one."""
        gap = next((g for g in self.gaps[meeting.stem] if g.contains(meeting.stem_at)), None)
        if gap is None or min(meeting.stem_at - gap.start, gap.end - meeting.stem_at) <= TOLERANCE:
            return (meeting.stem_at,)
        return gap.start, gap.end


def _node_kinds(meetings: Sequence[Meeting], nodes: _Nodes) -> dict[_Place, NodeKind]:
    """What stands at each node that has a meeting: where several meet, the one with most ways out of it names it."""
    rank: tuple[NodeKind, ...] = ("end", "corner", "tee", "cross")
    kinds: dict[_Place, NodeKind] = {}
    for meeting in meetings:
        if meeting.continuous:
            node = nodes.root(nodes.place(meeting.host, meeting.host_at))
            kinds[node] = max(meeting.kind, kinds.get(node, "end"), key=rank.index)
    return kinds


def _connected(stretches: Sequence[_Stretch]) -> list[list[_Stretch]]:
    """The stretches in groups that share nodes, each in the order given."""
    at_node: dict[_Place, list[int]] = {}
    for i, stretch in enumerate(stretches):
        for node in (stretch.a, stretch.b):
            at_node.setdefault(node, []).append(i)
    groups: list[list[_Stretch]] = []
    seen: set[int] = set()
    for first in range(len(stretches)):
        if first in seen:
            continue
        seen.add(first)
        group = [first]
        for i in group:
            near = dict.fromkeys((*at_node[stretches[i].a], *at_node[stretches[i].b]))
            new = [j for j in near if j not in seen]
            seen.update(new)
            group += new
        groups.append([stretches[i] for i in sorted(group)])
    return groups


def _run(run_id: str, stretches: Sequence[_Stretch], kinds: dict[_Place, NodeKind], places: dict[_Place, list[_Place]]) -> Run:
    names: dict[_Place, str] = {}
    for stretch in stretches:
        for node in (stretch.a, stretch.b):
            names.setdefault(node, f"{run_id}.N{len(names) + 1}")
    edges = tuple(RunEdge(f"{run_id}.E{n}", s.leaf, s.span, names[s.a], names[s.b]) for n, s in enumerate(stretches, start=1))
    nodes = tuple(RunNode(name, kinds.get(node, "end"), tuple(places[node])) for node, name in names.items())
    degree = dict.fromkeys(names.values(), 0)
    for edge in edges:
        degree[edge.a] += 1
        degree[edge.b] += 1
    closed = all(d == 2 for d in degree.values())
    return Run(run_id, edges, nodes, sum(edge.span.length for edge in edges), closed)
