"""How far apart the movement joints of a leaf may stand, worked out for the checks by themselves from the rules."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import NamedTuple

from elevgen.building.model import Leaf, Zone
from elevgen.checks._rules import rule
from elevgen.core.geometry import Span, at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.result import Design

NORMAL, LIMIT = "movement_joint.spacing.normal", "movement_joint.spacing.limit"
REINFORCED = "movement_joint.spacing.reinforced_"
COLUMNS = 225.0, 450.0
"""The distances between reinforced beds (mm) that the tables have a column for, the nearer first."""
THIN = 140.0
"""The thickness (mm) up to which the tables' first figure holds."""
PARAPET, PARAPET_CORNER = "movement_joint.parapet.fraction", "movement_joint.parapet.corner"
FREE, FREE_SPACING = "movement_joint.free_standing.fraction", "movement_joint.free_standing.spacing"


class Allowed(NamedTuple):
    """The usual and the greatest spacing of a leaf (mm), the rules they come from, and what is worth saying of them.

    `missing` are the keys without which it could not be said, or not in full.
    """

    usual: float
    greatest: float
    usual_source: Sourced | None
    greatest_source: Sourced | None
    words: str
    missing: tuple[str, ...]


def allowed(design: Design, leaf: Leaf) -> Allowed:
    """By the strictest of the zones the leaf really has; infinite where no zone has a rule."""
    stands = design.building.wall(leaf.wall).stands
    height = Span(leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span))
    zones = [zone for zone in leaf.zones if zone.levels.overlaps(height)]
    each = [_less(design, _of_zone(design, leaf, zone), zone, stands) for zone in zones]
    missing = tuple(dict.fromkeys(key for one in each for key in one.missing))
    usual, greatest = min(each, key=lambda a: a.usual), min(each, key=lambda a: a.greatest)
    return usual._replace(greatest=greatest.greatest, greatest_source=greatest.greatest_source, missing=missing)


def _of_zone(design: Design, leaf: Leaf, zone: Zone) -> Allowed:
    """Before it is asked what the wall is part of."""
    material = zone.unit.material
    normal, limit = rule(design, f"{NORMAL}.{material}"), rule(design, f"{LIMIT}.{material}")
    if normal is None:
        return Allowed(inf, inf, None, None, "", (f"{NORMAL}.{material}",))
    most = limit if limit is not None and limit.number > normal.number else normal
    plain = Allowed(normal.number, most.number, normal, most, "", ())
    longer = _for_reinforced_beds(design, leaf, zone)
    if longer is None or longer.number <= normal.number:
        return plain
    stem = longer.key.removesuffix(f".{material}").removesuffix(".over_140")
    most = rule(design, f"{stem}.limit.{material}") or longer
    return Allowed(longer.number, max(most.number, longer.number), longer, most, _tables(design, longer), ())


def _for_reinforced_beds(design: Design, leaf: Leaf, zone: Zone) -> Sourced | None:
    every = leaf.reinforced_every
    columns = [column for column in COLUMNS if every is not None and at_least(column, every)]
    if not columns:
        return None
    stem, material = f"{REINFORCED}{columns[0]:.0f}", zone.unit.material
    thin = at_most(min(z.unit.width for z in leaf.zones if z.unit.material == material), THIN)
    return (None if thin else rule(design, f"{stem}.over_140.{material}")) or rule(design, f"{stem}.{material}")


def _tables(design: Design, longer: Sourced) -> str:
    """What each published table allows a leaf with reinforced beds."""
    others = design.rules.alternatives.get(longer.key, ())
    said = [f"{design.figures.plain(value.number)} by {value.document or 'common practice'}" for value in (longer, *others)]
    return f"beds reinforced: {', '.join(said)}{'; the lower is held to' if others else ''}"


def _less(design: Design, before: Allowed, zone: Zone, stands: str) -> Allowed:
    """A parapet's or a free-standing wall's part of the spacing, or the length it has by itself."""
    if stands == "building" or before.usual == inf:
        return before
    key, where = (PARAPET, "a parapet") if stands == "parapet" else (FREE, "a free-standing wall")
    after, known = before, False
    for usual, greatest, source in _shorter(design, before, zone, stands, key):
        known = True
        if usual < after.usual:
            after = after._replace(usual=usual, usual_source=source, words=f"{after.words}; in {where}".removeprefix("; "))
        if greatest < after.greatest:
            after = after._replace(greatest=greatest, greatest_source=source)
    return after if known else before._replace(missing=(*before.missing, key))


def _shorter(design: Design, before: Allowed, zone: Zone, stands: str, key: str) -> Iterator[tuple[float, float, Sourced]]:
    if share := rule(design, key):
        yield before.usual * share.number, before.greatest * share.number, share
    own = rule(design, f"{FREE_SPACING}.{zone.unit.material}") if stands == "free_standing" else None
    if own is not None:
        yield own.number, own.number, own
