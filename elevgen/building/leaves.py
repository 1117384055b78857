"""One leaf in full: its face, levels, zones of units, and the holes in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from elevgen.building.ends import LeafEnds, through_span
from elevgen.building.joins import Join
from elevgen.building.model import Leaf, Profile, Unit, Wall, Zone
from elevgen.building.openings import voids_of
from elevgen.building.walls import LeafLine, WallLine, build_of
from elevgen.core.geometry import TOLERANCE, Rect, Span
from elevgen.spec.leaf_models import LeafModel


def resolve_leaf(
    line: WallLine, leaf: LeafLine, wall: Wall, ends: LeafEnds, through: Sequence[Rect], units: Mapping[str, Unit]
) -> Leaf:
    """A leaf of a wall; `through` are the stretches, by the levels of the walls that take them, where it is interrupted."""
    (start_end, start), (finish_end, finish) = ends[leaf.id, "start"], ends[leaf.id, "finish"]
    span = Span(start, finish)
    base, top = profile(line.model.base, line.length), profile(line.model.top, line.length)
    face = Rect(span.start, base.lowest(span), span.end, top.highest(span))
    holes = (void for group in wall.groups for void in voids_of(group, wall.openings))
    crossings = _inside(face, through)
    strips = _inside(face, (strip.rect for group in wall.groups for strip in group.strips))
    return Leaf(
        id=leaf.id,
        wall=line.id,
        side=leaf.side,
        zones=zones_of(leaf.model, face.levels, units),
        bond=leaf.model.bond,
        thickness=leaf.thickness,
        offset=leaf.offset,
        span=span,
        start_end=start_end,
        finish_end=finish_end,
        base=base,
        top=top,
        voids=(*_inside(face, holes), *crossings),
        exposed=leaf.side == "outer" and not wall.internal,
        colour=leaf.model.colour,
        crossings=crossings,
        strips=strips,
        reinforced_every=leaf.model.reinforced_every,
        build=build_of(leaf.model),
        finish=leaf.model.finish,
        lintel_kind=leaf.model.lintel.kind,
        lintel_depth=leaf.model.lintel.depth,
        mortar=leaf.model.mortar,
        pointing=leaf.model.pointing,
    )


def profile(given: float | tuple[tuple[float, float], ...], length: float) -> Profile:
    """A level, or levels along the wall, as a profile."""
    return Profile(given) if isinstance(given, tuple) else Profile(((0.0, given), (length, given)))


def interruptions(joins: Iterable[Join]) -> dict[str, list[Rect]]:
    """For each interrupted leaf, the rectangle every wall takes that runs through it, over all of that wall's height.

    Walls that run through it at one place, themselves crossing there, take one rectangle between them.
    """
    found: dict[str, list[Rect]] = {}
    for join in joins:
        if join.kind == "cross":
            span, levels = through_span(join), join.host.wall.levels
            rects = found.setdefault(join.stem.leaf.id, [])
            taken = Rect(span.start, levels.start, span.end, levels.end)
            while other := next((r for r in rects if r.overlaps(taken)), None):
                rects.remove(other)
                taken = _round(taken, other)
            rects.append(taken)
    return found


def _round(a: Rect, b: Rect) -> Rect:
    return Rect(min(a.left, b.left), min(a.bottom, b.bottom), max(a.right, b.right), max(a.top, b.top))


def _inside(face: Rect, holes: Iterable[Rect]) -> tuple[Rect, ...]:
    """What of the holes lies on the face."""
    kept = []
    for hole in holes:
        left, right = max(hole.left, face.left), min(hole.right, face.right)
        bottom, top = max(hole.bottom, face.bottom), min(hole.top, face.top)
        if right - left > TOLERANCE and top - bottom > TOLERANCE:
            kept.append(Rect(left, bottom, right, top))
    return tuple(kept)


def zones_of(model: LeafModel, levels: Span, units: Mapping[str, Unit]) -> tuple[Zone, ...]:
    """Each unit's levels from the lowest base up, the last to the highest top; units left without any height are dropped."""
    zones: list[Zone] = []
    bottom = levels.start
    for zone in model.zones:
        last = zone is model.zones[-1] or zone.to is None
        top = levels.end if last or zone.to is None else min(zone.to, levels.end)
        if top > bottom + TOLERANCE:
            zones.append(Zone(units[zone.unit], Span(bottom, top)))
            bottom = top
    return tuple(zones)
