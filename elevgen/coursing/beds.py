"""Beds: one bed thickness for all the masonry of a tied run, chosen together, so that courses meet wherever walls do.

A band is what lies in one run, of one unit, between levels its zones share: its beds are alike from bottom to top.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Zone
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.coursing.allowances import Allowances
from elevgen.coursing.gauge import Target, cut_by_slope

Beds = Mapping[str, tuple[float, ...]]
"""By leaf: the bed thickness of each of its zones, lowest first."""


class _Part(NamedTuple):
    """A zone of a leaf, with the levels above its bottom that ought to land and whether its own top can."""

    leaf: str
    zone: Zone
    wanted: frozenset[tuple[float, bool]]
    lands: bool


@dataclass(frozen=True, slots=True)
class _Band:
    """The zones of one unit in one run that share levels."""

    parts: tuple[_Part, ...]

    @property
    def bottom(self) -> float:
        return min(part.zone.levels.start for part in self.parts)


def beds_of(building: Building, targets: Mapping[str, Sequence[Target]], allowances: Allowances) -> Beds:
    """The bed of every zone of every leaf.

    Nominal where the two leaves of a wall co-course at nominal beds anywhere in the band, for ties need beds at one level. Else
    the bed that keeps the courses of the band in one gauge and loses fewest targets, no further off nominal than
    bed.tolerance; the nominal one wins a tie.
    """
    parts = [_part(leaf, zone, targets[leaf.id], allowances) for leaf in building.leaves for zone in leaf.zones]
    bound = _co_coursing(building, allowances)
    found: dict[tuple[str, float], float] = {}
    for band in _bands(parts, _runs(building)):
        keeps = any((part.leaf, part.zone.levels.start) in bound for part in band.parts)
        bed = band.parts[0].zone.unit.joint if keeps else _best(band, allowances)
        found.update({(part.leaf, part.zone.levels.start): bed for part in band.parts})
    return {leaf.id: tuple(found[leaf.id, zone.levels.start] for zone in leaf.zones) for leaf in building.leaves}


def _part(leaf: Leaf, zone: Zone, targets: Iterable[Target], allowances: Allowances) -> _Part:
    start, end = zone.levels.start, zone.levels.end
    wanted = {(t.level - start, t.head) for t in targets if start + TOLERANCE < t.level <= end + TOLERANCE}
    lands = not cut_by_slope(leaf, zone)
    return _Part(leaf.id, zone, frozenset(wanted | ({(end - start, False)} if lands else set())), lands)


def _runs(building: Building) -> dict[str, str]:
    """By leaf: the first leaf of all that bonded and tied meetings connect it with."""
    first = {leaf.id: leaf.id for leaf in building.leaves}
    for meeting in building.meetings:
        if meeting.continuous:
            one, other = first[meeting.host], first[meeting.stem]
            first = {leaf: one if run == other else run for leaf, run in first.items()}
    return first


def _bands(parts: Iterable[_Part], runs: Mapping[str, str]) -> list[_Band]:
    """The parts of each run and unit, parted where no levels are shared."""
    alike: dict[tuple[str, str], list[_Part]] = {}
    for part in parts:
        alike.setdefault((runs[part.leaf], part.zone.unit.name), []).append(part)
    bands = []
    for group in alike.values():
        band: list[_Part] = []
        for part in sorted(group, key=lambda p: (p.zone.levels.start, p.leaf)):
            if band and part.zone.levels.start >= max(p.zone.levels.end for p in band) - TOLERANCE:
                bands.append(_Band(tuple(band)))
                band = []
            band.append(part)
        bands.append(_Band(tuple(band)))
    return bands


def _best(band: _Band, allowances: Allowances) -> float:
    unit = band.parts[0].zone.unit
    beds = {unit.joint}
    for part in band.parts:
        height = part.zone.levels.length
        if part.lands:
            beds |= {height / n - unit.height for n in {floor(height / unit.gauge), ceil(height / unit.gauge)} if n}
    allowed = [bed for bed in beds if bed > TOLERANCE and at_most(abs(bed - unit.joint), allowances.bed_tolerance)]

    def cost(bed: float) -> tuple[int, int, float, float]:
        gauge = unit.height + bed
        apart = sum(not _lands(part.zone.levels.start - band.bottom, gauge, 0.0) for part in band.parts)
        missed = sum(not _lands(y, gauge, bed if head else 0.0) for part in band.parts for y, head in part.wanted)
        return apart, missed, round(abs(bed - unit.joint), 6), bed

    return min(allowed, key=cost, default=unit.joint)


def _lands(height: float, gauge: float, reach: float) -> bool:
    """Whether a height over a zone's bottom lies on a course top or no more than `reach` over it."""
    courses = floor((height + TOLERANCE) / gauge)
    return at_most(height - courses * gauge, reach)


def _co_coursing(building: Building, allowances: Allowances) -> set[tuple[str, float]]:
    """The zones, by leaf and bottom, that at nominal beds share beds with the other leaf of their wall, near enough for ties."""
    bound: set[tuple[str, float]] = set()
    for wall in building.walls:
        if len(wall.leaves) == 2:
            outer, inner = building.leaves_of(wall.id)
            for one in outer.zones:
                for other in inner.zones:
                    if _share_beds(one, other, allowances.tie_spacing):
                        bound |= {(outer.id, one.levels.start), (inner.id, other.levels.start)}
    return bound


def _share_beds(one: Zone, other: Zone, spacing: float | None) -> bool:
    """Whether a bed of the one lies level with one of the other every `spacing`, or every course of the higher units."""
    levels = one.levels.common(other.levels)
    pitch = max(one.unit.gauge, other.unit.gauge)
    if levels is None or levels.length < pitch - TOLERANCE:
        return False
    coarse, fine = (one, other) if one.unit.gauge >= other.unit.gauge else (other, one)
    first = ceil((levels.start - coarse.levels.start - TOLERANCE) / pitch)
    last = floor((levels.end - coarse.levels.start + TOLERANCE) / pitch)
    heights = [coarse.levels.start + k * pitch - fine.levels.start for k in range(first, last + 1)]
    shared = [y for y in heights if _lands(y, fine.unit.gauge, 0.0)]
    apart = max((b - a for a, b in pairwise(shared)), default=0.0)
    return len(shared) > 1 and at_least(max(spacing or 0.0, pitch), apart)
