"""What a rule key is, and the words keys take.

Lengths are stored in millimetres; a rule file may write them in m, mm, in or ft.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

Kind = Literal["number", "word", "bands", "sizes", "words"]
RuleUnit = Literal[
    "mm", "ml", "mm_per_m", "ratio", "nr", "per_m2", "percent", "mm/m/K", "mm/m", "K", "degC", "kg", "kg/m3", "deg", "word",
    "MPa", "mm2/m", "per_MPa", "m3/m2", "m3/1000",
]  # fmt: skip

MATERIALS = ("clay", "calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete", "stone")
"""The materials keys are made for, as the spec spells them."""

LINTEL_KINDS = ("pressed_steel", "steel_angle", "concrete", "stone")
HEAVY_LINTELS = ("concrete", "stone")
"""Kinds of lintel that are solid: how heavy one is follows from its size."""
"""What lintels are, as the spec spells it."""

CORNER_KINDS = ("half_spacing_each_side", "sum_round_corner", "one_side_within")
UNLIKE_KINDS = ("clay_with_shrinking", "any_two", "none")
"""Which materials part where they meet: clay, which grows, from what shrinks (concrete, calcium silicate); any two; none."""
INSTEAD_OF_JOINTS = ("reinforced_beds", "none")
"""What lets an opening do without a joint beside it: reinforced beds over and under it; nothing."""
ANGLES = ("3x3", "4x3", "5x3_5", "6x3_5", "two_6x3_5")
"""Loose steel angles that tables give spans for, long leg upright, in inches; 1/4 or 5/16 thick."""
ANGLE_STOREYS = ("none", "one", "two")
"""Storeys of masonry over the lintel that those tables have a column for; none: less than one."""
OLD_TO_NEW_KINDS = ("joint", "none")
COLOURS = ("light", "medium", "dark")
"""How much of the sun's heat a wall takes up: pale brick or render, common red or buff, dark red to black."""
CAPABILITY_OF = ("installed_width", "closed_width")
"""The width of a joint that a sealant's movement capability is a share of: as sealed, or when the joint is at its narrowest."""
DPC_SHEETS = ("polyethylene", "bitumen", "pitch_polymer", "metal")
FILLERS = ("polyethylene_foam", "polyurethane_foam", "foam_rubber", "hemp", "fibreboard", "cork")


class Key(NamedTuple):
    """One rule a set can have a value for.

    `choices` are the words allowed; `may_be_zero` is True where 0 is a rule too, `signed` where less than 0 is;
    `optional` where a set that has no value leaves nothing unchecked.
    """

    key: str
    unit: RuleUnit
    kind: Kind
    meaning: str
    choices: tuple[str, ...] = ()
    may_be_zero: bool = False
    optional: bool = False
    signed: bool = False


def number(
    key: str, unit: RuleUnit, meaning: str, *, may_be_zero: bool = False, optional: bool = False, signed: bool = False
) -> Key:
    """A key whose value is a number in that unit."""
    return Key(key, unit, "number", meaning, may_be_zero=may_be_zero, optional=optional, signed=signed)


def per_material(stem: str, unit: RuleUnit, meaning: str, *, optional: bool = False) -> Iterator[Key]:
    """A key for each material, `<stem>.<material>`."""
    for material in MATERIALS:
        yield number(f"{stem}.{material}", unit, f"{meaning}, {material.replace('_', ' ')}", optional=optional)
