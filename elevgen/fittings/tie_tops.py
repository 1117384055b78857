"""Ties under the top of a wall: along verges, along free tops, and a row under every other top."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, at_most, subtract
from elevgen.fittings.tie_bays import ROUND, Bay, Cavity
from elevgen.fittings.tie_edges import Kinds
from elevgen.fittings.tie_rows import Row

BaysOf = Callable[[Row], Sequence[Bay]]


class Under(NamedTuple):
    """How ties stand under a top: no more than `along` apart, no deeper than `deep` under it. None: the rule set is silent."""

    along: float | None
    deep: float | None


class _Run(NamedTuple):
    """A stretch of the top without a step, level all along or sloping all along, and how ties stand under it."""

    span: Span
    lowest: float
    along: float
    deep: float


def add_top_ties(
    cavity: Cavity, rows: Sequence[Row], bays_of: BaysOf, placed: dict[float, Kinds], verge: Under, level: Under, up: float
) -> None:
    """Fill every gap between the ties under a top that is wider than the rule lets it be, evenly.

    Each goes in the highest bed of both leaves under the top. Where there is none as near the top as the rule asks, the first
    within the spacing of the field (`up`) serves instead.
    """
    shared = [row.level for row in rows if row.shared]
    for run in _runs(cavity, verge, level):
        for stretch in _masonry(cavity, run):
            there = sorted(at for at in _at_top(cavity, placed, shared, run.deep, up) if stretch.contains(at))
            for a, b in pairwise([stretch.start, *there, stretch.end]):
                parts = ceil((b - a - TOLERANCE) / run.along)
                for k in range(1, parts):
                    _add(cavity, rows, bays_of, placed, a + (b - a) * k / parts, run.deep, up)


def _runs(cavity: Cavity, verge: Under, level: Under) -> Iterator[_Run]:
    """The runs of the top from the start; slopes that follow one another are one run, as steep as the steepest."""
    current: _Run | None = None
    for (start, low), (end, high) in pairwise(cavity.outer.top.clipped(cavity.span)):
        made = None
        if end - start > TOLERANCE:
            made = _run(Span(start, end), low, high, verge, level)
        if current and made and current.deep == made.deep and current.along != level.along and made.along != level.along:
            span = Span(current.span.start, made.span.end)
            current = _Run(span, min(current.lowest, made.lowest), min(current.along, made.along), made.deep)
            continue
        if current:
            yield current
        current = made
    if current:
        yield current


def _run(span: Span, low: float, high: float, verge: Under, level: Under) -> _Run | None:
    rise = abs(high - low)
    along, deep = level if rise <= TOLERANCE else verge
    if along is None or deep is None:
        return None
    return _Run(span, min(low, high), along if rise <= TOLERANCE else min(along, deep * span.length / rise), deep)


def _masonry(cavity: Cavity, run: _Run) -> tuple[Span, ...]:
    """What is left of a run beside movement joints, and beside openings that reach up to its ties."""
    levels = Span(run.lowest - run.deep, run.lowest)
    holes = [joint.gap for joint in cavity.joints if joint.levels.end > levels.start]
    holes += [void.along for leaf in (cavity.outer, cavity.inner) for void in leaf.voids if void.top > levels.start]
    return subtract(run.span, holes)


def _top(cavity: Cavity, at: float) -> float:
    return min(leaf.top.level_right_of(at) for leaf in (cavity.outer, cavity.inner))


def _depth(shared: Sequence[float], top: float, deep: float, up: float) -> float:
    """How deep under a top its ties may lie: to the highest bed of both leaves, where that is deeper than the rule asks."""
    highest = max((level for level in shared if level < top - ROUND), default=top - 2 * up)
    return top - highest if deep < top - highest <= up + TOLERANCE else deep


def _at_top(cavity: Cavity, placed: Mapping[float, Kinds], shared: Sequence[float], deep: float, up: float) -> Iterator[float]:
    """Where ties stand that are near enough to the top."""
    lowest = min(level for _, level in cavity.outer.top.clipped(cavity.span)) - max(deep, up)
    for level, kinds in placed.items():
        if level < lowest - TOLERANCE:
            continue
        for at in kinds:
            top = _top(cavity, at)
            if level < top and at_most(top - level, _depth(shared, top, deep, up)):
                yield at


def _add(
    cavity: Cavity, rows: Sequence[Row], bays_of: BaysOf, placed: dict[float, Kinds], at: float, deep: float, up: float
) -> None:
    """A tie in the highest row under the top with room for it; in a bed of one leaf only where no bed of both is in reach."""
    top, keep = _top(cavity, at), cavity.keep
    depth = _depth([row.level for row in rows if row.shared], top, deep, up)
    near = [row for row in rows if row.level < top and at_most(top - row.level, depth)]
    for row in reversed([row for row in near if row.shared] or near):
        beside = placed.get(row.level, {})
        crowded = any(abs(other - at) < keep.apart - TOLERANCE for other in beside)
        if not crowded and any(bay.span.grown(-keep.clear).contains(at) for bay in bays_of(row)):
            placed.setdefault(row.level, {})[at] = "verge"
            return
