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
from elevgen.core.measures import METRE
from elevgen.fittings.beam import Line, Point, Press


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
    """What of a load comes down on the level of the base (kN and kN/mm): nothing of what stands outside triangle and zone.

    Each part of it spreads out on its way down, so that a load in two halves does what it does in one.
    """
    inner, outer = over.across(load.level), over.zone_across(load.level)
    reach = max(load.level - over.foot, 0.0) / tan(radians(shares.spread))
    if load.length is None:
        share = _share_at(load.at, inner, outer, shares)
        return spread(Span(load.at, load.at), load.load * share, reach) if share else ()
    along, each = Span(load.at, load.at + load.length), load.load / METRE
    parts = [(inner, shares.triangle)] if inner else []
    if outer is not None:
        beside = (Span(outer.start, inner.start), Span(inner.end, outer.end)) if inner else (outer,)
        parts += [(side, shares.zone) for side in beside]
    found = ((part, share) for where, share in parts if share and (part := along.common(where)) is not None)
    return tuple(press for part, share in found for press in spread(part, each * part.length * share, reach))


def spread(over: Span, total: float, reach: float) -> tuple[Press, ...]:
    """A load that is even over a stretch, each place of it spread evenly so far to both sides: rising, level and falling."""
    wide, narrow = max(over.length, 2 * reach), min(over.length, 2 * reach)
    if wide <= TOLERANCE:
        return (Point(over.middle, total),)
    start, end, most = over.start - reach, over.end + reach, total / wide
    lines = (
        Line(start, start + narrow, 0.0, most),
        Line(start + narrow, end - narrow, most, most),
        Line(end - narrow, end, most, 0.0),
    )
    return tuple(line for line in lines if line.end > line.start)


def _share_at(at: float, inner: Span | None, outer: Span | None, shares: Shares) -> float:
    if inner is not None and inner.contains(at):
        return shares.triangle
    return shares.zone if outer is not None and outer.contains(at) else 0.0


def _across(base: Span, height: float, angle: float) -> Span | None:
    inset = height / tan(radians(angle))
    if height < -TOLERANCE or inset > base.length / 2 + TOLERANCE:
        return None
    start, end = base.start + max(inset, 0.0), base.end - max(inset, 0.0)
    return Span(start, end) if end >= start else Span(base.middle, base.middle)
