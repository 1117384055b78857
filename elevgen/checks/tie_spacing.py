"""Wall ties stand close enough along the wall and up it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.checks._cavities import Cavity, cavities
from elevgen.checks._finding import at_fitting, at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._tie_beds import beds_in_common
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span, at_most
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Lintel, Tie
from elevgen.result import Design, Finding

CODE = "tie-spacing"
TITLE = "Spacing of wall ties"
RATIONALE = "The two leaves of a cavity wall stand up to wind together; between ties each stands alone."
ACROSS, UP = "tie.spacing.horizontal", "tie.spacing.vertical"
ROOM = 50.0
"""A tie has room in a bed that goes on this far (mm)."""


def check(design: Design) -> Iterator[Finding]:
    """Of each cavity wall: the largest distance up between rows that are full along the wall, and along those rows.

    A row is full where no stretch of masonry in it goes further than the limit without a tie. No tie lies in a lintel in the
    place of units: over each, a row as full stands no further up from its underside, where a bed of both leaves allows.
    """
    across, up = rule(design, ACROSS), rule(design, UP)
    for cavity in cavities(design):
        if across is None or up is None:
            yield uncovered(design, at_wall(cavity.wall), ACROSS, UP)
        elif not cavity.ties:
            yield found("fail", at_wall(cavity.wall), "no ties between the two leaves")
        else:
            yield _judged(design.figures, cavity, across, up)
            for lintel in design.fittings.lintels:
                if lintel.leaf in cavity.wall.leaves:
                    yield from _over(design, cavity, lintel, across, up)


def _judged(figures: Figures, cavity: Cavity, across: Sourced, up: Sourced) -> Finding:
    place = at_wall(cavity.wall)
    along = {level: _largest_gap(cavity.solid(level), row) for level, row in cavity.rows()}
    full = [level for level, gap in along.items() if at_most(gap, across.number)]
    stations = [_first_bed(cavity), *full, cavity.levels.end]
    apart, below = max((high - low, low) for low, high in pairwise(stations))
    if at_most(apart, up.number):
        widest = max(along[level] for level in full)
        text = f"rows {figures.measure(apart)} apart at most, ties in them {figures.measure(widest)}"
        return found("pass", place, text, measured=apart, most=up.number, source=up, also=(across,))
    broken = {level: gap for level, gap in along.items() if level not in full and below < level < below + apart}
    if broken:
        level, gap = max(broken.items(), key=lambda item: item[1])
        text = f"{figures.measure(gap)} without a tie in the row at {figures.length(level)}"
        return found("fail", place, text, measured=gap, most=across.number, source=across, also=(up,))
    text = f"{figures.measure(apart)} without a row of ties over level {figures.length(below)}"
    return found("fail", place, text, measured=apart, most=up.number, source=up, also=(across,))


def _over(design: Design, cavity: Cavity, lintel: Lintel, across: Sourced, up: Sourced) -> Iterator[Finding]:
    """What is said of a lintel in the place of units without a row of ties near enough over it."""
    body = lintel.body
    stretch = body.along.common(cavity.span) if body else None
    if body is None or stretch is None:
        return
    reached = Span(body.top, body.bottom + up.number)
    ends = min(leaf.top.highest(stretch) for leaf in (cavity.outer, cavity.inner))
    if at_most(ends, reached.end):
        return

    def masonry(level: float) -> tuple[Span, ...]:
        return tuple(common for span in cavity.solid(level) if (common := span.common(stretch)))

    for level, row in cavity.rows():
        there = masonry(level) if reached.contains(level) else ()
        if there and at_most(_largest_gap(there, row), across.number):
            return
    beds = [bed.tie for bed in beds_in_common(design, cavity.outer, cavity.inner) if reached.contains(bed.tie)]
    text = f"no row of ties over it within {design.figures.measure(up.number)} of its underside"
    if any(span.length >= ROOM for level in beds for span in masonry(level)):
        yield found("fail", at_fitting(lintel), text, most=up.number, source=up, also=(across,))
    else:
        yield found("note", at_fitting(lintel), f"{text}: no bed of both leaves there", most=up.number, source=up, also=(across,))


def _first_bed(cavity: Cavity) -> float:
    """The middle of the bed the wall stands on: rows are counted from bed to bed."""
    return cavity.levels.start + cavity.outer.zones[0].unit.bed / 2


def _largest_gap(solid: tuple[Span, ...], row: list[Tie]) -> float:
    """The longest stretch of solid masonry in a row without a tie."""
    return max((gap for span in solid for gap in _gaps(span, row)), default=0.0)


def _gaps(span: Span, row: list[Tie]) -> Iterator[float]:
    inside = [tie.at for tie in row if span.contains(tie.at)]
    for a, b in pairwise([span.start, *inside, span.end]):
        yield b - a
