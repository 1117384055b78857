"""How heavy materials are, for lifting and delivery: kilograms of one unit of measurement, where they are known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import fsum
from typing import NamedTuple

from elevgen.core.figures import METRIC, Figures
from elevgen.core.geometry import TOLERANCE
from elevgen.fittings.model import Lintel
from elevgen.result import Design
from elevgen.rules.book import RuleReader
from elevgen.takeoff.calloff import call_off
from elevgen.takeoff.fittings import lintel_code
from elevgen.takeoff.masonry import UNITS, units_by_code
from elevgen.takeoff.model import Order
from elevgen.takeoff.packs import begins

MORTAR, MORTAR_DENSITY = "MORTAR-M3", "lintel.load.mortar.density"
LIFTED = (UNITS, "LINTEL-NR")
"""Materials that are lifted one by one, by how their codes begin."""


class Weight(NamedTuple):
    """Kilograms of one unit of measurement, None where they are not known; and in words how they are."""

    kg: float | None
    known: str


NOT_KNOWN = Weight(None, "not known: ask the supplier")


class LiftWeight(NamedTuple):
    """What is called off for one scaffold lift weighs `kg`, and the items of `unknown` besides, of which nobody has said."""

    lift: int
    kg: float
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Weights:
    """Weights by item code, and what one person lifts, kg; None where the rule set does not say."""

    by_code: dict[str, Weight]
    limit: float | None

    def get(self, code: str, otherwise: Weight) -> Weight:
        return self.by_code.get(code, otherwise)


def weights_by_item(design: Design, codes: Iterable[str], reader: RuleReader) -> Weights:
    """Weights of units, of lintels of concrete and stone whose section is chosen, and of mortar, wet. Of nothing else.

    A unit weighs what the spec or the catalogue says. All other figures are the greatest usual: size by density.
    """
    known = _units(design, reader) | _lintels(design, reader)
    if mortar := [code for code in codes if begins(code, MORTAR)]:
        rule = reader.find(MORTAR_DENSITY)
        wet = NOT_KNOWN if rule is None else Weight(rule.number, f"at most, wet: {rule.citation}")
        known |= dict.fromkeys(mortar, wet)
    limits = (mass.limit for mass in design.coursing.masses if mass.limit is not None)
    return Weights(known, next(limits, None))


def _units(design: Design, reader: RuleReader) -> dict[str, Weight]:
    masses = {mass.unit: mass for mass in design.coursing.masses}
    material = {unit.name: unit.material for unit in design.building.units}
    weights = {}
    for code, unit in units_by_code(design.building).items():
        mass = masses.get(unit)
        if mass is None or mass.mass is None:
            weights[code] = NOT_KNOWN
        elif mass.given:
            weights[code] = Weight(mass.mass, "as told of the unit")
        else:
            weights[code] = Weight(mass.mass, _by_density(f"unit.density.{material[unit]}", reader) + "; holes not taken off")
    return weights


def _lintels(design: Design, reader: RuleReader) -> dict[str, Weight]:
    """Lintels of one code are alike in all that is known of them; the heaviest counts."""
    thick = {leaf.id: leaf.thickness for leaf in design.building.leaves}
    lintels = (lintel for lintel in design.fittings.lintels if lintel.leaf in thick)
    heaviest_last = sorted(lintels, key=lambda lintel: lintel.mass or 0.0)
    return {lintel_code(lintel, thick[lintel.leaf]): _lintel(lintel, reader) for lintel in heaviest_last}


def _lintel(lintel: Lintel, reader: RuleReader) -> Weight:
    if lintel.mass is not None:
        return Weight(lintel.mass, _by_density(f"lintel.density.{lintel.kind}", reader))
    return Weight(None, "not known: no section is chosen") if lintel.depth is None else NOT_KNOWN


def _by_density(key: str, reader: RuleReader) -> str:
    rule = reader.find(key)
    return "at most: size by density" + ("" if rule is None else f", {rule.citation}")


def handling(code: str, weight: Weight, limit: float | None, figures: Figures = METRIC) -> str:
    """What one person should not lift alone, said of an item that is lifted one by one; empty where there is nothing to say."""
    if not any(begins(code, start) for start in LIFTED):
        return ""
    if weight.kg is None:
        return "ask how heavy one is before lifting"
    if limit is not None and weight.kg > limit + TOLERANCE:
        return f"over {figures.weight(limit)} each: two people or a machine"
    return ""


def weight_by_lift(orders: Iterable[Order]) -> tuple[LiftWeight, ...]:
    """What each scaffold lift's call-off weighs, kg, waste with it; and which of its items nobody has said the weight of."""
    kg: dict[int, list[float]] = {}
    unknown: dict[int, list[str]] = {}
    for order in orders:
        for call in call_off(order):
            kg.setdefault(call.lift, [])
            if order.mass is not None:
                kg[call.lift].append(call.amount * order.mass)
            elif call.amount:
                unknown.setdefault(call.lift, []).append(order.code)
    return tuple(LiftWeight(lift, fsum(kg[lift]), tuple(unknown.get(lift, ()))) for lift in sorted(kg))
