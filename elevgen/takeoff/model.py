"""Quantities as measured and as ordered, kept apart."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Quantity:
    """One item for one place (`where`) : net as fixed, waste in per cent, and what to order.

    `derivation` says in a few words what was measured; `waste_known` how the waste figure is known.
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


@dataclass(frozen=True, slots=True)
class LeafArea:
    """The face of a leaf shared out, mm2: `units + mortar + movement_joints + openings + strips = gross`."""

    leaf: str
    gross: float
    openings: float
    strips: float
    movement_joints: float
    units: float
    mortar: float

    @property
    def net(self) -> float:
        """Masonry as fixed: gross less openings and the strips that cannot be built."""
        return self.gross - self.openings - self.strips


@dataclass(frozen=True, slots=True)
class Takeoff:
    """The bill's content: quantities by place, and the areas they are reconciled against."""

    quantities: tuple[Quantity, ...]
    areas: tuple[LeafArea, ...]

    def total(self, code: str) -> float:
        """Net quantity of an item over all places."""
        return sum(q.net for q in self.quantities if q.code == code)
