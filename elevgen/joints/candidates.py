"""Where a movement joint may stand in a leaf: clear of openings, bearings, meetings and ends; on the bond's grid if it can."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from math import ceil, floor, inf
from typing import NamedTuple

from elevgen.bonds import Grid, load_bond
from elevgen.building.demand import LintelDemand
from elevgen.building.model import Building, Feature, Leaf, LeafEnd, Unit, Wall
from elevgen.core.geometry import TOLERANCE, Span, merge, subtract
from elevgen.joints.problem import Candidate


class Site(NamedTuple):
    """A leaf as the places for its joints see it.

    `blocked` is where no joint of `width` may be centred; `reveals` are the openings; `hides` are the
    stretches in which a joint is hidden; `corners` are those near which a joint leaves a stub. `unit` sets the grid:
    the longest of the leaf, so that fewest units are cut. `gap` is what a joint takes of an end that stops with one.
    """

    leaf: Leaf
    unit: Unit
    width: float
    blocked: tuple[Span, ...]
    reveals: tuple[Span, ...]
    hides: tuple[tuple[str, Span], ...]
    corners: tuple[Span, ...]
    gap: float


_STEP = 50.0
"""Crowding is counted in steps of this (mm)."""


def site(leaf: Leaf, wall: Wall, building: Building, demands: Iterable[LintelDemand], width: float, gap: float) -> Site:
    """What limits the joints of a leaf; a joint runs the leaf's full height, so openings of every storey count."""
    unit = max((zone.unit for zone in leaf.zones), key=lambda u: (u.length, u.name))
    half = unit.length / 2
    reveals = tuple(void.along for void in leaf.voids)
    bearings = [d.keep_out for d in demands if d.leaf == leaf.id]
    tees = [m for m in building.meetings if m.host == leaf.id and m.kind != "corner" and m.continuous]
    stems = [Span(m.host_at, m.host_at).grown(building.leaf(m.stem).thickness / 2 + half) for m in tees]
    crossings = [c.along.grown(half) for c in leaf.crossings]
    piers = [_pier(feature, unit) for feature in wall.features if feature.kind == "pier"]
    at_ends = ((leaf.start_end, leaf.span.start, 1), (leaf.finish_end, leaf.span.end, -1))
    ends = [_kept_clear(end, at, way, half + _taken(end, width)) for end, at, way in at_ends]
    blocked = tuple(span.grown(width / 2) for span in (*reveals, *bearings, *stems, *crossings, *piers, *ends))
    return Site(leaf, unit, width, blocked, reveals, _hiding_places(leaf, wall, unit), tuple(_stubs(leaf)), gap)


def _taken(end: LeafEnd, width: float) -> float:
    """What a joint of a width takes of the end of a leaf that stops with one against another."""
    return width if (end.kind, end.connection) == ("abutting", "jointed") else 0.0


def _kept_clear(end: LeafEnd, face_end: float, inwards: int, half_unit: float) -> Span:
    """The end of a leaf: half a unit of it, and all that a bonded return takes."""
    inner = max((end.near - face_end) * inwards, half_unit) if end.kind == "corner" else half_unit
    return Span(min(face_end, face_end + inwards * inner), max(face_end, face_end + inwards * inner))


def _hiding_places(leaf: Leaf, wall: Wall, unit: Unit) -> tuple[tuple[str, Span], ...]:
    half = unit.length / 2
    outside = leaf.side == "outer" and not wall.internal
    hides: list[tuple[str, Span]] = [
        (feature.kind, Span(feature.at, feature.at).grown(half))
        for feature in wall.features
        if feature.kind in ("column", "recess") or (feature.kind == "downpipe" and outside)
    ]
    for feature in wall.features:
        if feature.kind == "pier":
            pier = _pier(feature, unit)
            hides += [("pier", Span(pier.start - half, pier.start)), ("pier", Span(pier.end, pier.end + half))]
    if leaf.side == "outer":
        within = unit.length + unit.joint
        hides += [("re-entrant corner", Span(at, at).grown(within)) for at, sticks_out in _corners(leaf) if not sticks_out]
    return tuple(hides)


def _pier(feature: Feature, unit: Unit) -> Span:
    """What a pier takes of the wall, with the perpend on either side: two units, as wide as they commonly are (no source)."""
    return Span(feature.at, feature.at).grown(unit.length + unit.joint)


def _stubs(leaf: Leaf) -> Iterator[Span]:
    """The corners near which a joint leaves a stub: those that stick out, and every corner of an inner leaf."""
    return (Span(at, at) for at, sticks_out in _corners(leaf) if sticks_out or leaf.side == "inner")


def _corners(leaf: Leaf) -> Iterator[tuple[float, bool]]:
    """The ends of a leaf that are bonded corners, and whether they stick out (or are re-entrant) as seen from outside."""
    for end, at, inwards in ((leaf.start_end, leaf.span.start, 1), (leaf.finish_end, leaf.span.end, -1)):
        if end.kind == "corner" and end.near != end.far:
            yield at, (end.far - at) * inwards >= -TOLERANCE


class Liking(NamedTuple):
    """How far from a reveal and from an outer corner a joint should preferably keep (mm); None where there is no such rule.

    `of_corners_by_height` is a wish of its own beside `of_corners`: often too much for any place, it must not drown the others.
    """

    of_reveals: float | None
    of_corners: float | None
    of_corners_by_height: float | None = None


def free_stretches(here: Site) -> tuple[Span, ...]:
    """Where in the leaf a joint may stand at all."""
    return subtract(here.leaf.span, here.blocked)


def places(here: Site, clear: Liking) -> tuple[Candidate, ...]:
    """Every place worth trying first: perpends of the bond's grid, and both ends of each free stretch so that no room is lost."""
    found: dict[float, bool] = {}
    for free in free_stretches(here):
        on_grid = perpends(here.leaf, here.unit, free, here.gap)
        found.update(dict.fromkeys(on_grid, True))
        for at in (free.start, free.end):
            if not any(abs(at - other) <= TOLERANCE for other in on_grid):
                found[at] = False
    crowded = _crowded(here, clear)
    return tuple(_candidate(at, here, crowded, on_grid=grid) for at, grid in sorted(found.items()))


def off_bond(at: float, here: Site, clear: Liking) -> Candidate:
    """A place off the bond's grid."""
    return _candidate(at, here, _crowded(here, clear), on_grid=False)


class _Crowded(NamedTuple):
    """Things of one kind, where they start and end in order, and how far a joint should preferably keep from them."""

    starts: list[float]
    ends: list[float]
    clear: float

    def lacking(self, left: float, right: float) -> float:
        """How much too near a gap stands to the nearest of them."""
        after = bisect_left(self.starts, left)
        before = left - self.ends[after - 1] if after else inf
        return self.clear - min(before, self.starts[after] - right if after < len(self.starts) else inf)


def _crowded(here: Site, clear: Liking) -> list[list[_Crowded]]:
    """By wish: of reveals and corners the one that is crowded most counts, the height of the wall by itself."""
    near = ((here.reveals, clear.of_reveals), (here.corners, clear.of_corners))
    wishes = (near, ((here.corners, clear.of_corners_by_height),))
    return [[_things(things, by) for things, by in wish if by is not None] for wish in wishes]


def _things(kind: Sequence[Span], by: float) -> _Crowded:
    things = merge(kind)
    return _Crowded([thing.start for thing in things], [thing.end for thing in things], by)


def perpends(leaf: Leaf, unit: Unit, within: Span, gap: float) -> Sequence[float]:
    """Grid positions in a stretch, ends included, where the masonry begins a `gap` in from an end that stops with a joint.

    The bond may be set out from either end of the masonry, so both grids are offered, and a mirrored leaf has mirrored places.
    """
    span = Span(leaf.span.start + _taken(leaf.start_end, gap), leaf.span.end - _taken(leaf.finish_end, gap))
    grid = load_bond(leaf.bond).grid(Span(0.0, span.length), unit.length, unit.joint)
    found: list[float] = []
    from_start = _multiples(grid, within.shifted(-span.start))
    from_end = _multiples(grid, Span(span.end - within.end, span.end - within.start))
    for at in sorted([*(span.start + x for x in from_start), *(span.end - x for x in from_end)]):
        if not found or at - found[-1] > TOLERANCE:
            found.append(at)
    return found


def _multiples(grid: Grid, within: Span) -> Iterator[float]:
    first = ceil((within.start - grid.origin - TOLERANCE) / grid.step)
    last = floor((within.end - grid.origin + TOLERANCE) / grid.step)
    return (grid.origin + k * grid.step for k in range(first, last + 1))


def _candidate(at: float, here: Site, crowded: Iterable[Iterable[_Crowded]], *, on_grid: bool) -> Candidate:
    half = here.width / 2
    hidden = any(s.contains(at) for _, s in here.hides)
    crowding = sum(_crowding(at - half, at + half, wish) for wish in crowded)
    return Candidate(at, crowding=crowding, hidden=hidden, on_grid=on_grid)


def _crowding(left: float, right: float, crowded: Iterable[_Crowded]) -> int:
    """How much nearer than liked a gap stands to that of the things it crowds most, in steps: in a pier the middle is best."""
    worst = 0.0
    for kind in crowded:
        worst = max(worst, kind.lacking(left, right))
    return ceil((worst - TOLERANCE) / _STEP) if worst > TOLERANCE else 0
