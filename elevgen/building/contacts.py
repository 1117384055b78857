"""Where walls meet in plan: ends on ends, ends on sides, walls through walls. No leaves yet.

Walls whose levels do not overlap (those of two storeys) never meet.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from math import radians, sin

from elevgen.building.walls import End, WallLine
from elevgen.core.errors import Fault
from elevgen.core.geometry import TOLERANCE, Span, cross, distance, dot

SNAP = 25.0
"""Ends drawn no further apart than this (mm) are meant to meet."""

STRAIGHT = sin(radians(10))
"""Walls that turn by less than this sine are taken to run on in one line: a mitre would be drawn out without end."""


@dataclass(frozen=True, slots=True)
class Corner:
    """Two walls end to end; `straight` when one runs on in the line of the other. `a` comes first in the spec."""

    a: WallLine
    a_end: End
    b: WallLine
    b_end: End
    straight: bool


@dataclass(frozen=True, slots=True)
class Tee:
    """The stem ends on the side of its host, on its left or its right hand, `at` along the host's line."""

    host: WallLine
    stem: WallLine
    end: End
    on_left: bool
    at: float


@dataclass(frozen=True, slots=True)
class Cross:
    """Two walls through one another: the host runs through, the other is interrupted."""

    host: WallLine
    stem: WallLine
    at: float
    stem_at: float


Contact = Corner | Tee | Cross
_WallEnd = tuple[WallLine, End]


def find_contacts(walls: tuple[WallLine, ...]) -> tuple[Contact, ...]:
    """Every meeting of two walls, each wall end meeting one other wall at most."""
    ends: list[_WallEnd] = [(wall, end) for wall in walls for end in ("start", "finish")]
    tees = [tee for wall, end in ends if (tee := _tee_on_a_side(wall, end, walls)) is not None]
    taken = {(t.stem.index, t.end) for t in tees}
    corners: list[Corner] = []
    for cluster in _clusters([e for e in ends if _key(e) not in taken]):
        corner, others = _shared_out(cluster)
        corners.append(corner)
        tees.extend(others)
        taken.update(_key(e) for e in cluster)
    for wall, end in [e for e in ends if _key(e) not in taken]:
        if _key((wall, end)) in taken:
            continue
        butt = _butted_end(wall, end, walls, taken)
        if isinstance(butt, Corner):
            corners.append(butt)
            taken |= {(butt.a.index, butt.a_end), (butt.b.index, butt.b_end)}
        elif butt is not None:
            tees.append(butt)
            taken.add((wall.index, end))
    met = {frozenset((c.a.index, c.b.index)) for c in corners} | {frozenset((t.host.index, t.stem.index)) for t in tees}
    crosses = [c for a, b in combinations(walls, 2) if {a.index, b.index} not in met and (c := _crossed(a, b)) is not None]
    corners.sort(key=lambda c: (c.a.index, c.b.index, c.a_end))
    tees.sort(key=lambda t: (t.host.index, t.stem.index, t.end))
    return (*corners, *tees, *crosses)


def overlapping_walls(walls: tuple[WallLine, ...]) -> tuple[Fault, ...]:
    """Faults for walls side by side that lie in one another: no masonry can stand twice in one place."""
    faults = []
    for a, b in combinations(walls, 2):
        if _parallel(a, b) and a.levels.overlaps(b.levels) and _lie_in_one_another(a, b):
            faults.append(
                Fault(("walls", b.index), f"this wall lies on wall {a.id}", given=b.id, allowed="walls that meet or stand apart")
            )
    return tuple(faults)


def _lie_in_one_another(a: WallLine, b: WallLine) -> bool:
    ends = [a.locate(b.point(at, left)) for at in (0.0, b.length) for left in (b.band.start, b.band.end)]
    beside = Span(min(p[1] for p in ends), max(p[1] for p in ends))
    lengthwise = Span(max(0.0, min(p[0] for p in ends)), min(a.length, max(p[0] for p in ends)))
    return beside.overlaps(a.band) and lengthwise.length > SNAP


def _parallel(a: WallLine, b: WallLine) -> bool:
    return abs(cross(a.d, b.d)) < STRAIGHT


def _key(end: _WallEnd) -> tuple[int, End]:
    return end[0].index, end[1]


def _tee_on_a_side(stem: WallLine, end: End, walls: tuple[WallLine, ...]) -> Tee | None:
    """The wall whose side, away from its ends, this wall end stands on or in; the one it stands in deepest."""
    found = []
    for host in walls:
        if host is stem or _parallel(host, stem) or not host.levels.overlaps(stem.levels):
            continue
        at, left = host.locate(stem.end_point(end))
        beyond = max(host.band.start - left, left - host.band.end)
        if beyond <= SNAP + TOLERANCE and SNAP < at < host.length - SNAP:
            found.append((max(beyond, 0.0), host.index, host))
    return _tee(min(found)[2], stem, end) if found else None


def _tee(host: WallLine, stem: WallLine, end: End) -> Tee:
    at, _ = host.locate(stem.end_point(end))
    return Tee(host, stem, end, on_left=cross(host.d, stem.outgoing(end)) > 0, at=min(max(at, 0.0), host.length))


def _clusters(ends: list[_WallEnd]) -> list[list[_WallEnd]]:
    """Ends of different walls that fall together, two or more to a cluster."""
    clusters: list[list[_WallEnd]] = []
    for end in ends:
        near = [c for c in clusters if any(_fall_together(end, e) for e in c)]
        clusters = [c for c in clusters if all(c is not n for n in near)]
        clusters.append([*(e for c in near for e in c), end])
    return [sorted(c, key=_key) for c in clusters if len(c) > 1]


def _fall_together(a: _WallEnd, b: _WallEnd) -> bool:
    if a[0] is b[0] or not a[0].levels.overlaps(b[0].levels):
        return False
    return distance(a[0].end_point(a[1]), b[0].end_point(b[1])) <= SNAP + TOLERANCE


def _shared_out(cluster: list[_WallEnd]) -> tuple[Corner, list[Tee]]:
    """The corner a cluster makes, and the ends left over as stems on it.

    Two walls of one type make the corner before others, then those of more leaves, then two in one line.
    """

    def first_choice(c: Corner) -> tuple[bool, int, bool]:
        return c.a.model.type != c.b.model.type, -len(c.a.leaves) - len(c.b.leaves), not c.straight

    corner = min((_corner(a, b) for a, b in combinations(cluster, 2)), key=first_choice)
    tees = []
    for stem, end in cluster:
        if (stem.index, end) in ((corner.a.index, corner.a_end), (corner.b.index, corner.b_end)):
            continue
        host = corner.b if _parallel(corner.a, stem) else corner.a
        tees.append(_tee(host, stem, end))
    return corner, tees


def _corner(a: _WallEnd, b: _WallEnd) -> Corner:
    first, second = sorted((a, b), key=_key)
    runs_on = _parallel(a[0], b[0]) and dot(a[0].outgoing(a[1]), b[0].outgoing(b[1])) < 0
    return Corner(first[0], first[1], second[0], second[1], straight=runs_on)


def _butted_end(wall: WallLine, end: End, walls: tuple[WallLine, ...], taken: set[tuple[int, End]]) -> Corner | Tee | None:
    """A wall end drawn up against the side of another at that one's very end: a corner if that end is free, else a tee."""
    for host in walls:
        if host is wall or _parallel(host, wall) or not host.levels.overlaps(wall.levels):
            continue
        at, left = host.locate(wall.end_point(end))
        if not host.band.grown(SNAP).contains(left):
            continue
        for host_end in ("start", "finish"):
            if abs(at - host.position(host_end)) <= SNAP + TOLERANCE:
                free = (host.index, host_end) not in taken
                return _corner((wall, end), (host, host_end)) if free else _tee(host, wall, end)
    return None


def _crossed(a: WallLine, b: WallLine) -> Cross | None:
    if _parallel(a, b) or not a.levels.overlaps(b.levels):
        return None
    at, other = a.hits(0.0, b, 0.0), b.hits(0.0, a, 0.0)
    inside = SNAP < at < a.length - SNAP and SNAP < other < b.length - SNAP
    return Cross(a, b, at, other) if inside else None
