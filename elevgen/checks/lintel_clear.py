"""Nothing else lies where a lintel of concrete or stone does: no unit, no reinforcement, no tie."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import at_fitting, found
from elevgen.checks._laid import LaidWork, laid_work
from elevgen.checks._words import counted, listed
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.model import Lintel
from elevgen.result import Design, Finding

CODE = "lintel-clear"
TITLE = "Room for lintels in the masonry"
RATIONALE = (
    "A lintel in the place of units leaves no bed where it lies: what is drawn there can only be left out on site, "
    "and then nobody knows whether what is left will do."
)
WITHIN = 1.0
"""What reaches no further than this (mm) into a lintel lies on it or beside it."""

IN_BED = 4.0
"""Reinforcement lies at least so far (mm) over the underside of its bed, about the middle."""


def check(design: Design) -> Iterator[Finding]:
    """Each lintel in the place of units against the pieces, the reinforcement and the ties of its leaf.

    A unit there is a failure; reinforcement or ties are a warning, for they can go into the bed over it.
    """
    works = laid_work(design)
    for lintel in design.fittings.lintels:
        body = lintel.body
        if body is None:
            yield found("pass", at_fitting(lintel), "takes the place of no units")
            continue
        inside = Rect(body.left + WITHIN, body.bottom + WITHIN, body.right - WITHIN, body.top - WITHIN)
        units = _units(works[lintel.leaf], inside)
        others = [*_reinforcement(design, lintel, inside), *_ties(design, lintel, inside)]
        if units:
            yield found("fail", at_fitting(lintel), f"{counted(units, 'piece')} of masonry laid in its place")
        if others:
            yield found("warn", at_fitting(lintel), f"{listed(others)} drawn where it lies: to go into the bed over it instead")
        if not units and not others:
            yield found("pass", at_fitting(lintel), "nothing else in its place")


def _units(work: LaidWork, inside: Rect) -> int:
    """How many pieces of a leaf reach into a rectangle, those cut to a slope aside."""
    return sum(
        along.overlaps(inside.along)
        for course in work.coursing.courses
        if Span(course.level, course.top).overlaps(inside.levels)
        for placed in work.placements(course.number)
        if placed.span.overlaps(inside.along)
        and Span(placed.level, placed.level + work.height(placed.pattern)).overlaps(inside.levels)
        for along in work.stretches(placed)
    )


def _reinforcement(design: Design, lintel: Lintel, inside: Rect) -> Iterator[str]:
    lengths = [r for r in design.fittings.bed_reinforcement if r.leaf == lintel.leaf and r.span.overlaps(inside.along)]
    levels = sorted({r.level for r in lengths if inside.bottom < r.level + IN_BED < inside.top})
    if levels:
        yield f"reinforcement at {listed([design.figures.level(y) for y in levels])}"


def _ties(design: Design, lintel: Lintel, inside: Rect) -> Iterator[str]:
    across = ("field", "reveal", "joint", "verge")
    ties = [tie for of in design.fittings.ties if of.wall == lintel.wall for tie in of.ties if tie.kind in across]
    number = sum(inside.left < tie.at < inside.right and inside.bottom < tie.level < inside.top for tie in ties)
    if number:
        yield counted(number, "tie")
