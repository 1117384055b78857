"""Where walls meet in plan: ends on ends, ends on sides, walls through walls. No leaves yet.

Walls whose levels do not overlap (those of two storeys) never meet.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import radians, sin
from typing import NamedTuple

from elevgen.building.walls import SNAP, End, WallLine
from elevgen.core.errors import Fault
from elevgen.core.geometry import TOLERANCE, Point, Span, cross, distance, dot, left_of

STRAIGHT = sin(radians(10))
"""Walls that turn by less than this sine are taken to run on in one line: a mitre would be drawn out without end."""


class Corner(NamedTuple):
    """Two walls end to end; `straight` when one runs on in the line of the other. `a` comes first in the spec."""

    a: WallLine
    a_end: End
    b: WallLine
    b_end: End
    straight: bool


class Tee(NamedTuple):
    """The stem ends on the side of its host, on its left or its right hand, `at` along the host's line."""

    host: WallLine
    stem: WallLine
    end: End
    on_left: bool
    at: float


class Cross(NamedTuple):
    """Two walls through one another: the host runs through, the other is interrupted."""

    host: WallLine
    stem: WallLine
    at: float
    stem_at: float


Contact = Corner | Tee | Cross
_WallEnd = tuple[WallLine, End]
_Near = Mapping[int, Sequence[WallLine]]


def find_contacts(walls: tuple[WallLine, ...]) -> tuple[Contact, ...]:
    """Every meeting of two walls. A wall end meets one other wall: a side before an end, an end before a side's very end."""
    near = _neighbours(walls)
    ends: list[_WallEnd] = [(wall, end) for wall in walls for end in ("start", "finish")]
    tees = [tee for wall, end in ends if (tee := _on_a_side(wall, end, near)) is not None]
    corners: list[Corner] = []
    taken = {(t.stem.index, t.end) for t in tees}
    for cluster in _clusters([e for e in ends if _key(e) not in taken], near):
        corner, others = _shared_out(cluster)
        corners.append(corner)
        tees += others
        taken |= {_key(e) for e in cluster}
    for wall, end in ends:
        butt = None if (wall.index, end) in taken else _butted(wall, end, near, taken)
        if isinstance(butt, Corner):
            corners.append(butt)
            taken |= {(butt.a.index, butt.a_end), (butt.b.index, butt.b_end)}
        elif butt is not None:
            tees.append(butt)
            taken.add((wall.index, end))
    met = {frozenset((c.a.index, c.b.index)) for c in corners} | {frozenset((t.host.index, t.stem.index)) for t in tees}
    pairs = ((a, b) for a in walls for b in near[a.index] if a.index < b.index and {a.index, b.index} not in met)
    crosses = [crossed for a, b in pairs if (crossed := _crossed(a, b)) is not None]
    corners.sort(key=lambda c: (c.a.index, c.b.index, c.a_end))
    tees.sort(key=lambda t: (t.host.index, t.stem.index, t.end))
    return (*corners, *tees, *crosses)


def overlapping_walls(walls: tuple[WallLine, ...], contacts: Sequence[Contact]) -> tuple[Fault, ...]:
    """Faults for walls along one another that lie in one another: no masonry can stand twice in one place."""
    near = _neighbours(walls)
    in_line = {(c.a.index, c.b.index) for c in contacts if isinstance(c, Corner) and c.straight}
    faults = []
    for a in walls:
        for b in near[a.index]:
            if a.index < b.index and (a.index, b.index) not in in_line and _parallel(a, b) and _lie_in_one_another(a, b):
                words = f"wall {b.id} lies on wall {a.id}"
                faults.append(Fault(("walls", b.index), words, given=b.id, allowed="walls that meet at an angle, or stand apart"))
    return tuple(faults)


def _lie_in_one_another(a: WallLine, b: WallLine) -> bool:
    """True when no line along or across either wall parts their bodies."""
    for wall in (a, b):
        for axis, least in ((wall.d, SNAP), (left_of(wall.d), TOLERANCE)):
            p, q = _reach(a.body, axis), _reach(b.body, axis)
            if min(p.end, q.end) - max(p.start, q.start) <= least:
                return False
    return True


def _reach(points: Sequence[Point], axis: Point) -> Span:
    along = [dot(p, axis) for p in points]
    return Span(min(along), max(along))


def _neighbours(walls: Sequence[WallLine]) -> dict[int, list[WallLine]]:
    """By wall, in spec order, the others near enough in plan and in level to meet it."""
    boxes = sorted(((_reach(w.body, (1.0, 0.0)), _reach(w.body, (0.0, 1.0)), w.index, w) for w in walls), key=lambda b: b[:3])
    near: dict[int, list[WallLine]] = {w.index: [] for w in walls}
    reached: list[tuple[Span, Span, int, WallLine]] = []
    for box in boxes:
        across, up, _, wall = box
        reached = [other for other in reached if other[0].end + 2 * SNAP >= across.start]
        for _, other_up, _, other in reached:
            if other_up.grown(2 * SNAP).overlaps(up) and other.levels.overlaps(wall.levels):
                near[wall.index].append(other)
                near[other.index].append(wall)
        reached.append(box)
    for others in near.values():
        others.sort(key=lambda w: w.index)
    return near


def _parallel(a: WallLine, b: WallLine) -> bool:
    return abs(cross(a.d, b.d)) < STRAIGHT


def _key(end: _WallEnd) -> tuple[int, End]:
    return end[0].index, end[1]


def _on_a_side(stem: WallLine, end: End, near: _Near) -> Tee | None:
    """The wall whose side, away from its ends, this wall end stands on or in; the one it stands in deepest."""
    found = []
    for host in near[stem.index]:
        at, left = host.locate(stem.end_point(end))
        short = max(host.band.start - left, left - host.band.end, 0.0)
        if short <= SNAP + TOLERANCE and SNAP < at < host.length - SNAP and not _parallel(host, stem):
            found.append((short, host.index, host))
    return _tee(min(found)[2], stem, end) if found else None


def _tee(host: WallLine, stem: WallLine, end: End) -> Tee:
    at, _ = host.locate(stem.end_point(end))
    return Tee(host, stem, end, on_left=cross(host.d, stem.outgoing(end)) > 0, at=min(max(at, 0.0), host.length))


def _clusters(ends: Sequence[_WallEnd], near: _Near) -> list[list[_WallEnd]]:
    """Ends of different walls that fall together, two or more to a cluster."""
    free = {_key(e): e for e in ends}
    clusters = []
    while free:
        cluster = [free.pop(next(iter(free)))]
        for wall, end in cluster:
            beside = [key for other in near[wall.index] for key in ((other.index, "start"), (other.index, "finish"))]
            cluster += [free.pop(key) for key in beside if key in free and _fall_together((wall, end), free[key])]
        if len(cluster) > 1:
            clusters.append(sorted(cluster, key=_key))
    return clusters


def _fall_together(a: _WallEnd, b: _WallEnd) -> bool:
    """True for ends at one place, unless the walls fold back on one another like the two sides of a hairpin."""
    (wall, end), (other, other_end) = a, b
    if distance(wall.end_point(end), other.end_point(other_end)) > SNAP + TOLERANCE:
        return False
    return not _folds_back(a, b)


def _folds_back(a: _WallEnd, b: _WallEnd) -> bool:
    return _parallel(a[0], b[0]) and dot(a[0].outgoing(a[1]), b[0].outgoing(b[1])) > 0


def _shared_out(cluster: list[_WallEnd]) -> tuple[Corner, list[Tee]]:
    """The corner a cluster makes, and the ends left over as stems on it.

    Two walls of one type make the corner before others, then those of more leaves, then two in one line.
    """

    def first_choice(c: Corner) -> tuple[bool, int, bool]:
        return c.a.model.type != c.b.model.type, -len(c.a.leaves) - len(c.b.leaves), not c.straight

    corner = min((_corner(a, b) for a, b in combinations(cluster, 2) if not _folds_back(a, b)), key=first_choice)
    tees = []
    for stem, end in cluster:
        if (stem.index, end) not in ((corner.a.index, corner.a_end), (corner.b.index, corner.b_end)):
            host = next((h for h in (corner.a, corner.b) if not _parallel(h, stem)), None)
            if host is not None:
                tees.append(_tee(host, stem, end))
    return corner, tees


def _corner(a: _WallEnd, b: _WallEnd) -> Corner:
    first, second = sorted((a, b), key=_key)
    return Corner(first[0], first[1], second[0], second[1], straight=_parallel(a[0], b[0]))


def _butted(wall: WallLine, end: End, near: _Near, taken: set[tuple[int, End]]) -> Corner | Tee | None:
    """A wall end drawn up against the side of another at that one's very end: a corner if that end is free, else a tee."""
    for host in near[wall.index]:
        at, left = host.locate(wall.end_point(end))
        if _parallel(host, wall) or not host.band.grown(SNAP).contains(left):
            continue
        for host_end in ("start", "finish"):
            if abs(at - host.position(host_end)) <= SNAP + TOLERANCE:
                free = (host.index, host_end) not in taken
                return _corner((wall, end), (host, host_end)) if free else _tee(host, wall, end)
    return None


def _crossed(a: WallLine, b: WallLine) -> Cross | None:
    if _parallel(a, b):
        return None
    at, other = a.hits(0.0, b, 0.0), b.hits(0.0, a, 0.0)
    inside = SNAP < at < a.length - SNAP and SNAP < other < b.length - SNAP
    return Cross(a, b, at, other) if inside else None
