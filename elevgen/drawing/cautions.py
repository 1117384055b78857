"""What every drawing has to say about its own limits, and about safety where the work calls for it."""

from __future__ import annotations

from collections.abc import Iterable

from elevgen.core.figures import Figures
from elevgen.coursing.model import LeafCoursing, UnitMass
from elevgen.drawing.facts import LeafFacts
from elevgen.fittings.model import Lintel

AID = (
    "Setting-out aid, not a structural design. Lintels, loads and stability: to be confirmed by a qualified engineer. "
    "Local codes and licensed practice govern."
)
DUST = "Cutting ({number}): wet or with extraction; dust harms the lungs. Mask, eye and ear protection."
LIFTING = "Units over {limit} ({units}): lift with two people or a machine."
NOT_KNOWN = "Units of unknown mass ({units}): ask how heavy they are before lifting."
LINTELS = "Lintels over {limit} (up to {heaviest}): two people or a machine; prop until what is built on them has set."
HEIGHT = "Work above {high}: from a scaffold or platform fit for the load. New walls: temporary support against wind."

HIGH = 1500.0
"""Work higher up than this (mm) is done from a scaffold: common practice, no source."""


def leaf_cautions(facts: LeafFacts) -> tuple[str, ...]:
    """The cautions of one leaf's sheet."""
    return tuple(_cautions((facts,)))


def building_cautions(leaves: tuple[LeafFacts, ...]) -> tuple[str, ...]:
    """The cautions of all leaves together, their figures added up."""
    return tuple(_cautions(leaves))


def _cautions(leaves: tuple[LeafFacts, ...]) -> Iterable[str]:
    yield AID
    if not leaves:
        return
    figures = leaves[0].figures
    yield from cutting_cautions(facts.coursing for facts in leaves)
    yield from lifting_cautions(figures, dict.fromkeys(mass for facts in leaves for mass in facts.masses))
    yield from lintel_cautions(
        figures, (lintel for facts in leaves for lintel in facts.lintels), (mass for facts in leaves for mass in facts.masses)
    )
    if any(facts.face.height > HIGH for facts in leaves):
        yield HEIGHT.format(high=figures.about(HIGH))


def cutting_cautions(leaves: Iterable[LeafCoursing]) -> Iterable[str]:
    """How many pieces are cut in these leaves, and how; nothing where none is."""
    number = sum(count.cut for laid in leaves for count in laid.counts)
    if number:
        yield DUST.format(number=f"{number} pieces" if number > 1 else "1 piece")


def lifting_cautions(figures: Figures, masses: Iterable[UnitMass]) -> Iterable[str]:
    """Which units are too heavy for one person, with how heavy they are; and those nobody has said that of."""
    given = sorted(masses, key=lambda m: m.unit)
    heavy = [f"{m.unit} {'' if m.given else 'up to '}{figures.weight(m.mass or 0.0)}" for m in given if m.heavy]
    unknown = [m.unit for m in given if m.mass is None]
    limit = next((m.limit for m in given if m.limit is not None), None)
    if heavy and limit is not None:
        yield LIFTING.format(limit=figures.weight(limit), units=", ".join(heavy))
    if unknown:
        yield NOT_KNOWN.format(units=", ".join(unknown))


def lintel_cautions(figures: Figures, lintels: Iterable[Lintel], masses: Iterable[UnitMass]) -> Iterable[str]:
    """That lintels of concrete or stone are too heavy for one person; nothing where none is known to be."""
    limit = next((m.limit for m in masses if m.limit is not None), None)
    known = [lintel.mass for lintel in lintels if lintel.mass is not None]
    if limit is not None and known and max(known) > limit:
        yield LINTELS.format(limit=figures.weight(limit), heaviest=figures.weight(max(known), 0))
