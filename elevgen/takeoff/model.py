"""Quantities as measured and as ordered, kept apart."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import fsum
from typing import Literal, NamedTuple

from elevgen.core.figures import METRIC, Figures
from elevgen.core.sourced import Sourced
from elevgen.rules.measurement import MeasurementRules

QuantityKind = Literal["work", "material"]
"""Work is measured and priced but not bought (walling, cavity); a material is both measured and ordered."""

_BY_VOLUME = ("m3", "l", "cu ft", "fl oz")
_SUM_PLACES = 6


class Deduction(NamedTuple):
    """What an opening takes of a gross quantity, in the item's unit; `allowed` by the measurement rules or refused.

    `of` is the opening's id, or what else is in the wall; `rule` says in words which rule allowed or refused it.
    """

    of: str
    amount: float
    allowed: bool
    rule: str


class Part(NamedTuple):
    """A share of a quantity: what of it lies in one panel between movement joints and in one scaffold lift.

    `panel` is a panel's id, None for what lies in no panel (a joint, a cavity, a tie of the whole wall); `lift` counts from 1,
    None where the item belongs to no lift. `needed` is the share of what is bought, None for work.
    """

    panel: str | None
    lift: int | None
    net: float
    needed: float | None = None


@dataclass(frozen=True, slots=True)
class Quantity:
    """One item for one place (`where`, a leaf or a wall): net as fixed, waste in per cent, and what to order.

    `derivation` says in a few words what was measured; `waste_known` how the waste figure is known.
    `laps` are ordered but never in `net`; None for what is not lapped, or where the lap is not known.
    `order` is rounded up for this place alone; the whole building's order is rounded once, in `Takeoff.orders`.
    Work is not ordered: its waste is 0 and its order repeats the net.
    `needed` is what has to be bought before waste, None for work: net and laps, but units are measured as pieces laid and
    bought as those laid whole and those the cut pieces come out of. Every order of a material is at least what is needed.
    `gross` and `deductions`: what was measured over all, and what openings take of it; None and none where nothing is deducted.
    `as_built` is the net as really fixed, where the measurement rules bill another figure; None where they are the same.
    `parts` add up to `net` as built; none where the item is not shared out.
    """

    code: str
    item: str
    unit: str
    net: float
    waste: float
    order: float
    where: str
    derivation: str
    waste_known: str
    laps: float | None = None
    kind: QuantityKind = "material"
    needed: float | None = None
    gross: float | None = None
    deductions: tuple[Deduction, ...] = ()
    as_built: float | None = None
    parts: tuple[Part, ...] = ()

    @property
    def fixed(self) -> float:
        """What is really built or fixed: what is ordered and reconciled, whatever figure is billed."""
        return self.net if self.as_built is None else self.as_built


class Pack(NamedTuple):
    """What a material is sold in: `holds` so much of it, in the item's unit; `known` says how that figure is known."""

    name: str
    holds: float
    known: str


class LiftNeed(NamedTuple):
    """What one scaffold lift needs of a material, before waste; `lift` None: not tied to a lift."""

    lift: int | None
    needed: float


@dataclass(frozen=True, slots=True)
class Order:
    """One line of the order list: `needed` of the whole building, waste added, rounded up once to `step`.

    What is needed is net and laps; of units whole ones, off-cuts of one place used in another of the same scaffold lift; of
    bed reinforcement whole stock lengths, off-cuts of one leaf used in another of the same wall.
    `packs` are the containers it may be bought in, the usual one first; none: not known. `mass` is the kg of one unit of
    measurement, None where it is not known, and `mass_known` how it is; `handling` says what one person should not lift alone.
    `lifts` add up to `needed`.
    """

    code: str
    item: str
    unit: str
    net: float
    laps: float | None
    waste: float
    waste_known: str
    with_waste: float
    step: float
    order: float
    needed: float
    packs: tuple[Pack, ...] = ()
    mass: float | None = None
    mass_known: str = ""
    lifts: tuple[LiftNeed, ...] = ()
    handling: str = ""

    @property
    def left_over(self) -> float:
        """What remains when nothing is wasted: order less what is needed."""
        return self.order - self.needed

    @property
    def weight(self) -> float | None:
        """What the order weighs, kg; None where that is not known."""
        return None if self.mass is None else self.order * self.mass


@dataclass(frozen=True, slots=True)
class LeafArea:
    """The face of a leaf shared out, mm2: `units + mortar + lintels + movement_joints + openings + strips = gross`.

    `lintels` are those that take the place of units.
    """

    leaf: str
    gross: float
    openings: float
    strips: float
    movement_joints: float
    units: float
    mortar: float
    lintels: float = 0.0

    @property
    def net(self) -> float:
        """Masonry as fixed, lintels in it: gross less openings and the strips that cannot be built."""
        return self.gross - self.openings - self.strips


class Thumb(NamedTuple):
    """A rule of thumb beside our figure for walling of one kind: `ours` is None where it cannot be reckoned.

    `rounding`: half of the last digit the rule is printed to, so that ours agrees when it is no further off.
    """

    item: str
    of_unit: str
    unit: str
    ours: float | None
    rule: float
    rounding: float
    source: Sourced

    @property
    def agrees(self) -> bool | None:
        """Whether ours is the rule within its printed digits; None where ours is not known."""
        return None if self.ours is None else abs(self.ours - self.rule) <= self.rounding + 1e-9


@dataclass(frozen=True, slots=True)
class Takeoff:
    """The bill's content: quantities by place, the areas they are reconciled against, and the order for all of it.

    `rules_used` are the rule values the take-off itself read: waste, packs, weights, rules of thumb and those of `measured_by`,
    the measurement rules. `not_measured` says in words what is in the walls but has no quantity, because a rule it needs is not
    covered. `thumbs` are rules of thumb beside our own figures.

    Quantities are metric; `shown` is the same take-off in customary units (`core.units`) where lengths are in feet, None where
    they are not. `figures` are those this one is in. Both have the same orders: rounded up in the unit they are shown in.

    For sheets: `measured_by.words()` is what a bill says of itself, `measured_by.parameters()` every rule with its status,
    `measured_by.column_order` the order of its columns; `billed(code)` is the bill's figure, and `bill_step(code)` what it is
    rounded to, or 1 where that is nothing and `measured_by.keeps_one`. Places are never rounded, only their sum.
    """

    quantities: tuple[Quantity, ...]
    areas: tuple[LeafArea, ...]
    orders: tuple[Order, ...] = ()
    rules_used: tuple[Sourced, ...] = ()
    not_measured: tuple[str, ...] = ()
    measured_by: MeasurementRules = field(default_factory=MeasurementRules)
    thumbs: tuple[Thumb, ...] = ()
    figures: Figures = METRIC
    shown: Takeoff | None = None

    @property
    def for_people(self) -> Takeoff:
        """The take-off in the units its rule set writes in: what bill, order list and price books go by."""
        return self.shown or self

    def billed(self, code: str) -> float:
        """The bill's figure of an item: its places summed, then rounded by the measurement rules."""
        total = round(fsum(q.net for q in self.quantities if q.code == code), _SUM_PLACES)
        return total if self.bill_step(code) is None else self.measured_by.billed(total, self._unit(code))

    def bill_step(self, code: str) -> float | None:
        """What the bill's figure of an item is rounded to, half upwards; None where it is not rounded.

        Materials by volume (mortar, sealant) are part of measured work and no measured item themselves: they stay as they are.
        """
        first = next(q for q in self.quantities if q.code == code)
        if first.kind == "material" and first.unit in _BY_VOLUME:
            return None
        return self.measured_by.step(first.unit)

    def _unit(self, code: str) -> str:
        return next(q.unit for q in self.quantities if q.code == code)

    def total(self, code: str) -> float:
        """Net quantity over all places of an item, or of every size of it: `JT-SEAL-M` takes in `JT-SEAL-M/12x6`."""
        return sum(q.net for q in self.quantities if q.code == code or q.code.startswith(f"{code}/"))
