"""How much steel the wires in a bed are."""

from __future__ import annotations

from math import pi

from elevgen.core.measures import METRE


def wire_area(diameter: float, number: float = 1) -> float:
    """Cross-section of round wires, mm2."""
    return number * pi * diameter**2 / 4


def steel_a_metre(area: float, spacing: float) -> float:
    """Steel for each metre of height, mm2/m, with so much of it in beds so far apart (mm)."""
    return area * METRE / spacing
