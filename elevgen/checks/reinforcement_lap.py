"""Lengths of bed-joint reinforcement overlap enough to act as one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from elevgen.checks._finding import BUILDING, at_fitting, at_leaf, beside, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import BedReinforcement
from elevgen.result import Design, Finding

CODE = "reinforcement-lap"
TITLE = "Laps of bed-joint reinforcement"
RATIONALE = "Two lengths that overlap too little pull apart in the bed, and the crack opens there."
LAP, STOCK = "bed_reinforcement.lap", "bed_reinforcement.stock_length"
DIAMETERS, WIRE = "bed_reinforcement.lap.diameters", "bed_reinforcement.wire.diameter"


def check(design: Design) -> Iterator[Finding]:
    """Laps as long as the rule set asks, pieces that cover the length with them, none longer than it is sold, bends included.

    Measured from where each piece lies; also between lengths of one bed that lie over one another. One pass for a leaf without
    faults.
    """
    lap, stock = _least(design), rule(design, STOCK)
    also = [rule(design, key) for key in (LAP, DIAMETERS, WIRE)] if rule(design, DIAMETERS) else []
    if lap is None:
        if design.fittings.bed_reinforcement:
            yield uncovered(design, BUILDING, LAP)
        return
    if stock is None and design.fittings.bed_reinforcement:
        yield uncovered(design, BUILDING, STOCK)
    lengths = {r.id: r for r in design.fittings.bed_reinforcement}
    for leaf in design.building.leaves:
        laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
        faults = [fault for r in laid if (fault := _fault(design.figures, r, lap, stock, lengths))]
        faults += _between(design.figures, laid, lap)
        yield from (beside(fault, *also) if fault.source is lap else fault for fault in faults)
        if laid and not faults:
            least = min((lapped for r in laid for lapped in _laps(r)), default=None)
            text = "no laps" if least is None else f"laps of {design.figures.measure(least)} at least"
            limit = None if least is None else lap.number
            yield found("pass", at_leaf(leaf), text, measured=least, least=limit, source=lap, also=also)


def _least(design: Design) -> Sourced | None:
    """The longer of a lap given as a length and one given in diameters of the wire, as the rule that asks it."""
    lap, times, wire = rule(design, LAP), rule(design, DIAMETERS), rule(design, WIRE)
    if lap is None or times is None or wire is None or at_least(lap.number, times.number * wire.number):
        return lap
    return Sourced(
        times.key,
        times.number * wire.number,
        lap.unit,
        times.document,
        times.edition,
        times.clause,
        times.status,
        times.note,
    )


def _laps(laid: BedReinforcement) -> list[float]:
    """Each lap as its pieces lie; as said of it where nobody has said where they do."""
    if laid.cuts:
        return [a.end - b.start for a, b in pairwise(laid.cuts)]
    return [laid.lap] * laid.laps


def _fault(
    figures: Figures, laid: BedReinforcement, lap: Sourced, stock: Sourced | None, lengths: Mapping[str, BedReinforcement]
) -> Finding | None:
    least = min(_laps(laid), default=lap.number)
    if not at_least(least, lap.number):
        text = f"laps of {figures.measure(least)}"
        return found("fail", at_fitting(laid), text, measured=least, least=lap.number, source=lap)
    covered = sum(laid.pieces) - sum(_laps(laid))
    if len(laid.pieces) != laid.laps + 1 or abs(covered - laid.span.length) > TOLERANCE:
        laps = counted(laid.laps, "lap")
        text = f"pieces cover {figures.measure(covered)} of {figures.measure(laid.span.length)} with {laps}"
        return found("fail", at_fitting(laid), text, measured=covered, exactly=laid.span.length)
    if laid.cuts and not _lies_along(laid):
        where = f"{figures.length(laid.span.start)} to {figures.measure(laid.span.end)}"
        return found("fail", at_fitting(laid), f"its pieces do not lie from {where} as long as they are cut")
    for turn in laid.returns:
        back = lengths.get(turn.continues)
        if back is None or abs(back.level - laid.level) > laid.lap or not any(r.continues == laid.id for r in back.returns):
            return found("fail", at_fitting(laid), f"goes on round a corner as {turn.continues}, which does not come from it")
    longest = max(*laid.pieces, *_bent(laid, lengths), 0.0)
    if stock is not None and not at_most(longest, stock.number):
        text = f"a piece of {figures.measure(longest)}, longer than it is sold"
        return found("fail", at_fitting(laid), text, measured=longest, most=stock.number, source=stock)
    return None


def _lies_along(laid: BedReinforcement) -> bool:
    """Whether its pieces are as long as they are said to be, and lie from its one end to the other."""
    apart = [abs(cut.length - piece) for cut, piece in zip(laid.cuts, laid.pieces, strict=False)]
    ends = abs(laid.cuts[0].start - laid.span.start), abs(laid.cuts[-1].end - laid.span.end)
    return len(laid.cuts) == len(laid.pieces) and max(*apart, *ends) <= TOLERANCE


def _bent(laid: BedReinforcement, lengths: Mapping[str, BedReinforcement]) -> Iterator[float]:
    """The pieces bent at the ends of a length, as far as they go on round corners."""
    for turn in laid.returns:
        piece = laid.cuts[0] if turn.end == "start" else laid.cuts[-1]
        length, came, here = piece.length, laid, turn
        for _ in lengths:
            length += here.round_corner + here.leg
            there = lengths[here.continues]
            onward = [r for r in there.returns if r.continues != came.id]
            if not onward or there is laid or len(there.cuts) > 1:
                break
            came, here = there, onward[0]
        yield length


def _between(figures: Figures, laid: Sequence[BedReinforcement], lap: Sourced) -> Iterator[Finding]:
    """Lengths of one bed that lie over one another by less than a lap."""
    for a, b in pairwise(sorted(laid, key=lambda r: (r.level, r.span))):
        over = a.span.end - b.span.start
        if abs(a.level - b.level) <= TOLERANCE and over > TOLERANCE and not at_least(over, min(lap.number, b.span.length)):
            text = f"lies {figures.measure(over)} over {a.id}"
            yield found("fail", at_fitting(b), text, measured=over, least=lap.number, source=lap)
