"""What the rule set lets a bricklayer do, for each unit."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.building.model import Unit
from elevgen.coursing.setout import Limits
from elevgen.rules.book import RuleReader


class Allowances(NamedTuple):
    """Rule values as coursing works to them (mm, fractions). What the rule set lacks asks nothing and allows nothing."""

    bed_tolerance: float
    split_min: float
    perpend: tuple[float, float] | None
    lap_fraction: float
    piece_fraction: float
    tie_spacing: float | None = None

    def limits(self, unit: Unit, laps: bool = True) -> Limits:
        """For one unit, in a bond whose courses lap or not. The range of perpends is for the joint it contains; other units keep their nominal perpend.

        The shortest piece is the fraction of the coordinating length less a joint, so that a half unit passes.
        """
        narrow, wide = unit.joint, unit.joint
        if self.perpend is not None and self.perpend[0] <= unit.joint <= self.perpend[1]:
            narrow, wide = self.perpend
        least = max(0.0, self.piece_fraction * unit.module - unit.joint)
        lap = self.lap_fraction * unit.length if laps else 0.0
        return Limits(unit.length, unit.joint, narrow, wide, lap, least, self.split_min)


def read_allowances(reader: RuleReader) -> Allowances:
    """Reads bed.tolerance, coursing.split.min, perpend.min, perpend.max, bond.lap.fraction, bond.piece.min_fraction,
    tie.spacing.vertical."""

    def number(key: str) -> float | None:
        found = reader.find(key)
        return None if found is None else found.number

    low, high = number("perpend.min"), number("perpend.max")
    return Allowances(
        bed_tolerance=number("bed.tolerance") or 0.0,
        split_min=number("coursing.split.min") or 0.0,
        perpend=None if low is None or high is None else (low, high),
        lap_fraction=number("bond.lap.fraction") or 0.0,
        piece_fraction=number("bond.piece.min_fraction") or 0.0,
        tie_spacing=number("tie.spacing.vertical"),
    )
