"""The least stock for lapped lengths, the slow ways: every split into every bar, and a mixed-integer programme."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations_with_replacement, product

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp


def fewest_pieces(length: int, stock: int, lap: int) -> int:
    """Counted up one by one."""
    number = 1
    while number * stock - (number - 1) * lap < length:
        number += 1
    return number


def by_trying(lengths: Sequence[int], stock: int, lap: int, least: int) -> int:
    """Every way to make each length of its fewest pieces, in whole numbers, and every way to share those out among bars."""
    ways = [_splits(length, stock, lap, least) for length in lengths]
    best = sum(max(len(way) for way in each) for each in ways)
    for chosen in product(*ways):
        pieces = sorted((piece for way in chosen for piece in way), reverse=True)
        if -(-sum(pieces) // stock) < best:
            best = min(best, _bars(pieces, stock, best))
    return best


def _splits(length: int, stock: int, lap: int, least: int) -> list[tuple[int, ...]]:
    number = fewest_pieces(length, stock, lap)
    if number == 1:
        return [(length,)]
    total = length + (number - 1) * lap
    return [p for p in combinations_with_replacement(range(least, stock + 1), number) if sum(p) == total]


def _bars(pieces: Sequence[int], stock: int, most: int) -> int:
    """Fewest bars, no more than `most`: each piece into every bar with room."""
    best = most

    def put(index: int, rooms: list[int]) -> None:
        nonlocal best
        if len(rooms) >= best:
            return
        if index == len(pieces):
            best = len(rooms)
            return
        for n, room in enumerate(rooms):
            if room >= pieces[index] and room not in rooms[:n]:
                put(index + 1, [*rooms[:n], room - pieces[index], *rooms[n + 1 :]])
        put(index + 1, [*rooms, stock - pieces[index]])

    put(0, [])
    return best


def by_programme(lengths: Sequence[int], stock: int, lap: int, least: int, most: int) -> int:
    """Pieces of any length in any of `most` bars, by scipy: which bar a piece is in, how long it is, which bars are used."""
    pieces = [(n, k) for n, length in enumerate(lengths) for k in range(fewest_pieces(length, stock, lap))]
    p = len(pieces)
    size = p * most  # in[p, b], then long[p, b], then used[b]
    cost = np.concatenate([np.zeros(2 * size), np.ones(most)])
    rows, low, high = [], [], []

    def row(entries: dict[int, float], least_sum: float, most_sum: float) -> None:
        line = np.zeros(2 * size + most)
        for at, value in entries.items():
            line[at] = value
        rows.append(line)
        low.append(least_sum)
        high.append(most_sum)

    for i, (n, _) in enumerate(pieces):
        row({i * most + b: 1 for b in range(most)}, 1, 1)
        alone = fewest_pieces(lengths[n], stock, lap) == 1
        for b in range(most):
            row({size + i * most + b: 1, i * most + b: -stock}, -np.inf, 0)
            row({size + i * most + b: 1, i * most + b: -(lengths[n] if alone else least)}, 0, np.inf)
    for n, length in enumerate(lengths):
        number = fewest_pieces(length, stock, lap)
        total = length + (number - 1) * lap
        row({size + i * most + b: 1 for i, (m, _) in enumerate(pieces) if m == n for b in range(most)}, total, np.inf)
    for b in range(most):
        row({**{size + i * most + b: 1 for i in range(p)}, 2 * size + b: -stock}, -np.inf, 0)
        if b:
            row({2 * size + b - 1: 1, 2 * size + b: -1}, 0, np.inf)
    whole = np.concatenate([np.ones(size), np.zeros(size), np.ones(most)])
    bounds = Bounds(0, np.concatenate([np.ones(size), np.full(size, stock), np.ones(most)]))
    solved = milp(cost, constraints=LinearConstraint(np.array(rows), low, high), integrality=whole, bounds=bounds)
    assert solved.success, solved.message
    return round(solved.fun)
