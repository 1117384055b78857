"""What the rule set asks of the joints of a leaf: spacing, panel ratio, corner reach."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.building.model import Leaf, Wall
from elevgen.core.sourced import Sourced
from elevgen.joints.candidates import Liking
from elevgen.joints.spacings import PARAPET_CORNER, Spacing, leaf_spacing, materials
from elevgen.rules.book import RuleReader

PANEL = "movement_joint.panel_ratio"
CORNER_KIND = "movement_joint.corner.kind"
CORNER_FRACTION = "movement_joint.corner.fraction"
BESIDE = "movement_joint.beside_opening.clear"
BESIDE_CORNER = "movement_joint.beside_corner.clear"
BESIDE_CORNER_FRACTION = "movement_joint.corner.height_fraction"


class Reach(NamedTuple):
    """How near a corner its first joint must stand (mm), and the rules that say so, the governing one first."""

    number: float
    basis: tuple[str, ...]


class LeafLimits(NamedTuple):
    """The strictest spacing and panel ratio of the materials a leaf really has, and how near a corner its first joint stands.

    None: no such rule, of the spacing for one of the materials.
    """

    leaf: Leaf
    spacing: Spacing | None
    panel: Sourced | None
    reach: Reach | None = None

    @property
    def material(self) -> str:
        """The material that governs the spacing."""
        return self.spacing.material if self.spacing else self.leaf.zones[0].unit.material


def leaf_limits(leaf: Leaf, wall: Wall, reader: RuleReader) -> LeafLimits:
    """The limits of one leaf; a material without a spacing leaves the whole leaf without one."""
    panels = [reader.find(f"{PANEL}.{m}") for m in materials(leaf)]
    ratios = [p for p in panels if p is not None]
    spacing = leaf_spacing(leaf, wall, reader)
    return LeafLimits(leaf, spacing, min(ratios, key=lambda s: s.number, default=None), _reach(spacing, wall, reader))


def _reach(spacing: Spacing | None, wall: Wall, reader: RuleReader) -> Reach | None:
    """None where the set has another kind of corner rule or none, and the wall is no parapet with one of its own."""
    reaches: list[Reach] = []
    kind, fraction = corner_kind(spacing, reader), reader.find(CORNER_FRACTION)
    if spacing is not None and kind is not None and fraction is not None and kind.value == "half_spacing_each_side":
        reaches.append(Reach(spacing.number * fraction.number, (CORNER_FRACTION, *spacing.basis)))
    if wall.stands == "parapet" and (nearer := reader.find(PARAPET_CORNER)) is not None:
        reaches.append(Reach(nearer.number, (PARAPET_CORNER,)))
    return min(reaches, default=None)


def corner_kind(spacing: Spacing | None, reader: RuleReader) -> Sourced | None:
    """How the first joint off a corner is limited: by the rule for the material that governs, else by that for every other."""
    own = reader.find(f"{CORNER_KIND}.{spacing.material}") if spacing is not None else None
    return own or reader.find(CORNER_KIND)


def liking(leaf: Leaf, reader: RuleReader) -> Liking:
    """How far the joints of a leaf should keep from reveals and corners; from corners also by the height of the wall."""
    reveals, corners, part = (reader.find(key) for key in (BESIDE, BESIDE_CORNER, BESIDE_CORNER_FRACTION))
    return Liking(
        reveals.number if reveals else None, corners.number if corners else None, part.number * leaf.height if part else None
    )
