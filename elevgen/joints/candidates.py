"""Where a movement joint may stand in a leaf: clear of openings, bearings, meetings and ends; on the bond's grid if it can."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil, floor
from typing import NamedTuple

from elevgen.bonds import load_bond
from elevgen.building.demand import LintelDemand
from elevgen.building.model import Building, Leaf, LeafEnd, Unit, Wall
from elevgen.core.geometry import TOLERANCE, Span, subtract
from elevgen.joints.problem import Candidate


class Site(NamedTuple):
    """A leaf as the places for its joints see it.

    `blocked` is where no joint of `width` may be centred; `heads` are openings with their bearings; `hides` are the
    stretches in which a joint is hidden; `corners` are outer corners, where a joint leaves a stub. `unit` sets the grid:
    the longest of the leaf, so that fewest units are cut.
    """

    leaf: Leaf
    unit: Unit
    width: float
    blocked: tuple[Span, ...]
    heads: tuple[Span, ...]
    hides: tuple[tuple[str, Span], ...]
    corners: tuple[Span, ...]


_STEP = 50.0
"""Crowding is counted in steps of this (mm)."""


def site(leaf: Leaf, wall: Wall, building: Building, demands: Iterable[LintelDemand], width: float) -> Site:
    """What limits the joints of a leaf; a joint runs the leaf's full height, so openings of every storey count."""
    unit = max((zone.unit for zone in leaf.zones), key=lambda u: (u.length, u.name))
    half = unit.length / 2
    heads = [*(d.keep_out for d in demands if d.leaf == leaf.id), *(void.along for void in leaf.voids)]
    tees = [m for m in building.meetings if m.host == leaf.id and m.kind != "corner" and m.continuous]
    stems = [Span(m.host_at, m.host_at).grown(building.leaf(m.stem).thickness / 2 + half) for m in tees]
    crossings = [c.along.grown(half) for c in leaf.crossings]
    ends = [_kept_clear(leaf.start_end, leaf.span.start, 1, half), _kept_clear(leaf.finish_end, leaf.span.end, -1, half)]
    blocked = tuple(span.grown(width / 2) for span in (*heads, *stems, *crossings, *ends))
    return Site(leaf, unit, width, blocked, tuple(heads), _hiding_places(leaf, wall, unit), tuple(_outer_corners(leaf)))


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
    hides += [("re-entrant corner", Span(at, at).grown(unit.length + unit.joint)) for at, outer in _corners(leaf) if not outer]
    return tuple(hides)


def _outer_corners(leaf: Leaf) -> Iterator[Span]:
    return (Span(at, at) for at, outer in _corners(leaf) if outer)


def _corners(leaf: Leaf) -> Iterator[tuple[float, bool]]:
    """The ends of a leaf that are bonded corners, and whether their outside is seen (not re-entrant)."""
    for end, at, inwards in ((leaf.start_end, leaf.span.start, 1), (leaf.finish_end, leaf.span.end, -1)):
        if end.kind == "corner" and end.near != end.far:
            yield at, (end.far - at) * inwards >= -TOLERANCE


def places(here: Site, clear_of_reveals: float | None, clear_of_corners: float | None) -> tuple[Candidate, ...]:
    """Every place worth trying: perpends of the bond's grid, and both ends of each free stretch so that no room is lost.

    `clear_of_reveals` and `clear_of_corners`: how far from a bearing and from an outer corner a joint should preferably
    keep (mm); None where there is no such rule.
    """
    found: dict[float, bool] = {}
    for free in subtract(here.leaf.span, here.blocked):
        on_grid = perpends(here.leaf, here.unit, free)
        found.update(dict.fromkeys(on_grid, True))
        for at in (free.start, free.end):
            if not any(abs(at - other) <= TOLERANCE for other in on_grid):
                found[at] = False
    crowded = [*((head, clear_of_reveals) for head in here.heads), *((corner, clear_of_corners) for corner in here.corners)]
    return tuple(_candidate(at, here, crowded, on_grid=grid) for at, grid in sorted(found.items()))


def perpends(leaf: Leaf, unit: Unit, within: Span) -> Sequence[float]:
    """Grid positions in a stretch, ends included."""
    grid = load_bond(leaf.bond).grid(leaf.span, unit.length, unit.joint)
    first = ceil((within.start - grid.origin - TOLERANCE) / grid.step)
    last = floor((within.end - grid.origin + TOLERANCE) / grid.step)
    return [grid.origin + k * grid.step for k in range(first, last + 1)]


def _candidate(at: float, here: Site, crowded: Iterable[tuple[Span, float | None]], *, on_grid: bool) -> Candidate:
    gap = Span(at - here.width / 2, at + here.width / 2)
    short = sum(
        ceil(max(clear - _distance(gap, thing) - TOLERANCE, 0.0) / _STEP) for thing, clear in crowded if clear is not None
    )
    return Candidate(at, crowding=short, hidden=any(s.contains(at) for _, s in here.hides), on_grid=on_grid)


def _distance(gap: Span, thing: Span) -> float:
    return max(thing.start - gap.end, gap.start - thing.end)
