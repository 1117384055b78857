"""Quantities as measured and as ordered, kept apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from elevgen.core.sourced import Sourced

QuantityKind = Literal["work", "material"]
"""Work is measured and priced but not bought (walling, cavity); a material is both measured and ordered."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """One item for one place (`where`, a leaf or a wall): net as fixed, waste in per cent, and what to order.

    `derivation` says in a few words what was measured; `waste_known` how the waste figure is known.
    `laps` are ordered but never in `net`; None for what is not lapped, or where the lap is not known.
    `order` is rounded up for this place alone; the whole building's order is rounded once, in `Takeoff.orders`.
    Work is not ordered: its waste is 0 and its order repeats the net.
    `needed` is what has to be bought before waste, None for work: net and laps, but units are measured as pieces laid and
    bought as those laid whole and those the cut pieces come out of. Every order of a material is at least what is needed.
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


@dataclass(frozen=True, slots=True)
class Order:
    """One line of the order list: `needed` of the whole building, waste added, rounded up once to `step`.

    What is needed is net and laps; of units whole ones, off-cuts of one place used in another of the same scaffold lift; of
    bed reinforcement whole stock lengths, off-cuts of one leaf used in another of the same wall.
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

    @property
    def left_over(self) -> float:
        """What remains when nothing is wasted: order less what is needed."""
        return self.order - self.needed


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


@dataclass(frozen=True, slots=True)
class Takeoff:
    """The bill's content: quantities by place, the areas they are reconciled against, and the order for all of it.

    `rules_used` are the rule values the take-off itself read: the waste figures. `not_measured` says in words
    what is in the walls but has no quantity, because a rule it needs is not covered.
    """

    quantities: tuple[Quantity, ...]
    areas: tuple[LeafArea, ...]
    orders: tuple[Order, ...] = ()
    rules_used: tuple[Sourced, ...] = ()
    not_measured: tuple[str, ...] = ()

    def total(self, code: str) -> float:
        """Net quantity over all places of an item, or of every size of it: `JT-SEAL-M` takes in `JT-SEAL-M/12x6`."""
        return sum(q.net for q in self.quantities if q.code == code or q.code.startswith(f"{code}/"))
