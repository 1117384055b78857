"""What the rule set lets a bricklayer do, for each unit."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

from elevgen.building.model import Unit
from elevgen.core.geometry import at_most
from elevgen.coursing.stretch import Limits
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure


class LapByHeight(NamedTuple):
    """The least lap by a unit's height: a part of it and no less than so much (mm), for low units and for higher ones.

    EN 1996-1-1 8.1.4, as the rule set quotes it.
    """

    height: float = 0.0
    low: tuple[float, float] = (0.0, 0.0)
    high: tuple[float, float] = (0.0, 0.0)

    def least(self, height: float) -> float:
        """The least lap of a unit of this height; none where the set does not say at which height the rule changes."""
        if not self.height:
            return 0.0
        fraction, least = self.low if at_most(height, self.height) else self.high
        return max(fraction * height, least)


class Allowances(NamedTuple):
    """Rule values as coursing works to them (mm, fractions). What the rule set lacks asks nothing and allows nothing."""

    bed_tolerance: float
    split_min: float
    perpend: tuple[float, float] | None
    lap_fraction: float
    piece_fraction: float
    tie_spacing: float | None = None
    lap_by_height: LapByHeight = LapByHeight()
    corner_clear: float = 0.0
    corner_courses: int = 0
    lintel_end_clear: float = 0.0

    def limits(self, unit: Unit, laps: bool = True) -> Limits:
        """For one unit, in a bond whose courses lap or not.

        The range of perpends is for the joint it contains; other units keep their nominal perpend. The shortest piece is the
        fraction of the coordinating length less a joint, so that a half unit passes.
        """
        narrow, wide = unit.joint, unit.joint
        if self.perpend is not None and self.perpend[0] <= unit.joint <= self.perpend[1]:
            narrow, wide = self.perpend
        least = max(0.0, self.piece_fraction * unit.module - unit.joint)
        lap = max(self.lap_fraction * unit.length, self.lap_by_height.least(unit.height)) if laps else 0.0
        return Limits(unit.length, unit.joint, narrow, wide, lap, least, self.split_min)


def read_allowances(reader: RuleReader) -> Allowances:
    """Reads bed.tolerance, coursing.split.min, perpend.min, perpend.max, bond.lap.fraction, bond.piece.min_fraction,
    tie.spacing.vertical, bond.opening.clear, bond.opening.courses, bond.lintel_end.clear, bond.lap.shallow.*, bond.lap.tall.*."""

    number = partial(figure, reader)
    low, high = number("perpend.min"), number("perpend.max")
    return Allowances(
        bed_tolerance=number("bed.tolerance") or 0.0,
        split_min=number("coursing.split.min") or 0.0,
        perpend=None if low is None or high is None else (low, high),
        lap_fraction=number("bond.lap.fraction") or 0.0,
        piece_fraction=number("bond.piece.min_fraction") or 0.0,
        tie_spacing=number("tie.spacing.vertical"),
        lap_by_height=LapByHeight(
            number("bond.lap.shallow.height") or 0.0,
            (number("bond.lap.shallow.height_fraction") or 0.0, number("bond.lap.shallow.min") or 0.0),
            (number("bond.lap.tall.height_fraction") or 0.0, number("bond.lap.tall.min") or 0.0),
        ),
        corner_clear=number("bond.opening.clear") or 0.0,
        corner_courses=round(number("bond.opening.courses") or 0),
        lintel_end_clear=number("bond.lintel_end.clear") or 0.0,
    )
