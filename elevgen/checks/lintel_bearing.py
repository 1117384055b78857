"""Every lintel bears far enough on masonry at both ends, and on the piers between."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._bearing import bearing_needed, held, solid_under
from elevgen.checks._finding import at_fitting, found
from elevgen.checks._rules import uncovered
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.core.measures import millimetres
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
            yield uncovered(design, at_fitting(lintel), "lintel.bearing.short_span", "lintel.bearing.long")
            continue
        at_ends = min(_bearings(design, lintel))
        got = min([at_ends, *(pier.length for pier in held(design, lintel).piers)])
        enough = at_least(got, needed.number)
        text = _bears(at_ends, got) + ("" if enough else f", needs {millimetres(needed.number)} mm")
        severity: Severity = "pass" if enough else "fail"
        yield found(severity, at_fitting(lintel), text, measured=got, least=needed.number, source=needed)


def _bears(at_ends: float, got: float) -> str:
    if at_ends < -TOLERANCE:
        return f"stops {millimetres(-at_ends)} mm short of the reveal"
    return f"bears {millimetres(got)} mm " + ("at its shorter end" if got == at_ends else "on a pier between openings")


def _bearings(design: Design, lintel: Lintel) -> tuple[float, float]:
    """How much of each end lies on solid masonry, from the reveal outwards."""
    solid = solid_under(design, lintel)
    before = next((s.length for s in solid if abs(s.end - lintel.clear.start) <= TOLERANCE), 0.0)
    after = next((s.length for s in solid if abs(s.start - lintel.clear.end) <= TOLERANCE), 0.0)
    return min(before, lintel.clear.start - lintel.span.start), min(after, lintel.span.end - lintel.clear.end)
