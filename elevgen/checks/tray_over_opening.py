"""A cavity tray lies over every opening of a cavity wall, past the ends of its lintel, with a stop end at each end."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening, Wall
from elevgen.checks._damp import cavity_walls, trays_of
from elevgen.checks._finding import BUILDING, at_opening, found
from elevgen.checks._masonry import gaps_at, joints_by_leaf, stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span, subtract
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Lintel, Tray
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "tray-over-opening"
TITLE = "A cavity tray over every opening"
RATIONALE = (
    "Water that comes through the outer leaf runs down the cavity on to the frame; a tray leads it out again, and its stop ends "
    "keep it from running off the sides."
)
PAST = "tray.past_lintel"
STOP_ENDS = 2


class _Walled(NamedTuple):
    wall: Wall
    outer: Leaf
    joints: tuple[MovementJoint, ...]
    lintels: list[Lintel]
    trays: list[Tray]


def check(design: Design) -> Iterator[Finding]:
    """Each opening with masonry of the outer leaf over it: what of it, and of its lintel's ends, no tray lies over.

    A movement joint stops a tray, and so does the end of the leaf (LABC Warranty, cavity trays; NHBC 6.1.17 Table 9).
    """
    past = rule(design, PAST)
    joints = joints_by_leaf(design)
    judged = False
    for wall, outer, _ in cavity_walls(design):
        lintels = [lintel for lintel in design.fittings.lintels if lintel.leaf == outer.id]
        walled = _Walled(wall, outer, joints[outer.id], lintels, trays_of(design, wall))
        for opening in wall.openings:
            judged = True
            if past is None:
                yield uncovered(design, at_opening(outer, opening), PAST)
            else:
                yield _judged(design.figures, walled, opening, past)
    if not judged:
        yield found("pass", BUILDING, "no opening in a cavity wall")


def _judged(figures: Figures, walled: _Walled, opening: Opening, past: Sourced) -> Finding:
    place = at_opening(walled.outer, opening)
    head = opening.rect.top
    course = max(zone.unit.gauge for zone in walled.outer.zones)
    lintels = [x for x in walled.lintels if head - 1.0 <= x.level <= head + course and x.span.overlaps(opening.rect.along)]
    at = min((body.top if (body := x.body) else head for x in lintels), default=head)
    reached = [_reach(walled, lintel, past.number) for lintel in lintels]
    near = [opening.rect.along, *reached]
    about = Span(min(span.start for span in near), max(span.end for span in near))
    solid = stretches(walled.outer, Span(at, at + 1.0), near=about.grown(1.0))
    over = [common for span in solid if (common := span.common(opening.rect.along))]
    if not over:
        return found("pass", place, "no masonry straight over it to keep dry under")
    deep = max((lintel.depth or 0.0 for lintel in lintels), default=0.0)
    over_openings = [tray for tray in walled.trays if tray.given or tray.kind == "opening"]
    trays = [tray for tray in over_openings if head - 1.0 <= tray.level <= head + course + deep]
    bare = [left for span in over for left in _bare(walled, head, span, trays)]
    if bare:
        length = sum(span.length for span in bare)
        text = f"no cavity tray over {figures.measure(length)} of it" + ("" if lintels else ", nor a lintel for one to lie on")
        return found("fail", place, text, measured=length, most=0.0, source=past)
    under = [common for reach in reached for span in solid if (common := span.common(reach))]
    short = [left for span in under for left in _bare(walled, head, span, trays)]
    mine = [tray for tray in trays if tray.span.overlaps(opening.rect.along)]
    if short:
        length = past.number - max(span.length for span in short)
        text = f"the tray goes {_beyond(figures, length)} the lintel: {figures.measure(past.number)} past is asked"
        return found("fail", place, text, measured=length, least=past.number, source=past)
    if any(tray.stop_ends < STOP_ENDS for tray in mine):
        fewest = min(tray.stop_ends for tray in mine)
        text = f"the tray has {fewest or 'no'} stop end{'s' if fewest != 1 else ''}: one at each end is asked"
        return found("fail", place, text, measured=float(fewest), least=float(STOP_ENDS), unit="nr", source=past)
    return found("pass", place, "a cavity tray over it and past its lintel, with stop ends", source=past)


def _beyond(figures: Figures, length: float) -> str:
    return f"{figures.measure(length)} past" if length >= 0 else f"{figures.measure(-length)} short of"


def _reach(walled: _Walled, lintel: Lintel, past: float) -> Span:
    """From past one end of a lintel to past the other, as far as the leaf goes and no movement joint stands in the way."""
    gaps = gaps_at(walled.joints, lintel.level)
    before = [gap.end for gap in gaps if gap.start <= lintel.clear.start + 1.0]
    after = [gap.start for gap in gaps if gap.end >= lintel.clear.end - 1.0]
    start = max(lintel.span.start - past, walled.outer.span.start, *before)
    return Span(start, max(start, min(lintel.span.end + past, walled.outer.span.end, *after)))


def _bare(walled: _Walled, level: float, span: Span, trays: list[Tray]) -> tuple[Span, ...]:
    """What of a stretch no tray lies over, movement joints left out."""
    return subtract(span, [*gaps_at(walled.joints, level), *(tray.span for tray in trays)])
