"""Where a movement joint may stand in a leaf: clear of openings, bearings, meetings and ends; on the bond's grid if it can."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, floor

from elevgen.bonds import load_bond
from elevgen.building.demand import LintelDemand
from elevgen.building.model import Building, Leaf, LeafEnd, Unit, Wall
from elevgen.core.geometry import TOLERANCE, Span, subtract
from elevgen.joints.problem import Candidate


@dataclass(frozen=True, slots=True)
class Site:
    """A leaf as the places for its joints see it.

    `blocked` is where no joint of `width` may be centred; `heads` are openings with their bearings; `hides` are the
    stretches in which a joint is hidden. `unit` sets the grid: the longest of the leaf, so that fewest units are cut.
    """

    leaf: Leaf
    unit: Unit
    width: float
    blocked: tuple[Span, ...]
    heads: tuple[Span, ...]
    hides: tuple[tuple[str, Span], ...]


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
    return Site(leaf, unit, width, blocked, tuple(heads), _hiding_places(leaf, wall, unit))


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
    for end, at, inwards in ((leaf.start_end, leaf.span.start, 1), (leaf.finish_end, leaf.span.end, -1)):
        if end.kind == "corner" and (end.far - at) * inwards < -TOLERANCE:
            hides.append(("re-entrant corner", Span(at, at).grown(2 * unit.length / 2 + unit.joint)))
    return tuple(hides)


def places(here: Site, clear_of_reveals: float | None) -> tuple[Candidate, ...]:
    """Every place worth trying: perpends of the bond's grid, and both ends of each free stretch so that no room is lost.

    `clear_of_reveals`: how far past a bearing a joint should preferably keep (mm); None where there is no such rule.
    """
    found: dict[float, bool] = {}
    for free in subtract(here.leaf.span, here.blocked):
        on_grid = perpends(here.leaf, here.unit, free)
        found.update(dict.fromkeys(on_grid, True))
        for at in (free.start, free.end):
            if not any(abs(at - other) <= TOLERANCE for other in on_grid):
                found[at] = False
    return tuple(_candidate(at, here, clear_of_reveals, on_grid=grid) for at, grid in sorted(found.items()))


def perpends(leaf: Leaf, unit: Unit, within: Span) -> Sequence[float]:
    """Grid positions in a stretch, ends included."""
    grid = load_bond(leaf.bond).grid(leaf.span, unit.length, unit.joint)
    first = ceil((within.start - grid.origin - TOLERANCE) / grid.step)
    last = floor((within.end - grid.origin + TOLERANCE) / grid.step)
    return [grid.origin + k * grid.step for k in range(first, last + 1)]


def _candidate(at: float, here: Site, clear: float | None, *, on_grid: bool) -> Candidate:
    gap = Span(at - here.width / 2, at + here.width / 2)
    beside = clear is not None and any(max(head.start - gap.end, gap.start - head.end) < clear - TOLERANCE for head in here.heads)
    return Candidate(at, beside_opening=beside, hidden=any(s.contains(at) for _, s in here.hides), on_grid=on_grid)
