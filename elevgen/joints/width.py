"""The width of a movement joint: by the rule of thumb and by its calculated movement; the larger is built."""

from __future__ import annotations

from math import ceil
from typing import NamedTuple, cast

from elevgen.building.model import Leaf
from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.core.ranges import Range
from elevgen.joints.limits import LeafLimits
from elevgen.joints.model import JointWidth, Lacking
from elevgen.joints.movement import JointMovement, Masonry, Side, joint_movement, temperature_changes
from elevgen.joints.sealing import CapabilityOf, Sealing
from elevgen.joints.spacings import materials
from elevgen.rules.book import RuleReader
from elevgen.rules.keys import KEYS

NOMINAL = "movement_joint.width.nominal"
PER_METRE = "movement_joint.width.per_metre"
HIGH, HIGH_WIDTH = "movement_joint.high_wall.height", "movement_joint.high_wall.width"
THERMAL, MOISTURE, REVERSIBLE = "movement.thermal", "movement.moisture", "movement.reversible"
OTHER = "movement.other"
TEMPERATURE_RANGE = "movement.temperature_range"
INSIDE_RANGE = "movement.temperature_range.inside"
HOTTEST, COLDEST = "movement.temperature.air.hottest", "movement.temperature.air.coldest"
SUN, COLOUR = "movement.temperature.sun", "movement.colour"
LAID_LOW, LAID_HIGH = "movement.temperature.laying.low", "movement.temperature.laying.high"
CAPABILITY, CAPABILITY_OF = "sealant.movement_capability", "sealant.capability_of"
BUILDING_TOLERANCE, LEFT_OPEN = "movement_joint.tolerance", "movement_joint.left_open"


class Beside(NamedTuple):
    """The masonry on one side of a joint: the longest way through it (mm), and the leaves it is of."""

    length: float
    leaves: tuple[Leaf, ...]


def alike(length: float, leaf: Leaf) -> tuple[Beside, Beside]:
    """So much of one leaf on both sides."""
    return Beside(length, (leaf,)), Beside(length, (leaf,))


def joint_width(limits: LeafLimits, sides: tuple[Beside, Beside], reader: RuleReader) -> tuple[JointWidth, tuple[str, ...]]:
    """Width of a joint between two sides, and the rules behind it; the larger of the two ways is built, in whole steps of
    the rule set's lengths (a millimetre, a sixteenth of an inch).

    Where the rule set covers neither way, a joint is as wide as a mortar joint.
    """
    thumb = rule_of_thumb(limits, max(side.length for side in sides), reader)
    movement, lacking = calculated_movement(sides, reader)
    asked = movement.width if movement else None
    calculated = asked.high if asked else None
    basis = (() if thumb is None else (thumb[1],)) + (movement.basis if movement and asked else ())
    known = [width for width in (thumb[0] if thumb else None, calculated) if width is not None]
    step = reader.figures.step
    built = float(ceil((max(known) - TOLERANCE) / step) * step) if known else limits.leaf.zones[0].unit.joint
    return JointWidth(thumb[0] if thumb else None, calculated, built, movement, lacking), basis


def rule_of_thumb(limits: LeafLimits, length: float, reader: RuleReader) -> tuple[float, str] | None:
    """What the rule set asks by material of a joint with so much masonry (mm) on its longer side, and the rule; None: nothing.

    The governing material asks for its nominal width; one with a width for each metre (clay) asks for that too, whether
    it governs or not; any other material in the leaf for its nominal width. A high wall may ask for a width of its own. The
    largest counts.
    """
    wanted: list[tuple[float, str]] = []
    for material in materials(limits.leaf):
        per_metre = reader.find(f"{PER_METRE}.{material}")
        if per_metre is not None:
            wanted.append((per_metre.number * length / 1000, per_metre.key))
        nominal = reader.find(f"{NOMINAL}.{material}") if per_metre is None or material == limits.material else None
        if nominal is not None:
            wanted.append((nominal.number, nominal.key))
    high, width = reader.find(HIGH), reader.find(HIGH_WIDTH)
    if high is not None and width is not None and not at_most(limits.leaf.height, high.number):
        wanted.append((width.number, width.key))
    return max(wanted, default=None)


def calculated_movement(sides: tuple[Beside, Beside], reader: RuleReader) -> tuple[JointMovement | None, tuple[Lacking, ...]]:
    """The movement of a joint between two sides and the width it asks for, and what the rule set lacks for either.

    Lengths in mm. Every leaf of a side counts with each of its materials, the one that moves furthest in each case decides.
    """
    figures = _Figures(reader)
    made_of = {leaf_id: _masonry(leaf, figures) for leaf_id, leaf in {leaf.id: leaf for s in sides for leaf in s.leaves}.items()}
    there = [Side(s.length, tuple(dict.fromkeys(m for leaf in s.leaves for m in made_of[leaf.id]))) for s in sides]
    other = figures.number(OTHER, needed=False)
    moved, unknown = sorted(figures.used), bool(figures.lacking)
    sealing = _sealing(figures)
    lacking = tuple(figures.lacking)
    if unknown:
        return None, lacking
    both = None if other is None else Range(other, other)
    if lacking:
        return joint_movement(there, both, None, tuple(moved)), lacking
    return joint_movement(there, both, sealing, tuple(sorted(figures.used))), ()


class _Figures:
    """Reads rule values for one joint; notes those it used and those it needed and did not find."""

    def __init__(self, reader: RuleReader) -> None:
        self.reader = reader
        self.used: set[str] = set()
        self.lacking: dict[Lacking, None] = {}

    def number(self, key: str, *, needed: bool = True) -> float | None:
        found = self.reader.find(key)
        if found is not None:
            self.used.add(key)
            return found.number
        if needed:
            self.lack(key)
        return None

    def word(self, key: str) -> str | None:
        found = self.reader.find(key)
        if found is None:
            self.lack(key)
            return None
        self.used.add(key)
        return str(found.value)

    def lack(self, key: str) -> None:
        self.lacking.setdefault(Lacking(key, KEYS[key].meaning))

    def property(self, stem: str, material: str) -> Range | None:
        """A property in mm to the m, as a strain: the figure of the product where the set has it, else the range."""
        single = self.number(f"{stem}.{material}", needed=False)
        if single is not None:
            return Range(single / 1000, single / 1000)
        low, high = self.number(f"{stem}.low.{material}"), self.number(f"{stem}.high.{material}")
        return None if low is None or high is None else Range(min(low, high) / 1000, max(low, high) / 1000)


def _masonry(leaf: Leaf, figures: _Figures) -> list[Masonry]:
    """What makes each material of a leaf move; nothing of those the rule set lacks a figure for."""
    changes = _temperature_changes(leaf, figures)
    found = []
    for material in materials(leaf):
        thermal, moisture, reversible = (figures.property(stem, material) for stem in (THERMAL, MOISTURE, REVERSIBLE))
        if changes and thermal and moisture and reversible:
            found.append(Masonry(material, thermal, *changes, moisture, reversible))
    return found


def _temperature_changes(leaf: Leaf, figures: _Figures) -> tuple[Range, Range] | None:
    """How much hotter and how much colder a leaf may get than it was laid.

    By the temperatures of the air where the set has them, with the sun's heat by colour on a leaf in the weather: an inner
    leaf is as cold as the air until the building is closed and heated. Else all of the range of temperature, either way.
    """
    hottest, coldest = figures.number(HOTTEST, needed=False), figures.number(COLDEST, needed=False)
    if hottest is None or coldest is None:
        inside = None if leaf.exposed else figures.number(INSIDE_RANGE, needed=False)
        whole = figures.number(TEMPERATURE_RANGE) if inside is None else inside
        return None if whole is None else (Range(0.0, whole), Range(0.0, whole))
    low, high = figures.number(LAID_LOW), figures.number(LAID_HIGH)
    sun: float | None = 0.0
    if leaf.exposed:
        colour = leaf.colour or figures.word(COLOUR)
        sun = None if colour is None else figures.number(f"{SUN}.{colour}")
    if low is None or high is None or sun is None:
        return None
    return temperature_changes(hottest + sun, coldest, Range(min(low, high), max(low, high)))


def _sealing(figures: _Figures) -> Sealing | None:
    """What bounds the width; a sealant's capability is not needed where the set says how much of a joint must stay open."""
    left_open = figures.number(LEFT_OPEN, needed=False)
    capability = figures.number(CAPABILITY, needed=left_open is None)
    of, tolerance = figures.word(CAPABILITY_OF), figures.number(BUILDING_TOLERANCE)
    if of is None or tolerance is None:
        return None
    return Sealing(capability, cast(CapabilityOf, of), tolerance, left_open)
