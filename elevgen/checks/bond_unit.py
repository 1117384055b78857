"""Units whose length and width do not suit their bond are named."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf, Unit
from elevgen.checks._finding import at_leaf, found
from elevgen.core.geometry import at_most
from elevgen.core.measures import millimetres
from elevgen.result import Design, Finding

CODE = "bond-unit"
TITLE = "Units that suit their bond"
RATIONALE = (
    "Round a corner a bond turns on the end of a unit: where that is not the half, third or quarter the bond laps by, every "
    "corner is cut, and headers do not stand over the middle of stretchers."
)
PARTS = {"third": 3, "quarter": 4}
"""How many widths make up a length, perpends counted; two in every other bond that turns on its headers."""
WITHOUT_HEADERS = ("stretcher", "stack")


def check(design: Design) -> Iterator[Finding]:
    """Each unit of each leaf: its length against so many widths and perpends, to a perpend. Common practice, no source."""
    for leaf in design.building.leaves:
        units = {zone.unit.name: zone.unit for zone in leaf.zones}
        misfits = [said for unit in units.values() if (said := _misfit(leaf, unit))]
        yield from misfits
        if not misfits:
            yield found("pass", at_leaf(leaf), "units suit the bond")


def _misfit(leaf: Leaf, unit: Unit) -> Finding | None:
    if leaf.bond in WITHOUT_HEADERS or (leaf.bond not in PARTS and leaf.build == "half_brick"):
        return None
    parts = PARTS.get(leaf.bond, 2)
    made_up = parts * (unit.width + unit.joint) - unit.joint
    if at_most(abs(made_up - unit.length), unit.joint):
        return None
    words = "two widths and a joint" if parts == 2 else f"{parts} widths and {parts - 1} joints"
    text = f"{words} of {unit.name} make {millimetres(made_up)} mm, its length is {millimetres(unit.length)} mm: "
    return found("warn", at_leaf(leaf), text + "corners and ends will need cut pieces", measured=made_up, exactly=unit.length)
