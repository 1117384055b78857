"""What the rule set asks of the joints of a leaf and of a run: spacing, panel ratio, corner reach."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.core.geometry import TOLERANCE
from elevgen.core.sourced import Sourced
from elevgen.rules.book import RuleReader

SPACING = "movement_joint.spacing.normal"
PANEL = "movement_joint.panel_ratio"
CORNER_KIND = "movement_joint.corner.kind"
CORNER_FRACTION = "movement_joint.corner.fraction"
BESIDE = "movement_joint.beside_opening.clear"
BESIDE_CORNER = "movement_joint.beside_corner.clear"


class LeafLimits(NamedTuple):
    """The strictest spacing and panel ratio of the materials a leaf really has. None: no such rule for one of them."""

    leaf: Leaf
    spacing: Sourced | None
    panel: Sourced | None

    @property
    def material(self) -> str:
        """The material that governs the spacing."""
        return self.spacing.key.rsplit(".", 1)[1] if self.spacing else self.leaf.zones[0].unit.material


def leaf_limits(leaf: Leaf, reader: RuleReader) -> LeafLimits:
    """The limits of one leaf; a material without a spacing leaves the whole leaf without one."""
    spacings = [reader.find(f"{SPACING}.{m}") for m in materials(leaf)]
    panels = [reader.find(f"{PANEL}.{m}") for m in materials(leaf)]
    known = [s for s in spacings if s is not None]
    ratios = [p for p in panels if p is not None]
    return LeafLimits(
        leaf,
        min(known, key=lambda s: s.number) if len(known) == len(spacings) else None,
        min(ratios, key=lambda s: s.number, default=None),
    )


def materials(leaf: Leaf) -> tuple[str, ...]:
    """The materials of the zones that lie between the leaf's base and top, from the bottom up."""
    low, high = leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span)
    zones = [z for z in leaf.zones if min(z.levels.end, high) - max(z.levels.start, low) > TOLERANCE]
    return tuple(dict.fromkeys(z.unit.material for z in zones or leaf.zones))


def governing(limits: Iterable[LeafLimits]) -> LeafLimits | None:
    """The leaf with the strictest spacing of a run: masonry tied together moves as one. None when one has no spacing."""
    found = list(limits)
    if not found or any(one.spacing is None for one in found):
        return None
    return min(found, key=lambda one: one.spacing.number if one.spacing else 0.0)


def corner_reach(spacing: float, reader: RuleReader) -> float | None:
    """How near a corner its first joint must stand; None where the set has another kind of corner rule or none."""
    kind, fraction = reader.find(CORNER_KIND), reader.find(CORNER_FRACTION)
    if kind is None or fraction is None or kind.value != "half_spacing_each_side":
        return None
    return spacing * fraction.number
