"""Where each leaf ends: mitres at corners, faces it abuts, stopped ends; and the holes where walls run through it."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.building.joins import Join, Party, Stop, is_convex
from elevgen.building.model import LeafEnd
from elevgen.building.walls import End, WallLine
from elevgen.core.geometry import Span, cross, dot

LeafEnds = dict[tuple[str, End], tuple[LeafEnd, float]]
"""By leaf and end: the end, and where the leaf's visible face stops there."""


def leaf_ends(walls: Sequence[WallLine], joins: Sequence[Join], stops: Sequence[Stop]) -> LeafEnds:
    """Both ends of every leaf."""
    ends: LeafEnds = {}
    for wall in walls:
        for leaf in wall.leaves:
            for end in ("start", "finish"):
                at = wall.position(end)
                ends[leaf.id, end] = LeafEnd("stopped", at, at), at
    for stop in stops:
        assert stop.party.end is not None
        at = _in_line(stop.party, stop.beside) if stop.straight else _near_and_far(stop.party, stop.beside)[1]
        ends[stop.party.leaf.id, stop.party.end] = LeafEnd("stopped", at, at), at
    through_on_even = _through_on_even(joins)
    for join in joins:
        if join.kind == "tee":
            assert join.stem.end is not None
            at = side_position(join.host, join.stem)
            ends[join.stem.leaf.id, join.stem.end] = LeafEnd("abutting", at, at, join.host.leaf.id, join.connection), at
        elif join.kind == "corner":
            even = join.host.leaf.id in through_on_even
            for party, other, passes in ((join.host, join.stem, even), (join.stem, join.host, not even)):
                assert party.end is not None
                ends[party.leaf.id, party.end] = _corner_end(join, party, other, passes)
    return ends


def side_position(host: Party, stem: Party) -> float:
    """Where along the stem its right-hand face meets the side of the host leaf that is turned to it."""
    assert stem.end is not None
    on_left = cross(host.wall.d, stem.wall.outgoing(stem.end)) > 0
    face = host.leaf.band.end if on_left else host.leaf.band.start
    return stem.wall.hits(stem.leaf.offset, host.wall, face)


def host_position(join: Join) -> float:
    """Where along the host the middle of the stem leaf comes against it."""
    host, stem = join.host, join.stem
    if stem.end is None:
        return host.wall.hits(host.leaf.middle, stem.wall, stem.leaf.middle)
    on_left = cross(host.wall.d, stem.wall.outgoing(stem.end)) > 0
    return host.wall.hits(host.leaf.band.end if on_left else host.leaf.band.start, stem.wall, stem.leaf.middle)


def through_span(join: Join) -> Span:
    """The stretch of a crossed leaf that its host takes with all its thickness, along the crossed leaf's right-hand face."""
    stem, host = join.stem, join.host
    a, b = (stem.wall.hits(stem.leaf.offset, host.wall, face) for face in (host.wall.band.start, host.wall.band.end))
    return Span(min(a, b), max(a, b))


def crossed_at(join: Join, face: Span) -> float:
    """Where an interrupted leaf, of this face, meets a leaf of its host.

    In the middle of a single leaf, on the near side of each of two; at its own end where it hardly reaches the host.
    """
    through = through_span(join)
    on_face = through.common(face) or Span(max(through.start, face.start), min(through.end, face.end))
    if len(join.host.wall.leaves) == 1 or on_face.length <= 0:
        return min(max(on_face.middle, face.start), face.end)
    at = join.stem.wall.hits(join.stem.leaf.offset, join.host.wall, join.host.leaf.middle)
    return on_face.start if at < through.middle else on_face.end


def _corner_end(join: Join, party: Party, other: Party, even: bool) -> tuple[LeafEnd, float]:
    """A bonded corner's end runs to its mitre. At a corner that is not bonded the host passes and the stem abuts it."""
    bonded = join.connection == "bonded"
    if join.straight:
        at = _in_line(party, other)
        return LeafEnd("corner" if bonded else "abutting", at, at, other.leaf.id, join.connection, even), at
    near, far = _near_and_far(party, other)
    face = far if is_convex(party, other) else near
    if bonded:
        return LeafEnd("corner", near, far, other.leaf.id, join.connection, even, _lean(party, other)), face
    if party is join.host:
        return LeafEnd("stopped", face, face, other.leaf.id, join.connection), face
    return LeafEnd("abutting", near, near, other.leaf.id, join.connection), near


def _near_and_far(party: Party, other: Party) -> tuple[float, float]:
    """Where the party's right-hand face meets the near and the far face of the other leaf."""
    wall, leaf = party.wall, party.leaf
    one, two = (wall.hits(leaf.offset, other.wall, face) for face in (other.leaf.band.start, other.leaf.band.end))
    outwards = sorted((one, two), reverse=party.end == "start")
    return outwards[0], outwards[1]


def _lean(party: Party, other: Party) -> float:
    """How far outwards along the party's wall the other's faces run for each mm to the left."""
    d, e = party.wall.d, other.wall.d
    lean = dot(d, e) / cross(d, e) * (-1 if party.end == "start" else 1)
    return 0.0 if abs(lean) < 1e-9 else lean


def _in_line(party: Party, other: Party) -> float:
    """Half way between the two wall ends, along the party's wall."""
    assert party.end is not None and other.end is not None
    own = party.wall.position(party.end)
    return (own + party.wall.locate(other.wall.end_point(other.end))[0]) / 2


def _through_on_even(joins: Sequence[Join]) -> frozenset[str]:
    """The leaves that run through their corners in even courses: turn about from corner to corner, beginning with the first.

    Both ends of a leaf so alternate alike wherever the ring has an even number of corners; the host of a join decides.
    """
    beside: dict[str, list[str]] = {}
    for join in joins:
        if join.kind == "corner":
            beside.setdefault(join.host.leaf.id, []).append(join.stem.leaf.id)
            beside.setdefault(join.stem.leaf.id, []).append(join.host.leaf.id)
    even: dict[str, bool] = {}
    for first in beside:
        waiting = [] if first in even else [first]
        even.setdefault(first, True)
        for leaf in waiting:
            new = [other for other in beside[leaf] if other not in even]
            even.update(dict.fromkeys(new, not even[leaf]))
            waiting += new
    return frozenset(leaf for leaf, runs_through in even.items() if runs_through)
