"""The bearing a lintel needs, worked out from its span and what it carries."""

from __future__ import annotations

from elevgen.checks._rules import rule
from elevgen.core.geometry import at_most
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Lintel
from elevgen.result import Design


def bearing_needed(design: Design, lintel: Lintel) -> Sourced | None:
    """The least bearing at each end by clear span, and by whether a cavity tray stands on the lintel; None: not covered."""
    short = rule(design, "lintel.bearing.short_span")
    if short is None:
        return None
    if not at_most(lintel.clear.length, short.number):
        return rule(design, "lintel.bearing.long")
    wall = design.building.wall(lintel.wall)
    carries_tray = len(wall.leaves) == 2 and lintel.leaf == wall.leaves[0]
    return rule(design, "lintel.bearing.short.tray" if carries_tray else "lintel.bearing.short.simple")
