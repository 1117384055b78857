"""Second typing of the units of each set, from the references: American in inches, beds by what so many courses come to.

Length, height, width, bed and mass (mm, kg; None where the unit has none of its own), material and how the size is known.
"""

from __future__ import annotations

from typing import NamedTuple

from second_transcription import AAC, CS, DENSE, IN, LIGHT

LB = 0.45359237
JOINT = 3 / 8


class TypedUnit(NamedTuple):
    """A unit as typed; no unit of any set has perpends of its own."""

    material: str
    status: str
    length: float
    height: float
    width: float
    bed: float | None = None
    mass: float | None = None


def brick(thick: float, high: float, long: float, courses: int, to: float, status: str = "read") -> TypedUnit:
    """Specified sizes in inches; so many courses come to so many inches."""
    return TypedUnit("clay", status, long * IN, high * IN, thick * IN, (to / courses - high) * IN)


def nominal(thick: float, high: float, long: float, status: str, pounds: float | None = None) -> TypedUnit:
    """Nominal inches less a joint of 3/8 in, to the next sixteenth; what has a mass (kg to a hundredth) is of concrete."""
    length, height, width = (round(16 * (side - JOINT)) / 16 * IN for side in (long, high, thick))
    of = "clay" if pounds is None else DENSE
    return TypedUnit(of, status, length, height, width, high * IN - height, pounds and round(pounds * LB, 2))


THIN, HIGH = 3 + 5 / 8, 2 + 13 / 16
US = {
    "modular_brick": brick(THIN, 9 / 4, 8 - JOINT, 3, 8),
    "standard_brick": brick(THIN, 9 / 4, 8, 3, 8),
    "engineer_modular_brick": brick(THIN, HIGH, 8 - JOINT, 5, 16),
    "engineer_standard_brick": brick(THIN, HIGH, 8, 5, 16),
    "closure_modular_brick": brick(THIN, THIN, 8 - JOINT, 1, 4),
    "closure_standard_brick": brick(THIN, THIN, 8, 1, 4),
    "roman_brick": brick(THIN, 13 / 8, 12 - JOINT, 2, 4),
    "norman_brick": brick(THIN, 9 / 4, 12 - JOINT, 3, 8),
    "engineer_norman_brick": brick(THIN, HIGH, 12 - JOINT, 5, 16),
    "utility_brick": brick(THIN, THIN, 12 - JOINT, 1, 4),
    "king_brick": brick(3, 21 / 8, 10 - JOINT, 1, 3),
    "queen_brick": brick(3, 11 / 4, 8 - JOINT, 1, 25 / 8),
    "double_brick": nominal(4, 16 / 3, 8, "derived"),
    "triple_brick": nominal(4, 16 / 3, 12, "derived"),
    "norwegian_brick_6": nominal(6, 16 / 5, 12, "derived"),
    "jumbo_brick_6": nominal(6, 4, 12, "derived"),
    "jumbo_brick_8": nominal(8, 4, 12, "derived"),
    **{f"concrete_block_{n}": nominal(n, 8, 16, "derived", lb) for n, lb in {4: 24, 6: 30, 10: 46, 12: 55}.items()},
    "concrete_block_8": nominal(8, 8, 16, "quoted", 38),
    "half_high_block_4": nominal(4, 4, 16, "derived", 12),
    "half_high_block_8": nominal(8, 4, 16, "derived", 19),
    "concrete_brick": brick(THIN, 9 / 4, 8 - JOINT, 3, 8)._replace(material=DENSE),
}
GRID = 400.0
AU = {
    "brick_76": TypedUnit("clay", "quoted", 240 - 10, 86 - 10, 240 / 2 - 10),
    "brick_162": TypedUnit("clay", "quoted", 290, 162, 90),
    "brick_162_305": TypedUnit("clay", "quoted", 305, 162, 90),
    "concrete_block_190": TypedUnit(DENSE, "quoted", GRID - 10, GRID / 2 - 10, GRID / 2 - 10),
    "concrete_block_190_half_high": TypedUnit(DENSE, "derived", GRID - 10, GRID / 4 - 10, GRID / 2 - 10),
}
CO, COURSE = 225.0, 75.0
EU = {
    "brick_65": TypedUnit("clay", "read", CO - 10, COURSE - 10, CO / 2 - 10),
    **{name: TypedUnit(of, "practice", CO - 10, COURSE - 10, CO / 2 - 10) for name, of in
       {"calcium_silicate_brick_65": CS, "concrete_brick_65": DENSE}.items()},
    **{f"{name}_block_{width}": TypedUnit(of, "quoted", 2 * CO - 10, 3 * COURSE - 10, width) for name, of in
       {"dense": DENSE, "lightweight": LIGHT, "aircrete": AAC}.items() for width in (100, 140)},
    "stone_100": TypedUnit("stone", "practice", 2 * CO - 10, 3 * COURSE - 10, 100),
}  # fmt: skip
UNITS = {"us": US, "au": AU, "eu": EU, "uk": EU}
