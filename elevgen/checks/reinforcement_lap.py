"""Lengths of bed-joint reinforcement overlap enough to act as one."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import BUILDING, at_fitting, at_leaf, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.core.measures import millimetres
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import BedReinforcement
from elevgen.result import Design, Finding

CODE = "reinforcement-lap"
TITLE = "Laps of bed-joint reinforcement"
RATIONALE = "Two lengths that overlap too little pull apart in the bed, and the crack opens there."
LAP, STOCK = "bed_reinforcement.lap", "bed_reinforcement.stock_length"


def check(design: Design) -> Iterator[Finding]:
    """Laps as long as the rule set asks, pieces that cover the length with them, none longer than it is sold.

    One pass for a leaf without faults.
    """
    lap, stock = rule(design, LAP), rule(design, STOCK)
    if lap is None:
        if design.fittings.bed_reinforcement:
            yield uncovered(design, BUILDING, LAP)
        return
    for leaf in design.building.leaves:
        laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
        faults = [fault for r in laid if (fault := _fault(r, lap, stock))]
        yield from faults
        if laid and not faults:
            least = min((r.lap for r in laid if r.laps), default=None)
            text = "no laps" if least is None else f"laps of {millimetres(least)} mm at least"
            limit = None if least is None else lap.number
            yield found("pass", at_leaf(leaf), text, measured=least, least=limit, source=lap)


def _fault(laid: BedReinforcement, lap: Sourced, stock: Sourced | None) -> Finding | None:
    if laid.laps and not at_least(laid.lap, lap.number):
        text = f"laps of {millimetres(laid.lap)} mm"
        return found("fail", at_fitting(laid), text, measured=laid.lap, least=lap.number, source=lap)
    covered = sum(laid.pieces) - laid.laps * laid.lap
    if len(laid.pieces) != laid.laps + 1 or abs(covered - laid.span.length) > TOLERANCE:
        laps = counted(laid.laps, "lap")
        text = f"pieces cover {millimetres(covered)} mm of {millimetres(laid.span.length)} mm with {laps}"
        return found("fail", at_fitting(laid), text, measured=covered, exactly=laid.span.length)
    longest = max(laid.pieces)
    if stock is not None and not at_most(longest, stock.number):
        text = f"a piece of {millimetres(longest)} mm, longer than it is sold"
        return found("fail", at_fitting(laid), text, measured=longest, most=stock.number, source=stock)
    return None
