"""A cavity tray has the height it needs to rise across the cavity, and a bed of the inner leaf for its upper edge."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf, Wall
from elevgen.checks._damp import at_tray, beds_of, cavity_walls, trays_of
from elevgen.checks._finding import BUILDING, found
from elevgen.checks._masonry import stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import TOLERANCE, Span, at_least, subtract
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tray
from elevgen.result import Design, Finding

CODE = "tray-rise"
TITLE = "Rise of cavity trays"
RATIONALE = "A tray leads water outwards only if it rises towards the inner leaf, and it must be held there or it slumps."
KEY = "tray.rise"


def check(design: Design) -> Iterator[Finding]:
    """Each tray of sheet: the wall over it against its rise (LABC Warranty), and its upper edge against the inner leaf's beds.

    Less wall than the rise warns. Without a bed it is dressed up the face of the inner leaf, which is noted.
    """
    rise = rule(design, KEY)
    judged = False
    for wall, outer, inner in cavity_walls(design):
        for tray in trays_of(design, wall):
            if tray.kind == "step":
                continue
            judged = True
            yield uncovered(design, at_tray(wall, tray), KEY) if rise is None else _judged(design, wall, outer, inner, tray, rise)
    if not judged:
        yield found("pass", BUILDING, "no cavity tray that has to rise")


def _judged(design: Design, wall: Wall, outer: Leaf, inner: Leaf, tray: Tray, rise: Sourced) -> Finding:
    place = at_tray(wall, tray)
    room = min(_wall_over(leaf, tray) for leaf in (outer, inner))
    if not at_least(room, rise.number):
        text = f"only {design.figures.measure(room)} of wall over it: it rises {design.figures.measure(rise.number)}"
        return found("warn", place, text, measured=room, least=rise.number, source=rise)
    if tray.upper is None:
        text = f"no bed of the inner leaf goes on all along {design.figures.measure(rise.number)} or more over it: "
        text += "fix its edge to the face"
        return found("note", place, text, measured=room, least=rise.number, source=rise)
    rises = tray.upper - tray.level
    in_bed = any(bed.contains(tray.upper) for bed in beds_of(design, inner))
    along = tray.span.common(inner.span) or inner.span
    bare = subtract(along, stretches(inner, Span(tray.upper - 1.0, tray.upper + 1.0)))
    if not at_least(rises, rise.number) or not in_bed or bare:
        text = (
            f"its upper edge at {design.figures.level(tray.upper)} is in no bed of the inner leaf"
            if bare or not in_bed
            else "it rises too little"
        )
        return found("fail", place, text, measured=rises, least=rise.number, source=rise)
    text = f"rises {design.figures.measure(rises)} to the bed of the inner leaf at {design.figures.level(tray.upper)}"
    return found("pass", place, text, measured=rises, least=rise.number, source=rise)


def _wall_over(leaf: Leaf, tray: Tray) -> float:
    """From the tray up to the top of the leaf, or to the next void over it (mm)."""
    along = tray.span.common(leaf.span)
    if along is None:
        return 0.0
    over = [void.bottom for void in leaf.voids if void.along.overlaps(along) and void.bottom > tray.level + TOLERANCE]
    return min((leaf.top.lowest(along), *over)) - tray.level
