"""How far apart the movement joints of a leaf may stand, worked out for the checks by themselves from the rules."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import NamedTuple

from elevgen.building.model import Leaf, Wall, Zone
from elevgen.checks._reinforced_height import barest
from elevgen.checks._rules import known, rule
from elevgen.checks._words import counted
from elevgen.core.geometry import Span, at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.result import Design

NORMAL, LIMIT = "movement_joint.spacing.normal", "movement_joint.spacing.limit"
REINFORCED = "movement_joint.spacing.reinforced_"
COLUMNS = 225.0, 450.0
"""The distances between reinforced beds (mm) that the tables have a column for, the nearer first."""
THIN = 140.0
"""The thickness (mm) up to which the tables' first figure holds."""
WITH_OPENINGS, OPENINGS = "movement_joint.spacing.with_openings", "movement_joint.with_openings"
LOW_UNITS, LOW = "movement_joint.spacing.low_units", "movement_joint.low_units.height"
PARAPET_SPACING, PARAPET_BEDS = "movement_joint.parapet.spacing", "movement_joint.parapet.reinforced_every"
PARAPET, PARAPET_CORNER = "movement_joint.parapet.fraction", "movement_joint.parapet.corner"
FREE, FREE_SPACING = "movement_joint.free_standing.fraction", "movement_joint.free_standing.spacing"


class Allowed(NamedTuple):
    """The usual and the greatest spacing of a leaf (mm), the rules they come from, and what is worth saying of them.

    `missing` are the keys without which it could not be said, or not in full. `material` is the one that governs. `also` are
    the rules beside those two that made it so: the spacing they were less than, and what says which walls have which.
    """

    usual: float
    greatest: float
    usual_source: Sourced | None
    greatest_source: Sourced | None
    words: str
    missing: tuple[str, ...]
    material: str = ""
    also: tuple[Sourced, ...] = ()


def allowed(design: Design, leaf: Leaf) -> Allowed:
    """By the strictest of the zones the leaf really has; infinite where no zone has a rule."""
    wall = design.building.wall(leaf.wall)
    height = Span(leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span))
    zones = [zone for zone in leaf.zones if zone.levels.overlaps(height)]
    each = [_less(design, _of_zone(design, leaf, zone), leaf, zone, wall) for zone in zones]
    missing = tuple(dict.fromkeys(key for one in each for key in one.missing))
    usual, greatest = min(each, key=lambda a: a.usual), min(each, key=lambda a: a.greatest)
    also = tuple({value.key: value for one in (usual, greatest) for value in one.also}.values())
    return usual._replace(greatest=greatest.greatest, greatest_source=greatest.greatest_source, missing=missing, also=also)


def _of_zone(design: Design, leaf: Leaf, zone: Zone) -> Allowed:
    """Before it is asked what the wall is part of."""
    material = zone.unit.material
    normal, limit = rule(design, f"{NORMAL}.{material}"), rule(design, f"{LIMIT}.{material}")
    if normal is None:
        return Allowed(inf, inf, None, None, "", (f"{NORMAL}.{material}",), material)
    most = limit if limit is not None and limit.number > normal.number else normal
    plain = Allowed(normal.number, most.number, normal, most, "", (), material)
    longer = _for_reinforced_beds(design, leaf, zone)
    if longer is None or longer.number <= normal.number:
        return plain
    stem = longer.key.removesuffix(f".{material}").removesuffix(".over_140")
    most = rule(design, f"{stem}.limit.{material}") or longer
    return Allowed(longer.number, max(most.number, longer.number), longer, most, _tables(design, longer), (), material, (normal,))


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


def _less(design: Design, before: Allowed, leaf: Leaf, zone: Zone, wall: Wall) -> Allowed:
    """What low units, openings, and standing without anything at its top leave of the spacing."""
    if before.usual == inf:
        return before
    after = _held_to(before, _of_low_units(design, zone))
    after = _held_to(after, _of_openings(design, leaf, zone, wall))
    after = after._replace(also=(*after.also, *_what_counts(design, zone, wall)))
    if rule(design, f"{LOW_UNITS}.{zone.unit.material}") and rule(design, LOW) is None:
        after = after._replace(missing=(*after.missing, LOW))
    return after if wall.stands == "building" else _of_place(design, after, leaf, zone, wall.stands)


class _Shorter(NamedTuple):
    """A shorter spacing, usual and greatest (mm), the rule it is from, and where it holds."""

    usual: float
    greatest: float
    source: Sourced
    where: str
    also: tuple[Sourced, ...] = ()


def _held_to(before: Allowed, less: _Shorter | None) -> Allowed:
    after = before
    was = tuple(value for value in (before.usual_source, before.greatest_source) if value is not None)
    if less is not None and less.usual < before.usual:
        words = f"{before.words}; {less.where}".removeprefix("; ")
        after = after._replace(usual=less.usual, usual_source=less.source, words=words)
    if less is not None and less.greatest < before.greatest:
        after = after._replace(greatest=less.greatest, greatest_source=less.source)
    return after if less is None else after._replace(also=(*after.also, *was, *less.also))


def _of_low_units(design: Design, zone: Zone) -> _Shorter | None:
    own, height = rule(design, f"{LOW_UNITS}.{zone.unit.material}"), rule(design, LOW)
    if own is None or height is None or not at_most(zone.unit.height, height.number):
        return None
    return _Shorter(own.number, own.number, own, f"units {design.figures.measure(zone.unit.height)} high")


def _what_counts(design: Design, zone: Zone, wall: Wall) -> Iterator[Sourced]:
    """What says whether a wall is one with openings or of low units, whichever it is."""
    if rule(design, f"{LOW_UNITS}.{zone.unit.material}"):
        yield from known(design, LOW)
    if wall.openings and rule(design, f"{WITH_OPENINGS}.{zone.unit.material}"):
        yield from known(design, *(f"{OPENINGS}.{what}" for what in ("number", "width", "height")))


def _of_openings(design: Design, leaf: Leaf, zone: Zone, wall: Wall) -> _Shorter | None:
    """Openings over a width or over a height count; every one where the set has neither. From one on, unless the set says."""
    own, number = rule(design, f"{WITH_OPENINGS}.{zone.unit.material}"), rule(design, f"{OPENINGS}.number")
    width, height = rule(design, f"{OPENINGS}.width"), rule(design, f"{OPENINGS}.height")
    rects = [opening.rect for opening in wall.openings if opening.rect.along.common(leaf.span)]
    wide = [width is not None and not at_most(rect.width, width.number) for rect in rects]
    high = [height is not None and not at_most(rect.height, height.number) for rect in rects]
    counting = len(rects) if width is None and height is None else sum(map(any, zip(wide, high, strict=True)))
    if own is None or not counting or counting < (number.number if number else 1):
        return None
    return _Shorter(own.number, own.number, own, f"in a wall with {counted(counting, 'opening')}")


def _of_place(design: Design, before: Allowed, leaf: Leaf, zone: Zone, stands: str) -> Allowed:
    """A parapet's or a free-standing wall's part of the spacing, or the length it has by itself."""
    key, where = (PARAPET, "in a parapet") if stands == "parapet" else (FREE, "in a free-standing wall")
    shorter = list(_shorter(design, before, leaf, zone, key, where))
    for less in shorter:
        before = _held_to(before, less)
    return before if shorter else before._replace(missing=(*before.missing, key))


def _shorter(design: Design, before: Allowed, leaf: Leaf, zone: Zone, key: str, where: str) -> Iterator[_Shorter]:
    if share := rule(design, key):
        yield _Shorter(before.usual * share.number, before.greatest * share.number, share, where)
    own = rule(design, f"{PARAPET_SPACING if key == PARAPET else FREE_SPACING}.{zone.unit.material}")
    if own is None:
        return
    near = known(design, PARAPET_BEDS) if key == PARAPET else ()
    if near and _reinforced_near(design, leaf):
        yield _Shorter(before.usual, before.greatest, own, where, near)
    else:
        yield _Shorter(own.number, own.number, own, where, near)


def _reinforced_near(design: Design, leaf: Leaf) -> bool:
    """Whether reinforced beds lie so near together in a parapet, measured, that it keeps the spacing of the wall."""
    most, bare = rule(design, PARAPET_BEDS), barest(design, leaf)
    return most is not None and bare is not None and at_most(bare.height, most.number)
