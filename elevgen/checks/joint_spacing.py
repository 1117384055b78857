"""No way through continuous masonry is longer than its material allows between movement joints."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from elevgen.building.model import Leaf
from elevgen.checks._finding import at_leaf, found
from elevgen.checks._overlong import place_of, ways
from elevgen.checks._paths import Way
from elevgen.checks._rules import uncovered
from elevgen.checks._spacing import Allowed, allowed
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.result import Design, Finding, Severity

CODE = "joint-spacing"
TITLE = "Distance between movement joints"
RATIONALE = (
    "Walls tied together act as one: they swell, shrink and crack as one. The length that counts runs along the masonry, "
    "round bonded corners and through tied meetings, and a door or window does not break it."
)


def check(design: Design) -> Iterator[Finding]:
    """Over the greatest spacing: fail. Over the normal one only: warn. Lengths from joint to joint, in mm.

    Shorter in a parapet or a free-standing wall, longer where bed joints are reinforced all the way up.
    """
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    rules = {leaf.id: allowed(design, leaf) for leaf in design.building.leaves}
    for leaf in design.building.leaves:
        if rules[leaf.id].missing:
            yield uncovered(design, at_leaf(leaf), *rules[leaf.id].missing)
    for _, way, governing in ways(design, rules):
        yield _judged(design.figures, leaves, way, governing)


def _judged(figures: Figures, leaves: dict[str, Leaf], way: Way, governing: list[Allowed]) -> Finding:
    normal, limit = min(governing, key=lambda a: a.usual), min(governing, key=lambda a: a.greatest)
    place = place_of(figures, way, leaves)
    greatest = max(limit.greatest, normal.usual)
    over_normal, over_limit = not at_most(way.length, normal.usual), not at_most(way.length, greatest)
    by_limit = over_limit and greatest > normal.usual
    most, source = (greatest, limit.greatest_source) if by_limit else (normal.usual, normal.usual_source)
    also = limit.also if by_limit else normal.also
    text = f"{'at least ' if not way.exact else ''}{figures.run(way.length)} of masonry without a movement joint"
    if over_limit:
        text += f", over the greatest of {figures.run(most)}"
    elif over_normal:
        text += f", over the usual {figures.run(normal.usual)} though within the greatest of {figures.run(greatest)}"
    if normal.words:
        text += f" ({normal.words})"
    if over_normal:
        fewest = max(1, ceil((way.length - TOLERANCE) / normal.usual) - (0 if way.closed else 1))
        text += f": cut it with {'a movement joint' if fewest == 1 else f'at least {fewest} movement joints'} clear of openings"
        text += ", walls met and lintel ends"
    if not way.exact and not over_normal:
        return found("not_checked", place, text + "; too many ways round to measure them all")
    severity: Severity = "fail" if over_limit else "warn" if over_normal else "pass"
    return found(severity, place, text, measured=way.length, most=most, source=source, also=also)
