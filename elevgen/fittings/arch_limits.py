"""Whether masonry arches over a lintel: every reason, in words, why a method that counts on it does not hold. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from elevgen.bonds import load_bond
from elevgen.building.given import Load
from elevgen.building.model import Building, Leaf, Wall
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_least, at_most
from elevgen.coursing.faces import gaps_at, masonry
from elevgen.fittings.arching import height_needed
from elevgen.fittings.load_model import Cause, CauseKind
from elevgen.fittings.load_rules import ArchingRules, SideRules, TriangleRules
from elevgen.fittings.load_triangle import LoadTriangle
from elevgen.fittings.model import Lintel
from elevgen.joints.model import MovementJoint

LEFT, RIGHT = "left", "right"


@dataclass(frozen=True, slots=True)
class Site:
    """One clear span of a lintel and what is round it. `foot`: where masonry begins over it; `bearings` left and right."""

    wall: Wall
    leaf: Leaf
    lintel: Lintel
    clear: Span
    supports: Span
    bearings: tuple[float, float]
    foot: float
    joints: Sequence[MovementJoint]

    @property
    def holes(self) -> tuple[Rect, ...]:
        """Where there is no masonry of this leaf nor of a wall that runs through it."""
        return tuple(void for void in self.leaf.voids if void not in self.leaf.crossings)


def triangle_causes(
    figures: Figures, site: Site, triangle: LoadTriangle, rules: TriangleRules, storeys: int
) -> tuple[Cause, ...]:
    """Why the load triangle does not hold (BS 5977-1:1981, scope and 5e); nothing where it does."""
    return (
        *_scope(figures, site, rules, storeys),
        *_arch(figures, site, triangle, rules.side),
        *_low(figures, site, triangle, 0.0),
    )


def arching_causes(
    figures: Figures, site: Site, triangle: LoadTriangle, rules: ArchingRules, loads: Sequence[Load]
) -> tuple[Cause, ...]:
    """Why arching does not hold (TEK 17-1B; TM 5-809-3 for loads); nothing where it does."""
    found = [*_arch(figures, site, triangle, rules.side), *_low(figures, site, triangle, rules.above_apex)]
    for side, bearing in zip((LEFT, RIGHT), site.bearings, strict=True):
        if not at_least(bearing, rules.bearing):
            words = f"it bears {figures.measure(bearing)} at its {side} end, {figures.measure(rules.bearing)} are asked for"
            found.append(Cause("bearing", words))
    if any(load.level < triangle.apex - TOLERANCE and _spread(load).overlaps(triangle.base.grown(TOLERANCE)) for load in loads):
        found.append(Cause("load", "a load stands lower than the point of the triangle"))
    return tuple(found)


def storeys_of(building: Building, least: float) -> int:
    """How many storeys a building has, as far as its openings tell: heads `least` or more over datum and over one another."""
    count, last = 0, 0.0
    for level in sorted({opening.rect.top for wall in building.walls for opening in wall.openings}):
        if at_least(level - last, least):
            count, last = count + 1, level
    return max(count, 1)


def _scope(figures: Figures, site: Site, rules: TriangleRules, storeys: int) -> Iterator[Cause]:
    longest = rules.longest(storeys)
    if storeys > rules.storeys:
        yield Cause("storeys", f"the building has {storeys} storeys, the load triangle is for {rules.storeys} at most")
    elif not at_most(site.clear.length, longest):
        where = "one storey" if storeys == 1 else "more than one storey"
        words = (
            f"the span is {figures.run(site.clear.length)}, the load triangle is for {figures.run(longest)} at most in {where}"
        )
        yield Cause("span", words)


def _arch(figures: Figures, site: Site, triangle: LoadTriangle, side: SideRules | None) -> Iterator[Cause]:
    """What keeps masonry from arching, whichever document is asked."""
    if not load_bond(site.leaf.bond).LAPS:
        yield Cause("bond", "its units do not lap")
    yield from _in_triangle(site, triangle)
    if side is None:
        yield Cause("side", "the rules have no figure for how much masonry must stand at its sides")
    else:
        yield from _sides(figures, site, triangle, side)


def _in_triangle(site: Site, triangle: LoadTriangle) -> Iterator[Cause]:
    for void in site.holes:
        if triangle.touches(void):
            yield Cause("opening", f"{_named(site.wall, void)} stands in the load triangle")
    for crossing in site.leaf.crossings:
        if triangle.touches(crossing):
            yield Cause("wall", "another wall runs through the load triangle")
    for joint in site.joints:
        gap = joint.gap
        if triangle.touches(Rect(gap.start, joint.levels.start, gap.end, joint.levels.end)):
            yield Cause("joint", f"movement joint {joint.id} stands in the load triangle")


def _named(wall: Wall, void: Rect) -> str:
    names = [o.id for o in wall.openings if o.rect.overlaps(void)]
    return f"opening {' and '.join(names)}" if names else "a gap between openings"


def _low(figures: Figures, site: Site, triangle: LoadTriangle, above: float) -> Iterator[Cause]:
    """Where the triangle, and so much of wall over its point, does not fit into the leaf."""
    over = triangle.base.common(site.leaf.span)
    if over is None or not at_least(over.length, triangle.base.length):
        yield Cause("height", "the load triangle reaches past the end of the wall")
        return
    need = height_needed(triangle.base.length, triangle.angle, above)
    top = site.leaf.top
    have = min(top.level_left_of(over.middle), top.level_right_of(over.middle)) - triangle.foot
    if not at_least(have, need):
        words = f"the wall is {figures.measure(max(have, 0.0))} high over it, {figures.measure(need)} are asked for"
        yield Cause("height", words)
    elif not _under_top(site.leaf, triangle):
        yield Cause("height", "the top of the wall cuts into the load triangle")


def _under_top(leaf: Leaf, triangle: LoadTriangle) -> bool:
    """True when no side of the triangle rises over the top of the leaf."""
    lid, base = triangle.lid, triangle.base
    places = {at for at, _ in (*lid.points, *leaf.top.points) if base.start <= at <= base.end}
    return all(
        at_least(top(at), side(at))
        for at in places
        for top, side in ((leaf.top.level_left_of, lid.level_left_of), (leaf.top.level_right_of, lid.level_right_of))
    )


def _sides(figures: Figures, site: Site, triangle: LoadTriangle, rules: SideRules) -> Iterator[Cause]:
    """Masonry beside the opening, from its foot to the triangle's point or the top of the wall, against what is asked for."""
    needed = rules.needed(site.clear.length)
    feet = [o.rect.bottom for o in site.wall.openings if o.id in site.lintel.openings and o.rect.along.overlaps(site.clear)]
    head = max(min(triangle.apex, site.leaf.top.lowest(site.clear)), site.foot)
    levels = Span(min((*feet, site.foot)) + 2 * TOLERANCE, head - 2 * TOLERANCE)
    gaps = gaps_at(site.joints, levels)
    whole = replace(site.leaf, voids=site.holes)
    solid = masonry(whole, levels, [*gaps, site.clear])
    for side, reveal in ((LEFT, site.clear.start), (RIGHT, site.clear.end)):
        beside = next((s for s in solid if abs((s.end if side == LEFT else s.start) - reveal) <= 2 * TOLERANCE), None)
        length = 0.0 if beside is None else beside.length
        if at_least(length, needed):
            continue
        to, kind = _what_ends(site, gaps, reveal - length if side == LEFT else reveal + length)
        words = f"{figures.measure(length)} of masonry stand at its {side}, {to}; {figures.measure(needed)} are asked for"
        yield Cause(kind, words)


def _what_ends(site: Site, gaps: Sequence[Span], at: float) -> tuple[str, CauseKind]:
    """What masonry that ends at a place ends at."""
    near = 2 * TOLERANCE
    if any(gap.grown(near).contains(at) for gap in gaps):
        return "up to a movement joint", "joint"
    if any(min(abs(void.left - at), abs(void.right - at)) <= near for void in site.holes):
        return "up to the next opening", "side"
    if any(abs(end - at) <= near for end in (site.leaf.span.start, site.leaf.span.end)):
        return "up to the end of the leaf", "side"
    return "up to where the wall is lower", "side"


def _spread(load: Load) -> Span:
    return Span(load.at, load.at + (load.length or 0.0)).grown(TOLERANCE)
