"""Resolve: from what a person wrote to absolute geometry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from elevgen.building.contacts import Contact, find_contacts, overlapping_walls
from elevgen.building.ends import crossed_at, host_position, leaf_ends
from elevgen.building.joins import Join, connect, find_joins
from elevgen.building.leaves import interruptions, profile, resolve_leaf
from elevgen.building.listed import (
    given_damp_courses,
    given_lintels,
    given_reinforcement,
    given_ties,
    given_trays,
    loads_on,
)
from elevgen.building.model import Building, Feature, GivenJoint, Leaf, Meeting, Opening, Profile, Wall
from elevgen.building.openings import Buildable, group_openings
from elevgen.building.partings import part
from elevgen.building.rooms import internal_walls
from elevgen.building.units import units_of
from elevgen.building.walls import End, WallLine, on_centre, wall_lines
from elevgen.core.errors import Fault, SpecError
from elevgen.core.geometry import TOLERANCE, Rect
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure
from elevgen.spec.models import Spec


def resolve(spec: Spec, reader: RuleReader) -> Building:
    """Walls, leaves, meetings and openings in absolute geometry.

    Raises SpecError for plans no masonry can have: walls lying on one another, walls too short for what they
    meet, openings that run into what their wall meets, junctions of walls that do not meet.
    """
    units = units_of(spec, reader)
    lines, faults = wall_lines(spec, units)
    _refuse(faults)
    lines, contacts, internal = _set_in_plan(lines)
    _refuse(overlapping_walls(lines, contacts))
    found, stops = find_joins(contacts)
    joins, faults = connect(found, spec.junctions)
    _refuse(faults)
    joins = part(joins, units, reader)
    ends = leaf_ends(lines, joins, stops)
    least = Buildable(figure(reader, "opening.pier.min"), figure(reader, "opening.strip.min"))
    walls = tuple(_wall(line, line.index in internal, least) for line in lines)
    through = interruptions(joins)
    leaves = tuple(
        resolve_leaf(line, leaf, wall, ends, through.get(leaf.id, ()), units)
        for line, wall in zip(lines, walls, strict=True)
        for leaf in line.leaves
    )
    by_id = {leaf.id: leaf for leaf in leaves}
    _refuse(tuple(_faults(walls, by_id)))
    used = {zone.unit.name: zone.unit for leaf in leaves for zone in leaf.zones}
    return Building(walls, leaves, _meetings(joins, by_id), tuple(used[name] for name in sorted(used)))


def _refuse(faults: Sequence[Fault]) -> None:
    if faults:
        raise SpecError(tuple(faults))


def _set_in_plan(lines: tuple[WallLine, ...]) -> tuple[tuple[WallLine, ...], tuple[Contact, ...], frozenset[int]]:
    """The walls on their lines, where they meet, and which are internal.

    A wall of one leaf, inside and given no line, stands on its centre line.
    """
    contacts = find_contacts(lines)
    internal = internal_walls(lines, contacts)
    centred = {w.index for w in lines if w.index in internal and w.model.line is None and len(w.leaves) == 1}
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
        joints=tuple(GivenJoint(j.at, j.leaf, j.width) for j in model.given_joints),
        placing=model.placing,
        stands=model.stands,
        existing=model.existing,
        slip_ties=model.slip_ties,
        lintels=given_lintels(model),
        reinforcement=given_reinforcement(model),
        ties=given_ties(model),
        tie_length=model.tie_length,
        damp_courses=given_damp_courses(model),
        trays=given_trays(model),
        ground=None if model.ground is None else profile(model.ground, line.length),
        abutments=tuple(Profile(abutment.line) for abutment in model.abutments),
        loads=loads_on(model),
    )


def _meetings(joins: Sequence[Join], leaves: Mapping[str, Leaf]) -> tuple[Meeting, ...]:
    meetings = []
    for number, join in enumerate(joins, start=1):
        host, stem = leaves[join.host.leaf.id], leaves[join.stem.leaf.id]
        if join.host.end is None:
            host_at = min(max(host_position(join), host.span.start), host.span.end)
        else:
            host_at = _face_end(host, join.host.end)
        stem_at = crossed_at(join, stem.span) if join.stem.end is None else _face_end(stem, join.stem.end)
        meetings.append(Meeting(f"M{number}", join.kind, host.id, stem.id, host_at, stem_at, join.connection, join.parted))
    return tuple(meetings)


def _face_end(leaf: Leaf, end: End) -> float:
    return leaf.span.start if end == "start" else leaf.span.end


def _faults(walls: Sequence[Wall], leaves: Mapping[str, Leaf]) -> Iterator[Fault]:
    """What cannot stand: a leaf with nothing left between its ends, openings that run into what the wall meets."""
    for index, wall in enumerate(walls):
        of_wall = [leaves[leaf_id] for leaf_id in wall.leaves]
        for leaf in of_wall:
            if leaf.span.length <= TOLERANCE:
                said = f"too short for the walls it meets: nothing is left of its {leaf.side} leaf"
                yield Fault(("walls", index), said, given=wall.id)
        face = of_wall[0].span
        for j, opening in enumerate(wall.openings):
            path = ("walls", index, "openings", j, "at")
            if not (face.contains(opening.rect.left) and face.contains(opening.rect.right)):
                allowed = f"from {face.start:.0f} to {face.end:.0f} along the wall"
                yield Fault(path, "the opening runs past the face of its wall, into what the wall meets", opening.id, allowed)
            if any(opening.rect.overlaps(crossing) for leaf in of_wall for crossing in leaf.crossings):
                yield Fault(path, "the opening stands where another wall runs through", opening.id, "a place beside that wall")
