"""Gauge: the heights of a leaf. Whole courses of one bed thickness as far as they go in each zone.

Levels in mm from datum. A sill or a top lands on a course top; a lintel's underside anywhere in the bed over one.
"""

from __future__ import annotations

from itertools import pairwise
from math import floor
from typing import Literal, NamedTuple

from elevgen.building.model import Leaf, Opening, Profile, Unit, Zone
from elevgen.core.geometry import TOLERANCE, Span, at_least, subtract
from elevgen.coursing.allowances import Allowances


class Band(NamedTuple):
    """The part of the face one course takes: bed from `bottom` to `level`, units from `level` to `top`.

    `top == level` where there is room for a bed only.
    """

    unit: Unit
    bottom: float
    level: float
    top: float


class Target(NamedTuple):
    """A level that ought to land on the coursing: a head anywhere in the bed over a course, the others on a course top."""

    what: str
    level: float
    kind: Literal["sill", "head", "step", "top"]

    @property
    def head(self) -> bool:
        return self.kind == "head"


def targets_of(leaf: Leaf, openings: tuple[Opening, ...]) -> tuple[Target, ...]:
    """Sills and heads with masonry at them, flat tops and steps of the base, each once, from the bottom up."""
    found: list[Target] = []
    for opening in openings:
        rect = opening.rect
        if rect.bottom > leaf.base.lowest(rect.along) + TOLERANCE and _masonry_at(leaf, rect.along, rect.bottom, below=True):
            found.append(Target(f"sill of {opening.id}", rect.bottom, "sill"))
        if rect.top < leaf.top.highest(rect.along) - TOLERANCE and _masonry_at(leaf, rect.along, rect.top, below=False):
            found.append(Target(f"head of {opening.id}", rect.top, "head"))
    lowest = leaf.base.lowest(leaf.span)
    found += [Target("step of the base", y, "step") for y in flats(leaf.base, leaf.span) if y > lowest + TOLERANCE]
    found += [Target(f"top of {zone.unit.name}", zone.levels.end, "top") for zone in leaf.zones[:-1]]
    found += [Target("top of the wall", y, "top") for y in flats(leaf.top, leaf.span)]
    return tuple(sorted(found, key=lambda t: (t.level, t.what)))


def flats(profile: Profile, span: Span) -> tuple[float, ...]:
    """The levels at which a profile runs level, lowest first."""
    points = profile.clipped(span)
    return tuple(sorted({b[1] for a, b in pairwise(points) if a[1] == b[1] and b[0] - a[0] > TOLERANCE}))


def bands_of(leaf: Leaf, beds: tuple[float, ...], allowances: Allowances) -> tuple[Band, ...]:
    """The courses of a leaf from the bottom up; `beds` are those of its zones.

    A unit cut in height keeps coursing.split.min; what is less is made up in the bed.
    """
    bands: list[Band] = []
    for zone, bed in zip(leaf.zones, beds, strict=True):
        bands += _zone_bands(zone.unit, zone.levels, bed, allowances.split_min, cut_by_slope(leaf, zone))
    return tuple(bands)


def cut_by_slope(leaf: Leaf, zone: Zone) -> bool:
    """Whether a zone ends under a slope that rises over every level top of its leaf: no course has to land there."""
    sloping = leaf.top.highest(leaf.span) - max(flats(leaf.top, leaf.span), default=-float("inf")) > TOLERANCE
    return sloping and zone is leaf.zones[-1]


def _masonry_at(leaf: Leaf, along: Span, level: float, below: bool) -> bool:
    """Whether any masonry meets a horizontal edge from below or from above."""
    edge = [v for v in leaf.voids if (v.bottom < level - TOLERANCE <= v.top if below else v.bottom <= level + TOLERANCE < v.top)]
    return bool(subtract(along, [v.along for v in edge]))


def _zone_bands(unit: Unit, levels: Span, bed: float, split_min: float, sloping: bool) -> list[Band]:
    gauge = unit.height + bed
    whole = floor((levels.length + TOLERANCE) / gauge)
    bands = [_band(unit, levels.start + k * gauge, bed, unit.height) for k in range(whole)]
    rest = levels.length - whole * gauge
    if rest <= TOLERANCE:
        return bands
    last = levels.start + whole * gauge
    if sloping:
        return [*bands, _band(unit, last, bed, unit.height)]
    if at_least(rest - bed, split_min) or not bands:
        bed = min(bed, rest)
        return [*bands, Band(unit, last, last + bed, levels.end)]
    under = bands.pop()
    return [*bands, _band(unit, under.bottom, bed + rest, unit.height)]


def _band(unit: Unit, bottom: float, bed: float, height: float) -> Band:
    return Band(unit, bottom, bottom + bed, bottom + bed + height)
