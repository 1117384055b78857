"""How far apart the movement joints of a leaf may stand: by material, bed-joint reinforcement and what the wall is part of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Leaf, Wall, Zone
from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.core.sourced import Sourced
from elevgen.joints.words import count, length
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

SPACING = "movement_joint.spacing.normal"
REINFORCED = "movement_joint.spacing.reinforced_"
WITH_OPENINGS, OPENINGS = "movement_joint.spacing.with_openings", "movement_joint.with_openings"
LOW_UNITS, LOW = "movement_joint.spacing.low_units", "movement_joint.low_units.height"
PARAPET = "movement_joint.parapet.fraction"
PARAPET_SPACING, PARAPET_REINFORCED = "movement_joint.parapet.spacing", "movement_joint.parapet.reinforced_every"
PARAPET_BEDS = "bed_reinforcement.parapet.spacing"
PARAPET_CORNER = "movement_joint.parapet.corner"
FREE_STANDING = "movement_joint.free_standing.fraction"
FREE_STANDING_SPACING = "movement_joint.free_standing.spacing"
THIN = 140.0
"""Leaves up to this thickness (mm) have the first of the two figures printed for reinforced masonry."""


class Spacing(NamedTuple):
    """The longest way through masonry of a material without a joint (mm): its rule, others that changed it, and how in words."""

    number: float
    material: str
    rule: Sourced
    others: tuple[Sourced, ...] = ()
    words: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """The rule it starts from."""
        return self.rule.key

    @property
    def basis(self) -> tuple[str, ...]:
        """Every rule behind it."""
        return tuple(source.key for source in (self.rule, *self.others))


def leaf_spacing(leaf: Leaf, wall: Wall, reader: RuleReader) -> Spacing | None:
    """The strictest of the spacings of the materials a leaf really has; None where the set has none for one of them."""
    found = [_spacing(leaf, material, wall, reader) for material in materials(leaf)]
    known = [spacing for spacing in found if spacing is not None]
    return min(known, key=lambda s: s.number) if len(known) == len(found) else None


def materials(leaf: Leaf) -> tuple[str, ...]:
    """The materials of the zones that lie between the leaf's base and top, from the bottom up."""
    return tuple(dict.fromkeys(zone.unit.material for zone in built_zones(leaf)))


def built_zones(leaf: Leaf) -> list[Zone]:
    """The zones that lie between the leaf's base and top."""
    low, high = leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span)
    return [z for z in leaf.zones if min(z.levels.end, high) - max(z.levels.start, low) > TOLERANCE] or list(leaf.zones)


def _spacing(leaf: Leaf, material: str, wall: Wall, reader: RuleReader) -> Spacing | None:
    normal = reader.find(f"{SPACING}.{material}")
    if normal is None:
        return None
    spacing = Spacing(normal.number, material, normal)
    longer = _reinforced(leaf, material, reader)
    if longer is not None and longer.number > normal.number:
        spacing = Spacing(longer.number, material, longer, words=(_two_tables(longer, reader),))
    for less in (_of_low_units, _with_openings, _where_it_stands):
        for number, source, words in less(spacing, leaf, wall, reader):
            if number < spacing.number:
                spacing = spacing._replace(number=number, others=(*spacing.others, source), words=(*spacing.words, words))
    return spacing


def _reinforced(leaf: Leaf, material: str, reader: RuleReader) -> Sourced | None:
    """The rule for a leaf with reinforced beds near enough together; by the thinnest units it has of the material."""
    every = leaf.reinforced_every
    column = next((up_to for up_to in (225, 450) if every is not None and at_most(every, up_to)), None)
    if column is None:
        return None
    thickness = min(zone.unit.width for zone in built_zones(leaf) if zone.unit.material == material)
    thicker = None if at_most(thickness, THIN) else reader.find(f"{REINFORCED}{column}.over_140.{material}")
    return thicker or reader.find(f"{REINFORCED}{column}.{material}")


def _two_tables(longer: Sourced, reader: RuleReader) -> str:
    """What each published table allows, the lower first, which is used."""
    said = f"reinforced beds: {length(reader.figures, longer.number)} by {_document(longer)}"
    others = [
        f"{length(reader.figures, other.number)} by {_document(other)}" for other in reader.book.alternatives.get(longer.key, ())
    ]
    return f"{said}, lower than {' and '.join(others)}" if others else said


def _document(source: Sourced) -> str:
    return ", ".join(part for part in (source.document, source.clause) if part) or "common practice"


_Less = Iterator[tuple[float, Sourced, str]]
"""Shorter spacings: how long (mm), by which rule, and in words."""


def _of_low_units(spacing: Spacing, leaf: Leaf, wall: Wall, reader: RuleReader) -> _Less:
    """What masonry with units of the material no higher than that may have."""
    own, height = reader.find(f"{LOW_UNITS}.{spacing.material}"), figure(reader, LOW)
    of_material = (zone.unit for zone in built_zones(leaf) if zone.unit.material == spacing.material)
    if own is not None and height is not None and any(at_most(unit.height, height) for unit in of_material):
        yield own.number, own, f"{length(reader.figures, own.number)} in units as low as these"


def _with_openings(spacing: Spacing, leaf: Leaf, wall: Wall, reader: RuleReader) -> _Less:
    """What a leaf with openings may have: so many (one, unless the set says) wider or higher than those that do not count."""
    own = reader.find(f"{WITH_OPENINGS}.{spacing.material}")
    if own is None:
        return
    number, width, height = (figure(reader, f"{OPENINGS}.{what}") for what in ("number", "width", "height"))
    rects = [o.rect for o in wall.openings if o.rect.along.overlaps(leaf.span)]
    large = [
        rect
        for rect in rects
        if (width is None and height is None)
        or (width is not None and not at_most(rect.width, width))
        or (height is not None and not at_most(rect.height, height))
    ]
    if len(large) >= (1 if number is None else number):
        many = f"{count(len(large))} opening{'s' if len(large) > 1 else ''}"
        yield own.number, own, f"{length(reader.figures, own.number)} in a wall with {many}"


def _where_it_stands(spacing: Spacing, leaf: Leaf, wall: Wall, reader: RuleReader) -> _Less:
    """What a wall that nothing holds at its top may have: a part of the spacing, or a length of its own."""
    if wall.stands == "building":
        return
    where = "a parapet" if wall.stands == "parapet" else "a free-standing wall"
    fraction = reader.find(PARAPET if wall.stands == "parapet" else FREE_STANDING)
    if fraction is not None:
        share = "half of" if fraction.number == 0.5 else f"{fraction.number:g} of"
        yield spacing.number * fraction.number, fraction, f"{share} {length(reader.figures, spacing.number)} in {where}"
    own = reader.find(f"{PARAPET_SPACING if wall.stands == 'parapet' else FREE_STANDING_SPACING}.{spacing.material}")
    if own is not None and not (wall.stands == "parapet" and _reinforced_parapet(leaf, wall, reader)):
        yield own.number, own, f"in {where}"


def _reinforced_parapet(leaf: Leaf, wall: Wall, reader: RuleReader) -> bool:
    """Whether a parapet's beds are to be reinforced so near together, by spec or by rule, that it keeps the wall's spacing."""
    most = figure(reader, PARAPET_REINFORCED)
    if most is None:
        return False
    beds = (leaf.reinforced_every, figure(reader, PARAPET_BEDS) if wall.reinforcement.placing else None)
    return any(every is not None and at_most(every, most) for every in beds)
