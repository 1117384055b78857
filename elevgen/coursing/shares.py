"""How often each way of cutting up a length is used where ways may be used in part: a linear programme."""

from __future__ import annotations

from collections.abc import Sequence

EPS = 1e-9


def shares_of(ways: Sequence[Sequence[int]], number: Sequence[int]) -> tuple[list[float], list[float]]:
    """What each piece is worth, and how often each way is used, where ways may be used in part.

    The simplex method on the dual: the most that all pieces can be worth if no way of cutting is worth more than one length.
    """
    n = len(number)
    rows = [[*map(float, way), 1.0] for way in ways]
    gain = [*map(float, number), 0.0]
    columns, basis = list(range(n)), [n + r for r in range(len(ways))]
    for _ in range(50 * (n + 1)):
        most = max(gain[:n])
        enter = min((j for j in range(n) if gain[j] == most), key=columns.__getitem__)
        steep = [r for r, row in enumerate(rows) if row[enter] > EPS]
        if gain[enter] <= EPS or not steep:
            break
        leave = min(steep, key=lambda r: (rows[r][-1] / rows[r][enter], basis[r]))
        _pivot(rows, gain, leave, enter)
        columns[enter], basis[leave] = basis[leave], columns[enter]
    worth, often = [0.0] * n, [0.0] * len(ways)
    for r, variable in enumerate(basis):
        if variable < n:
            worth[variable] = rows[r][-1]
    for j, variable in enumerate(columns):
        if variable >= n:
            often[variable - n] = max(0.0, -gain[j])
    return worth, often


def _pivot(rows: list[list[float]], gain: list[float], leave: int, enter: int) -> None:
    pivot = rows[leave]
    by = pivot[enter]
    pivot[:] = [value / by for value in pivot]
    pivot[enter] = 1.0 / by
    filled = [(j, value) for j, value in enumerate(pivot) if value]
    for row in (*(row for r, row in enumerate(rows) if r != leave), gain):
        factor = row[enter]
        if factor:
            row[enter] = 0.0
            for j, value in filled:
                row[j] -= factor * value
