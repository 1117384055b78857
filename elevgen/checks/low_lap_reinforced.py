"""Where courses lap too little over a stretch, the bed between them is reinforced."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._lap_limits import lap_limit
from elevgen.checks._masonry import gaps_at, joints_by_leaf, stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.checks.stack_bond import UNLAPPED
from elevgen.core.geometry import Span, at_least, subtract
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

CODE = "low-lap-reinforced"
TITLE = "Reinforcement where courses lap too little"
RATIONALE = "Perpend over perpend is a straight joint in the making; steel in the bed between holds the two sides together."
KEY, LAP = "bed_reinforcement.short_laps", "bond.lap.fraction"


def check(design: Design) -> Iterator[Finding]:
    """Every row of so many perpends that stand too nearly over others: reinforcement in the bed under them, all along the row.

    Reaches past its ends are left to whoever builds. Bonds that do not lap are left to `stack-bond`.
    """
    row, least = rule(design, KEY), rule(design, LAP)
    if row is None or least is None:
        yield uncovered(design, BUILDING, KEY, LAP)
        return
    joints = joints_by_leaf(design)
    for leaf in (leaf for leaf in design.building.leaves if leaf.bond != UNLAPPED):
        rows = list(_rows(design, leaf, int(row.number), least))
        of_units = [lap_limit(design, zone.unit, least) for zone in leaf.zones]
        limits = [value for limit in of_units for value in (limit.source, *limit.also)]
        laid = [r for r in design.fittings.bed_reinforcement if r.leaf == leaf.id]
        bare = []
        for bed, along in rows:
            solid = stretches(leaf, bed.grown(1.0), gaps_at(joints[leaf.id], bed.middle))
            needed = [common for s in solid if (common := s.common(along))]
            there = [r.span for r in laid if bed.contains(r.level)]
            bare += [(bed, left) for part in needed for left in subtract(part, there)]
        for bed, left in bare:
            where = f"{design.figures.length(left.start)} to {design.figures.measure(left.end)} along the wall"
            text = f"courses lap too little over the bed at {design.figures.level(bed.start)}, {where}: reinforce it there"
            yield found("warn", at_leaf(leaf), text, source=row, also=limits)
        if not bare:
            text = f"{counted(len(rows), 'row')} of low laps reinforced" if rows else "no row of low laps"
            yield found("pass", at_leaf(leaf), text, also=limits)


def _rows(design: Design, leaf: Leaf, many: int, least: Sourced) -> Iterator[tuple[Span, Span]]:
    """The bed under each row, and the row from its first perpend to its last."""
    laid = design.coursing.of(leaf.id)
    patterns = {p.id: p for p in design.coursing.patterns}
    units = {zone.unit.name: zone.unit for zone in leaf.zones}
    lines: dict[tuple[int, str], list[float]] = {(course.number, course.unit): [] for course in laid.courses}
    for placed in laid.placements:
        pattern = patterns[placed.pattern]
        here = lines.get((placed.course, pattern.unit), [])
        here += [placed.span.start + p.at + p.width / 2 for p in pattern.perpends]
    for of_course in lines.values():
        of_course.sort()
    for lower, upper in pairwise(laid.courses):
        if lower.unit != upper.unit:
            continue
        limit = lap_limit(design, units[upper.unit], least).least
        for along in _too_near(lines[lower.number, lower.unit], lines[upper.number, upper.unit], limit, many):
            yield Span(lower.top, upper.level), along


def _too_near(lower: Sequence[float], upper: Sequence[float], limit: float, many: int) -> Iterator[Span]:
    """Rows of so many perpends one after another that stand too nearly over some below; both courses' from the left."""

    def too_near(at: float) -> bool:
        after = bisect_left(lower, at)
        return any(not at_least(abs(at - other), limit) for other in lower[max(after - 1, 0) : after + 1])

    for near, perpends in groupby(upper, key=too_near):
        row = list(perpends)
        if near and len(row) >= many:
            yield Span(row[0], row[-1])
