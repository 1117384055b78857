"""Laps of reinforcement in neighbouring beds do not come over one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevgen.checks._finding import BUILDING, at_fitting, at_leaf, beside, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import BedReinforcement
from elevgen.result import Design, Finding

CODE = "reinforcement-laps-staggered"
TITLE = "Laps of reinforcement staggered"
RATIONALE = "At a lap the steel is only as good as the mortar round it: laps over one another are a weak line up the wall."
KEY, HEIGHT = "bed_reinforcement.stagger", "bed_reinforcement.stagger.height"


def check(design: Design) -> Iterator[Finding]:
    """From the middle of each lap to that of every lap in the next reinforced bed above, where that is near (NHBC 6.1.18).

    One pass for a leaf without faults. A lap that lies over another warns: the steel is all there.
    """
    least, height = rule(design, KEY), rule(design, HEIGHT)
    if least is None or height is None:
        if any(r.laps for r in design.fittings.bed_reinforcement):
            yield uncovered(design, BUILDING, KEY, HEIGHT)
        else:
            yield found("pass", BUILDING, "no laps")
        return
    lapped = False
    for leaf in design.building.leaves:
        laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
        near = [(apart, a, b) for a in laid for b in _over(a, laid, height) for apart in _apart(a, b)]
        faults = [fault for fault in near if not at_least(fault[0], least.number)]
        yield from (
            beside(_fault(design.figures, *fault, least), height)
            for fault in sorted(faults, key=lambda f: (f[1].id, f[2].id, f[0]))
        )
        if any(r.laps for r in laid) and not faults:
            lapped = True
            text = f"{counted(sum(r.laps for r in laid), 'lap')}, none near one in the next bed"
            yield found("pass", at_leaf(leaf), text, source=least, also=(height,))
        lapped = lapped or bool(faults)
    if not lapped:
        yield found("pass", BUILDING, "no laps")


def _over(a: BedReinforcement, laid: Sequence[BedReinforcement], height: Sourced) -> list[BedReinforcement]:
    """What lies next over a length, along it and near enough."""
    above = [r for r in laid if r.level > a.level + TOLERANCE and r.span.overlaps(a.span)]
    nearest = min((r.level for r in above), default=0.0)
    return [r for r in above if at_most(r.level, nearest) and at_most(r.level - a.level, height.number)]


def _apart(a: BedReinforcement, b: BedReinforcement) -> Iterator[float]:
    for one in a.lap_at:
        for other in b.lap_at:
            yield abs(one.middle - other.middle)


def _fault(figures: Figures, apart: float, a: BedReinforcement, b: BedReinforcement, least: Sourced) -> Finding:
    text = f"a lap {figures.measure(apart)} from one in the next bed below"
    return found("warn", at_fitting(b), text, measured=apart, least=least.number, source=least)
