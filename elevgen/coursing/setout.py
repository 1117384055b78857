"""Set-out: the lengths of one stretch of course, given its ends and the perpends it stands on.

Perpends are opened or tightened before anything is cut; a cut makes one broken bond near the middle. The candidates
are few (end pieces x whole units x place of the cut), all are costed, and the cheapest wins; the first found wins a tie.
Lap is measured between the centre lines of a perpend and of the nearest one in the course below. All mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain, product
from math import ceil, floor, inf
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from elevgen.core.geometry import TOLERANCE, at_least, at_most

Cost = tuple[float, ...]
"""Cheapest first: perpends that lap too little, pieces too short, cuts at an end, cuts, how far perpends are from
nominal (a half unit at an end weighs as 1 mm), the smallest cut (negative), its distance from the middle."""


class Limits(NamedTuple):
    """What a unit and the rule set allow: perpends `narrow` to `wide`, `joint` nominal; laps and pieces at least so long.

    `tip` is the shortest piece worth cutting at a raking end; what is shorter is mortar.
    """

    unit: float
    joint: float
    narrow: float
    wide: float
    lap: float
    least: float
    tip: float

    @property
    def module(self) -> float:
        return self.unit + self.joint

    def whole(self, length: float) -> bool:
        return abs(length - self.unit) <= TOLERANCE

    def allow(self, perpend: float) -> bool:
        return at_least(perpend, self.narrow) and at_most(perpend, self.wide)


class End(NamedTuple):
    """How a stretch may end: the pieces that may stand there, the one to prefer first.

    `hidden` is what such a piece has besides, out of sight round a corner. A raking end takes any length.
    """

    pieces: tuple[float, ...]
    hidden: float = 0.0
    raking: bool = False

    def takes(self, length: float) -> bool:
        return any(abs(length - piece) <= TOLERANCE for piece in self.pieces)


class Stretch(NamedTuple):
    """A length to fill between two ends; `below` are the centre lines of the perpends under it, from its left, in order."""

    length: float
    left: End
    right: End
    below: tuple[float, ...]

    def mirrored(self) -> Stretch:
        return Stretch(self.length, self.right, self.left, tuple(self.length - b for b in reversed(self.below)))


class Layout(NamedTuple):
    """Pieces from left to right as (length, how many) with equal perpends between; `rests` is mortar left at the two ends."""

    runs: tuple[tuple[float, int], ...]
    perpend: float
    rests: tuple[float, float] = (0.0, 0.0)

    def mirrored(self) -> Layout:
        return Layout(self.runs[::-1], self.perpend, self.rests[::-1])


Candidate = tuple[Cost, Layout]
Lines = NDArray[np.floating[Any]]


class _Ground:
    """The perpends a stretch stands on, asked which of its own stand too near them."""

    def __init__(self, below: Sequence[float], lap: float) -> None:
        self._below = np.array([-inf, *below, inf])
        self._limit = lap - TOLERANCE

    def clashes(self, lines: Lines) -> NDArray[np.bool_]:
        """For each perpend whether one below stands nearer than the lap."""
        after = self._below.searchsorted(lines)
        near: NDArray[np.bool_] = np.minimum(self._below[after] - lines, lines - self._below[after - 1]) < self._limit
        return near


def set_out(stretch: Stretch, limits: Limits) -> Layout:
    """The pieces and perpends that fill a stretch exactly. Never refuses: too short a stretch gets cut pieces."""
    if stretch.left.raking and not stretch.right.raking:
        return set_out(stretch.mirrored(), limits).mirrored()
    if stretch.length <= limits.unit + TOLERANCE:
        return Layout(((stretch.length, 1),), limits.joint)
    ground = _Ground(stretch.below, limits.lap)
    if stretch.right.raking:
        return _cheapest(_running_out(stretch, limits, ground))
    whole = list(_unbroken(stretch, limits, ground))
    if whole and (best := min(whole, key=_cost))[0][:2] == (0, 0):
        return best[1]
    return _cheapest(chain(whole, _broken(stretch, limits, ground), _short(stretch, limits, ground)))


def _cost(candidate: Candidate) -> Cost:
    return candidate[0]


def _cheapest(candidates: Iterator[Candidate] | chain[Candidate]) -> Layout:
    return min(candidates, key=_cost)[1]


def _unbroken(stretch: Stretch, limits: Limits, ground: _Ground) -> Iterator[Candidate]:
    """Whole units between the end pieces, the perpends sharing the difference."""
    for left, right in product(stretch.left.pieces, stretch.right.pieces):
        free = stretch.length - left - right
        near = (free - limits.joint) / limits.module
        for count in sorted({floor(near), ceil(near)}):
            perpend = (free - count * limits.unit) / (count + 1) if count >= 0 else inf
            if limits.allow(perpend):
                lines = left + perpend / 2 + np.arange(count + 1) * (limits.unit + perpend)
                clashes = int(ground.clashes(lines).sum())
                cost = (clashes, 0, 0, 0, _effort(stretch, limits, left, right, perpend), 0.0, 0.0)
                yield cost, Layout(((left, 1), (limits.unit, count), (right, 1)), perpend)


def _broken(stretch: Stretch, limits: Limits, ground: _Ground) -> Iterator[Candidate]:
    """One broken bond of one cut piece or of two alike, in the place between the end pieces that suits best."""
    for left, right in product(stretch.left.pieces, stretch.right.pieces):
        free = stretch.length - left - right
        for cuts in (1, 2):
            count = floor((free - (cuts + 1) * limits.joint - cuts * limits.least + TOLERANCE) / limits.module)
            cut = (free - count * limits.module - (cuts + 1) * limits.joint) / cuts
            if count >= 0 and at_most(cut, limits.unit):
                yield _best_place(stretch, limits, ground, (left, right), count, (cut, cuts), limits.joint)
        count += 2
        perpend = (free - count * limits.unit - limits.least) / (count + 2)
        if count >= 0 and limits.allow(perpend):
            yield _best_place(stretch, limits, ground, (left, right), count, (limits.least, 1), perpend)


def _best_place(
    stretch: Stretch,
    limits: Limits,
    ground: _Ground,
    ends: tuple[float, float],
    count: int,
    cut: tuple[float, int],
    perpend: float,
) -> Candidate:
    """`count` whole units and the cut ones among them: the place with the fewest short laps, then nearest the middle."""
    left, right = ends
    length, places = stretch.length, np.arange(count + 1)
    from_left = left + perpend / 2 + places * (limits.unit + perpend)
    from_right = length - right - perpend / 2 - places * (limits.unit + perpend)
    pitch = cut[0] + perpend
    clashes = ground.clashes(from_left).cumsum() + ground.clashes(from_right).cumsum()[::-1]
    for k in range(1, cut[1]):
        clashes = clashes + ground.clashes(from_left + k * pitch)
    off_middle = np.abs(from_left + cut[1] * pitch / 2 - length / 2).round(6)
    before = int(np.lexsort((off_middle, clashes))[0])
    short = 0 if at_least(cut[0], limits.least) else cut[1]
    effort = _effort(stretch, limits, left, right, perpend)
    cost = (int(clashes[before]), short, 0, cut[1], effort, -round(cut[0], 6), float(off_middle[before]))
    return cost, Layout(((left, 1), (limits.unit, before), cut, (limits.unit, count - before), (right, 1)), perpend)


def _short(stretch: Stretch, limits: Limits, ground: _Ground) -> Iterator[Candidate]:
    """For stretches too short for the rest: two pieces, or as many equal ones as it takes."""
    pieces = ceil((stretch.length + limits.joint - TOLERANCE) / limits.module)
    equal = (stretch.length - (pieces - 1) * limits.joint) / pieces
    yield _explicit(stretch, limits, ground, [equal] * pieces)
    if pieces == 2:
        both = stretch.length - limits.joint
        known = {*stretch.left.pieces, *stretch.right.pieces, limits.unit, limits.least, limits.least + limits.lap}
        lapped = {below - limits.joint / 2 + side * limits.lap for below in stretch.below for side in (-1, 1)}
        for length in sorted({round(x, 6) for x in known | lapped | {both - x for x in known}}):
            if 0 < length < both and max(length, both - length) <= limits.unit + TOLERANCE:
                yield _explicit(stretch, limits, ground, [length, both - length])


def _explicit(stretch: Stretch, limits: Limits, ground: _Ground, lengths: Sequence[float]) -> Candidate:
    """Pieces given one by one, at nominal perpends."""
    lines = np.cumsum(lengths[:-1]) + limits.joint * (np.arange(len(lengths) - 1) + 0.5)
    clashes = int(ground.clashes(lines).sum())
    ends = (not stretch.left.takes(lengths[0])) + (not stretch.right.takes(lengths[-1]))
    cut = [x for x in lengths[1:-1] if not limits.whole(x)]
    short = sum(not at_least(x, limits.least) for x in lengths)
    smallest = -round(min(lengths), 6)
    cost = (clashes, short, ends, ends + len(cut), _effort(stretch, limits, lengths[0], lengths[-1], limits.joint), smallest, 0.0)
    return cost, Layout(tuple((x, 1) for x in lengths), limits.joint)


def _running_out(stretch: Stretch, limits: Limits, ground: _Ground) -> Iterator[Candidate]:
    """Towards a raking end: whole units at nominal perpends, the last as long as there is room for."""
    for rest, first in _starts(stretch, limits):
        at = rest + first + limits.joint
        count = max(0, floor((stretch.length - at + limits.joint + TOLERANCE) / limits.module))
        last = stretch.length - at - count * limits.module
        runs = ((first, 1), (limits.unit, count))
        lines = at - limits.joint / 2 + np.arange(count + (last > limits.tip)) * limits.module
        clashes = int(ground.clashes(lines).sum())
        cost = (clashes, 0, 0, 0, _effort(stretch, limits, first, limits.unit, limits.joint), 0.0, 0.0)
        if at_least(last, limits.tip):
            yield cost, Layout((*runs, (last, 1)), limits.joint, (rest, 0.0))
        else:
            yield cost, Layout(runs, limits.joint, (rest, last + limits.joint))


def _starts(stretch: Stretch, limits: Limits) -> Iterator[tuple[float, float]]:
    """(mortar before it, length of the first piece); under a rake at both ends the bond below says where units lie."""
    if not stretch.left.raking:
        yield from ((0.0, piece) for piece in stretch.left.pieces)
        return
    middle = min(stretch.below, key=lambda b: abs(b - stretch.length / 2), default=stretch.length / 2)
    first = (middle - limits.unit / 2) % limits.module - limits.joint
    if first < limits.tip:
        yield max(0.0, first + limits.joint), limits.unit
    else:
        yield 0.0, first


def _effort(stretch: Stretch, limits: Limits, left: float, right: float, perpend: float) -> float:
    second = (left != stretch.left.pieces[0] if stretch.left.pieces else 0) + (
        right != stretch.right.pieces[0] if stretch.right.pieces else 0
    )
    return round(abs(perpend - limits.joint) + second, 6)
