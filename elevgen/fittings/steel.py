"""The wires in a bed: the length in which they take hold, and the lap that asks for."""

from __future__ import annotations

from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure


def development_length(diameter: float, stress: float, per_stress: float, least: float = 0.0) -> float:
    """Length (mm) in which a wire takes hold: `per_stress` (1/MPa) x diameter (mm) x stress (MPa), never less than `least`.

    2003 IBC as TEK 12-6 has it: 0.0015 d F, pounds and inches, no less than 6 in.
    """
    return max(per_stress * diameter * stress, least)


def lap_by_diameters(diameter: float, times: float) -> float:
    """Lap (mm) of so many diameters of the wire: UBC 2104.8 has 54 in grout, 75 in mortar."""
    return diameter * times


def lap_in_other_bed(diameter: float, times: float, beds_apart: float) -> float:
    """Lap (mm) where one length goes on in the next bed: as in grout, and twice the distance of the beds (UBC 2104.8)."""
    return diameter * times + 2 * beds_apart


def least_lap(reader: RuleReader) -> float | None:
    """The lap between two lengths: what the rule set gives, by length, by diameter and by stress, whichever is longest.

    None where it gives no length: then nothing is cut.
    """
    lap, diameter = figure(reader, "bed_reinforcement.lap"), figure(reader, "bed_reinforcement.wire.diameter")
    if lap is None or diameter is None:
        return lap
    times = figure(reader, "bed_reinforcement.lap.diameters")
    if times is not None:
        lap = max(lap, lap_by_diameters(diameter, times))
    per_stress, stress = (figure(reader, f"bed_reinforcement.development.{key}") for key in ("per_stress", "stress"))
    if per_stress is not None and stress is not None:
        least = figure(reader, "bed_reinforcement.development.min") or 0.0
        lap = max(lap, development_length(diameter, stress, per_stress, least))
    return lap


def width_most(thickness: float, reader: RuleReader) -> float | None:
    """How wide reinforcement may be in a leaf so thick and keep its cover in both faces; None where the set has no cover."""
    cover = figure(reader, "bed_reinforcement.cover")
    return None if cover is None else max(thickness - 2 * cover, 0.0)
