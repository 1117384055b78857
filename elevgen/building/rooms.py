"""Which walls stand inside the building: the rooms that the wall lines enclose in plan."""

from __future__ import annotations

from itertools import pairwise
from math import atan2
from typing import NamedTuple

from elevgen.building.contacts import Contact, Corner, Tee
from elevgen.building.walls import SNAP, End, WallLine
from elevgen.core.geometry import TOLERANCE, Point, Rect, box_round, cross

_Node = int
_Edge = tuple[_Node, _Node]


class Room(NamedTuple):
    """An enclosed part of the plan. A courtyard is enclosed but outdoors: it has every wall's outside turned to it."""

    corners: tuple[Point, ...]
    outdoors: bool
    box: Rect

    @property
    def area(self) -> float:
        pairs = zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True)
        return sum(cross(a, b) for a, b in pairs) / 2

    def holds(self, p: Point) -> bool:
        """True when the point lies in the room (even-odd rule)."""
        if not (self.box.left <= p[0] <= self.box.right and self.box.bottom <= p[1] <= self.box.top):
            return False
        inside = False
        for a, b in zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True):
            if (a[1] > p[1]) != (b[1] > p[1]) and p[0] < a[0] + (p[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1]):
                inside = not inside
        return inside


def internal_walls(walls: tuple[WallLine, ...], contacts: tuple[Contact, ...]) -> frozenset[int]:
    """Indices of the walls whose middle has a room on both hands."""
    rooms = _rooms(walls, contacts)
    return frozenset(w.index for w in walls if all(_indoors(p, rooms) for p in _both_sides(w)))


def _both_sides(wall: WallLine) -> tuple[Point, Point]:
    """A point well clear of the wall on each hand of its middle, whichever line it was drawn on."""
    clear = wall.band.length + 2 * SNAP
    return wall.point(wall.length / 2, clear), wall.point(wall.length / 2, -clear)


def _indoors(p: Point, rooms: tuple[Room, ...]) -> bool:
    around = [room for room in rooms if room.holds(p)]
    return bool(around) and not min(around, key=lambda room: room.area).outdoors


def _rooms(walls: tuple[WallLine, ...], contacts: tuple[Contact, ...]) -> tuple[Room, ...]:
    """The bounded faces of the plan, walked with the room on the left hand."""
    points, along_wall = _plan_graph(walls, contacts)
    outside_right: dict[_Edge, bool] = {}
    for a, b in along_wall:
        outside_right[a, b], outside_right[b, a] = True, False
    leaving: dict[_Node, list[_Node]] = {}
    for a, b in sorted(outside_right):
        leaving.setdefault(a, []).append(b)
    for a, ends in leaving.items():
        ends.sort(key=lambda b, a=a: atan2(points[b][1] - points[a][1], points[b][0] - points[a][0]))  # type: ignore[misc]
    rooms = []
    unwalked = dict.fromkeys(sorted(outside_right))
    while unwalked:
        walk = _walk(next(iter(unwalked)), leaving)
        for edge in walk:
            del unwalked[edge]
        walked = set(walk)
        once = [edge for edge in walk if (edge[1], edge[0]) not in walked]
        corners = tuple(points[a] for a, _ in walk)
        room = Room(corners, not any(outside_right[edge] for edge in once), box_round(corners))
        if room.area > TOLERANCE:
            rooms.append(room)
    return tuple(rooms)


def _walk(first: _Edge, leaving: dict[_Node, list[_Node]]) -> list[_Edge]:
    """The edges round one face: at each node turn as sharply to the left as the plan allows."""
    walk = [first]
    while True:
        a, b = walk[-1]
        ways = leaving[b]
        onward = ways[ways.index(a) - 1]
        if (b, onward) == first:
            return walk
        walk.append((b, onward))


def _plan_graph(walls: tuple[WallLine, ...], contacts: tuple[Contact, ...]) -> tuple[list[Point], list[_Edge]]:
    """Nodes where walls end or meet, and each wall's stretches between them in its own direction."""
    points: list[Point] = []
    stops: dict[int, list[tuple[float, _Node]]] = {w.index: [] for w in walls}
    placed: set[tuple[int, End]] = set()

    def node(at: Point) -> _Node:
        points.append(at)
        return len(points) - 1

    def end_at(wall: WallLine, end: End, n: _Node) -> None:
        stops[wall.index].append((wall.position(end), n))
        placed.add((wall.index, end))

    for contact in contacts:
        if isinstance(contact, Corner):
            n = node(contact.a.end_point(contact.a_end))
            end_at(contact.a, contact.a_end, n)
            end_at(contact.b, contact.b_end, n)
        elif isinstance(contact, Tee):
            known = next((n for at, n in stops[contact.host.index] if abs(at - contact.at) <= SNAP), None)
            n = node(contact.host.point(contact.at)) if known is None else known
            if known is None:
                stops[contact.host.index].append((contact.at, n))
            end_at(contact.stem, contact.end, n)
        else:
            n = node(contact.host.point(contact.at))
            stops[contact.host.index].append((contact.at, n))
            stops[contact.stem.index].append((contact.stem_at, n))
    edges = []
    for wall in walls:
        for end in ("start", "finish"):
            if (wall.index, end) not in placed:
                end_at(wall, end, node(wall.end_point(end)))
        nodes = [n for _, n in sorted(stops[wall.index])]
        edges += [(a, b) for a, b in pairwise(nodes) if a != b]
    return points, edges
