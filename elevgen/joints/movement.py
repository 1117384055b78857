"""How far a movement joint closes and opens, and why: the whole sum behind its calculated width.

Arithmetic only: lengths in any one unit, temperatures in any one scale, coefficients and strains to suit; so the inch examples
of the books go through it as they are printed. What a source gives as a range stays one, and the unfavourable end decides.

- Thermal a L dT and moisture e L: standard mechanics. Each neighbour moves half of its length towards the joint.
- Worst of two: closing is the hottest wall less the coldest it was laid at, plus growth; opening the hottest it was laid at
  less the coldest wall, plus shrinkage (Cornell University, ARCH 262, 2007 solutions).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import isfinite
from typing import NamedTuple

from elevgen.core.ranges import Range
from elevgen.joints.sealing import Case, Sealing, length_served, movement_allowed, width_for


class Masonry(NamedTuple):
    """What makes one material of one leaf move.

    `thermal` is its coefficient. `rise` is how much hotter it may get than it was laid, `fall` how much colder. `moisture` is
    the irreversible strain, growth positive; `reversible` the strain by wetting, and as much by drying.
    """

    material: str
    thermal: Range
    rise: Range
    fall: Range
    moisture: Range
    reversible: Range


class Parts(NamedTuple):
    """A movement by what makes it."""

    material: str
    thermal: Range
    moisture: Range
    reversible: Range

    @property
    def total(self) -> Range:
        return self.thermal + self.moisture + self.reversible


class Side(NamedTuple):
    """The masonry on one side of a joint: the longest way through it, and every material in it."""

    length: float
    masonry: tuple[Masonry, ...]


@dataclass(frozen=True, slots=True)
class JointCase:
    """One of the two cases of a joint: how far each side moves, by what, and the width that asks for.

    `sides` hold the material of each side that moves furthest. `other` is None where nothing else was said to move. `width` is
    None where nothing is known to bound it.
    """

    sides: tuple[Parts, Parts]
    other: Range | None
    width: Range | None

    @property
    def movement(self) -> Range:
        masonry = self.sides[0].total + self.sides[1].total
        return masonry if self.other is None else masonry + self.other

    @property
    def thermal(self) -> Range:
        return self.sides[0].thermal + self.sides[1].thermal

    @property
    def moisture(self) -> Range:
        return self.sides[0].moisture + self.sides[1].moisture

    @property
    def reversible(self) -> Range:
        return self.sides[0].reversible + self.sides[1].reversible


@dataclass(frozen=True, slots=True)
class JointMovement:
    """The whole sum behind the calculated width of a joint. `lengths` are those of its two sides.

    `sealing` is None where the rule set has no value for one of its parts that is needed. `basis` are the rule keys used.
    """

    lengths: tuple[float, float]
    closing: JointCase
    opening: JointCase
    sealing: Sealing | None
    basis: tuple[str, ...]

    @property
    def width(self) -> Range | None:
        """The width both cases ask for; None where none is known to."""
        widths = [case.width for case in (self.closing, self.opening) if case.width is not None]
        return Range(max(w.low for w in widths), max(w.high for w in widths)) if widths else None

    @property
    def governs(self) -> Case:
        """The case that asks for the greater width, or moves further where no width is known."""
        if self.width is None:
            return "closing" if self.closing.movement.high >= self.opening.movement.high else "opening"
        return "closing" if self.closing.width is not None and self.closing.width.high == self.width.high else "opening"

    def serves(self, built: float) -> float | None:
        """How long the masonry beside a joint of this width may be, mean of its two sides; None where nothing bounds it."""
        if self.sealing is None:
            return None
        mean = sum(self.lengths) / 2
        cases: tuple[tuple[Case, JointCase], ...] = (("closing", self.closing), ("opening", self.opening))
        lengths = []
        for name, case in cases:
            allowed = movement_allowed(built, name, self.sealing)
            if allowed is not None and mean > 0:
                other = case.other.high if case.other else 0.0
                lengths.append(length_served(allowed, (case.movement.high - other) / mean, other))
        return min((length for length in lengths if isfinite(length)), default=None)


def thermal_movement(coefficient: float, length: float, change: float) -> float:
    """Free movement of a length by a change of temperature."""
    return coefficient * length * change


def moisture_movement(strain: float, length: float) -> float:
    """Free movement of a length by moisture, of the sign of the strain."""
    return strain * length


def temperature_changes(hottest: float, coldest: float, laid: Range) -> tuple[Range, Range]:
    """How much hotter the wall may get than it was laid, and how much colder, laid at any temperature of the range."""
    return Range(hottest - laid.high, hottest - laid.low).above, Range(laid.low - coldest, laid.high - coldest).above


def movement_of(masonry: Masonry, case: Case, length: float) -> Parts:
    """How far one material moves a joint at its end, by half of its length: it keeps its middle and moves both its ends."""
    change = masonry.rise if case == "closing" else masonry.fall
    strain = masonry.moisture.above if case == "closing" else masonry.moisture.below
    half = length / 2
    return Parts(
        masonry.material,
        Range(
            thermal_movement(masonry.thermal.low, half, change.low),
            thermal_movement(masonry.thermal.high, half, change.high),
        ),
        Range(moisture_movement(strain.low, half), moisture_movement(strain.high, half)),
        Range(moisture_movement(masonry.reversible.low, half), moisture_movement(masonry.reversible.high, half)),
    )


def joint_case(case: Case, sides: Sequence[Side], other: Range | None, sealing: Sealing | None) -> JointCase:
    """Closing or opening of a joint between two sides, by the material of each side that moves furthest."""
    left, right = (_furthest(movement_of(m, case, side.length) for m in side.masonry) for side in sides)
    moving = JointCase((left, right), other, None)
    return moving if sealing is None else replace(moving, width=width_for(moving.movement, case, sealing))


def _furthest(moving: Iterable[Parts]) -> Parts:
    return max(moving, key=lambda parts: (parts.total.high, parts.total.low, parts.material))


def joint_movement(
    sides: Sequence[Side], other: Range | None = None, sealing: Sealing | None = None, basis: tuple[str, ...] = ()
) -> JointMovement:
    """Both cases of a joint between two sides."""
    first, second = sides
    return JointMovement(
        (first.length, second.length),
        joint_case("closing", sides, other, sealing),
        joint_case("opening", sides, other, sealing),
        sealing,
        basis,
    )
