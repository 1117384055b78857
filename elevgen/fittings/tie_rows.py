"""The rows ties can lie in: beds both leaves have at one level, and which of them to use."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.fittings.beds import Bed


@dataclass(frozen=True, slots=True)
class Row:
    """A level a tie can lie at, with the bed it lies in on each side."""

    level: float
    outer: Span
    inner: Span


def shared_rows(outer: Sequence[Bed], inner: Sequence[Bed], tolerance: float) -> tuple[Row, ...]:
    """The beds of the two leaves that come to one level, at the middle of the outer leaf's bed."""
    rows: list[Row] = []
    across = iter(inner)
    candidate = next(across, None)
    for bed in outer:
        while candidate and candidate.middle < bed.middle - tolerance - TOLERANCE:
            candidate = next(across, None)
        if candidate and at_most(candidate.middle - bed.middle, tolerance):
            rows.append(Row(bed.middle, bed.levels, candidate.levels))
    return tuple(rows)


def outer_rows(outer: Sequence[Bed]) -> tuple[Row, ...]:
    """The outer leaf's beds alone, for walls whose beds never meet."""
    return tuple(Row(bed.middle, bed.levels, Span(bed.middle, bed.middle)) for bed in outer)


def spread(levels: Sequence[float], within: Span, spacing: float) -> tuple[float, ...]:
    """As few of the levels as leave no gap over `spacing` from bottom to top, or no larger one than they force."""
    chosen: list[float] = []
    at = within.start
    left = [level for level in levels if within.start < level < within.end]
    while left and not at_most(within.end - at, spacing):
        reached = [level for level in left if at_most(level - at, spacing)]
        at = reached[-1] if reached else left[0]
        chosen.append(at)
        left = [level for level in left if level > at]
    return tuple(chosen)


def close_up(rows: Sequence[float], levels: Sequence[float], within: Span, spacing: float) -> tuple[float, ...]:
    """The rows with as many of the levels added between them as leave no gap over `spacing`, where the levels allow it."""
    stations = [within.start, *rows, within.end]
    added = [level for low, high in pairwise(stations) for level in _halved(low, high, levels, spacing)]
    return tuple(sorted({*rows, *added}))


def _halved(low: float, high: float, levels: Sequence[float], spacing: float) -> list[float]:
    if at_most(high - low, spacing):
        return []
    inside = [level for level in levels if low + TOLERANCE < level < high - TOLERANCE]
    if not inside:
        return []
    middle = min(inside, key=lambda level: (abs(level - (low + high) / 2), level))
    return [*_halved(low, middle, inside, spacing), middle, *_halved(middle, high, inside, spacing)]


def largest_gap(rows: Sequence[float], within: Span) -> float:
    """The largest gap from the bottom over the rows to the top."""
    stations = [within.start, *rows, within.end]
    return max(high - low for low, high in pairwise(stations))
