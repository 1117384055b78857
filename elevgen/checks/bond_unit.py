"""Units whose length and width do not suit their bond are named."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf, Unit
from elevgen.checks._finding import at_leaf, found
from elevgen.core.figures import Figures
from elevgen.core.geometry import at_most
from elevgen.result import Design, Finding

CODE = "bond-unit"
TITLE = "Units that suit their bond"
RATIONALE = (
    "Round a corner a bond turns on the end of a unit: where that is not the half, third or quarter the bond laps by, every "
    "corner is cut, and headers do not stand over the middle of stretchers."
)
PARTS = {"third": 3, "quarter": 4}
"""How many widths make up a length, perpends counted."""
WITHOUT_HEADERS = ("stretcher", "stack", *PARTS)
"""Bonds in which no unit goes through a leaf one brick thick."""


def check(design: Design) -> Iterator[Finding]:
    """Each unit of each leaf: its length against so many widths and perpends, to a perpend, and against the thickness of a leaf
    one brick thick, which headers have to hold together. Common practice, no source."""
    for leaf in design.building.leaves:
        units = {zone.unit.name: zone.unit for zone in leaf.zones}
        misfits = [said for unit in units.values() if (said := _misfit(design.figures, leaf, unit))]
        yield from misfits
        if not misfits:
            yield found("pass", at_leaf(leaf), "units suit the bond")


def _misfit(figures: Figures, leaf: Leaf, unit: Unit) -> Finding | None:
    if leaf.build == "one_brick":
        return _not_through(figures, leaf, unit)
    if leaf.bond not in PARTS:
        return None
    parts = PARTS[leaf.bond]
    made_up = parts * (unit.width + unit.joint) - unit.joint
    if at_most(abs(made_up - unit.length), unit.joint):
        return None
    words = f"{parts} widths and {parts - 1} joints of {unit.name} make {figures.measure(made_up)}, its length is "
    text = f"{words}{figures.measure(unit.length)}: corners and ends will need cut pieces"
    return found("warn", at_leaf(leaf), text, measured=made_up, exactly=unit.length)


def _not_through(figures: Figures, leaf: Leaf, unit: Unit) -> Finding | None:
    """What keeps a leaf one brick thick from being held together by headers as long as it is thick."""
    thickness, made_up = leaf.thickness, 2 * unit.width + unit.joint
    long = f"{figures.measure(unit.length)}"
    if not at_most(abs(unit.length - thickness), unit.joint / 2):
        text = f"{unit.name} is {long} long and does not go through a leaf {figures.measure(thickness)} thick"
        return found("warn", at_leaf(leaf), text, measured=unit.length, exactly=thickness)
    if not at_most(abs(made_up - unit.length), unit.joint):
        text = (
            f"two widths and a joint of {unit.name} make {figures.measure(made_up)}, its length is {figures.measure(unit.length)}"
        )
        text += ": headers do not stand over the middle of stretchers, and two stretchers do not fill the thickness"
        return found("warn", at_leaf(leaf), text, measured=made_up, exactly=unit.length)
    if leaf.bond in WITHOUT_HEADERS:
        text = "no header goes through: two skins and a joint between them, to be tied as an engineer says"
        return found("warn", at_leaf(leaf), text)
    return None
