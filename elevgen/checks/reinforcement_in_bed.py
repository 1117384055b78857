"""Reinforcement lies in bed joints, and the beds are thick enough for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevgen.checks._beds import leaf_beds
from elevgen.checks._finding import BUILDING, Place, at_fitting, at_leaf, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span, at_least
from elevgen.fittings.model import BedReinforcement
from elevgen.result import Design, Finding
from elevgen.rules.telling import told

CODE = "reinforcement-in-bed"
TITLE = "Reinforcement lies in beds thick enough"
RATIONALE = "Steel that is not bedded in mortar all round carries nothing and rusts; it has to lie in a bed, with mortar over it."
WIRE, ROOM = "bed_reinforcement.wire.diameter", "bed_reinforcement.bed_over_wire"


def check(design: Design) -> Iterator[Finding]:
    """Each length: the bed its level lies in, and its thickness against wire and mortar (EN 1996-1-1 8.2.2, from memory)."""
    wire, room = rule(design, WIRE), rule(design, ROOM)
    reinforced = [leaf for leaf in design.building.leaves if any(r.leaf == leaf.id for r in design.fittings.bed_reinforcement)]
    for leaf in reinforced:
        beds = list(leaf_beds(design, leaf))
        laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
        outside = [r for r in laid if not any(bed.contains(r.level) for bed in beds)]
        yield from (_nowhere(design.figures, r, beds) for r in outside)
        used = [bed for r in laid for bed in beds if bed.contains(r.level)]
        if wire is None or room is None:
            yield uncovered(design, at_leaf(leaf), WIRE, ROOM)
        elif used:
            thinnest = min(bed.length for bed in used)
            least = wire.number + room.number
            place: Place = at_leaf(leaf)
            text = f"the thinnest reinforced bed is {design.figures.measure(thinnest)}"
            if not at_least(thinnest, least):
                text += f", too thin for wires of {told(wire, design.lengths)}: use a kind made for thin joints"
                yield found("warn", place, text, measured=thinnest, least=least, source=room, also=(wire,))
            elif not outside:
                lengths = counted(len(laid), "length")
                yield found(
                    "pass", place, f"{lengths} in beds; {text}", measured=thinnest, least=least, source=room, also=(wire,)
                )
    if not reinforced:
        yield found("pass", BUILDING, "no bed is reinforced")


def _nowhere(figures: Figures, laid: BedReinforcement, beds: Sequence[Span]) -> Finding:
    near = sorted(beds, key=lambda bed: abs(bed.middle - laid.level))[:2]
    where = " and ".join(figures.level(bed.start) for bed in sorted(near)) or "nowhere"
    return found("fail", at_fitting(laid), f"at {figures.level(laid.level)} lies in no bed; the nearest are at {where}")
