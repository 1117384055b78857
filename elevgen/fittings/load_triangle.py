"""The triangle of masonry that stays on a lintel when what is over it arches, and the zone round it.

BS 5977-1:1981 clause 4.2: a triangle and a zone on one base, 1.1 times the clear span long, their sides rising at 45 and 60
degrees; masonry in the triangle counts, loads in the triangle count and spread out at 45 degrees, of loads in the zone a half.
TEK 17-1B: a triangle of 45 degrees on the effective span. All lengths mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan

from elevgen.building.given import Load
from elevgen.building.model import Profile
from elevgen.core.geometry import TOLERANCE, Rect, Span
from elevgen.fittings.beam import Line, Point, Press

METRE = 1000.0


@dataclass(frozen=True, slots=True)
class LoadTriangle:
    """A triangle on `base` at level `foot`, its sides rising at `angle`; with a zone on the same base where there is one."""

    base: Span
    foot: float
    angle: float
    zone_angle: float | None = None

    @property
    def height(self) -> float:
        return self.base.length / 2 * tan(radians(self.angle))

    @property
    def apex(self) -> float:
        """The level of its point."""
        return self.foot + self.height

    @property
    def zone_height(self) -> float | None:
        return None if self.zone_angle is None else self.base.length / 2 * tan(radians(self.zone_angle))

    @property
    def lid(self) -> Profile:
        """Its two sides."""
        return Profile(((self.base.start, self.foot), (self.base.middle, self.apex), (self.base.end, self.foot)))

    def across(self, level: float) -> Span | None:
        """From side to side at a level; None over its point and under its foot."""
        return _across(self.base, level - self.foot, self.angle)

    def zone_across(self, level: float) -> Span | None:
        """The same of the zone, the triangle included."""
        return None if self.zone_angle is None else _across(self.base, level - self.foot, self.zone_angle)

    def touches(self, rect: Rect) -> bool:
        """True when some of a rectangle lies in it."""
        lowest = self.across(max(rect.bottom, self.foot))
        return rect.top > self.foot + TOLERANCE and lowest is not None and lowest.overlaps(rect.along)


def triangle_over(clear: Span, foot: float, base_factor: float, angle: float, zone_angle: float | None) -> LoadTriangle:
    """The triangle over a clear span: its base `base_factor` times as long, over the middle of it."""
    return LoadTriangle(clear.grown(clear.length * (base_factor - 1) / 2), foot, angle, zone_angle)


@dataclass(frozen=True, slots=True)
class Shares:
    """How much of a load counts that stands in the triangle and in the zone round it, and the angle at which loads spread."""

    triangle: float
    zone: float
    spread: float


def load_on_base(load: Load, over: LoadTriangle, shares: Shares) -> tuple[Press, ...]:
    """What of a load comes down on the base (kN and kN/mm): none of what stands outside triangle and zone.

    What stands in the zone reaches the base no further out than its ends; its share is kept whole.
    """
    inner, outer = over.across(load.level), over.zone_across(load.level)
    reach = (load.level - over.foot) / tan(radians(shares.spread))
    if load.length is None:
        return _point_on_base(load, over.base, reach, inner, outer, shares)
    along, each = Span(load.at, load.at + load.length), load.load / METRE
    found: list[Press] = []
    core = along.common(inner) if inner else None
    if core is not None:
        found.append(_spread(core, each * core.length * shares.triangle, reach, over.base))
    if outer is not None:
        sides = (Span(outer.start, inner.start), Span(inner.end, outer.end)) if inner else (outer,)
        for side in sides:
            part = along.common(side)
            if part is not None:
                found.append(_spread(part, each * part.length * shares.zone, reach, over.base))
    return tuple(found)


def _point_on_base(
    load: Load, base: Span, reach: float, inner: Span | None, outer: Span | None, shares: Shares
) -> tuple[Press, ...]:
    if inner is not None and inner.contains(load.at):
        share = shares.triangle
    elif outer is not None and outer.contains(load.at):
        share = shares.zone
    else:
        return ()
    return (_spread(Span(load.at, load.at), load.load * share, reach, base),)


def _spread(over: Span, total: float, reach: float, base: Span) -> Press:
    """A load evenly over the stretch it has spread to; what would reach past the base kept on it."""
    start, end = max(over.start - reach, base.start), min(over.end + reach, base.end)
    if end - start <= TOLERANCE:
        return Point(min(max(over.middle, base.start), base.end), total)
    return Line(start, end, total / (end - start), total / (end - start))


def _across(base: Span, height: float, angle: float) -> Span | None:
    inset = height / tan(radians(angle))
    if height < -TOLERANCE or inset > base.length / 2 + TOLERANCE:
        return None
    start, end = base.start + max(inset, 0.0), base.end - max(inset, 0.0)
    return Span(start, end) if end >= start else Span(base.middle, base.middle)
