"""What a lintel carries, measured again as areas of polygons cut into strips: weights, reactions, the greatest moment."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from math import ceil, radians, tan
from typing import TYPE_CHECKING, NamedTuple

from elevgen.building.model import Leaf, Unit, Wall
from elevgen.checks._rules import rule
from elevgen.core.geometry import Span, subtract
from elevgen.fittings.load_model import LintelLoad, LoadMethod
from elevgen.joints.model import MovementJoint
from elevgen.result import Design

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

STEM = "lintel.load"
STRIPS = 24
"""Strips a span is cut into; the moment at their edges is exact whatever is in them."""
PART = 10.0
"""Length of the parts a spread load is cut into (mm)."""
HIGH = 1e6
GRAVITY = 9.81


class Lump(NamedTuple):
    """Some load at one place, kN."""

    at: float
    load: float


class Measured(NamedTuple):
    """A lintel's load measured again; kN and kNm."""

    masonry: float
    imposed: float
    brought: float
    reaction_start: float
    reaction_end: float
    moment: float


class LeafMeasures:
    """The face of one leaf as a polygon without its holes, and what lies over each lintel of it."""

    def __init__(self, design: Design, wall: Wall, leaf: Leaf, loads: tuple[LintelLoad, ...]) -> None:
        self.design, self.wall, self.leaf = design, wall, leaf
        self.loads = loads
        self._downs: dict[tuple[str, int], tuple[Lump, Lump]] = {}
        self.levels = {lintel.id: (lintel.level, lintel.bed + (lintel.depth or 0.0)) for lintel in design.fittings.lintels}
        self.lengths = {lintel.id: lintel.span for lintel in design.fittings.lintels}

    def number(self, name: str) -> float:
        """A rule on loads of lintels; only asked for where a method that needs it was used. Raises RuleNotCovered."""
        return self.design.rules.get(f"{STEM}.{name}").number

    @cached_property
    def outline(self) -> Polygon:
        from shapely import Polygon

        span = self.leaf.span
        return Polygon([*self.leaf.base.clipped(span), *reversed(self.leaf.top.clipped(span))]).buffer(0)

    @cached_property
    def face(self) -> BaseGeometry:
        """The leaf without its openings; where another wall runs through it stays whole."""
        from shapely import box, unary_union

        holes = [box(v.left, v.bottom, v.right, v.top) for v in self.leaf.voids if v not in self.leaf.crossings]
        return self.outline.difference(unary_union(holes)) if holes else self.outline

    def base_of(self, load: LintelLoad) -> Span:
        """The base of the load triangle of a span."""
        return load.clear.grown(load.clear.length * (self.number("triangle.base") - 1) / 2)

    def triangle(self, load: LintelLoad, method: LoadMethod = "load_triangle") -> Polygon:
        """The triangle of a method over a span."""
        own = method == "load_triangle"
        base = self.base_of(load) if own else load.supports
        return self._rising(load, base, self.number("triangle.angle" if own else "arching.angle"))

    def zone(self, load: LintelLoad) -> Polygon:
        return self._rising(load, self.base_of(load), self.number("zone.angle"))

    def _rising(self, load: LintelLoad, base: Span, angle: float) -> Polygon:
        from shapely import Polygon

        foot = sum(self.levels[load.lintel])
        return Polygon([(base.start, foot), (base.end, foot), (base.middle, foot + base.length / 2 * tan(radians(angle)))])

    def hit(
        self, load: LintelLoad, joints: tuple[MovementJoint, ...], method: LoadMethod = "load_triangle"
    ) -> tuple[bool, tuple[MovementJoint, ...]]:
        """Whether openings stand in the triangle of a method over a span; the movement joints that do."""
        from shapely import box

        triangle = self.triangle(load, method)
        open_ = triangle.intersection(self.outline).area - triangle.intersection(self.face).area > 1.0
        gaps = [(j, box(j.gap.start, j.levels.start, j.gap.end, j.levels.end)) for j in joints]
        return open_, tuple(j for j, gap in gaps if triangle.intersection(gap).area > 1.0)

    def fits(self, load: LintelLoad, method: LoadMethod) -> bool:
        """Whether a method's triangle lies inside the leaf's outline."""
        return bool(self.outline.buffer(0.05).covers(self.triangle(load, method)))

    def measured(self, load: LintelLoad, method: LoadMethod) -> Measured:
        """The load of a span by a method, its reactions and greatest moment."""
        masonry = list(self._masonry(load, method, self._strip(load)))
        imposed, brought = (list(self._loads(load, method, brought=which)) for which in (False, True))
        lumps = [Lump(min(max(x.at, load.supports.start), load.supports.end), x.load) for x in (*masonry, *imposed, *brought)]
        end = sum(x.load * (x.at - load.supports.start) for x in lumps) / load.supports.length
        start = sum(x.load for x in lumps) - end
        places = [x.at for x in (*imposed, *brought)]
        moment = _moment(lumps, load.supports, start, places)
        return Measured(_sum(masonry), _sum(imposed), _sum(brought), start, end, moment)

    def _strip(self, load: LintelLoad) -> Span:
        """From end to end of the lintel, or to its supports on piers; no less than the base of a load triangle the rules have."""
        whole = self.lengths[load.lintel]
        start = whole.start if load.part == 1 else load.supports.start
        end = whole.end if load.part == load.parts else load.supports.end
        if rule(self.design, f"{STEM}.triangle.base") is None:
            return Span(start, end)
        base = self.base_of(load)
        return Span(min(start, base.start), max(end, base.end))

    def _masonry(self, load: LintelLoad, method: LoadMethod, strip: Span) -> Iterator[Lump]:
        from shapely import box

        if method == "full":
            yield from self._weights(load, box(strip.start, self.levels[load.lintel][0], strip.end, HIGH), 1.0)
        elif method == "arching":
            yield from self._weights(load, self.triangle(load, method), 1.0)
        else:
            share = self.number("zone.masonry")
            yield from self._weights(load, self.triangle(load), 1.0 - share)
            if share:
                yield from self._weights(load, self.zone(load), share)

    def _weights(self, load: LintelLoad, region: BaseGeometry, share: float) -> Iterator[Lump]:
        """The masonry in a region by strips and zones, less what lintels higher up carry."""
        from shapely import box

        solid = region.intersection(self.face)
        if solid.is_empty:
            return
        left, _, right, _ = solid.bounds
        for other in self._higher(load):
            if not other.clear.overlaps(Span(left, right)):
                continue
            solid = solid.difference(box(other.clear.start, self.levels[other.lintel][0], other.clear.end, HIGH))
        inner = load.supports
        edges = [inner.start + inner.length * n / STRIPS for n in range(STRIPS + 1)]
        strips = zip((-HIGH, *edges), (*edges, HIGH), strict=True)
        cut = [part for a, b in strips if not (part := solid.intersection(box(a, -HIGH, b, HIGH))).is_empty]
        last = len(self.leaf.zones) - 1
        for n, zone in enumerate(self.leaf.zones):
            bottom, top = -HIGH if n == 0 else zone.levels.start, HIGH if n == last else zone.levels.end
            each = self._each(zone.unit)
            for strip in cut:
                part = strip.intersection(box(-HIGH, bottom, HIGH, top))
                if part.area > 0:
                    yield Lump(part.centroid.x, part.area * each * share)

    def _each(self, unit: Unit) -> float:
        """kN to the mm2 of face: one unit with the mortar of one bed, one perpend and what is behind it, over its module."""
        density = rule(self.design, f"unit.density.{unit.material}")
        deep = unit.width + (unit.joint if self.leaf.build == "one_brick" else 0.0)
        cell, own = unit.module * unit.gauge * deep, unit.length * unit.height * unit.width
        mass = unit.mass if unit.mass is not None else own * (0.0 if density is None else density.number) / 1e9
        return (mass + (cell - own) * self.number("mortar.density") / 1e9) / cell * self.leaf.thickness * GRAVITY / 1000

    def _higher(self, load: LintelLoad) -> tuple[LintelLoad, ...]:
        level = self.levels[load.lintel][0]
        return tuple(other for other in self.loads if self.levels[other.lintel][0] > level + 0.01)

    def _set_down(self, load: LintelLoad) -> tuple[Lump, Lump]:
        """What a span sets down on its two supports for lintels below: everything over it between its reveals."""
        known = (load.lintel, load.part)
        if known not in self._downs:
            masonry = self._masonry(load, "full", load.clear)
            standing = (x for which in (False, True) for x in self._standing(load, which))
            lumps = [*masonry, *(x for _, along, whole in standing for x in _lumps(along, whole, load.clear))]
            end = sum(x.load * (x.at - load.supports.start) for x in lumps) / load.supports.length
            start = sum(x.load for x in lumps) - end
            self._downs[known] = (Lump(load.supports.start, start), Lump(load.supports.end, end))
        return self._downs[known]

    def _loads(self, load: LintelLoad, method: LoadMethod, *, brought: bool) -> Iterator[Lump]:
        """What the loads of the spec, or what lintels higher up set down, bring on a span by a method."""
        foot, strip = sum(self.levels[load.lintel]), self._strip(load)
        for level, along, whole in self._standing(load, brought):
            height = max(level - foot, 0.0)
            if method == "arching":
                if along.length == 0:
                    yield from self._cone(load, height, Lump(along.start, whole))
            elif method == "full":
                yield from _lumps(along, whole, strip)
            else:
                yield from self._spread(load, height, along, whole)

    def _standing(self, load: LintelLoad, brought: bool) -> Iterator[tuple[float, Span, float]]:
        """Loads over a lintel that none higher up carries: the level of each, where it stands and how much it is, kN."""
        level, higher = self.levels[load.lintel][0], self._higher(load)
        if brought:
            for other in higher:
                for lump in self._set_down(other):
                    yield self.levels[other.lintel][0], Span(lump.at, lump.at), lump.load
            return
        for given in self.wall.loads:
            if given.leaf not in (None, self.leaf.side) or given.level < level - 0.01:
                continue
            carried = [other.clear for other in higher if given.level >= self.levels[other.lintel][0] - 0.01]
            if given.length is not None:
                for part in subtract(Span(given.at, given.at + given.length), carried):
                    yield given.level, part, given.load * part.length / 1000
            elif not any(span.start < given.at < span.end for span in carried):
                yield given.level, Span(given.at, given.at), given.load

    def _spread(self, load: LintelLoad, height: float, along: Span, whole: float) -> Iterator[Lump]:
        """What of a load stands in the triangle and in the zone, lump by lump spread out on its way down."""
        base, reach = self.base_of(load), height / tan(radians(self.number("spread.angle")))
        inner, outer = (base.grown(-height / tan(radians(self.number(f"{name}.angle")))) for name in ("triangle", "zone"))
        if along.length == 0:
            place = "triangle" if inner.contains(along.start) else "zone"
            if outer.contains(along.start):
                yield from _even(along.start - reach, along.start + reach, whole * self.number(f"{place}.share"))
            return
        core = [inner] if inner.length > 0 else []
        places = [(span, "triangle") for span in core] + [(span, "zone") for span in subtract(outer, core)]
        for span, place in places:
            for lump in _lumps(along, whole, span):
                yield from _even(lump.at - reach, lump.at + reach, lump.load * self.number(f"{place}.share"))

    def _cone(self, load: LintelLoad, height: float, lump: Lump) -> Iterator[Lump]:
        """A load at one point spread in its cone, what of it comes down between the supports."""
        half = height / tan(radians(self.number("arching.cone")))
        start, end = max(lump.at - half, load.supports.start), min(lump.at + half, load.supports.end)
        if end > start:
            yield from _even(start, end, lump.load * (end - start) / (2 * half))


def _sum(lumps: list[Lump]) -> float:
    return sum((lump.load for lump in lumps), 0.0)


def _lumps(along: Span, whole: float, strip: Span) -> Iterator[Lump]:
    """What of an even load stands over a strip, in lumps; a load at one point as it is."""
    if along.length == 0:
        if strip.contains(along.start):
            yield Lump(along.start, whole)
        return
    part = along.common(strip)
    if part is not None:
        parts = ceil(part.length / PART)
        for n in range(parts):
            yield Lump(part.start + part.length * (n + 0.5) / parts, whole / along.length * part.length / parts)


def _even(start: float, end: float, load: float) -> Iterator[Lump]:
    """A load spread evenly, in lumps."""
    parts = 16
    for n in range(parts):
        yield Lump(start + (end - start) * (n + 0.5) / parts, load / parts)


def _moment(lumps: list[Lump], supports: Span, reaction: float, places: list[float]) -> float:
    """The greatest bending moment at the edges of strips and at the places given, kNm."""
    own = reaction - sum(x.load for x in lumps if x.at <= supports.start)
    inside = sorted(x for x in lumps if supports.start < x.at < supports.end)
    edges = [supports.start + supports.length * n / STRIPS for n in range(STRIPS + 1)]
    most, passed, turned, n = 0.0, 0.0, 0.0, 0
    for edge in sorted((*edges, *(at for at in places if supports.start < at < supports.end))):
        while n < len(inside) and inside[n].at <= edge:
            passed, turned, n = passed + inside[n].load, turned + inside[n].load * inside[n].at, n + 1
        most = max(most, own * (edge - supports.start) - (passed * edge - turned))
    return most / 1000
