"""Why no movement joint can stand at a place of a leaf, in words."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.demand import LintelDemand
from elevgen.building.model import Building, LeafEnd, Meeting, Opening, Wall
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.candidates import Site


class Openings(NamedTuple):
    """The openings of a wall: by their left sides, and by their right sides."""

    by_left: tuple[Opening, ...]
    by_right: tuple[Opening, ...]

    def right_of(self, at: float) -> Opening | None:
        """The first that begins past a place."""
        n = bisect_left(self.by_left, at - TOLERANCE, key=lambda o: o.rect.left)
        return self.by_left[n] if n < len(self.by_left) else None

    def left_of(self, at: float) -> Opening | None:
        """The last that ends before a place."""
        n = bisect_right(self.by_right, at + TOLERANCE, key=lambda o: o.rect.right)
        return self.by_right[n - 1] if n else None


class Around(NamedTuple):
    """What stands in the way of joints in each leaf: its wall, its lintels, and the walls that meet its side."""

    walls: Mapping[str, Wall]
    openings: Mapping[str, Openings]
    demands: Mapping[str, tuple[LintelDemand, ...]]
    meetings: Mapping[str, tuple[tuple[Meeting, str], ...]]


def around(building: Building, demands: Iterable[LintelDemand]) -> Around:
    """What stands in the way, by leaf."""
    walls = {leaf: wall for wall in building.walls for leaf in wall.leaves}
    lintels: dict[str, list[LintelDemand]] = {}
    for demand in demands:
        lintels.setdefault(demand.leaf, []).append(demand)
    meetings: dict[str, list[tuple[Meeting, str]]] = {}
    for meeting in building.meetings:
        if meeting.kind != "corner":
            meetings.setdefault(meeting.host, []).append((meeting, walls[meeting.stem].id))
    openings = {
        wall.id: Openings(
            tuple(sorted(wall.openings, key=lambda o: (o.rect.left, o.id))),
            tuple(sorted(wall.openings, key=lambda o: (o.rect.right, o.id))),
        )
        for wall in building.walls
    }
    return Around(walls, openings, {k: tuple(v) for k, v in lintels.items()}, {k: tuple(v) for k, v in meetings.items()})


def hindrance(at: float, here: Site, beside: Around) -> str:
    """What is in the way of a joint at a place where none may stand."""
    return next(_hindrances(at, here, beside), "no room for a joint there")


def opening_name(opening: Opening) -> str:
    """`window W2`."""
    return f"{opening.kind} {opening.id}"


def _hindrances(at: float, here: Site, beside: Around) -> Iterator[str]:
    leaf, half = here.leaf, here.width / 2
    openings = beside.walls[leaf.id].openings
    yield from (f"in {opening_name(o)}" for o in openings if o.rect.along.contains(at))
    yield from ("in masonry too narrow to build between openings" for s in leaf.strips if s.along.contains(at))
    for demand in beside.demands.get(leaf.id, ()):
        if demand.keep_out.grown(half).contains(at):
            yield f"in the bearing of the lintel over {_listed(demand.openings)}"
    yield from (f"against the side of {opening_name(o)}" for o in openings if o.rect.along.grown(half).contains(at))
    for meeting, wall in beside.meetings.get(leaf.id, ()):
        if _takes(at, meeting.host_at, here):
            yield f"where {wall} meets the wall"
    yield from ("where another wall runs through" for c in leaf.crossings if _takes_span(at, c.along, here))
    for end, place in ((leaf.start_end, leaf.span.start), (leaf.finish_end, leaf.span.end)):
        if abs(at - place) <= max(abs(end.near - place), here.unit.length / 2) + here.width + half:
            yield _at_end(end)


def _takes(at: float, met: float, here: Site) -> bool:
    """Whether a wall met there takes the place: half its thickness and half a unit are kept clear, and no span says by whom."""
    return any(span.contains(at) and span.contains(met) for span in here.blocked)


def _takes_span(at: float, through: Span, here: Site) -> bool:
    return through.grown(here.unit.length / 2 + here.width / 2).contains(at)


def _at_end(end: LeafEnd) -> str:
    if end.kind == "corner":
        return "in the bond of the corner"
    return "less than half a unit from the end of the wall"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
