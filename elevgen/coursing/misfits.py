"""Misfits: the levels that land on no course, which course pays for it, and which bed would have landed them.

Levels in mm from datum.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from elevgen.building.model import Leaf, Zone
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.coursing.beds import ZoneBed, nearest_bed
from elevgen.coursing.gauge import Band, Target
from elevgen.coursing.model import LintelSeat, Misfit


class _Paid(NamedTuple):
    """What a level off the courses does to the course there: its units cut to a height, or its bed made up to a thickness."""

    course: int | None
    cut_to: float | None = None
    made_up: float | None = None


def misfits_of(
    leaf: Leaf,
    targets: Sequence[Target],
    bands: Sequence[Band],
    beds: Sequence[ZoneBed],
    seats: Sequence[LintelSeat],
    split_min: float,
) -> tuple[Misfit, ...]:
    """Every target that does not land, with the nearest levels down and up that would at the beds in use.

    `beds` are those of the leaf's zones, `seats` those of its lintels; units cut in height keep at least `split_min`.
    """
    on_lintel = {(f"head of {name}", round(seat.level, 3)) for seat in seats if seat.body for name in seat.openings}
    missed: list[Misfit] = []
    for target in targets:
        zone, bed = _zone_of(leaf, target, beds)
        levels = _landing_levels(zone, bed.bed, target)
        if any(at_least(target.level, low) and at_most(target.level, high) for low, high in levels):
            continue
        down = max((high for _, high in levels if high < target.level), default=None)
        up = min((low for low, _ in levels if low > target.level), default=None)
        if down is not None and up is not None:
            under = (target.what, round(target.level, 3)) in on_lintel
            paid = _paid(target, bands, under, split_min)
            needed = nearest_bed(zone.unit, target.level - zone.levels.start, target.head, bed.tolerance)
            barred, loses = (None, None) if needed is None else bed.bar_to(needed)
            missed.append(Misfit(leaf.id, target.what, target.level, down, up, *paid, bed.bed, needed, barred, loses))
    return tuple(missed)


def _zone_of(leaf: Leaf, target: Target, beds: Sequence[ZoneBed]) -> tuple[Zone, ZoneBed]:
    zones = zip(leaf.zones, beds, strict=True)
    return next(((z, bed) for z, bed in zones if at_most(target.level, z.levels.end)), (leaf.zones[-1], beds[-1]))


def _landing_levels(zone: Zone, bed: float, target: Target) -> list[tuple[float, float]]:
    """(lowest, highest) level of every place that counts as landing in the zone, its courses going on past its top.

    A zone's own top lands sills and heads however it was made up.
    """
    gauge = zone.unit.height + bed
    starts = [zone.levels.start + k * gauge for k in range(ceil((zone.levels.length - TOLERANCE) / gauge) + 1)]
    made_up = [] if target.kind == "top" else [(zone.levels.end, zone.levels.end)]
    return made_up + [(y, y + (bed if target.head else 0.0)) for y in starts]


def _paid(target: Target, bands: Sequence[Band], on_lintel: bool, split_min: float) -> _Paid:
    """Masonry ends at a sill and at a top, and begins at a head and at a step of the base.

    At a head with a lintel in the place of units (`on_lintel`) it ends a bed under the bearings.
    """
    number = 0
    for i, band in enumerate(bands):
        units = band.top - band.level > TOLERANCE
        number += units
        if at_most(target.level, band.top):
            above = bands[i + 1] if i + 1 < len(bands) else None
            if on_lintel:
                return _borne(target.level, band, number if units else None, split_min)
            if target.kind in ("head", "step"):
                return _begun(target.level, band, above, number if units else None, split_min)
            return _ended(target.level, band, number if units else None, split_min)
    return _Paid(None)


def _borne(level: float, band: Band, number: int | None, split_min: float) -> _Paid:
    left = level - (band.level - band.bottom) - band.level
    if at_least(left, min(split_min, band.unit.height)) and number:
        return _Paid(number, cut_to=left)
    return _Paid(number, made_up=level - band.bottom)


def _ended(level: float, band: Band, number: int | None, split_min: float) -> _Paid:
    left = level - band.level
    if at_least(left, band.unit.height):
        return _Paid(number, made_up=band.level - band.bottom)
    if at_least(left, min(split_min, band.unit.height)) and number:
        return _Paid(number, cut_to=left)
    return _Paid(number, made_up=level - band.bottom)


def _begun(level: float, band: Band, above: Band | None, number: int | None, split_min: float) -> _Paid:
    if at_most(level, band.level) or number is None:
        return _Paid(number, made_up=band.level - level)
    left = band.top - level
    if at_least(left, min(split_min, band.unit.height)):
        return _Paid(number, cut_to=left)
    return _Paid(number, made_up=left) if above is None else _Paid(number + 1, made_up=above.level - level)
