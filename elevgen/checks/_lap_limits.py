"""How far a unit has to lap the one below: part of its length and, where the set has it, of its height."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.building.model import Unit
from elevgen.checks._rules import rule
from elevgen.core.geometry import at_least
from elevgen.core.sourced import Sourced
from elevgen.result import Design

LOW, HIGH, CHANGE = "bond.lap.shallow", "bond.lap.tall", "bond.lap.shallow.height"


class LapLimit(NamedTuple):
    """The least lap (mm), the rule it is from, and those it was the stricter of."""

    least: float
    source: Sourced
    also: tuple[Sourced, ...] = ()


def lap_limit(design: Design, unit: Unit, least: Sourced) -> LapLimit:
    """The stricter of the two rules for a unit."""
    by_length = LapLimit(least.number * unit.length, least)
    change = rule(design, CHANGE)
    if change is None:
        return by_length
    stem = LOW if at_least(change.number, unit.height) else HIGH
    fraction, lowest = rule(design, f"{stem}.height_fraction"), rule(design, f"{stem}.min")
    if fraction is None or lowest is None:
        return by_length
    by_height = fraction.number * unit.height
    other = LapLimit(max(by_height, lowest.number), fraction if by_height > lowest.number else lowest)
    return max(by_length, other, key=lambda limit: limit.least)._replace(also=(least, change, fraction, lowest))
