"""The rules by which a lintel's load is reckoned, read once for each method; a method lacking one of them is not calculated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from elevgen.fittings.load_triangle import Shares
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

STEM = "lintel.load"
SIDE = ("side.min", "side.fraction")
TRIANGLE = (
    *("triangle.base", "triangle.angle", "triangle.share", "zone.angle", "zone.share", "zone.masonry", "spread.angle"),
    *("span.one_storey", "span.more_storeys", "storeys.max", "storey_height.min"),
    *SIDE,
)
ARCHING = ("arching.angle", "arching.above_apex", "arching.bearing", "arching.cone")


@dataclass(frozen=True, slots=True)
class SideRules:
    """How much masonry must stand at each side of an opening (mm, and of its clear span): BS 5977-1:1981, 5e."""

    least: float
    fraction: float

    def needed(self, clear: float) -> float:
        """The greater of the two."""
        return max(self.least, self.fraction * clear)


@dataclass(frozen=True, slots=True)
class TriangleRules:
    """BS 5977-1:1981: the triangle and its zone (4.2), and how far they are good for (scope, 5e)."""

    base: float
    angle: float
    zone_angle: float
    zone_masonry: float
    shares: Shares
    span_one: float
    span_more: float
    storeys: int
    storey_height: float
    side: SideRules

    def longest(self, storeys: int) -> float:
        """The longest clear span for a building of so many storeys."""
        return self.span_one if storeys == 1 else self.span_more


@dataclass(frozen=True, slots=True)
class ArchingRules:
    """TEK 17-1B and Taly: when masonry arches over a lintel, and how a load at one point spreads.

    `side` is None where the set has no figure for what must stand at each side: it then cannot be said to arch.
    """

    angle: float
    above_apex: float
    bearing: float
    cone: float
    side: SideRules | None


def triangle_rules(reader: RuleReader) -> TriangleRules | tuple[str, ...]:
    """The rules of the load triangle, or the keys the set lacks."""
    n = _figures(reader, TRIANGLE)
    if isinstance(n, tuple):
        return n
    return TriangleRules(
        base=n["triangle.base"],
        angle=n["triangle.angle"],
        zone_angle=n["zone.angle"],
        zone_masonry=n["zone.masonry"],
        shares=Shares(n["triangle.share"], n["zone.share"], n["spread.angle"]),
        span_one=n["span.one_storey"],
        span_more=n["span.more_storeys"],
        storeys=int(n["storeys.max"]),
        storey_height=n["storey_height.min"],
        side=SideRules(n["side.min"], n["side.fraction"]),
    )


def arching_rules(reader: RuleReader) -> ArchingRules | tuple[str, ...]:
    """The rules of arching, or the keys the set lacks."""
    n = _figures(reader, ARCHING)
    if isinstance(n, tuple):
        return n
    side = _figures(reader, SIDE)
    return ArchingRules(
        angle=n["arching.angle"],
        above_apex=n["arching.above_apex"],
        bearing=n["arching.bearing"],
        cone=n["arching.cone"],
        side=None if isinstance(side, tuple) else SideRules(side["side.min"], side["side.fraction"]),
    )


def keys(names: tuple[str, ...]) -> tuple[str, ...]:
    """The whole keys of the names above."""
    return tuple(f"{STEM}.{name}" for name in names)


def _figures(reader: RuleReader, names: tuple[str, ...]) -> Mapping[str, float] | tuple[str, ...]:
    """The figures by name, or the keys the set lacks."""
    known = {name: figure(reader, f"{STEM}.{name}") for name in names}
    found = {name: value for name, value in known.items() if value is not None}
    return found if len(found) == len(known) else keys(tuple(name for name in names if name not in found))
