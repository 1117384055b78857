"""The rows ties can lie in: beds both leaves have at one level, and which of them to use."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most
from elevgen.fittings.beds import Bed

ENOUGH = 5.0
"""A tie lies in both beds where they share this much (mm): its own thickness, and mortar over it."""


class Row(NamedTuple):
    """A level a tie can lie at, in a bed of the outer leaf; `shared` is False where the inner leaf has none there."""

    level: float
    shared: bool


def tie_rows(outer: Sequence[Bed], inner: Sequence[Bed], tolerance: float) -> tuple[Row, ...]:
    """The beds of the outer leaf, where in them a tie lies, and whether the inner leaf has a bed that comes to its level.

    Beds come to one level where their middles are within tolerance, or where a thick bed reaches past the other's.
    """
    rows: list[Row] = []
    across = iter(inner)
    candidate = next(across, None)
    for bed in outer:
        while candidate and candidate.middle < bed.middle and _together(bed, candidate, tolerance) is None:
            candidate = next(across, None)
        level = _together(bed, candidate, tolerance) if candidate else None
        rows.append(Row(bed.middle, False) if level is None else Row(level, True))
    return tuple(rows)


def _together(outer: Bed, inner: Bed, tolerance: float) -> float | None:
    """Where a tie lies in both beds: in the middle of the outer one, or of what they share when a made-up bed is thick."""
    if at_most(abs(inner.middle - outer.middle), tolerance):
        return outer.middle
    shared = outer.levels.common(inner.levels)
    return shared.middle if shared and at_least(shared.length, ENOUGH) else None


def spread(rows: Sequence[Row], within: Span, spacing: float, last: float | None = None) -> tuple[Row, ...]:
    """As few rows as leave no gap over `spacing` from bottom to top: shared ones, others only where no shared one is in reach.

    `last` is the greatest gap at the top where that is less; for its sake only a shared row is taken.
    """
    chosen: list[Row] = []
    at = within.start
    left = [row for row in rows if within.start < row.level < within.end]
    if last is not None and any(row.shared and at_most(within.end - row.level, last) for row in left):
        within = Span(within.start, within.end + max(spacing - last, 0.0))
    while left and not at_most(within.end - at, spacing):
        reached = [row for row in left if at_most(row.level - at, spacing)]
        chosen.append(([row for row in reached if row.shared] or reached or left[:1])[-1])
        at = chosen[-1].level
        left = [row for row in left if row.level > at]
    return tuple(chosen)


def close_up(chosen: Sequence[Row], rows: Sequence[Row], within: Span, spacing: float) -> tuple[Row, ...]:
    """The chosen rows and as many between them as leave no gap over `spacing`, where there are any."""
    added: list[Row] = []
    for low, high, usable in _between(chosen, rows, within):
        added.extend(halved(low, high, usable, spacing))
    return tuple(sorted((*chosen, *added), key=lambda row: row.level))


def one_more(chosen: Sequence[Row], rows: Sequence[Row], within: Span, length: Callable[[Row], float]) -> tuple[Row, ...] | None:
    """The chosen rows and one more half way up one of the widest gaps; None where there is none to add.

    Of gaps about as wide, the one with the longest row in it; of such, the uppermost, at the free end of the wall.
    """
    found = [(high - low, _nearest(usable, (low + high) / 2)) for low, high, usable in _between(chosen, rows, within) if usable]
    if not found:
        return None
    widest = max(gap for gap, _ in found)
    added = max((row for gap, row in found if gap >= 0.75 * widest), key=lambda row: (length(row), row.level))
    return tuple(sorted((*chosen, added), key=lambda row: row.level))


def beside_wide_gaps(chosen: Sequence[Row], within: Span, spacing: float) -> frozenset[float]:
    """The levels of the rows next to a gap over `spacing`, the one to the bottom or the top of the wall included."""
    stations = [within.start, *(row.level for row in chosen), within.end]
    return frozenset(level for low, high in pairwise(stations) if not at_most(high - low, spacing) for level in (low, high))


def _between(chosen: Sequence[Row], rows: Sequence[Row], within: Span) -> Iterator[tuple[float, float, list[Row]]]:
    """Every gap between the chosen rows, bottom and top included, with the rows in it that can be used.

    Between two shared rows only shared ones: in others a tie lies in no bed of the inner leaf.
    """
    stations = [(within.start, True), *((row.level, row.shared) for row in chosen), (within.end, True)]
    for (low, low_shared), (high, high_shared) in pairwise(stations):
        inside = [row for row in rows if low + TOLERANCE < row.level < high - TOLERANCE]
        shared = [row for row in inside if row.shared]
        yield low, high, shared or (inside if not (low_shared and high_shared) else [])


def _nearest(rows: Sequence[Row], level: float) -> Row:
    return min(rows, key=lambda row: (abs(row.level - level), row.level))


def halved(low: float, high: float, rows: Sequence[Row], spacing: float) -> list[Row]:
    """As many of the rows between two levels as leave no gap over `spacing`, each half way up its gap, where there are any."""
    inside = [row for row in rows if low + TOLERANCE < row.level < high - TOLERANCE]
    if at_most(high - low, spacing) or not inside:
        return []
    middle = _nearest(inside, (low + high) / 2)
    return [*halved(low, middle.level, inside, spacing), middle, *halved(middle.level, high, inside, spacing)]


def largest_gap(rows: Sequence[Row], within: Span) -> float:
    """The largest gap from the bottom over the rows to the top."""
    stations = [within.start, *(row.level for row in rows), within.end]
    return max(high - low for low, high in pairwise(stations))
