"""Ties under sloping tops."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil

from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.fittings.tie_bays import CLEAR, Bay, Cavity
from elevgen.fittings.tie_edges import APART, Kinds
from elevgen.fittings.tie_rows import Row


def add_verge_ties(
    cavity: Cavity,
    rows: Sequence[Row],
    bays_of: Callable[[Row], Sequence[Bay]],
    placed: dict[float, Kinds],
    half: float,
    along: float,
    deep: float,
) -> None:
    """Add ties under sloping tops: no more than `along` apart, each in the highest row within `deep` with masonry round it.

    `half` is half the spacing of the field grid: the verge's ties stand on it, divided as the slope asks.
    """
    for at, top in _columns(cavity, half, along, deep):
        near = [row for row in rows if row.level < top and at_most(top - row.level, deep)]
        if _marked(placed, near, at):
            continue
        for row in sorted(near, key=lambda row: (row.shared, row.level), reverse=True):
            if any(bay.span.grown(-CLEAR).contains(at) for bay in bays_of(row)):
                placed.setdefault(row.level, {})[at] = "verge"
                break


def _columns(cavity: Cavity, half: float, along: float, deep: float) -> Iterator[tuple[float, float]]:
    """Where ties stand along sloping tops, and the level of the top there."""
    span = cavity.span
    for (start, low), (end, high) in pairwise(cavity.outer.top.clipped(span)):
        if end - start <= TOLERANCE or abs(high - low) <= TOLERANCE:
            continue
        step = min(along, deep * (end - start) / abs(high - low))
        parts = 2 * ceil((half - TOLERANCE) / step / 2)
        first, last = ceil((start - span.start) / half * parts), int((end - span.start) / half * parts)
        for k in range(first, last + 1):
            at = span.start + k * half / parts
            yield at, min(leaf.top.level_right_of(at) for leaf in (cavity.outer, cavity.inner))


def _marked(placed: Mapping[float, Kinds], near: Sequence[Row], at: float) -> bool:
    """True, and the tie marked, where one already stands in this column near enough to the verge."""
    for row in reversed(near):
        kinds = placed.get(row.level, {})
        there = next((known for known in sorted(kinds) if abs(known - at) < APART - TOLERANCE), None)
        if there is not None:
            kinds[there] = "verge" if kinds[there] == "field" else kinds[there]
            return True
    return False
