"""What the rule set asks of the joints of a leaf: spacing, panel ratio, corner reach, width."""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from elevgen.building.model import Leaf, Wall
from elevgen.core.geometry import TOLERANCE
from elevgen.core.sourced import Sourced
from elevgen.joints.model import JointWidth
from elevgen.joints.spacings import PARAPET_CORNER, Spacing, leaf_spacing, materials
from elevgen.rules.book import RuleReader

PANEL = "movement_joint.panel_ratio"
WIDTH = "movement_joint.width.nominal"
PER_METRE = "movement_joint.width.per_metre"
CORNER_KIND = "movement_joint.corner.kind"
CORNER_FRACTION = "movement_joint.corner.fraction"
BESIDE = "movement_joint.beside_opening.clear"
BESIDE_CORNER = "movement_joint.beside_corner.clear"


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
    spacing = leaf_spacing(leaf, wall.stands, reader)
    return LeafLimits(leaf, spacing, min(ratios, key=lambda s: s.number, default=None), _reach(spacing, wall, reader))


def _reach(spacing: Spacing | None, wall: Wall, reader: RuleReader) -> Reach | None:
    """None where the set has another kind of corner rule or none, and the wall is no parapet with one of its own."""
    reaches: list[Reach] = []
    kind, fraction = reader.find(CORNER_KIND), reader.find(CORNER_FRACTION)
    if spacing is not None and kind is not None and fraction is not None and kind.value == "half_spacing_each_side":
        reaches.append(Reach(spacing.number * fraction.number, (CORNER_FRACTION, *spacing.basis)))
    if wall.stands == "parapet" and (nearer := reader.find(PARAPET_CORNER)) is not None:
        reaches.append(Reach(nearer.number, (PARAPET_CORNER,)))
    return min(reaches, default=None)


def joint_width(limits: LeafLimits, length: float, reader: RuleReader) -> tuple[JointWidth, tuple[str, ...]]:
    """Width of a joint with so much continuous masonry (mm) on its longer side, and the rules behind it.

    The governing material asks for its nominal width; one with a width for each metre (clay) asks for that too, whether
    it governs or not; any other material in the leaf for its nominal width. The largest is built, in whole millimetres.
    """
    wanted: list[tuple[float, str]] = []
    for material in materials(limits.leaf):
        per_metre = reader.find(f"{PER_METRE}.{material}")
        if per_metre is not None:
            wanted.append((per_metre.number * length / 1000, per_metre.key))
        nominal = reader.find(f"{WIDTH}.{material}") if per_metre is None or material == limits.material else None
        if nominal is not None:
            wanted.append((nominal.number, nominal.key))
    if not wanted:
        return JointWidth(None, None, limits.leaf.zones[0].unit.joint), ()
    width, key = max(wanted)
    return JointWidth(width, None, float(ceil(width - TOLERANCE))), (key,)
