"""Wall lines in plan: where each wall and each of its leaves lies, before walls are joined.

Offsets are measured to the left of the wall line, which is the inside of an outer wall.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from elevgen.bonds import Thickness, load_bond
from elevgen.building.model import Unit
from elevgen.core.errors import Fault
from elevgen.core.geometry import Point, Span, along, at_most, between, crossing, direction, distance, dot, left_of
from elevgen.spec.fields import SHORTEST_WALL, LeafSide
from elevgen.spec.leaf_models import LeafModel
from elevgen.spec.models import Spec, WallModel

End = Literal["start", "finish"]
LineKind = Literal["face", "centre"]

SNAP = SHORTEST_WALL
"""Ends drawn no further apart than this (mm) are meant to meet."""

_NOISE = 1e-6
"""What arithmetic leaves over (mm): a position this near a wall's end is that end."""


@dataclass(frozen=True, slots=True, eq=False)
class LeafLine:
    """A leaf as a band in plan: its right-hand face at `offset`, its left-hand face `thickness` further."""

    id: str
    side: LeafSide
    model: LeafModel
    thickness: float
    offset: float

    @property
    def band(self) -> Span:
        return Span(self.offset, self.offset + self.thickness)

    @property
    def middle(self) -> float:
        return self.offset + self.thickness / 2


@dataclass(frozen=True, slots=True, eq=False)
class WallLine:
    """A wall as a straight band in plan between two levels; `index` is its place in the spec."""

    index: int
    model: WallModel
    d: Point
    length: float
    line: LineKind
    leaves: tuple[LeafLine, ...]
    cavity: float | None
    levels: Span

    @property
    def id(self) -> str:
        return self.model.id

    @property
    def body(self) -> tuple[Point, Point, Point, Point]:
        """The four corners of the wall in plan, ends as drawn."""
        low, high = self.band.start, self.band.end
        return self.point(0.0, low), self.point(self.length, low), self.point(self.length, high), self.point(0.0, high)

    @property
    def band(self) -> Span:
        return Span(self.leaves[0].band.start, self.leaves[-1].band.end)

    def point(self, at: float, left: float = 0.0) -> Point:
        """The plan point at a position along the line and an offset to its left."""
        return along(self.model.start, self.d, at, left)

    def locate(self, p: Point) -> tuple[float, float]:
        """Position along the line and offset to its left of a plan point."""
        v = between(self.model.start, p)
        return dot(v, self.d), dot(v, left_of(self.d))

    def position(self, end: End) -> float:
        return 0.0 if end == "start" else self.length

    def end_point(self, end: End) -> Point:
        return self.point(self.position(end))

    def outgoing(self, end: End) -> Point:
        """The direction along the wall away from one of its ends."""
        return self.d if end == "start" else (-self.d[0], -self.d[1])

    def hits(self, left: float, other: WallLine, other_left: float) -> float:
        """Where the line at offset `left` of this wall crosses the line at `other_left` of another, along this wall.

        The walls must not be parallel.
        """
        at = crossing(self.point(0.0, left), self.d, other.point(0.0, other_left), other.d)
        if at is None:
            raise ValueError(f"{self.id} and {other.id} are parallel")
        return next((end for end in (0.0, self.length) if abs(at - end) < _NOISE), at)


def wall_lines(spec: Spec, units: Mapping[str, Unit]) -> tuple[tuple[WallLine, ...], tuple[Fault, ...]]:
    """Every wall of the spec on the line it was given (a wall that gives none: its outer face), and what is wrong with them."""
    lines, faults = [], []
    for index, wall in enumerate(spec.walls):
        if at_most(distance(wall.start, wall.end), SHORTEST_WALL):
            said = "the wall is so short that its two ends count as one"
            faults.append(Fault(("walls", index, "end"), said, wall.id, f"more than {SHORTEST_WALL:.0f} mm from its start"))
        else:
            lines.append(_wall_line(spec, index, units))
    return tuple(lines), tuple(faults)


def on_centre(wall: WallLine) -> WallLine:
    """The wall with its line taken as the middle of its thickness."""
    return _set_out(replace(wall, line="centre"))


def _wall_line(spec: Spec, index: int, units: Mapping[str, Unit]) -> WallLine:
    model = spec.walls[index]
    kind = spec.wall_types[model.type]
    made_of: list[tuple[LeafSide, str]] = [("outer", kind.outer)]
    if kind.inner is not None:
        made_of.append(("inner", kind.inner))
    leaves = []
    for side, name in made_of:
        leaf = spec.leaves[name]
        one_brick = build_of(leaf) == "one_brick"
        thickness = max(units[zone.unit].length if one_brick else units[zone.unit].width for zone in leaf.zones)
        leaves.append(LeafLine(f"{model.id}/{side}", side, leaf, thickness, 0.0))
    return _set_out(
        WallLine(
            index=index,
            model=model,
            d=direction(model.start, model.end),
            length=distance(model.start, model.end),
            line=model.line or "face",
            leaves=tuple(leaves),
            cavity=(kind.cavity or 0.0) if kind.inner is not None else None,
            levels=Span(min(_levels(model.base)), max(_levels(model.top))),
        )
    )


def build_of(leaf: LeafModel) -> Thickness:
    """How thick a leaf is built: as it says, or as its bond usually is."""
    return leaf.build or load_bond(leaf.bond).THICKNESS


def _levels(given: float | tuple[tuple[float, float], ...]) -> tuple[float, ...]:
    return tuple(level for _, level in given) if isinstance(given, tuple) else (given,)


def _set_out(wall: WallLine) -> WallLine:
    """The wall with the offsets of its leaves worked out from its line."""
    gaps = wall.cavity or 0.0
    thickness = sum(leaf.thickness for leaf in wall.leaves) + gaps
    offset = -thickness / 2 if wall.line == "centre" else 0.0
    leaves = []
    for leaf in wall.leaves:
        leaves.append(replace(leaf, offset=offset))
        offset += leaf.thickness + gaps
    return replace(wall, leaves=tuple(leaves))
