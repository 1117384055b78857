"""Every lintel bears far enough on masonry at both ends, and on the piers between."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.checks._bearing import BY_SPAN, bearing_needed, behind_bearing, held, solid_under
from elevgen.checks._finding import at_fitting, found
from elevgen.checks._rules import uncovered
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.fittings.model import Lintel
from elevgen.result import Design, Finding, Severity

CODE = "lintel-bearing"
TITLE = "Bearing of lintels"
RATIONALE = "A lintel that bears on too little masonry crushes it, or slips off when the wall moves."


def check(design: Design) -> Iterator[Finding]:
    """The masonry really under each end of each lintel, down past the lowest head it lies over, and each pier under it between
    openings, against the bearing that its longest span between supports asks for."""
    for lintel in design.fittings.lintels:
        needed = bearing_needed(design, lintel)
        if needed is None:
            yield uncovered(design, at_fitting(lintel), *BY_SPAN)
            continue
        ends = _bearings(design, lintel)
        at_ends = min(end.got for end in ends)
        got = min([at_ends, *(pier.length for pier in held(design, lintel).piers)])
        enough = at_least(got, needed.number)
        text = _bears(design.figures, at_ends, got) + ("" if enough else f", needs {design.figures.measure(needed.number)}")
        narrow = min(end.masonry for end in ends)
        if not enough and not at_least(narrow, needed.number):
            wide = f"only {design.figures.measure(narrow)} of masonry" if narrow > TOLERANCE else "no masonry"
            text += f": there is {wide} beside the opening to bear on"
        severity: Severity = "pass" if enough else "fail"
        also = behind_bearing(design, lintel)
        yield found(severity, at_fitting(lintel), text, measured=got, least=needed.number, source=needed, also=also)


def _bears(figures: Figures, at_ends: float, got: float) -> str:
    if at_ends < -TOLERANCE:
        return f"stops {figures.measure(-at_ends)} short of the reveal"
    return f"bears {figures.measure(got)} " + ("at its shorter end" if got == at_ends else "on a pier between openings")


class _End(NamedTuple):
    """How much of an end of a lintel lies on solid masonry, and how much of that there is from the reveal outwards."""

    got: float
    masonry: float


def _bearings(design: Design, lintel: Lintel) -> tuple[_End, _End]:
    solid = solid_under(design, lintel)
    before = next((s.length for s in solid if abs(s.end - lintel.clear.start) <= TOLERANCE), 0.0)
    after = next((s.length for s in solid if abs(s.start - lintel.clear.end) <= TOLERANCE), 0.0)
    return (
        _End(min(before, lintel.clear.start - lintel.span.start), before),
        _End(min(after, lintel.span.end - lintel.clear.end), after),
    )
