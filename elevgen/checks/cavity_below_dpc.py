"""The cavity goes on empty far enough under the damp-proof course."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._damp import cavity_walls, courses_of
from elevgen.checks._finding import BUILDING, at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import Span, at_least
from elevgen.result import Design, Finding

CODE = "cavity-below-dpc"
TITLE = "Cavity under the damp-proof course"
RATIONALE = (
    "Mortar droppings pile up at the foot of a cavity; the fill stops low enough that they never bridge the damp-proof course."
)
KEY = "cavity.below_dpc"


def check(design: Design) -> Iterator[Finding]:
    """Each cavity wall: from the damp-proof course down to where its masonry begins, the place for the fill to stop.

    Only noted: a spec may begin its masonry higher than it is founded (NHBC 6.1.17 Table 9).
    """
    least = rule(design, KEY)
    looked_at = False
    for wall, outer, inner in cavity_walls(design):
        depths = [
            course.level - leaf.base.highest(course.span.common(leaf.span) or Span(leaf.span.start, leaf.span.start))
            for leaf in (outer, inner)
            for course in courses_of(design, leaf, "base")
        ]
        if not depths:
            continue
        looked_at = True
        if least is None:
            yield uncovered(design, at_wall(wall), KEY)
            continue
        depth = min(depths)
        asked = f"fill in the cavity stops at least {design.figures.measure(least.number)} below"
        text = f"{design.figures.measure(depth)} of wall drawn under the damp-proof course; {asked}"
        enough = at_least(depth, least.number)
        yield found("pass" if enough else "note", at_wall(wall), text, measured=depth, least=least.number, source=least)
    if not looked_at:
        yield found("pass", BUILDING, "no cavity under a damp-proof course")
