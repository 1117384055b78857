"""The rows ties can lie in: beds both leaves have at one level, and which of them to use."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.fittings.beds import Bed


class Row(NamedTuple):
    """A level a tie can lie at, with the bed it lies in on each side; `shared` is False where the inner leaf has none there."""

    level: float
    outer: Span
    inner: Span
    shared: bool


def tie_rows(outer: Sequence[Bed], inner: Sequence[Bed], tolerance: float) -> tuple[Row, ...]:
    """The beds of the outer leaf, at their middle, each with the inner leaf's bed that comes to its level."""
    rows: list[Row] = []
    across = iter(inner)
    candidate = next(across, None)
    for bed in outer:
        while candidate and candidate.middle < bed.middle - tolerance - TOLERANCE:
            candidate = next(across, None)
        if candidate and at_most(candidate.middle - bed.middle, tolerance):
            rows.append(Row(bed.middle, bed.levels, candidate.levels, True))
        else:
            rows.append(Row(bed.middle, bed.levels, Span(bed.middle, bed.middle), False))
    return tuple(rows)


def spread(rows: Sequence[Row], within: Span, spacing: float) -> tuple[Row, ...]:
    """As few rows as leave no gap over `spacing` from bottom to top: shared ones, others only where no shared one is in reach."""
    chosen: list[Row] = []
    at = within.start
    left = [row for row in rows if within.start < row.level < within.end]
    while left and not at_most(within.end - at, spacing):
        reached = [row for row in left if at_most(row.level - at, spacing)]
        chosen.append(([row for row in reached if row.shared] or reached or left[:1])[-1])
        at = chosen[-1].level
        left = [row for row in left if row.level > at]
    return tuple(chosen)


def close_up(chosen: Sequence[Row], rows: Sequence[Row], within: Span, spacing: float) -> tuple[Row, ...]:
    """The chosen rows and as many between them as leave no gap over `spacing`, where there are any.

    Between two shared rows only shared ones are added.
    """
    stations = [(within.start, True), *((row.level, row.shared) for row in chosen), (within.end, True)]
    added: list[Row] = []
    for (low, low_shared), (high, high_shared) in pairwise(stations):
        usable = [row for row in rows if low + TOLERANCE < row.level < high - TOLERANCE]
        shared = [row for row in usable if row.shared]
        added.extend(_halved(low, high, shared or (usable if not (low_shared and high_shared) else []), spacing))
    return tuple(sorted((*chosen, *added), key=lambda row: row.level))


def _halved(low: float, high: float, rows: Sequence[Row], spacing: float) -> list[Row]:
    inside = [row for row in rows if low + TOLERANCE < row.level < high - TOLERANCE]
    if at_most(high - low, spacing) or not inside:
        return []
    middle = min(inside, key=lambda row: (abs(row.level - (low + high) / 2), row.level))
    return [*_halved(low, middle.level, inside, spacing), middle, *_halved(middle.level, high, inside, spacing)]


def largest_gap(rows: Sequence[Row], within: Span) -> float:
    """The largest gap from the bottom over the rows to the top."""
    stations = [within.start, *(row.level for row in rows), within.end]
    return max(high - low for low, high in pairwise(stations))
