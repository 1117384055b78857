"""No perpend stands too nearly over one in the course below."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from itertools import groupby
from typing import NamedTuple

from elevgen.checks._finding import BUILDING, Place, at_leaf, found
from elevgen.checks._lap_limits import LapLimit, lap_limit
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.checks.stack_bond import UNLAPPED
from elevgen.core.figures import Figures
from elevgen.core.geometry import at_least
from elevgen.core.sourced import Sourced
from elevgen.coursing.model import LeafCoursing, Pattern, Placement
from elevgen.result import Design, Finding

CODE = "lap"
TITLE = "Lap of units over those below"
RATIONALE = "Masonry holds together by lapping; where perpends come over one another it has a straight joint, and splits there."
KEY = "bond.lap.fraction"

_Pair = tuple[str, str, float]


class _Worst(NamedTuple):
    """The lap nearest to its limit or furthest under it (mm), and the upper course it is in."""

    spare: float
    lap: float
    limit: float
    course: int
    source: Sourced
    also: tuple[Sourced, ...]


def check(design: Design) -> Iterator[Finding]:
    """The least distance between perpends of neighbouring courses, centre to centre, against part of the unit's length and, where
    the set has it, of its height (EN 1996-1-1 8.1.4, as the set quotes it).

    Only courses of one unit on another of the same; one finding a leaf. Measured once for each pair of patterns. Bonds that do
    not lap are left to `stack-bond`.
    """
    least = rule(design, KEY)
    if least is None:
        yield uncovered(design, BUILDING, KEY)
        return
    patterns = {p.id: p for p in design.coursing.patterns}
    lines = {p.id: tuple(perpend.at + perpend.width / 2 for perpend in p.perpends) for p in design.coursing.patterns}
    units = {unit.name: unit for unit in design.building.units}
    known: dict[_Pair, float | None] = {}
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    limits = {name: lap_limit(design, unit, least) for name, unit in units.items()}
    for laid in design.coursing.leaves:
        place = at_leaf(leaves[laid.leaf])
        if leaves[laid.leaf].bond == UNLAPPED:
            yield found("note", place, "stack bond: its units do not lap")
        else:
            yield _judged(design.figures, place, laid, patterns, lines, limits, known)


def _judged(
    figures: Figures,
    place: Place,
    laid: LeafCoursing,
    patterns: dict[str, Pattern],
    lines: dict[str, tuple[float, ...]],
    limits: dict[str, LapLimit],
    known: dict[_Pair, float | None],
) -> Finding:
    worst: _Worst | None = None
    many = 0
    for lower, upper in _pairs(laid, patterns):
        pair = lower.pattern, upper.pattern, round(upper.span.start - lower.span.start, 3)
        if pair not in known:
            known[pair] = _closest(lines[lower.pattern], lines[upper.pattern], pair[2])
        lap = known[pair]
        if lap is None:
            continue
        limit, source, also = limits[patterns[lower.pattern].unit]
        many += not at_least(lap, limit)
        here = _Worst(lap - limit, lap, limit, upper.course, source, also)
        worst = here if worst is None else min(worst, here, key=lambda w: w[:4])
    if worst is None:
        return found("pass", place, "no perpend over another course of the same units")
    _, lap, limit, course, source, also = worst
    text = f"least lap {figures.measure(lap)}, in course {course}"
    if many:
        text += f"; too short in {counted(many, 'place')}"
    return found("warn" if many else "pass", place, text, measured=lap, least=limit, source=source, also=also)


def _pairs(laid: LeafCoursing, patterns: dict[str, Pattern]) -> Iterator[tuple[Placement, Placement]]:
    """Every two placements of neighbouring courses that lie over one another and are of one unit."""
    below: list[Placement] = []
    number = 0
    for course, group in groupby(sorted(laid.placements, key=lambda p: (p.course, p.span.start)), key=lambda p: p.course):
        here = list(group)
        if course == number + 1:
            for upper in here:
                for lower in below:
                    if lower.span.overlaps(upper.span) and patterns[lower.pattern].unit == patterns[upper.pattern].unit:
                        yield lower, upper
        below, number = here, course


def _closest(lower: tuple[float, ...], upper: tuple[float, ...], offset: float) -> float | None:
    """The least distance between perpends of two patterns, the upper `offset` to the right of the lower."""
    best: float | None = None
    for line in upper:
        at = line + offset
        i = bisect_left(lower, at)
        for other in lower[max(i - 1, 0) : i + 1]:
            best = abs(other - at) if best is None else min(best, abs(other - at))
    return best
