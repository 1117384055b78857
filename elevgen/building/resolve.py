"""Resolve: from what a person wrote to absolute geometry."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from elevgen.building.contacts import Contact, find_contacts, overlapping_walls
from elevgen.building.ends import LeafEnds, host_position, leaf_ends, through_span
from elevgen.building.joins import Join, connect, find_joins
from elevgen.building.model import Building, Feature, GivenJoint, Leaf, Meeting, Opening, Profile, Unit, Wall, Zone
from elevgen.building.openings import Buildable, group_openings, voids_of
from elevgen.building.rooms import internal_walls
from elevgen.building.units import units_of
from elevgen.building.walls import LeafLine, WallLine, on_centre, wall_lines
from elevgen.core.errors import Fault, SpecError
from elevgen.core.geometry import TOLERANCE, Rect, Span
from elevgen.rules.book import RuleReader
from elevgen.spec.models import LeafModel, Spec


def resolve(spec: Spec, reader: RuleReader) -> Building:
    """Walls, leaves, meetings and openings in absolute geometry.

    Raises SpecError for geometry no masonry can have: walls lying on one another, walls too short for what they
    meet, openings that run into a return, junctions of walls that do not meet.
    """
    units = units_of(spec, reader)
    lines, faults = wall_lines(spec, units)
    _refuse(faults)
    lines, contacts, internal = _set_in_plan(lines)
    _refuse(overlapping_walls(lines))
    found, stops = find_joins(contacts)
    joins, faults = connect(found, spec.junctions)
    _refuse(faults)
    ends = leaf_ends(lines, joins, stops)
    least = Buildable(
        *(value.number if (value := reader.find(key)) else None for key in ("opening.pier.min", "opening.strip.min"))
    )
    walls = tuple(_wall(line, line.index in internal, least) for line in lines)
    crossings = _crossings(joins)
    leaves = tuple(
        _leaf(line, leaf, wall, ends, crossings.get(leaf.id, ()), units)
        for line, wall in zip(lines, walls, strict=True)
        for leaf in line.leaves
    )
    _refuse(_faults(lines, walls, leaves))
    used = {zone.unit.name: zone.unit for leaf in leaves for zone in leaf.zones}
    return Building(walls, leaves, _meetings(joins, {leaf.id: leaf for leaf in leaves}), tuple(used[n] for n in sorted(used)))


def _refuse(faults: Sequence[Fault]) -> None:
    if faults:
        raise SpecError(tuple(faults))


def _set_in_plan(lines: tuple[WallLine, ...]) -> tuple[tuple[WallLine, ...], tuple[Contact, ...], frozenset[int]]:
    """The walls on their lines, where they meet, and which are internal: a single leaf inside, given no line, stands on its centre."""
    contacts = find_contacts(lines)
    internal = internal_walls(lines, contacts)
    centred = [w.index for w in lines if w.index in internal and w.model.line is None and len(w.leaves) == 1]
    if centred:
        lines = tuple(on_centre(w) if w.index in centred else w for w in lines)
        contacts = find_contacts(lines)
    return lines, contacts, internal


def _wall(line: WallLine, internal: bool, least: Buildable) -> Wall:
    model = line.model
    openings = tuple(Opening(o.id, o.kind, Rect(o.at, o.sill, o.at + o.width, o.sill + o.height)) for o in model.openings)
    return Wall(
        id=model.id,
        name=model.name,
        type=model.type,
        start=model.start,
        end=model.end,
        length=line.length,
        line=line.line,
        leaves=tuple(leaf.id for leaf in line.leaves),
        cavity=line.cavity,
        thickness=line.band.length,
        internal=internal,
        openings=openings,
        groups=group_openings(model.id, openings, least),
        features=tuple(Feature(f.kind, f.at) for f in model.features),
        joints="place" if isinstance(model.joints, str) else tuple(GivenJoint(j.at, j.leaf, j.width) for j in model.joints),
    )


def _leaf(
    line: WallLine, leaf: LeafLine, wall: Wall, ends: LeafEnds, crossings: tuple[tuple[Span, Span], ...], units: dict[str, Unit]
) -> Leaf:
    (start_end, start), (finish_end, finish) = ends[leaf.id, "start"], ends[leaf.id, "finish"]
    span = Span(start, finish)
    base, top = profile(line.model.base, line.length), profile(line.model.top, line.length)
    levels = Span(base.lowest(span), top.highest(span))
    through = tuple(_within(Rect(s.start, host.start, s.end, host.end), span, levels) for s, host in crossings)
    holes = (_within(void, span, levels) for group in wall.groups for void in voids_of(group, wall.openings))
    return Leaf(
        id=leaf.id,
        wall=line.id,
        side=leaf.side,
        zones=_zones(leaf.model, levels, units),
        bond=leaf.model.bond,
        thickness=leaf.thickness,
        offset=leaf.offset,
        span=span,
        start_end=start_end,
        finish_end=finish_end,
        base=base,
        top=top,
        voids=tuple(void for void in (*holes, *through) if void.width > TOLERANCE and void.height > TOLERANCE),
        exposed=leaf.side == "outer" and not wall.internal,
        crossings=tuple(void for void in through if void.width > TOLERANCE and void.height > TOLERANCE),
    )


def profile(given: float | tuple[tuple[float, float], ...], length: float) -> Profile:
    """A level, or levels along the wall, as a profile."""
    return Profile(tuple(given)) if isinstance(given, tuple) else Profile(((0.0, given), (length, given)))


def _within(rect: Rect, span: Span, levels: Span) -> Rect:
    return Rect(max(rect.left, span.start), max(rect.bottom, levels.start), min(rect.right, span.end), min(rect.top, levels.end))


def _zones(model: LeafModel, levels: Span, units: dict[str, Unit]) -> tuple[Zone, ...]:
    """Each unit's levels from the lowest base up; the last unit runs to the highest top, one with no masonry at all is dropped."""
    zones: list[Zone] = []
    bottom = levels.start
    for index, zone in enumerate(model.zones):
        last = zone.to is None or index == len(model.zones) - 1
        top = levels.end if last or zone.to is None else min(zone.to, levels.end)
        if top > bottom + TOLERANCE:
            zones.append(Zone(units[zone.unit], Span(bottom, top)))
            bottom = top
    return tuple(zones)


def _crossings(joins: Sequence[Join]) -> dict[str, tuple[tuple[Span, Span], ...]]:
    """For each interrupted leaf, the stretch and the levels of every wall that runs through it."""
    found: dict[str, dict[str, tuple[Span, Span]]] = {}
    for join in joins:
        if join.kind == "cross":
            found.setdefault(join.stem.leaf.id, {})[join.host.wall.id] = through_span(join), join.host.wall.levels
    return {leaf: tuple(by_host.values()) for leaf, by_host in found.items()}


def _meetings(joins: Sequence[Join], leaves: dict[str, Leaf]) -> tuple[Meeting, ...]:
    meetings = []
    for number, join in enumerate(joins, start=1):
        host, stem = leaves[join.host.leaf.id], leaves[join.stem.leaf.id]
        if join.kind == "cross":
            stem_at = _crossed_at(join)
        else:
            stem_at = stem.span.start if join.stem.end == "start" else stem.span.end
        if join.kind == "corner":
            host_at = host.span.start if join.host.end == "start" else host.span.end
        else:
            host_at = min(max(host_position(join), host.span.start), host.span.end)
        meetings.append(Meeting(f"M{number}", join.kind, host.id, stem.id, host_at, stem_at, join.connection))
    return tuple(meetings)


def _crossed_at(join: Join) -> float:
    """Where an interrupted leaf meets a leaf of its host: the middle of a single leaf, the near side of each of two."""
    through = through_span(join)
    if len(join.host.wall.leaves) == 1:
        return through.middle
    at = join.stem.wall.hits(join.stem.leaf.offset, join.host.wall, join.host.leaf.middle)
    return through.start if at < through.middle else through.end


def _faults(lines: Sequence[WallLine], walls: Sequence[Wall], leaves: Sequence[Leaf]) -> list[Fault]:
    """What cannot stand: nothing left of a leaf between its ends, tops not above bases, openings that run into a return."""
    faults = []
    by_id = {leaf.id: leaf for leaf in leaves}
    for line, wall in zip(lines, walls, strict=True):
        faults += _level_faults(line)
        for leaf in (by_id[leaf_id] for leaf_id in wall.leaves):
            if leaf.span.length <= TOLERANCE:
                said = f"too short for the walls it meets: nothing is left of its {leaf.side} leaf"
                faults.append(Fault(("walls", line.index), said, given=wall.id))
            elif not leaf.zones:
                faults.append(Fault(("walls", line.index, "top"), "the top must be above the base", given=wall.id))
        face = by_id[wall.leaves[0]].span
        for index, opening in enumerate(wall.openings):
            if not (face.contains(opening.rect.left) and face.contains(opening.rect.right)):
                allowed = f"from {face.start:.0f} to {face.end:.0f} along the wall"
                said = "the opening runs past the face of its wall, into what the wall meets"
                faults.append(Fault(("walls", line.index, "openings", index, "at"), said, given=opening.id, allowed=allowed))
    return faults


def _level_faults(line: WallLine) -> list[Fault]:
    faults = []
    for field, given in (("base", line.model.base), ("top", line.model.top)):
        points = given if isinstance(given, tuple) else ()
        if any(b[0] < a[0] for a, b in zip(points, points[1:], strict=False)):
            faults.append(Fault(("walls", line.index, field), "the points must go along the wall from its start", given=line.id))
    return faults
