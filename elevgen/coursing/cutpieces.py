"""The pieces a leaf is cut for: how long each really is, and how much of a unit it takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from math import ceil
from typing import NamedTuple

from elevgen.building.model import Leaf, Unit
from elevgen.core.figures import METRIC, Figures
from elevgen.core.geometry import TOLERANCE, Point
from elevgen.coursing.model import Box, Laid, LeafCoursing, Pattern, RakePiece

DUST = 0.001
"""Tenths of a millimetre: what reckoning may leave on a length, and is no length."""


class Size(NamedTuple):
    """A cut piece: its unit, how it is laid, its length along the wall and height, and what it takes of its unit."""

    unit: str
    laid: Laid
    length: float
    height: float
    box: Box


class Shape(NamedTuple):
    """A piece cut to a slope in a course: its two beds, its two ends, and what it takes of its unit."""

    course: int
    unit: str
    laid: Laid
    long: float
    short: float
    high: float
    low: float
    box: Box


@dataclass(slots=True)
class Tally:
    """Units laid whole, by kind, and cut pieces, by size or shape."""

    whole: Counter[str] = field(default_factory=Counter)
    sizes: Counter[Size] = field(default_factory=Counter)
    shapes: Counter[Shape] = field(default_factory=Counter)

    def add(self, other: Tally, times: int = 1) -> None:
        """Another tally so many times over."""
        for mine, theirs in ((self.whole, other.whole), (self.sizes, other.sizes), (self.shapes, other.shapes)):
            for thing, number in theirs.items():
                mine[thing] += times * number  # type: ignore[index]

    def units(self) -> list[str]:
        """The kinds of unit in it, by name."""
        return sorted({*self.whole, *(size.unit for size in self.sizes), *(shape.unit for shape in self.shapes)})


def tenths(length: float, figures: Figures = METRIC) -> float:
    """A length to the tenth of a millimetre above it, so that two that are cut for it are never too short.

    In feet and inches a whole number of half sixteenths stays what it is, so that it is written to the sixteenth it is.
    """
    half = figures.step / 2
    parts = round(length / half)
    if figures.in_feet and abs(length - parts * half) <= DUST / 10:
        return parts * half
    return ceil(length * 10 - DUST) / 10 + 0.0


def tallies(
    leaf: Leaf, laid: LeafCoursing, patterns: Mapping[str, Pattern], lift_of: Mapping[int, int], figures: Figures = METRIC
) -> dict[int, Tally]:
    """What a leaf is laid of, by lift; `lift_of` gives the lift of each course."""
    units = {zone.unit.name: zone.unit for zone in leaf.zones}
    found: dict[int, Tally] = {}
    for (lift, name), times in Counter((lift_of[p.course], p.pattern) for p in laid.placements).items():
        pattern = patterns[name]
        found.setdefault(lift, Tally()).add(_of_pattern(figures, pattern, units[pattern.unit], leaf.thickness), times)
    for rake in (rake for rake in laid.rakes if rake.deep):
        shape = _shape(figures, rake, units[rake.unit], leaf.thickness)
        found.setdefault(lift_of[rake.course], Tally()).shapes[shape] += rake.deep
    return found


def _of_pattern(figures: Figures, pattern: Pattern, unit: Unit, thickness: float) -> Tally:
    """One laying of a pattern. Ends of units from round the corner belong to the other wall."""
    tally = Tally()
    height = tenths(pattern.height, figures)
    for index, piece in enumerate((*pattern.pieces, *pattern.unseen)):
        if piece.kind == "return":
            continue
        if piece.kind == "full" and not pattern.split:
            tally.whole[unit.name] += piece.deep
            continue
        length = tenths(pattern.real(index), figures)
        box = _box(figures, unit, piece.laid, length, height, _depth(figures, unit, thickness, piece.deep))
        tally.sizes[Size(unit.name, piece.laid, length, height, box)] += piece.deep
    return tally


def _depth(figures: Figures, unit: Unit, thickness: float, deep: int) -> float:
    """How far one of the units that lie one behind another goes into the leaf."""
    return tenths(min(unit.length, (thickness - (deep - 1) * unit.joint) / deep), figures)


def _box(figures: Figures, unit: Unit, laid: Laid, length: float, height: float, depth: float) -> Box:
    """A header or a closer deeper than the unit is wide lies along the thickness: a slip off the unit's side.

    Else it comes off the unit's length as a bat does.
    """
    if laid in ("header", "closer") and depth > unit.width + TOLERANCE:
        return Box(depth, length, height)
    return Box(length, tenths(unit.width, figures), height)


def _shape(figures: Figures, rake: RakePiece, unit: Unit, thickness: float) -> Shape:
    """A piece under a slope, read off its outline; it takes its greatest length out of a unit of full height."""
    across, up = ([point[axis] for point in rake.outline] for axis in (0, 1))
    beds = sorted((_extent(rake.outline, 1, level, 0) + rake.hidden for level in (min(up), max(up))), reverse=True)
    ends = sorted((_extent(rake.outline, 0, at, 1) for at in (min(across), max(across))), reverse=True)
    length = tenths(max(across) - min(across) + rake.hidden, figures)
    box = _box(figures, unit, rake.laid, length, tenths(unit.height, figures), _depth(figures, unit, thickness, rake.deep))
    long, short, high, low = (tenths(edge, figures) for edge in (*beds, *ends))
    return Shape(rake.course, unit.name, rake.laid, long, short, high, low, box)


def _extent(outline: tuple[Point, ...], axis: int, at: float, other: int) -> float:
    """How long the outline's edge is where it lies at `at`; 0 where it only touches."""
    on = [point[other] for point in outline if abs(point[axis] - at) <= TOLERANCE]
    return max(on) - min(on)


def by_unit(tally: Tally, unit: str) -> tuple[Counter[Box], Counter[Box]]:
    """What one kind of unit is cut into: boxes of pieces cut to a size, and of pieces cut to a slope."""
    straight: Counter[Box] = Counter()
    sloping: Counter[Box] = Counter()
    for size, number in tally.sizes.items():
        if size.unit == unit:
            straight[size.box] += number
    for shape, number in tally.shapes.items():
        if shape.unit == unit:
            sloping[shape.box] += number
    return straight, sloping


def sizes_of(tally: Tally) -> Iterator[tuple[Size, int]]:
    """Cut sizes in a fixed order."""
    return iter(sorted(tally.sizes.items()))
