"""Where a rule asks for a joint near something whatever the lengths: on one wall of a corner, beside an opening."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, OpeningGroup, Wall, Zone
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_most
from elevgen.core.sourced import Sourced
from elevgen.joints.limits import LeafLimits, corner_kind
from elevgen.joints.musts import Unmet
from elevgen.joints.problem import Candidate, Edge, Face, Wanted
from elevgen.joints.spacings import built_zones, materials
from elevgen.joints.words import length
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

WITHIN = "movement_joint.corner.within"
ONE_SIDE, BOTH_SIDES = "movement_joint.at_opening.one_side", "movement_joint.at_opening.both_sides"
NEAR, INSTEAD = "movement_joint.at_opening.within", "movement_joint.at_opening.instead"
ABOVE, BELOW, REACH = "bed_reinforcement.courses_above", "bed_reinforcement.courses_below", "bed_reinforcement.reach"


class _LeafFaces(NamedTuple):
    """A leaf with its limits, its wall, and its faces in order along it."""

    limits: LeafLimits
    wall: Wall
    faces: tuple[Face, ...]

    @property
    def leaf(self) -> Leaf:
        return self.limits.leaf


def asked(
    edges: Sequence[Edge], faces: Sequence[Face], limits: Mapping[str, LeafLimits], building: Building, reader: RuleReader
) -> tuple[Wanted, ...]:
    """Everything the rules ask for in a run. Nothing where masonry ends as near by, or all the joints of the walls are given."""
    of_leaf = [
        _LeafFaces(one, building.wall(one.leaf.wall), tuple(f for f in faces if f.id.rsplit("/", 1)[0] == leaf_id))
        for leaf_id, one in limits.items()
    ]
    at_openings = (wanted for here in of_leaf if here.wall.placing for wanted in _at_openings(here, reader))
    return (*_at_corners(edges, of_leaf, reader), *at_openings)


def _at_corners(edges: Sequence[Edge], of_leaf: Sequence[_LeafFaces], reader: RuleReader) -> Iterator[Wanted]:
    """A joint on one wall of a corner of a material whose rule is so."""
    node_at = {(e.face, at): node for e in edges for at, node in ((e.span.start, e.a), (e.span.end, e.b))}
    corners: dict[str, list[tuple[_LeafFaces, Face, bool]]] = {}
    for here in of_leaf:
        for face in here.faces:
            for kind, at, first in ((face.start, face.span.start, True), (face.finish, face.span.end, False)):
                if kind == "corner":
                    corners.setdefault(node_at[face.id, at], []).append((here, face, first))
    for node in sorted(corners):
        meeting = corners[node]
        kinds = [corner_kind(here.limits.spacing, reader) for here, _, _ in meeting]
        if not any(kind is not None and kind.value == "one_side_within" for kind in kinds):
            continue
        within = reader.find(WITHIN)
        if within is None or not any(here.wall.placing for here, _, _ in meeting):
            continue
        if any(_ends_within(face, within.number, from_start=first) for _, face, first in meeting):
            continue
        sides = tuple((face.id, _from_end(face, within.number, from_start=first)) for _, face, first in meeting)
        names = " and ".join(dict.fromkeys(here.wall.id for here, _, _ in meeting))
        yield Wanted(sides, WITHIN, f"within {length(reader.figures, within.number)} of the corner of {names}", within.number)


def _ends_within(face: Face, within: float, *, from_start: bool) -> bool:
    """Whether the masonry of a face ends no further from one end of it than that."""
    return (face.finish if from_start else face.start) == "free" and at_most(face.span.length, within)


def _from_end(face: Face, within: float, *, from_start: bool) -> Span:
    start, end = face.span.start, face.span.end
    return Span(start, min(start + within, end)) if from_start else Span(max(end - within, start), end)


def _at_openings(here: _LeafFaces, reader: RuleReader) -> Iterator[Wanted]:
    near = reader.find(NEAR)
    for group in here.wall.groups if near is not None else ():
        clear = group.clear.along.common(here.leaf.span)
        rule = None if clear is None else _rule_for(here.leaf, clear.length, reader)
        if near is None or clear is None or rule is None or _done_by_steel(here, group, reader):
            continue
        sides = [Span(clear.start - near.number, clear.start), Span(clear.end, clear.end + near.number)]
        ends = [_ends_in(here.faces, side) for side in sides]
        both = rule.key.startswith(BOTH_SIDES)
        if all(ends) or (any(ends) and not both):
            continue
        stretches = (
            [s for s, ended in zip(sides, ends, strict=True) if not ended] if both else [Span(sides[0].start, sides[1].end)]
        )
        name = " and ".join(f"{o.kind} {o.id}" for o in here.wall.openings if o.id in group.openings)
        for stretch in stretches:
            on = tuple((f.id, common) for f in here.faces if (common := f.span.common(stretch)) is not None)
            side = 0 if not both else -1 if stretch.end <= clear.start else 1
            where = ("", " on the right", " on the left")[side]
            if on:
                yield Wanted(on, rule.key, f"within {length(reader.figures, near.number)} of {name}{where}", near.number, side)


def _rule_for(leaf: Leaf, width: float, reader: RuleReader) -> Sourced | None:
    """What an opening so wide asks for: a joint on both sides, by any material of the leaf, before one on one side."""
    for stem in (BOTH_SIDES, ONE_SIDE):
        for material in materials(leaf):
            found = reader.find(f"{stem}.{material}")
            if found is not None and not at_most(width, found.number):
                return found
    return None


def _ends_in(faces: Sequence[Face], side: Span) -> bool:
    """Whether masonry beside an opening ends within a stretch: nothing there is held that a joint would part."""
    return any(
        kind == "free" and side.contains(at) for f in faces for kind, at in ((f.start, f.span.start), (f.finish, f.span.end))
    )


def _done_by_steel(here: _LeafFaces, group: OpeningGroup, reader: RuleReader) -> bool:
    """Whether reinforced beds stand in for the joint, and beds over and under the opening are to be reinforced.

    Of beds listed only those as near as the first ones the rule counts: steel further up the wall holds nothing there.
    """
    instead = reader.find(INSTEAD)
    if instead is None or instead.value != "reinforced_beds":
        return False
    leaf, clear = here.leaf, group.clear
    course = min(zone.unit.gauge for zone in built_zones(leaf))  # no bed lies in less than that
    over = leaf.top.highest(clear.along) > clear.top + course + TOLERANCE
    under = leaf.base.lowest(clear.along) < clear.bottom - course - TOLERANCE
    counts = figure(reader, ABOVE), figure(reader, BELOW)
    if here.wall.reinforcement.placing:
        by_rule = reader.find(REACH) is not None and all(
            count is not None and count >= 1 for count, there in zip(counts, (over, under), strict=True) if there
        )
        if by_rule or leaf.reinforced_every is not None:
            return True
    listed = [r for r in here.wall.reinforcement.parts if r.leaf in (None, leaf.side)]
    covering = [r.level for r in listed if r.at <= clear.left + TOLERANCE and r.at + r.length >= clear.right - TOLERANCE]
    near = [(count or 1) * zone.unit.gauge for count, zone in zip(counts, _zones_at(leaf, clear), strict=True)]
    return not (over and not any(0 < at - clear.top <= near[0] + TOLERANCE for at in covering)) and not (
        under and not any(0 < clear.bottom - at <= near[1] + TOLERANCE for at in covering)
    )


def _zones_at(leaf: Leaf, clear: Rect) -> tuple[Zone, Zone]:
    """The units just over an opening, and those just under it."""
    zones = built_zones(leaf)
    over = next((z for z in zones if z.levels.end > clear.top + TOLERANCE), zones[-1])
    under = next((z for z in reversed(zones) if z.levels.start < clear.bottom - TOLERANCE), zones[0])
    return over, under


class Offered(NamedTuple):
    """The edges with a place for all that is asked for and can have one, that, and what has none."""

    edges: tuple[Edge, ...]
    wanted: tuple[Wanted, ...]
    unmet: tuple[Unmet, ...]


def offered(edges: Sequence[Edge], wanted: Sequence[Wanted], price: Callable[[str, float], Candidate]) -> Offered:
    """What is asked for with its places: where the bond has none in a stretch, the ends of what is free of it."""
    by_id = {edge.id: edge for edge in edges}
    kept: list[Wanted] = []
    unmet: list[Unmet] = []
    for one in wanted:
        mine = [edge for edge in by_id.values() if any(edge.face == face for face, _ in one.stretches)]
        if not any(one.met_at(edge.face, c.at) for edge in mine for c in edge.candidates):
            more = {edge.id: sorted(_free_ends(edge, one)) for edge in mine}
            if not any(more.values()):
                unmet.append(not_there(one, mine))
                continue
            for name, places in more.items():
                candidates = (*by_id[name].candidates, *(price(name, at) for at in places))
                by_id[name] = by_id[name]._replace(candidates=tuple(sorted(candidates, key=lambda c: c.at)))
        kept.append(one)
    return Offered(tuple(by_id.values()), tuple(kept), tuple(unmet))


def _free_ends(edge: Edge, one: Wanted) -> set[float]:
    stretches = [span for face, span in one.stretches if face == edge.face]
    common = (f.common(span) for f in edge.free for span in stretches)
    return {at for span in common if span is not None for at in (span.start, span.end)}


def not_there(one: Wanted, edges: Sequence[Edge]) -> Unmet:
    """What asks for a joint and has none: the nearest place there is, or the end of the masonry, is so far from it."""
    face, span = one.stretches[0]
    far = [
        off + one.limit
        for name, stretch in one.stretches
        for edge in edges
        if edge.face == name
        for at in (*(c.at for c in edge.candidates), edge.span.start, edge.span.end)
        for side, off in ((-1, stretch.start - at), (1, at - stretch.end))
        if off >= 0 and one.side in (0, side)
    ]
    return Unmet(one.rule, face.rsplit("/", 1)[0], span, min(far, default=one.limit), one.limit)
