"""How far apart the movement joints of a leaf may stand: by material, bed-joint reinforcement and what the wall is part of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Leaf, Zone
from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.core.sourced import Sourced
from elevgen.joints.words import length
from elevgen.rules.book import RuleReader
from elevgen.spec.fields import Stands

SPACING = "movement_joint.spacing.normal"
REINFORCED = "movement_joint.spacing.reinforced_"
PARAPET = "movement_joint.parapet.fraction"
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


def leaf_spacing(leaf: Leaf, stands: Stands, reader: RuleReader) -> Spacing | None:
    """The strictest of the spacings of the materials a leaf really has; None where the set has none for one of them."""
    found = [_spacing(leaf, material, stands, reader) for material in materials(leaf)]
    known = [spacing for spacing in found if spacing is not None]
    return min(known, key=lambda s: s.number) if len(known) == len(found) else None


def materials(leaf: Leaf) -> tuple[str, ...]:
    """The materials of the zones that lie between the leaf's base and top, from the bottom up."""
    return tuple(dict.fromkeys(zone.unit.material for zone in built_zones(leaf)))


def built_zones(leaf: Leaf) -> list[Zone]:
    """The zones that lie between the leaf's base and top."""
    low, high = leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span)
    return [z for z in leaf.zones if min(z.levels.end, high) - max(z.levels.start, low) > TOLERANCE] or list(leaf.zones)


def _spacing(leaf: Leaf, material: str, stands: Stands, reader: RuleReader) -> Spacing | None:
    normal = reader.find(f"{SPACING}.{material}")
    if normal is None:
        return None
    spacing = Spacing(normal.number, material, normal)
    longer = _reinforced(leaf, material, reader)
    if longer is not None and longer.number > normal.number:
        spacing = Spacing(longer.number, material, longer, words=(_two_tables(longer, reader),))
    return _where_it_stands(spacing, stands, reader)


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


def _where_it_stands(spacing: Spacing, stands: Stands, reader: RuleReader) -> Spacing:
    for number, source, words in _less(spacing, stands, reader):
        if number < spacing.number:
            spacing = spacing._replace(number=number, others=(*spacing.others, source), words=(*spacing.words, words))
    return spacing


def _less(spacing: Spacing, stands: Stands, reader: RuleReader) -> Iterator[tuple[float, Sourced, str]]:
    """What a wall that nothing holds at its top may have: a part of the spacing, or a length of its own."""
    if stands == "building":
        return
    where = "a parapet" if stands == "parapet" else "a free-standing wall"
    fraction = reader.find(PARAPET if stands == "parapet" else FREE_STANDING)
    if fraction is not None:
        share = "half of" if fraction.number == 0.5 else f"{fraction.number:g} of"
        yield spacing.number * fraction.number, fraction, f"{share} {length(reader.figures, spacing.number)} in {where}"
    if stands == "free_standing":
        own = reader.find(f"{FREE_STANDING_SPACING}.{spacing.material}")
        if own is not None:
            yield own.number, own, f"in {where}"
