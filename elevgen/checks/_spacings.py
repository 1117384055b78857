"""How long masonry of a leaf may be between movement joints: by material, reinforcement of its beds, and what the wall is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._rules import materials, rule
from elevgen.core.geometry import at_most
from elevgen.core.sourced import Sourced
from elevgen.result import Design

NORMAL, LIMIT = "movement_joint.spacing.normal", "movement_joint.spacing.limit"
THIN = 140.0
"""Units up to this width (mm) have the first of the two figures printed for reinforced masonry (Data Pack table 7.1)."""


class Spacing(NamedTuple):
    """A length (mm), and the rule that has the last word on it."""

    number: float
    source: Sourced


def usual(design: Design, leaf: Leaf) -> Spacing | None:
    """The strictest of the usual spacings of a leaf's materials that are known; None where none is."""
    return min(_of_materials(design, leaf, greatest=False), key=lambda s: s.number, default=None)


def greatest(design: Design, leaf: Leaf) -> Spacing | None:
    """The strictest of the greatest spacings of a leaf's materials; None where none is known."""
    return min(_of_materials(design, leaf, greatest=True), key=lambda s: s.number, default=None)


def _of_materials(design: Design, leaf: Leaf, *, greatest: bool) -> Iterator[Spacing]:
    for material in materials(leaf):
        plain = rule(design, f"{LIMIT if greatest else NORMAL}.{material}")
        closer = _reinforced(design, leaf, material, ".limit" if greatest else "")
        known = [value for value in (plain, closer) if value is not None]
        if known and (plain is not None or greatest):
            best = max(known, key=lambda v: v.number)
            yield min(_standing(design, leaf, material, best), key=lambda s: s.number)


def _reinforced(design: Design, leaf: Leaf, material: str, kind: str) -> Sourced | None:
    """The rule for beds reinforced no further apart than 225 or 450 mm; its greatest where `kind` is `.limit`."""
    every = leaf.reinforced_every
    step = next((step for step in (225, 450) if every is not None and at_most(every, step)), None)
    if step is None:
        return None
    stem = f"movement_joint.spacing.reinforced_{step}"
    thick = not at_most(min(zone.unit.width for zone in leaf.zones if zone.unit.material == material), THIN)
    over = rule(design, f"{stem}.over_140.{material}") if thick and not kind else None
    return over or rule(design, f"{stem}{kind}.{material}")


def _standing(design: Design, leaf: Leaf, material: str, held: Sourced) -> Iterator[Spacing]:
    """The spacing in a building, and what a parapet or a free-standing wall has instead."""
    stands = design.building.wall(leaf.wall).stands
    yield Spacing(held.number, held)
    if stands != "building" and (fraction := rule(design, f"movement_joint.{stands}.fraction")):
        yield Spacing(held.number * fraction.number, fraction)
    if stands != "building" and (own := rule(design, f"movement_joint.{stands}.spacing.{material}")):
        yield Spacing(own.number, own)
