"""The plan re-measured from wall lines and meetings: which walls meet where, and what they enclose."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain, pairwise
from math import atan2
from typing import NamedTuple

from elevgen.building.model import Building, Meeting, Wall
from elevgen.core.geometry import TOLERANCE, Point, Rect, along, between, cross, crossing, direction, distance, dot


class Pair(NamedTuple):
    """Two walls that meet, once for all their leaves: `host_at` and `stem_at` along their lines."""

    host: Wall
    stem: Wall
    kind: str
    host_at: float
    stem_at: float

    @property
    def angle(self) -> float:
        """Between the two walls as they leave the meeting, in radians from 0 to pi."""
        a, b = _leaving(self.host, self.host_at), _leaving(self.stem, self.stem_at)
        return abs(atan2(cross(a, b), dot(a, b)))


class Stretch(NamedTuple):
    """A wall between two meetings, and whether its left and right hand are within an enclosure of walls."""

    wall: Wall
    left: bool
    right: bool


class _Side(NamedTuple):
    """One side of a stretch, walked with that side on the left hand: from one node to the next."""

    stretch: int
    forward: bool
    start: Point
    end: Point
    to: int
    heading: float


_Face = Sequence[_Side]


class _Room(NamedTuple):
    """A bounded face of the plan, its nodes, and the box round it."""

    face: _Face
    nodes: frozenset[int]
    box: Rect

    def holds(self, p: Point) -> bool:
        """True when a point lies in the room (even-odd rule)."""
        if not (self.box.left <= p[0] <= self.box.right and self.box.bottom <= p[1] <= self.box.top):
            return False
        inside = False
        points = _corners(self.face)
        for a, b in zip(points, (*points[1:], points[0]), strict=True):
            if (a[1] > p[1]) != (b[1] > p[1]) and p[0] < a[0] + (p[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1]):
                inside = not inside
        return inside


def pairs(building: Building) -> tuple[Pair, ...]:
    """The walls that meet, in the order of the building's meetings."""
    walls = {wall.id: wall for wall in building.walls}
    of_leaf = {leaf.id: walls[leaf.wall] for leaf in building.leaves}
    found: dict[tuple[str, str, str], Pair] = {}
    for meeting in building.meetings:
        host, stem = of_leaf[meeting.host], of_leaf[meeting.stem]
        found.setdefault((host.id, stem.id, meeting.kind), _pair(meeting, host, stem))
    return tuple(found.values())


def stretches_in_plan(building: Building) -> tuple[Stretch, ...]:
    """Every wall between its meetings, with what stands open and what is enclosed beside it."""
    lines, nodes = _lines(building)
    faces = _faces(lines, nodes)
    rooms = [_room(face) for face in faces if _area(face) > TOLERANCE]
    enclosed = {(side.stretch, side.forward) for room in rooms for side in room.face}
    nodes_of = {side.stretch: _nodes(face) for face in faces for side in face}
    found = []
    for n, (wall, (a, _), (b, _)) in enumerate(lines):
        middle = _at(wall, (a + b) / 2)
        around = any(room.holds(middle) and room.nodes.isdisjoint(nodes_of[n]) for room in rooms)
        found.append(Stretch(wall, around or (n, True) in enclosed, around or (n, False) in enclosed))
    return tuple(found)


_Line = tuple[Wall, tuple[float, int], tuple[float, int]]
"""A wall between two nodes: position along it and number of each."""


def _leaving(wall: Wall, at: float) -> Point:
    """The direction a wall takes from a place along it: away from the nearer of its ends."""
    d = direction(wall.start, wall.end)
    return d if at < wall.length / 2 else (-d[0], -d[1])


def _at(wall: Wall, at: float) -> Point:
    return along(wall.start, direction(wall.start, wall.end), at)


def _pair(meeting: Meeting, host: Wall, stem: Wall) -> Pair:
    """Where the lines of two walls meet: end on end, an end along the other, or through one another."""
    stem_end, host_end = _nearest_ends(host, stem)
    if meeting.kind == "corner":
        return Pair(host, stem, meeting.kind, host_end, stem_end)
    host_d, stem_d = direction(host.start, host.end), direction(stem.start, stem.end)
    if meeting.kind == "cross":
        host_at, stem_at = crossing(host.start, host_d, stem.start, stem_d), crossing(stem.start, stem_d, host.start, host_d)
        return Pair(host, stem, meeting.kind, host_at or 0.0, stem_at or 0.0)
    ends = (0.0, stem.length)
    end = min(ends, key=lambda at: abs(cross(host_d, between(host.start, _at(stem, at)))))
    return Pair(host, stem, meeting.kind, dot(host_d, between(host.start, _at(stem, end))), end)


def _nearest_ends(host: Wall, stem: Wall) -> tuple[float, float]:
    """The ends of stem and host that are nearest each other, as positions along them."""
    ends = [(s, h) for s in (0.0, stem.length) for h in (0.0, host.length)]
    return min(ends, key=lambda e: distance(_at(stem, e[0]), _at(host, e[1])))


def _lines(building: Building) -> tuple[list[_Line], int]:
    """Every wall cut at its meetings; meetings at one end of a wall are one node. And how many numbers nodes may have."""
    stops: dict[str, list[tuple[float, int]]] = {}
    for n, wall in enumerate(building.walls):
        stops[wall.id] = [(0.0, 2 * n), (wall.length, 2 * n + 1)]
    parent = list(range(2 * len(building.walls)))

    def root(n: int) -> int:
        while parent[n] != n:
            n = parent[n]
        return n

    def node(wall: Wall, at: float, near: float) -> int:
        known = next((n for place, n in stops[wall.id] if abs(place - at) <= near), None)
        if known is None:
            known = len(parent)
            parent.append(known)
            stops[wall.id].append((at, known))
        return known

    for pair in pairs(building):
        at_host = node(pair.host, pair.host_at, pair.stem.thickness)
        at_stem = node(pair.stem, pair.stem_at, TOLERANCE if pair.kind != "cross" else pair.host.thickness)
        parent[root(at_stem)] = root(at_host)
    lines = [
        (wall, (a, root(m)), (b, root(n)))
        for wall in building.walls
        for (a, m), (b, n) in pairwise(sorted(stops[wall.id]))
        if root(m) != root(n)
    ]
    return lines, len(parent)


def _faces(lines: Sequence[_Line], nodes: int) -> list[_Face]:
    """The plan as faces, each walked with the face on the left hand: at every node the sharpest turn to the left."""
    leaving: list[list[_Side]] = [[] for _ in range(nodes)]
    for n, (wall, (a, start), (b, end)) in enumerate(lines):
        d = direction(wall.start, wall.end)
        there, back = atan2(d[1], d[0]), atan2(-d[1], -d[0])
        leaving[start].append(_Side(n, True, _at(wall, a), _at(wall, b), end, there))
        leaving[end].append(_Side(n, False, _at(wall, b), _at(wall, a), start, back))
    turned: dict[tuple[int, bool], _Side] = {}
    for sides in leaving:
        sides.sort(key=lambda s: s.heading)
        for before, side in zip([sides[-1], *sides[:-1]], sides, strict=True) if sides else ():
            turned[side.stretch, not side.forward] = before
    faces: list[_Face] = []
    walked: set[tuple[int, bool]] = set()
    for first in chain.from_iterable(leaving):
        if (first.stretch, first.forward) not in walked:
            face = list(_walk(first, turned))
            walked.update((s.stretch, s.forward) for s in face)
            faces.append(face)
    return faces


def _walk(first: _Side, turned: dict[tuple[int, bool], _Side]) -> Iterator[_Side]:
    side = first
    while True:
        yield side
        side = turned[side.stretch, side.forward]
        if side == first:
            return


def _area(face: _Face) -> float:
    """Positive where the face is walked anticlockwise, which is where it is bounded."""
    points = _corners(face)
    return sum(cross(between(points[0], a), between(points[0], b)) for a, b in pairwise(points)) / 2


def _room(face: _Face) -> _Room:
    xs, ys = zip(*_corners(face), strict=True)
    return _Room(face, _nodes(face), Rect(min(xs), min(ys), max(xs), max(ys)))


def _corners(face: _Face) -> list[Point]:
    return [p for side in face for p in (side.start, side.end)]


def _nodes(face: _Face) -> frozenset[int]:
    return frozenset(side.to for side in face)
