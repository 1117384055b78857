"""Beds: one bed thickness for all the masonry of a tied run, chosen together, so that courses meet wherever walls do.

A band is what lies in one run, of one unit, between levels its zones share: its beds are alike from bottom to top.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Unit, Zone
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.coursing.allowances import Allowances
from elevgen.coursing.gauge import Target, cut_by_slope
from elevgen.coursing.model import Bar


class _Part(NamedTuple):
    """A zone of a leaf, with the levels above its bottom that ought to land."""

    leaf: str
    zone: Zone
    wanted: frozenset[tuple[float, bool]]


@dataclass(frozen=True, slots=True)
class _Band:
    """The zones of one unit in one run that share levels. `wanted`: heights that ought to land, heads or not, and how many."""

    parts: tuple[_Part, ...]
    wanted: Mapping[tuple[float, bool], int]

    @property
    def unit(self) -> Unit:
        return self.parts[0].zone.unit

    @property
    def starts(self) -> tuple[float, ...]:
        """How far the bottom of each part lies over the lowest."""
        bottom = min(part.zone.levels.start for part in self.parts)
        return tuple(part.zone.levels.start - bottom for part in self.parts)

    def apart(self, bed: float) -> int:
        """How many parts would have courses that do not meet those of the lowest."""
        return sum(not lands(start, self.unit.height + bed, 0.0) for start in self.starts)

    def missed(self, bed: float) -> frozenset[tuple[float, bool]]:
        gauge = self.unit.height + bed
        return frozenset((y, head) for y, head in self.wanted if not lands(y, gauge, bed if head else 0.0))

    def number(self, heights: Iterable[tuple[float, bool]]) -> int:
        return sum(self.wanted[height] for height in heights)


@dataclass(frozen=True, slots=True)
class ZoneBed:
    """The bed of a zone (mm), and the band it was chosen for. `tied`: the beds of the other leaf keep it nominal."""

    bed: float
    band: _Band
    tied: bool
    tolerance: float

    def bar_to(self, bed: float) -> tuple[Bar, int | None]:
        """Why another bed is not laid; and where it could be, how many levels that land now it would lose."""
        if not at_most(abs(bed - self.band.unit.bed), self.tolerance):
            return "tolerance", None
        if self.tied:
            return "ties", None
        loses = self.band.number(self.band.missed(bed) - self.band.missed(self.bed))
        return ("run" if self.band.apart(bed) > self.band.apart(self.bed) else "others"), loses


Beds = Mapping[str, tuple[ZoneBed, ...]]
"""By leaf: the beds of its zones, lowest first."""


def beds_of(building: Building, targets: Mapping[str, Sequence[Target]], allowances: Allowances) -> Beds:
    """The bed of every zone of every leaf.

    Nominal where the two leaves of a wall co-course at nominal beds anywhere in the band, for ties need beds at one level. Else
    the bed that keeps the courses of the band in one gauge and loses fewest targets, no further off nominal than
    bed.tolerance; the nominal one wins a tie.
    """
    parts = [_part(leaf, zone, targets[leaf.id]) for leaf in building.leaves for zone in leaf.zones]
    bound = _co_coursing(building, allowances)
    found: dict[tuple[str, float], ZoneBed] = {}
    for band in _bands(parts, _runs(building)):
        tied = any((part.leaf, part.zone.levels.start) in bound for part in band.parts)
        bed = band.unit.bed if tied else _best(band, allowances.bed_tolerance)
        chosen = ZoneBed(bed, band, tied, allowances.bed_tolerance)
        found.update({(part.leaf, part.zone.levels.start): chosen for part in band.parts})
    return {leaf.id: tuple(found[leaf.id, zone.levels.start] for zone in leaf.zones) for leaf in building.leaves}


def beds_landing(unit: Unit, height: float, head: bool, tolerance: float) -> Iterator[tuple[float, float]]:
    """The least and the greatest bed that land a height over a zone's bottom, for each number of courses that may do.

    A head lands anywhere in the bed over a course. Beyond the tolerance, the next number of courses either way is given.
    """
    few = floor(height / (unit.gauge + tolerance))
    many = ceil(height / max(unit.gauge - tolerance, unit.height))
    for n in range(max(few, 1), many + 1):
        most = height / n - unit.height
        if most > TOLERANCE:
            yield ((height - n * unit.height) / (n + 1) if head else most), most


def nearest_bed(unit: Unit, height: float, head: bool, tolerance: float) -> float | None:
    """The bed nearest nominal that lands a height over a zone's bottom; None where no bed does."""
    beds = (min(max(unit.bed, least), most) for least, most in beds_landing(unit, height, head, tolerance))
    return min(beds, key=lambda bed: abs(bed - unit.bed), default=None)


def lands(height: float, gauge: float, reach: float) -> bool:
    """Whether a height over a zone's bottom lies on a course top or no more than `reach` over it."""
    courses = floor((height + TOLERANCE) / gauge)
    return at_most(height - courses * gauge, reach)


def _part(leaf: Leaf, zone: Zone, targets: Iterable[Target]) -> _Part:
    start, end = zone.levels.start, zone.levels.end
    wanted = {(t.level - start, t.head) for t in targets if start + TOLERANCE < t.level <= end + TOLERANCE}
    lands_too = set() if cut_by_slope(leaf, zone) else {(end - start, False)}
    return _Part(leaf.id, zone, frozenset(wanted | lands_too))


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
                bands.append(_band(band))
                band = []
            band.append(part)
        bands.append(_band(band))
    return bands


def _band(parts: Sequence[_Part]) -> _Band:
    return _Band(tuple(parts), Counter(height for part in parts for height in part.wanted))


def _best(band: _Band, tolerance: float) -> float:
    """The fewest targets are lost at nominal beds or where one more just lands: at an end of the beds that land it."""
    unit = band.unit
    heights = {*band.wanted, *((start, False) for start in band.starts if start > TOLERANCE)}
    beds = {unit.bed, *(bed for y, head in heights for ends in beds_landing(unit, y, head, tolerance) for bed in ends)}
    allowed = [bed for bed in beds if bed > TOLERANCE and at_most(abs(bed - unit.bed), tolerance)]

    def cost(bed: float) -> tuple[int, int, float, float]:
        return band.apart(bed), band.number(band.missed(bed)), round(abs(bed - unit.bed), 6), bed

    return min(allowed, key=cost)


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
    shared = [y for y in heights if lands(y, fine.unit.gauge, 0.0)]
    apart = max((b - a for a, b in pairwise(shared)), default=0.0)
    return len(shared) > 1 and at_least(max(spacing or 0.0, pitch), apart)
