"""Meetings that have to be movement joints though the spec does not say so: old to new, unlike materials, changes in line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from elevgen.building.ends import host_position
from elevgen.building.joins import Join, Party
from elevgen.building.leaves import profile, zones_of
from elevgen.building.model import Parting, Unit
from elevgen.core.geometry import Span, at_most
from elevgen.core.sourced import Sourced
from elevgen.rules.book import RuleReader
from elevgen.spec.fields import Material

UNLIKE = "movement_joint.unlike_materials"
OLD_TO_NEW = "movement_joint.old_to_new"
THICKNESS = "movement_joint.change_of_thickness"
HEIGHT, HEIGHT_FRACTION = "movement_joint.change_of_height", "movement_joint.change_of_height.fraction"

_HeightRules = tuple[Sourced | None, Sourced | None]
"""The step that needs no joint: as a height, and as a part of the higher side's height."""

_GROWING = frozenset(("clay",))
_SHRINKING = frozenset(("calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete"))


def part(joins: Sequence[Join], units: Mapping[str, Unit], reader: RuleReader) -> tuple[Join, ...]:
    """The joins, those jointed that a rule asks to be and for which the spec states no connection.

    Nothing is parted where no joints are placed, nor between walls that both stand already. Of a jointed corner the stem is
    the leaf that stops and has the joint in its end: the later wall, but new masonry rather than old, and in line the lower.
    """
    rules = reader.find(HEIGHT), reader.find(HEIGHT_FRACTION)
    found = []
    for join in joins:
        turned = _turned(join, rules)
        reasons = () if _is_settled(turned) else tuple(_reasons(turned, units, reader))
        if reasons:
            found.append(turned._replace(connection="jointed", parted=reasons))
        else:
            found.append(turned if join.connection == "jointed" else join)
    return tuple(found)


def _is_settled(join: Join) -> bool:
    """Whether nothing is to be asked: the spec states the connection, or no joint would be built there."""
    host, stem = join.host.wall.model, join.stem.wall.model
    return join.stated or join.kind == "cross" or not stem.placing or (host.existing and stem.existing)


def _turned(join: Join, rules: _HeightRules) -> Join:
    """The join with the leaf that is to stop for its stem."""
    if join.kind != "corner":
        return join
    host, stem = join.host.wall.model, join.stem.wall.model
    backwards = stem.existing and not host.existing
    if host.existing == stem.existing and join.straight:
        higher, lower = _levels_at(join.stem, join), _levels_at(join.host, join)
        backwards = higher.end > lower.end and _step_rule(higher.end - lower.end, (higher, lower), rules) is not None
    return join._replace(host=join.stem, stem=join.host) if backwards else join


def _reasons(join: Join, units: Mapping[str, Unit], reader: RuleReader) -> Iterator[Parting]:
    old_to_new, unlike = reader.find(OLD_TO_NEW), reader.find(UNLIKE)
    if old_to_new is not None and old_to_new.value == "joint" and join.host.wall.model.existing != join.stem.wall.model.existing:
        yield Parting(OLD_TO_NEW, "new masonry meets old")
    if unlike is not None and (materials := _unlike(join, units, str(unlike.value))):
        one, other = (material.replace("_", " ") for material in materials)
        yield Parting(UNLIKE, f"{one} meets {other}")
    if join.straight:
        yield from _changes_in_line(join, reader)


def _changes_in_line(join: Join, reader: RuleReader) -> Iterator[Parting]:
    thickness, rules = reader.find(THICKNESS), (reader.find(HEIGHT), reader.find(HEIGHT_FRACTION))
    one, other = join.host.leaf.thickness, join.stem.leaf.thickness
    if thickness is not None and not at_most(abs(one - other), thickness.number):
        yield Parting(THICKNESS, f"a leaf of {reader.figures.measure(other)} goes on from one of {reader.figures.measure(one)}")
    here, there = _levels_at(join.host, join), _levels_at(join.stem, join)
    step = max(abs(here.end - there.end), abs(here.start - there.start))
    if height := _step_rule(step, (here, there), rules):
        yield Parting(height, f"the wall steps {reader.figures.run(step)} in height")


def _step_rule(step: float, sides: Sequence[Span], rules: _HeightRules) -> str | None:
    """The rule by which a step needs a joint: by a height of its own, or by a part of the higher side's; None: it needs none."""
    fixed, fraction = rules
    if fixed is not None and not at_most(step, fixed.number):
        return fixed.key
    if fraction is not None and not at_most(step, fraction.number * max(side.length for side in sides)):
        return fraction.key
    return None


def _levels_at(party: Party, join: Join) -> Span:
    """Base and top of a leaf where it is met."""
    wall = party.wall
    at = host_position(join) if party.end is None else wall.position(party.end)
    base, top = profile(wall.model.base, wall.length), profile(wall.model.top, wall.length)
    if party.end == "finish":
        return Span(base.level_left_of(at), top.level_left_of(at))
    return Span(base.level_right_of(at), top.level_right_of(at))


def _unlike(join: Join, units: Mapping[str, Unit], kind: str) -> tuple[Material, Material] | None:
    """The materials of stem and host that are unlike over more than half of the height at which the two meet."""
    shared = _levels_at(join.host, join).common(_levels_at(join.stem, join))
    if shared is None:
        return None
    over: dict[tuple[Material, Material], float] = {}
    for zone in zones_of(join.stem.leaf.model, join.stem.wall.levels, units):
        for other in zones_of(join.host.leaf.model, join.host.wall.levels, units):
            both = zone.levels.common(other.levels)
            common = both.common(shared) if both else None
            pair = zone.unit.material, other.unit.material
            if common is not None and _is_unlike(*pair, kind):
                over[pair] = over.get(pair, 0.0) + common.length
    if at_most(sum(over.values()), shared.length / 2):
        return None
    return max(over, key=lambda pair: (over[pair], pair))


def _is_unlike(one: Material, other: Material, kind: str) -> bool:
    if kind == "any_two":
        return one != other
    opposite = (one in _GROWING and other in _SHRINKING) or (one in _SHRINKING and other in _GROWING)
    return kind == "clay_with_shrinking" and opposite
