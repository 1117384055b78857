"""How much more than the net is ordered, and how that figure is known."""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from elevgen.core.figures import METRIC, Figures
from elevgen.core.sourced import Sourced
from elevgen.result import Design

STEPS = {"nr": 1.0, "m": 0.1, "m2": 0.1, "m3": 0.01, "l": 0.1, "ft": 1.0, "sq ft": 1.0, "cu ft": 0.1, "fl oz": 1.0}
"""Orders are rounded up to a multiple of this, by the unit they are shown in."""


class Allowance(NamedTuple):
    """Waste in per cent, in words how it is known, and the rule value behind it (None: given by the user, or none)."""

    percent: float
    known: str
    source: Sourced | None = None


WORK = Allowance(0.0, "measured work, nothing to order")
COUNTED = Allowance(0.0, "none added: ordered as counted")


def allowance(design: Design, group: str) -> Allowance:
    """The waste of an item group: what the spec says, else the rule set's `waste.<group>`, else none, and said so."""
    given = design.spec.measurement.waste.get(group)
    if given is not None:
        return Allowance(given, "given in the spec")
    rule = design.rules.values.get(f"waste.{group}")
    if rule is None:
        return Allowance(0.0, "none added: the rule set has no figure")
    return Allowance(rule.number, rule.known, rule)


def with_waste(quantity: float, percent: float) -> float:
    """A quantity grown by its waste."""
    return quantity * (100 + percent) / 100


def step_of(unit: str, figures: Figures = METRIC) -> float:
    """What orders in a unit are rounded up to a multiple of, in that unit: a whole foot (0.3048 m) where feet are shown."""
    shown = figures.unit(unit)
    return shown.back(STEPS[shown.name])


def rounded_up(quantity: float, step: float) -> float:
    """The next whole multiple of a step; a quantity already on a step stays, whatever float dust it carries."""
    return round(ceil(round(quantity / step, 6)) * step, 6)
