"""Weep holes drain every tray: one at each stop end, none too far from the next, each in a perpend."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.checks._damp import at_tray, trays_of, under
from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._laid import LaidWork, laid_work
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span, at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tray
from elevgen.result import Design, Finding

CODE = "weep-spacing"
TITLE = "Weep holes over trays"
RATIONALE = "A tray without weeps fills like a gutter; a weep is a perpend left open, so it can only be where a perpend is."
SPACING, LEAST = "weep.spacing", "weep.minimum"
PERPEND = 10.0
"""A perpend nearer (mm) to a stop end than this is taken up by it."""
SAME = 0.5
"""A weep this near (mm) to the middle of a perpend is in it."""


def check(design: Design) -> Iterator[Finding]:
    """Each tray that holds water back: what its weeps leave between them, their number over each opening, and where they are.

    A stepped tray that runs off on to the next needs none. A weep to be cut because no perpend is near is noted.
    """
    spacing, least = rule(design, SPACING), rule(design, LEAST)
    trays = [(wall, tray) for wall in design.building.walls for tray in trays_of(design, wall)]
    laid = laid_work(design) if trays else {}
    for wall, tray in trays:
        place = at_tray(wall, tray)
        if spacing is None or least is None:
            yield uncovered(design, place, SPACING, LEAST)
            continue
        yield from _judged(design.figures, place, tray, _perpends(laid[wall.leaves[0]], tray), spacing, least)
    if not trays:
        yield found("pass", BUILDING, "no tray to drain")


def _judged(
    figures: Figures, place: Place, tray: Tray, perpends: list[float], spacing: Sourced, least: Sourced
) -> Iterator[Finding]:
    drains = tray.kind == "step" and tray.stop_ends < 2
    wanted = 0 if drains else max(1, int(least.number) * len(under(tray)))
    stray = [at for at in tray.weeps if at not in tray.cut_weeps and not any(abs(at - line) <= SAME for line in perpends)]
    steps = [b - a for a, b in pairwise(tray.weeps)]
    ends = (tray.weeps[0] - tray.span.start, tray.span.end - tray.weeps[-1]) if tray.weeps else ()
    widest = max((*steps, *ends), default=tray.span.length)
    if stray:
        text = f"{counted(len(stray), 'weep')} in no perpend of the course on the tray, the first at {figures.length(stray[0])}"
        yield found("fail", place, text, measured=float(len(stray)), most=0.0, unit="nr", source=spacing, also=(least,))
    elif len(tray.weeps) < wanted:
        text = f"{counted(len(tray.weeps), 'weep')}: {wanted} are asked"
        yield found("fail", place, text, measured=float(len(tray.weeps)), least=float(wanted), unit="nr", source=least)
    elif not at_most(widest, spacing.number):
        text = f"{figures.measure(widest)} of tray without a weep"
        yield found("fail", place, text, measured=widest, most=spacing.number, source=spacing, also=(least,))
    elif ends and (passed := _passed(tray, perpends)):
        text = f"the last weep is {figures.measure(max(ends))} from the stop end, with {counted(passed, 'perpend')} between"
        yield found("warn", place, text, measured=max(ends), most=spacing.number, source=spacing, also=(least,))
    else:
        text = (
            f"{counted(len(tray.weeps), 'weep')}, no more than {figures.measure(widest)} apart"
            if tray.weeps
            else "runs off on to the next"
        )
        yield found("pass", place, text, measured=widest, most=spacing.number, source=spacing, also=(least,))
    if tray.cut_weeps:
        where = ", ".join(figures.length(at) for at in tray.cut_weeps)
        yield found("note", place, f"{counted(len(tray.cut_weeps), 'weep')} to be cut, no perpend is near enough: at {where}")


def _passed(tray: Tray, perpends: list[float]) -> int:
    """How many perpends stand between a stop end and the weep nearest to it, at the worse end."""
    whole = Span(tray.span.start + PERPEND, tray.span.end - PERPEND)
    inside = [at for at in perpends if whole.contains(at)]
    first, last = tray.weeps[0], tray.weeps[-1]
    return max(sum(at < first - SAME for at in inside), sum(at > last + SAME for at in inside)) if tray.stop_ends == 2 else 0


def _perpends(work: LaidWork, tray: Tray) -> list[float]:
    """The middles of the perpends over a tray, of the first course that lies on it."""
    levels: dict[int, float] = {}
    for placement in work.coursing.placements:
        if placement.span.overlaps(tray.span) and at_least(placement.level, tray.level):
            levels[placement.course] = max(placement.level, levels.get(placement.course, placement.level))
    if not levels:
        return []
    return [at for at in work.lines(min(levels)) if tray.span.contains(at)]
