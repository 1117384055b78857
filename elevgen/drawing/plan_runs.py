"""Runs as the plan tells of them: how far along a run a place lies, and the longest masonry in it without a joint."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from elevgen.building.model import Run, RunEdge
from elevgen.checks._masonry import through_joints
from elevgen.checks._paths import Way, longest, pieces
from elevgen.checks._spacing import allowed
from elevgen.core.geometry import TOLERANCE
from elevgen.result import Design

_Way = tuple[float, bool]
"""How far along its run a stretch begins, and whether it is walked from its start to its end."""


class Developed:
    """A run measured along the masonry from its start: straight on where it can go on, then back for each branch.

    The start is the first of its ends, or where a ring is in it the start of its first stretch.
    """

    def __init__(self, run: Run) -> None:
        self.run = run
        self._edges_at: dict[str, list[RunEdge]] = {}
        for edge in run.edges:
            self._edges_at.setdefault(edge.a, []).append(edge)
            self._edges_at.setdefault(edge.b, []).append(edge)
        ends = [node for node, edges in self._edges_at.items() if len(edges) == 1]
        ring = len(run.edges) >= len(self._edges_at)
        self.start = run.edges[0].a if ring else ends[0]
        self.nodes: dict[str, float] = {self.start: 0.0}
        self._walked: dict[str, _Way] = {}
        self._walk()
        self._by_leaf: dict[str, list[RunEdge]] = {}
        for edge in run.edges:
            self._by_leaf.setdefault(edge.leaf, []).append(edge)

    def along(self, leaf: str, at: float) -> float | None:
        """How far along the run a place on one of its leaves lies, mm; None where the run does not pass it."""
        edge = next((e for e in self._by_leaf.get(leaf, ()) if e.span.contains(at)), None)
        if edge is None:
            return None
        begun, forwards = self._walked[edge.id]
        return begun + (at - edge.span.start if forwards else edge.span.end - at)

    def _walk(self) -> None:
        """Depth first, without calling itself: runs may be long."""
        waiting = [(self.start, edge) for edge in self._onward(self.start, None)]
        while waiting:
            node, edge = waiting.pop()
            if edge.id in self._walked:
                continue
            beyond = edge.b if node == edge.a else edge.a
            self._walked[edge.id] = (self.nodes[node], node == edge.a)
            if beyond not in self.nodes:
                self.nodes[beyond] = self.nodes[node] + edge.span.length
                waiting += [(beyond, onward) for onward in self._onward(beyond, edge)]

    def _onward(self, node: str, came: RunEdge | None) -> list[RunEdge]:
        """The stretches that leave a node, the one to walk first last: on along the same leaf."""
        edges = [edge for edge in self._edges_at[node] if edge is not came]
        return sorted(edges, key=lambda e: (came is not None and e.leaf == came.leaf, -self.run.edges.index(e)))


LONGER = 5.0
"""So much longer (mm) is longer as it is told, in metres to a hundredth."""


class Unbroken(NamedTuple):
    """The masonry of a run between joints: how many pieces, the longest way through the worst of them, and what is allowed it.

    `allowed` is the usual spacing of the leaves it passes; None where the rule set has none. `longest`: the longest way of all,
    where that is another that is allowed more; None where it is not.
    """

    pieces: int
    way: Way
    allowed: float | None
    longest: Way | None


def unbroken(design: Design) -> dict[str, Unbroken]:
    """For every run, the piece that comes nearest to what is allowed it, or exceeds it most. Measured as the checks do."""
    rules = {leaf.id: allowed(design, leaf) for leaf in design.building.leaves}
    usual = {leaf: rule.usual for leaf, rule in rules.items() if rule.usual_source is not None}
    cuts = {leaf: [joint.at for joint in joints] for leaf, joints in through_joints(design).items()}
    return {run.id: _worst(run, cuts, usual) for run in design.runs}


def _worst(run: Run, cuts: Mapping[str, list[float]], usual: Mapping[str, float]) -> Unbroken:
    parts = [part for part in pieces(run, cuts) if sum(s.span.length for s in part) > TOLERANCE]
    ways = [longest(part, usual) for part in parts]
    worst = max(ways, key=lambda way: (way.length / way.allowed, way.length))
    most = max(ways, key=lambda way: way.length)
    longer = most if most.length > worst.length + LONGER else None
    return Unbroken(len(parts), worst, worst.allowed if worst.allowed < float("inf") else None, longer)


def place_words(design: Design, leaf: str, at: float, written: str) -> str:
    """A place on a leaf in words: the joint that stands there, or the leaf and how far along it."""
    joint = next((j for j in design.plan.joints if j.leaf == leaf and abs(j.at - at) <= TOLERANCE), None)
    return joint.id if joint else f"{leaf} {written}"
