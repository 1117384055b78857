"""From a run of the building to a placement problem, and back to the leaves its edges lie on."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Container, Mapping, Sequence
from math import inf
from typing import NamedTuple

from elevgen.building.demand import LintelDemand
from elevgen.building.model import Building, GivenJoint, Leaf, Profile, Run, RunEdge, Wall
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.asked import asked, offered
from elevgen.joints.candidates import Liking, Site, free_stretches, off_bond, places, site
from elevgen.joints.limits import LeafLimits, leaf_limits, liking
from elevgen.joints.meetings import parted
from elevgen.joints.musts import Must, Unmet, kept_apart, musts, turns
from elevgen.joints.problem import Candidate, Edge, Face, FaceEnd, Placed, Problem
from elevgen.joints.spacings import Spacing
from elevgen.joints.width import Beside, alike, joint_width
from elevgen.rules.book import RuleReader


class Surveyed(NamedTuple):
    """A run as a problem. `leaves` gives the leaf of each edge, `sites` what limits each leaf's joints.

    `given` are joints of the spec by edge and position, `musts` those that stand whatever the spacing, `unmet` those that
    should and have no place. `clear`: how far joints are liked to keep from openings and corners, by leaf.
    """

    run: Run
    problem: Problem
    leaves: Mapping[str, str]
    sites: Mapping[str, Site]
    given: Mapping[Placed, GivenJoint]
    musts: Mapping[Placed, Must]
    unmet: tuple[Unmet, ...]
    limits: Mapping[str, LeafLimits]
    clear: Mapping[str, Liking]

    def off_bond(self, edge_id: str, at: float) -> Candidate:
        """A place of an edge off the bond's grid."""
        leaf = self.leaves[edge_id]
        return off_bond(at, self.sites[leaf], self.clear[leaf])

    def spacing_of(self, face_id: str) -> Spacing:
        """What governs the spacing of a face: that of its leaf."""
        spacing = self.limits[leaf_of(face_id)].spacing
        assert spacing is not None
        return spacing


class _Standing(NamedTuple):
    """The joints of a leaf that stand before any is placed, by where they stand: given in the spec, or musts."""

    given: Mapping[float, GivenJoint]
    musts: Mapping[float, Must]
    unmet: tuple[Unmet, ...]

    @property
    def places(self) -> list[float]:
        return sorted((*self.given, *self.musts))

    @property
    def steps(self) -> dict[float, float]:
        """Where a joint lies along a step: the step, and the middle of the joint, to which the panels on both sides count."""
        return {must.against: at for at, must in self.musts.items() if must.against is not None}


def leaf_of(face_or_edge: str) -> str:
    """The leaf of a face or an edge."""
    return face_or_edge.rsplit("/", 1)[0] if ":" not in face_or_edge else face_or_edge.rsplit(":", 1)[0]


def survey(run: Run, building: Building, demands: Sequence[LintelDemand], reader: RuleReader) -> Surveyed | None:
    """The placement problem of a run; None where the rule set has no spacing for one of its materials."""
    leaves = {leaf_id: building.leaf(leaf_id) for leaf_id in sorted(run.leaves)}
    limits = {leaf_id: leaf_limits(leaf, building.wall(leaf.wall), reader) for leaf_id, leaf in leaves.items()}
    spacings = {leaf_id: one.spacing.number for leaf_id, one in limits.items() if one.spacing is not None}
    if len(spacings) < len(leaves):
        return None
    clear = {leaf_id: liking(leaf, reader) for leaf_id, leaf in leaves.items()}
    edges: list[Edge] = []
    faces: list[Face] = []
    sites: dict[str, Site] = {}
    given: dict[Placed, GivenJoint] = {}
    must: dict[Placed, Must] = {}
    unmet: list[Unmet] = []
    names = _node_names(run)
    in_line = {end.leaf.id for end in parted(building) if end.in_line}
    for leaf_id, leaf in leaves.items():
        wall = building.wall(leaf.wall)
        widest, _ = joint_width(limits[leaf_id], alike(spacings[leaf_id], leaf), reader)
        here = site(leaf, wall, building, demands, widest.built, _end_gap(leaf, limits[leaf_id], in_line, reader))
        standing = _standing(here, wall, building, clear[leaf_id], reader)
        here = sites[leaf_id] = here._replace(blocked=(*here.blocked, *(kept_apart(here, at) for at in standing.places)))
        unmet += standing.unmet
        free, everywhere = (places(here, clear[leaf_id]), free_stretches(here)) if wall.placing else ((), ())
        stretches = sorted((e for e in run.edges if e.leaf == leaf_id), key=lambda e: e.span)
        for k, (edge, face) in enumerate(zip(stretches, _face_names(stretches), strict=True)):
            inner = edge.span.grown(-2 * TOLERANCE)
            candidates = list(free[bisect_left(free, (inner.start,)) : bisect_right(free, (inner.end,))])
            for at in standing.places:
                if edge.span.start <= at < edge.span.end:
                    inside = min(max(at, edge.span.start + TOLERANCE), edge.span.end - TOLERANCE)
                    candidates.append(Candidate(inside, given=True))
                    if at in standing.given:
                        given[f"{leaf_id}:{k}", inside] = standing.given[at]
                    else:
                        must[f"{leaf_id}:{k}", inside] = standing.musts[at]
            found = tuple(sorted(candidates, key=lambda c: c.at))
            near = everywhere[max(bisect_left(everywhere, inner) - 1, 0) : bisect_right(everywhere, Span(inner.end, inner.end))]
            stretches_free = tuple(s for s in (f.common(inner) for f in near) if s is not None)
            edges.append(Edge(f"{leaf_id}:{k}", face, names[edge.a], names[edge.b], edge.span, found, stretches_free))
        faces += _faces(leaf, stretches, run, building, limits[leaf_id], standing.steps)
    of_edge = {edge.id: leaf_of(edge.id) for edge in edges}

    def price(edge_id: str, at: float) -> Candidate:
        return off_bond(at, sites[of_edge[edge_id]], clear[of_edge[edge_id]])

    offer = offered(edges, asked(edges, faces, limits, building, reader), price)
    problem = Problem(offer.edges, tuple(faces), min(spacings.values()), offer.wanted)
    return Surveyed(run, problem, of_edge, sites, given, must, (*unmet, *offer.unmet), limits, clear)


def _end_gap(leaf: Leaf, limits: LeafLimits, in_line: Container[str], reader: RuleReader) -> float:
    """About how wide the joint is where the leaf stops with one: all of the leaf moves, or so much on both sides in line."""
    long, _ = alike(min(limits.spacing.number if limits.spacing else leaf.span.length, leaf.span.length), leaf)
    other = long if leaf.id in in_line else Beside(0.0, (leaf,))
    return joint_width(limits, (long, other), reader)[0].built


def _standing(here: Site, wall: Wall, building: Building, clear: Liking, reader: RuleReader) -> _Standing:
    """The given joints that stand in a leaf's masonry, and where joints are placed those it must have besides."""
    leaf = here.leaf
    given = {
        j.at: j
        for j in wall.joints
        if j.leaf in (None, leaf.side) and leaf.span.start + TOLERANCE < j.at < leaf.span.end - TOLERANCE
    }
    found = musts(here, sorted(given), building, clear, reader) if wall.placing else ()
    return _Standing(given, {m.at: m for m in found if isinstance(m, Must)}, tuple(u for u in found if isinstance(u, Unmet)))


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
    leaf: Leaf,
    stretches: Sequence[RunEdge],
    run: Run,
    building: Building,
    limits: LeafLimits,
    steps: Mapping[float, float],
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
            limits.reach.number if limits.reach else None,
            _longest_panels(leaf, span, limits.panel.number, steps) if limits.panel else None,
            limits.spacing.number if limits.spacing else inf,
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
    return "corner" if turns(building.wall(leaf.wall), building.wall(building.leaf(met[0]).wall)) else "stem"


def _longest_panels(leaf: Leaf, over: Span, times: float, steps: Mapping[float, float]) -> Profile:
    """How long a panel may be at each place: so many times the height, which steps in the middle of a joint that lies there."""
    return Profile(tuple((steps.get(at, at), level) for at, level in height_profile(leaf, over, times).points))


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
