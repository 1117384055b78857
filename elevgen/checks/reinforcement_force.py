"""The steel in a bed can take the force that is let go when the masonry between two beds cracks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._reinforced_height import ALL_OVER, barest
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._steel import wire_area
from elevgen.core.figures import Figures
from elevgen.core.geometry import at_most
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding, Severity

CODE = "reinforcement-force"
TITLE = "Steel against the force of a crack (guidance, not a design)"
RATIONALE = (
    "When masonry cracks, what it carried goes to the steel: where that yields, one wide crack opens in place of many fine ones."
)
KEYS = tuple(f"bed_reinforcement.{name}" for name in ("wire.diameter", "wire.number", "wire.strength", "masonry_tension"))


class _Steel(NamedTuple):
    area: float
    strength: Sourced
    tension: float
    also: tuple[Sourced, ...]

    def stress(self, leaf: Leaf, height: float) -> float:
        """Stress (MPa) in the wires of a bed that serves so much height of a leaf, when the masonry cracks: f_t t s / A_s."""
        return self.tension * leaf.thickness * height / self.area


def check(design: Design) -> Iterator[Finding]:
    """A_s f_y >= f_t t s (mechanics of cracking): in leaves reinforced all over, and in the beds at openings.

    There a bed serves its share of the height from the opening's edge to the last of its beds. Never more than a note: guidance.
    """
    diameter, number, strength, tension = (rule(design, key) for key in KEYS)
    if not design.fittings.bed_reinforcement:
        yield found("pass", BUILDING, "no bed is reinforced")
        return
    if diameter is None or number is None or strength is None or tension is None:
        yield uncovered(design, BUILDING, *KEYS)
        return
    steel = _Steel(wire_area(diameter.number, number.number), strength, tension.number, (diameter, number, tension))
    for leaf in design.building.leaves:
        everywhere = {why for r in design.fittings.bed_reinforcement if r.leaf == leaf.id for why in r.why}
        if everywhere & ALL_OVER:
            bare = barest(design, leaf)
            if bare is not None:
                yield _said(design.figures, leaf, steel, bare.height, "reinforced all over, beds")
        served = max(_at_openings(design, leaf), default=None)
        if served is not None:
            yield _said(design.figures, leaf, steel, served, "at openings, each bed for")


def _at_openings(design: Design, leaf: Leaf) -> Iterator[float]:
    """For each head and sill, the height from it to the last of its beds, shared among them."""
    served: dict[str, list[float]] = {}
    for r in design.fittings.bed_reinforcement:
        for name in r.serves if r.leaf == leaf.id else ():
            served.setdefault(name, []).append(r.level)
    for opening in design.building.wall(leaf.wall).openings:
        levels = served.get(opening.id, [])
        over = [level - opening.rect.top for level in levels if level >= opening.rect.top]
        under = [opening.rect.bottom - level for level in levels if level < opening.rect.bottom]
        yield from (max(away) / len(away) for away in (over, under) if away)


def _said(figures: Figures, leaf: Leaf, steel: _Steel, height: float, what: str) -> Finding:
    stress = steel.stress(leaf, height)
    holds = at_most(stress, steel.strength.number)
    stressed, most = (figures.amount(x, "MPa", 0) for x in (stress, steel.strength.number))
    text = f"{what} {figures.measure(height)}: {stressed} in the wires when it cracks, they hold {most.split()[0]}; "
    text += "cracks stay fine" if holds else "one crack opens wide: reinforce nearer beds or thicker"
    severity: Severity = "pass" if holds else "note"
    return found(
        severity,
        at_leaf(leaf),
        f"{text} (guidance, not a design)",
        measured=stress,
        most=steel.strength.number,
        unit="MPa",
        source=steel.strength,
        also=steel.also,
    )
