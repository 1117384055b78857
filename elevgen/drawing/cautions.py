"""What every drawing has to say about its own limits, and about safety where the work calls for it."""

from __future__ import annotations

from elevgen.building.model import Unit
from elevgen.drawing.facts import LeafFacts

AID = (
    "Setting-out aid, not a structural design. Lintels, loads and stability: to be confirmed by a qualified engineer. "
    "Local codes and licensed practice govern."
)
DUST = "Cutting: wet or with extraction; dust harms the lungs. Mask, eye and ear protection."
LIFTING = "Units that may weigh over 20 kg ({units}): lift with two people or a machine."
HEIGHT = "Work above 1.5 m: from a scaffold or platform fit for the load. New walls: temporary support against wind."

HEAVY = 20.0
"""Mass of a unit, kg, above which the lifting caution appears."""
HIGH = 1500.0


def heaviest(unit: Unit) -> float:
    """Mass of a unit in kg at the upper end of usual densities (practice, no source): the caution rather comes too often."""
    density = {
        "clay": 2200,
        "calcium_silicate": 2100,
        "dense_concrete": 2300,
        "lightweight_concrete": 1500,
        "aircrete": 750,
        "stone": 2700,
    }[unit.material]
    return unit.length * unit.height * unit.width * density / 1e9


def leaf_cautions(facts: LeafFacts) -> tuple[str, ...]:
    """The cautions of one leaf's sheet."""
    found = [AID]
    if any(count.cut for count in facts.coursing.counts):
        found.append(DUST)
    if heavy := sorted({z.unit.name for z in facts.leaf.zones if heaviest(z.unit) > HEAVY}):
        found.append(LIFTING.format(units=", ".join(heavy)))
    if facts.face.height > HIGH:
        found.append(HEIGHT)
    return tuple(found)


def building_cautions(leaves: tuple[LeafFacts, ...]) -> tuple[str, ...]:
    """Every caution of any leaf, each once, the first one first."""
    return tuple(dict.fromkeys([AID, *(caution for facts in leaves for caution in leaf_cautions(facts))]))
