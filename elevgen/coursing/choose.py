"""One choice for each of several things, so that what single choices and pairs of choices cost is least in sum.

Exact, by taking out one thing after another, the one with fewest neighbours first: what stays remembers, for every choice
of those neighbours, what it would best have been.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from heapq import heapify, heappop, heappush
from math import prod
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Costs = NDArray[np.int64]

LARGEST = 1_000_000
"""Entries of the largest table. Past it the thing with most neighbours is settled by itself first; the rest stays exact."""


class _Table(NamedTuple):
    """Costs by the choices of some things, in ascending order of their numbers."""

    things: tuple[int, ...]
    costs: Costs

    def over(self, things: Sequence[int]) -> Costs:
        """Spread out over more things."""
        sizes = dict(zip(self.things, self.costs.shape, strict=True))
        return self.costs.reshape([sizes.get(thing, 1) for thing in things])


class _Taken(NamedTuple):
    """A thing taken out: the best choice of it for every choice of its neighbours."""

    thing: int
    beside: tuple[int, ...]
    best: NDArray[np.intp]


def choose(single: Sequence[Costs], pairs: Mapping[tuple[int, int], Costs], largest: int = LARGEST) -> list[int]:
    """For each thing the number of its choice. `pairs[i, j]` with i < j has a row for each choice of i."""
    tables = {i: [_Table((i,), costs)] for i, costs in enumerate(single)}
    beside: dict[int, set[int]] = {i: set() for i in tables}
    for (i, j), costs in sorted(pairs.items()):
        table = _Table((i, j), costs)
        tables[i].append(table)
        tables[j].append(table)
        beside[i].add(j)
        beside[j].add(i)
    taken: list[_Taken] = []
    waiting = [(len(others), thing) for thing, others in beside.items()]
    heapify(waiting)
    while tables:
        many, thing = heappop(waiting)
        if thing not in tables or many != len(beside[thing]):
            continue
        neighbours = tuple(sorted(beside[thing]))
        if prod(len(single[t]) for t in (thing, *neighbours)) <= largest:
            taken.append(_take_out(thing, neighbours, tables))
            for t in neighbours:
                beside[t].update(neighbours)
                beside[t] -= {t, thing}
                heappush(waiting, (len(beside[t]), t))
        else:
            heappush(waiting, (many, thing))
            thing = max(tables, key=lambda t: (len(beside[t]), -t))
            taken.append(_settle(thing, tables))
            for t in beside[thing]:
                beside[t].discard(thing)
                heappush(waiting, (len(beside[t]), t))
    return _read_back(taken)


def _take_out(thing: int, beside: tuple[int, ...], tables: dict[int, list[_Table]]) -> _Taken:
    things = tuple(sorted((thing, *beside)))
    axis = things.index(thing)
    gone = tables.pop(thing)
    together = sum((table.over(things) for table in gone[1:]), gone[0].over(things))
    rest = _Table(beside, together.min(axis))
    for t in beside:
        tables[t] = [*(table for table in tables[t] if thing not in table.things), rest]
    return _Taken(thing, beside, together.argmin(axis))


def _settle(thing: int, tables: dict[int, list[_Table]]) -> _Taken:
    """Its choice as if every neighbour could suit it."""
    gone = tables.pop(thing)
    hopes = [np.moveaxis(table.costs, table.things.index(thing), 0) for table in gone]
    best = int(sum(costs.reshape(len(costs), -1).min(1) for costs in hopes).argmin())
    for table, costs in zip(gone, hopes, strict=True):
        others = tuple(t for t in table.things if t != thing)
        rest = _Table(others, costs[best])
        for t in others:
            tables[t] = [x for x in tables[t] if x is not table] + [rest]
    return _Taken(thing, (), np.array(best))


def _read_back(taken: Sequence[_Taken]) -> list[int]:
    chosen: dict[int, int] = {}
    for thing, beside, best in reversed(taken):
        chosen[thing] = int(best[tuple(chosen[t] for t in beside)])
    return [chosen[i] for i in range(len(taken))]
