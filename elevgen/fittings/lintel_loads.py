"""What every lintel carries of the masonry over it and of the loads the spec gives: for an engineer or a maker's table."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.given import Load
from elevgen.building.model import Building, Leaf, Wall
from elevgen.core.geometry import TOLERANCE, Rect, Span, subtract
from elevgen.core.measures import METRE
from elevgen.fittings import load_rules
from elevgen.fittings.arch_limits import Site, arching_causes, storeys_of, triangle_causes
from elevgen.fittings.arching import cone_load, effective_span, peak_pressure
from elevgen.fittings.beam import Line, Point, Press, bend, even_load, total, within
from elevgen.fittings.face_weights import FaceWeight, face_weight, lacking
from elevgen.fittings.load_model import Cause, LintelLoad, LoadMethod, LoadReading, Refused, TriangleShown
from elevgen.fittings.load_rules import ArchingRules, TriangleRules, arching_rules, triangle_rules
from elevgen.fittings.load_triangle import LoadTriangle, load_on_base, triangle_over
from elevgen.fittings.masonry_above import weight_lines, zones_over
from elevgen.fittings.model import Lintel
from elevgen.joints.model import JointPlan, MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.keys import KEYS

OWN_WEIGHT = "the lintel's own weight"
FINISHES = "finishes"
NOT_GIVEN = "floors, roofs and whatever else stands on the wall and is not among the loads of the spec"


@dataclass(frozen=True, slots=True)
class _Rules:
    """Each method's rules, or the keys the set lacks for it."""

    triangle: TriangleRules | tuple[str, ...]
    arching: ArchingRules | tuple[str, ...]


class _Kinds(NamedTuple):
    """What comes down on a lintel: weight of masonry, loads of the spec, and what lintels higher up set down."""

    masonry: tuple[Line, ...]
    imposed: tuple[Press, ...]
    brought: tuple[Press, ...]

    @property
    def all(self) -> tuple[Press, ...]:
        return (*self.masonry, *self.imposed, *self.brought)


class _Over(NamedTuple):
    """What stands over a span: holes in the masonry, loads of the spec, and what lintels higher up set down."""

    holes: tuple[Rect, ...]
    imposed: list[Load]
    brought: list[Load]


def lintel_loads(building: Building, lintels: Sequence[Lintel], plan: JointPlan, reader: RuleReader) -> tuple[LintelLoad, ...]:
    """The load of each lintel by the load triangle, by arching and in full, in the order of the lintels.

    The load triangle (BS 5977-1:1981) counts where it holds, else the full load: everything over the lintel but what a lintel
    higher up carries, which comes down at that one's supports. Where the set lacks the rules of the triangle, arching counts
    where it holds. A lintel over several spans has each of them reckoned as if cut at its piers. Lengths mm, loads kN.
    """
    rules = _Rules(triangle_rules(reader), arching_rules(reader))
    storeys = None if isinstance(rules.triangle, tuple) else storeys_of(building, rules.triangle.storey_height)
    found: dict[str, list[LintelLoad]] = {}
    for leaf in building.leaves:
        on_leaf = [lintel for lintel in lintels if lintel.leaf == leaf.id]
        work = _LeafLoads(building.wall(leaf.wall), leaf, plan.on_leaf(leaf.id), rules, storeys, reader)
        for lintel in sorted(on_leaf, key=lambda x: (-x.level, x.clear, x.id)):
            found[lintel.id] = work.carried_by(lintel)
    return tuple(load for lintel in lintels for load in found.get(lintel.id, ()))


class _LeafLoads:
    """The lintels of one leaf, asked from the highest down: each is told what those over it set down."""

    def __init__(
        self, wall: Wall, leaf: Leaf, joints: Sequence[MovementJoint], rules: _Rules, storeys: int | None, reader: RuleReader
    ) -> None:
        self.wall, self.leaf, self.joints, self.rules, self.storeys, self.reader = wall, leaf, joints, rules, storeys, reader
        self.columns: list[Rect] = []
        self.set_down: list[Load] = []

    def carried_by(self, lintel: Lintel) -> list[LintelLoad]:
        """What a lintel carries, span by span; afterwards it is one of those that stand over the next."""
        clears = lintel.clears
        done = [self._over(lintel, site, part, len(clears)) for part, site in enumerate(self._sites(lintel, clears), 1)]
        self.columns += [Rect(clear.start, lintel.level, clear.end, self.leaf.top.highest(self.leaf.span)) for clear in clears]
        self.set_down += [load for _, loads in done for load in loads]
        return [load for load, _ in done]

    def _sites(self, lintel: Lintel, clears: Sequence[Span]) -> Iterator[Site]:
        """Each span with its bearings: those of the lintel at its ends, half the pier between two spans."""
        piers = [(b.start - a.end) / 2 for a, b in pairwise(clears)]
        widths = [(2 * pier, pier) for pier in piers]
        first, last = (max(bearing, 0.0) for bearing in (lintel.bearing_start, lintel.bearing_end))
        starts, ends = [(first, first / 2), *widths], [*widths, (last, last / 2)]
        for clear, (left, before), (right, after) in zip(clears, starts, ends, strict=True):
            supports = Span(clear.start - before, clear.end + after)
            foot = lintel.underside + (lintel.depth or 0.0)
            yield Site(self.wall, self.leaf, lintel, clear, supports, (left, right), foot, self.joints)

    def _over(self, lintel: Lintel, site: Site, part: int, parts: int) -> tuple[LintelLoad, list[Load]]:
        """The load on one span, and what it sets down on its supports for lintels below."""
        weights, missing = self._weights(lintel)
        made = LintelLoad(
            lintel=lintel.id,
            wall=lintel.wall,
            leaf=lintel.leaf,
            part=part,
            parts=parts,
            clear=site.clear,
            supports=site.supports,
            readings=(),
            refused=(),
            densities=tuple((weight.unit, weight.density) for weight in weights.values()),
            pressure_start=None,
            pressure_end=None,
            effective_short=_effective_short(site),
            not_included=(OWN_WEIGHT, FINISHES, NOT_GIVEN),
            lacking=missing,
            triangle=self._shown(site),
            storeys=self.storeys,
            basis=(),
        )
        if missing:
            return made, []
        over = _Over(self._holes(site), *self._loads(site))
        full = self._full(site, over, weights)
        readings, refused = self._readings(site, over, weights, full)
        bent = bend(within(full.all, site.clear), site.supports)
        downs = ((site.supports.start, bent.reaction_start), (site.supports.end, bent.reaction_end))
        return (
            replace(
                made,
                readings=readings,
                refused=refused,
                pressure_start=_pressure(site, readings[0].reaction_start, site.bearings[0]) if part == 1 else None,
                pressure_end=_pressure(site, readings[0].reaction_end, site.bearings[1]) if part == parts else None,
                basis=self._basis(weights),
            ),
            [Load(None, lintel.level, at, None, reaction) for at, reaction in downs if reaction > 0],
        )

    def _weights(self, lintel: Lintel) -> tuple[Mapping[str, FaceWeight], tuple[str, ...]]:
        """What the masonry over a lintel weighs by its unit, and the rules lacking for that."""
        levels = Span(lintel.level, max(self.leaf.top.highest(self.leaf.span), lintel.level + 1.0))
        units = {zone.unit.name: zone.unit for zone in zones_over(self.leaf, levels)}
        missing = dict.fromkeys(key for unit in units.values() for key in lacking(unit, self.reader))
        known = {name: weight for name, unit in units.items() if (weight := face_weight(unit, self.leaf, self.reader))}
        return known, tuple(missing)

    def _readings(
        self, site: Site, over: _Over, weights: Mapping[str, FaceWeight], full: _Kinds
    ) -> tuple[tuple[LoadReading, ...], tuple[Refused, ...]]:
        """By each method that holds, the one that counts first; and why the others do not."""
        all_of_it = _reading("full", full, site.supports)
        arching = self._arching(site, over, weights)
        triangle = self._triangle(site, over, weights)
        held = [result for result in (triangle, arching) if isinstance(result, LoadReading)]
        refused = tuple(result for result in (triangle, arching) if isinstance(result, Refused))
        counts = isinstance(triangle, LoadReading) or (isinstance(self.rules.triangle, tuple) and bool(held))
        return ((*held, all_of_it) if counts else (all_of_it, *held)), refused

    def _triangle(self, site: Site, over: _Over, weights: Mapping[str, FaceWeight]) -> LoadReading | Refused:
        rules = self.rules.triangle
        if isinstance(rules, tuple):
            return Refused("load_triangle", _no_rules(rules))
        triangle = triangle_over(site.clear, site.foot, rules.base, rules.angle, rules.zone_angle)
        if causes := triangle_causes(self.reader.figures, site, triangle, rules, self.storeys or 1):
            return Refused("load_triangle", causes)
        masonry = [
            line.times(1 - rules.zone_masonry)
            for line in weight_lines(site.leaf, triangle.base, site.foot, triangle.lid, over.holes, weights)
        ]
        if rules.zone_masonry:
            zone = replace(triangle, angle=rules.zone_angle)
            round_it = weight_lines(site.leaf, zone.base, site.foot, zone.lid, over.holes, weights)
            masonry += [line.times(rules.zone_masonry) for line in round_it]
        imposed, brought = (
            tuple(press for load in loads for press in load_on_base(load, triangle, rules.shares))
            for loads in (over.imposed, over.brought)
        )
        return _reading("load_triangle", _Kinds(tuple(masonry), imposed, brought), site.supports)

    def _arching(self, site: Site, over: _Over, weights: Mapping[str, FaceWeight]) -> LoadReading | Refused:
        rules = self.rules.arching
        if isinstance(rules, tuple):
            return Refused("arching", _no_rules(rules))
        triangle = LoadTriangle(site.supports, site.foot, rules.angle)
        if causes := arching_causes(self.reader.figures, site, triangle, rules, (*over.imposed, *over.brought)):
            return Refused("arching", causes)
        masonry = weight_lines(site.leaf, triangle.base, site.foot, triangle.lid, over.holes, weights)
        cones = [
            tuple(
                press
                for load in loads
                if load.length is None
                and (press := cone_load(load.at, load.load, load.level - site.foot, rules.cone, triangle.base)) is not None
            )
            for loads in (over.imposed, over.brought)
        ]
        return _reading("arching", _Kinds(masonry, cones[0], cones[1]), site.supports)

    def _shown(self, site: Site) -> TriangleShown | None:
        rules = self.rules.triangle
        if isinstance(rules, tuple):
            return None
        over = triangle_over(site.clear, site.foot, rules.base, rules.angle, rules.zone_angle)
        return TriangleShown(over.base, over.foot, over.height, over.zone_height)

    def _full(self, site: Site, over: _Over, weights: Mapping[str, FaceWeight]) -> _Kinds:
        """Everything over the length of the span's share of the lintel, up to lintels higher up, and what those set down."""
        strip = self._strip(site)
        masonry = weight_lines(site.leaf, strip, site.lintel.level, None, over.holes, weights)
        imposed, brought = (tuple(within(map(_press, loads), strip)) for loads in (over.imposed, over.brought))
        return _Kinds(masonry, imposed, brought)

    def _strip(self, site: Site) -> Span:
        """From end to end of the lintel, or from pier middle to pier middle; no less than the base of the load triangle."""
        ends = site.lintel.clears
        start = site.lintel.span.start if site.clear == ends[0] else site.supports.start
        end = site.lintel.span.end if site.clear == ends[-1] else site.supports.end
        if isinstance(self.rules.triangle, tuple):
            return Span(start, end)
        base = triangle_over(site.clear, site.foot, self.rules.triangle.base, self.rules.triangle.angle, None).base
        return Span(min(start, base.start), max(end, base.end))

    def _holes(self, site: Site) -> tuple[Rect, ...]:
        """Openings, and the columns of wall that lintels higher up carry; no farther off than what stands on the lintel."""
        strip = self._strip(site)
        start, end = min(strip.start, site.supports.start), max(strip.end, site.supports.end)
        holes = (*site.holes, *(c for c in self.columns if c.bottom > site.lintel.level + TOLERANCE))
        return tuple(hole for hole in holes if hole.right > start and hole.left < end)

    def _loads(self, site: Site) -> tuple[list[Load], list[Load]]:
        """The spec's loads over a lintel that no lintel higher up carries, and what those set down; none lower than its foot."""
        columns = [c for c in self.columns if c.bottom > site.lintel.level + TOLERANCE]
        imposed = [
            part
            for load in self.wall.loads
            if load.leaf in (None, self.leaf.side) and load.level >= site.lintel.level - TOLERANCE
            for part in _beside(load, columns)
        ]
        brought = [load for load in self.set_down if load.level > site.lintel.level + TOLERANCE]
        imposed, brought = (
            [x if x.level >= site.foot else replace(x, level=site.foot) for x in loads] for loads in (imposed, brought)
        )
        return imposed, brought

    def _basis(self, weights: Mapping[str, FaceWeight]) -> tuple[str, ...]:
        names = (*load_rules.keys(load_rules.TRIANGLE), *load_rules.keys(load_rules.ARCHING))
        used = {key for key in names if self.reader.find(key) is not None}
        return tuple(sorted(used | {key for weight in weights.values() for key in weight.basis}))


def _reading(method: LoadMethod, loads: _Kinds, supports: Span) -> LoadReading:
    bent = bend(loads.all, supports)
    return LoadReading(
        method=method,
        masonry=total(loads.masonry),
        imposed=total(loads.imposed),
        brought=total(loads.brought),
        per_metre=even_load(bent, supports) * METRE,
        reaction_start=bent.reaction_start,
        reaction_end=bent.reaction_end,
        moment=bent.moment / METRE,
    )


def _beside(load: Load, columns: Sequence[Rect]) -> Iterator[Load]:
    """What of a load stands in none of the columns of wall that other lintels carry."""
    over = [c.along for c in columns if load.level >= c.bottom - TOLERANCE]
    if load.length is None:
        if not any(span.start < load.at < span.end for span in over):
            yield load
        return
    for part in subtract(Span(load.at, load.at + load.length), over):
        yield replace(load, at=part.start, length=part.length)


def _press(load: Load) -> Press:
    """A load as it stands, not spread."""
    if load.length is None:
        return Point(load.at, load.load)
    return Line(load.at, load.at + load.length, load.load / METRE, load.load / METRE)


def _pressure(site: Site, reaction: float, bearing: float) -> float | None:
    return peak_pressure(reaction * METRE, bearing * site.leaf.thickness) if bearing > TOLERANCE else None


def _effective_short(site: Site) -> float | None:
    depth = site.lintel.depth
    return None if depth is None else effective_span(site.clear.length, site.supports.length, depth)


def _no_rules(missing: tuple[str, ...]) -> tuple[Cause, ...]:
    return tuple(Cause("rule", f"the rule set has no value for this: {KEYS[key].meaning}") for key in missing)
