"""From a run of the building to a placement problem, and back to the leaves its edges lie on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import radians, sin
from typing import NamedTuple

from elevgen.building.demand import LintelDemand
from elevgen.building.model import Building, GivenJoint, Leaf, Profile, Run, RunEdge
from elevgen.core.geometry import TOLERANCE, Span, cross, direction
from elevgen.joints.candidates import Liking, Site, free_stretches, off_bond, places, site
from elevgen.joints.limits import BESIDE, BESIDE_CORNER, LeafLimits, corner_reach, governing, leaf_limits
from elevgen.joints.problem import Candidate, Edge, Face, FaceEnd, Placed, Problem
from elevgen.joints.width import alike, joint_width
from elevgen.rules.book import RuleReader

_STRAIGHT = sin(radians(10))
"""Walls that turn by less are one straight wall: their meeting is no return."""


class Surveyed(NamedTuple):
    """A run as a problem. `leaves` gives the leaf of each edge, `sites` what limits each leaf's joints.

    `given` are joints of the spec by edge and position. `rule` is the leaf whose spacing governs the run, `clear` how far
    joints are liked to keep from openings and corners.
    """

    run: Run
    problem: Problem
    leaves: Mapping[str, str]
    sites: Mapping[str, Site]
    given: Mapping[Placed, GivenJoint]
    limits: Mapping[str, LeafLimits]
    rule: LeafLimits
    clear: Liking

    def off_bond(self, edge_id: str, at: float) -> Candidate:
        """A place of an edge off the bond's grid."""
        return off_bond(at, self.sites[self.leaves[edge_id]], self.clear)


def survey(run: Run, building: Building, demands: Sequence[LintelDemand], reader: RuleReader) -> Surveyed | None:
    """The placement problem of a run; None where the rule set has no spacing for one of its materials."""
    limits = {leaf: leaf_limits(building.leaf(leaf), reader) for leaf in run.leaves}
    rule = governing(limits.values())
    if rule is None or rule.spacing is None:
        return None
    spacing = rule.spacing.number
    reveals, corners = reader.find(BESIDE), reader.find(BESIDE_CORNER)
    clear = Liking(reveals.number if reveals else None, corners.number if corners else None)
    edges: list[Edge] = []
    faces: list[Face] = []
    sites: dict[str, Site] = {}
    given: dict[Placed, GivenJoint] = {}
    names = _node_names(run)
    for leaf_id in sorted(run.leaves):
        leaf = building.leaf(leaf_id)
        wall = building.wall(leaf.wall)
        widest, _ = joint_width(limits[leaf_id], alike(spacing, leaf), reader)
        here = sites[leaf_id] = site(leaf, wall, building, demands, widest.built)
        fixed = {j.at: j for j in wall.joints if j.leaf in (None, leaf.side)} if wall.joints != "place" else {}
        free, everywhere = (places(here, clear), free_stretches(here)) if wall.joints == "place" else ((), ())
        stretches = sorted((e for e in run.edges if e.leaf == leaf_id), key=lambda e: e.span)
        for k, (edge, face) in enumerate(zip(stretches, _face_names(stretches), strict=True)):
            candidates = [c for c in free if edge.span.start + TOLERANCE < c.at < edge.span.end - TOLERANCE]
            for at, joint in fixed.items():
                if edge.span.start <= at < edge.span.end and leaf.span.start + TOLERANCE < at < leaf.span.end - TOLERANCE:
                    inside = min(max(at, edge.span.start + TOLERANCE), edge.span.end - TOLERANCE)
                    candidates.append(Candidate(inside, given=True))
                    given[f"{leaf_id}:{k}", inside] = joint
            found = tuple(sorted(candidates, key=lambda c: c.at))
            inner = edge.span.grown(-2 * TOLERANCE)
            stretches_free = tuple(s for s in (f.common(inner) for f in everywhere) if s is not None)
            edges.append(Edge(f"{leaf_id}:{k}", face, names[edge.a], names[edge.b], edge.span, found, stretches_free))
        faces += _faces(leaf, stretches, run, building, limits[leaf_id], corner_reach(spacing, reader))
    problem = Problem(tuple(edges), tuple(faces), spacing)
    leaf_of = {edge.id: edge.id.rsplit(":", 1)[0] for edge in edges}
    return Surveyed(run, problem, leaf_of, sites, given, limits, rule, clear)


def _node_names(run: Run) -> dict[str, str]:
    """Names by place, so that the order in which a run was traced makes no difference."""
    order = sorted(run.nodes, key=lambda n: min(n.at))
    return {node.id: f"n{k:04d}" for k, node in enumerate(order)}


def _face_names(stretches: Sequence[RunEdge]) -> list[str]:
    """Stretches of a leaf that follow on each other are one face; a wall that runs through the leaf parts it."""
    names: list[str] = []
    number = 0
    for k, edge in enumerate(stretches):
        if k and abs(edge.span.start - stretches[k - 1].span.end) > TOLERANCE:
            number += 1
        names.append(f"{edge.leaf}/{number}")
    return names


def _faces(
    leaf: Leaf, stretches: Sequence[RunEdge], run: Run, building: Building, limits: LeafLimits, reach: float | None
) -> list[Face]:
    spans: dict[str, Span] = {}
    for edge, name in zip(stretches, _face_names(stretches), strict=True):
        spans[name] = Span(spans[name].start if name in spans else edge.span.start, edge.span.end)
    first = {e.span.start: e.a for e in stretches}
    last = {e.span.end: e.b for e in stretches}
    return [
        Face(
            name,
            span,
            _end_kind(leaf, first[span.start], run, building),
            _end_kind(leaf, last[span.end], run, building),
            reach,
            height_profile(leaf, span, limits.panel.number) if limits.panel else None,
        )
        for name, span in spans.items()
    ]


def _end_kind(leaf: Leaf, node_id: str, run: Run, building: Building) -> FaceEnd:
    """What a face ends against: a corner it returns round, another wall's side, or nothing."""
    met = [e.leaf for e in run.edges_at(node_id) if e.leaf != leaf.id]
    if not met:
        return "free"
    if run.node(node_id).kind != "corner":
        return "stem"
    here, there = building.wall(leaf.wall), building.wall(building.leaf(met[0]).wall)
    turn = cross(direction(here.start, here.end), direction(there.start, there.end))
    return "corner" if abs(turn) >= _STRAIGHT else "stem"


def height_profile(leaf: Leaf, over: Span, times: float = 1.0) -> Profile:
    """The leaf's height along a stretch, so many times."""
    breaks = {p[0] for p in (*leaf.base.points, *leaf.top.points) if over.start < p[0] < over.end}
    points: list[tuple[float, float]] = []
    for at in sorted({over.start, over.end, *breaks}):
        left = (leaf.top.level_left_of(at) - leaf.base.level_left_of(at)) * times
        right = (leaf.top.level_right_of(at) - leaf.base.level_right_of(at)) * times
        if at == over.start:
            points.append((at, right))
        elif at == over.end or abs(left - right) <= TOLERANCE:
            points.append((at, left))
        else:
            points += [(at, left), (at, right)]
    return Profile(tuple(points))
