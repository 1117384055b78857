"""The least sum of tables over shared variables, exactly, one variable at a time."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod
from typing import NamedTuple

import numpy as np

from elevgen.joints.line import NEVER, Cost, Ints

LARGEST = 6_000_000
"""Entries of the largest table worth making."""


class TooLarge(Exception):  # noqa: N818 - not a fault, a size
    """A table would be too large to make."""


class Factor(NamedTuple):
    """Costs by the states of its variables, one axis each, variables rising."""

    variables: tuple[int, ...]
    a: Ints
    b: Ints


def eliminate(sizes: Sequence[int], factors: Sequence[Factor]) -> tuple[Cost, tuple[int, ...]]:
    """The least total and the state of every variable in it. Raises TooLarge."""
    left = list(factors)
    waiting = set(range(len(sizes)))
    solved: list[tuple[int, tuple[int, ...], Ints]] = []
    total_a, total_b = 0, 0
    while waiting:
        variable = min(waiting, key=lambda v: (_size(_joined(v, left), sizes), v))
        waiting.remove(variable)
        joined = _joined(variable, left)
        if _size(joined, sizes) > LARGEST:
            raise TooLarge
        a = np.zeros([sizes[v] for v in joined], dtype=np.int64)
        b = np.zeros_like(a)
        for factor in left:
            if variable in factor.variables:
                shape = [sizes[v] if v in factor.variables else 1 for v in joined]
                a += factor.a.reshape(shape)
                b += factor.b.reshape(shape)
                np.minimum(a, NEVER, out=a)
        left = [f for f in left if variable not in f.variables]
        axis = joined.index(variable)
        best_a = a.min(axis=axis)
        b[a > np.expand_dims(best_a, axis)] = np.iinfo(np.int64).max
        pick = b.argmin(axis=axis)
        best_b = b.min(axis=axis)
        others = tuple(v for v in joined if v != variable)
        solved.append((variable, others, pick))
        if others:
            left.append(Factor(others, best_a, best_b))
        else:
            total_a, total_b = total_a + int(best_a), total_b + int(best_b)
    total_a += sum(int(f.a) for f in left)
    total_b += sum(int(f.b) for f in left)
    state = [0] * len(sizes)
    for variable, others, pick in reversed(solved):
        state[variable] = int(pick[tuple(state[v] for v in others)])
    return (min(total_a, NEVER), total_b), tuple(state)


def _joined(variable: int, factors: Sequence[Factor]) -> tuple[int, ...]:
    return tuple(sorted({variable}.union(*(f.variables for f in factors if variable in f.variables))))


def _size(variables: tuple[int, ...], sizes: Sequence[int]) -> int:
    return prod(sizes[v] for v in variables)
