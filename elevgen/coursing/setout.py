"""Set-out: the lengths of one stretch of course, given its ends and the perpends it stands on.

Perpends are opened or tightened before anything is cut; a cut makes one broken bond near the middle. The candidates
are few (end pieces x whole units x place of the cut), all are costed, and the cheapest wins; the first found wins a tie.
Lap is measured between the centre lines of a perpend and of the nearest one in the course below. All mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, chain, product
from math import ceil, floor, inf

from elevgen.core.geometry import TOLERANCE, at_least, at_most

Cost = tuple[float, ...]
"""Cheapest first: perpends that lap too little, pieces too short, cuts at an end, cuts, how far perpends are from
nominal (a half unit at an end weighs as 1 mm), the smallest cut (negative), its distance from the middle."""


@dataclass(frozen=True, slots=True)
class Limits:
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


@dataclass(frozen=True, slots=True)
class End:
    """How a stretch may end: the pieces that may stand there, the one to prefer first.

    `hidden` is what such a piece has besides, out of sight round a corner. A raking end takes any length.
    """

    pieces: tuple[float, ...]
    hidden: float = 0.0
    raking: bool = False

    def takes(self, length: float) -> bool:
        return any(abs(length - piece) <= TOLERANCE for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Stretch:
    """A length to fill between two ends; `below` are the centre lines of the perpends under it, from its left, in order."""

    length: float
    left: End
    right: End
    below: tuple[float, ...]

    def mirrored(self) -> Stretch:
        return Stretch(self.length, self.right, self.left, tuple(self.length - b for b in reversed(self.below)))


@dataclass(frozen=True, slots=True)
class Layout:
    """Pieces from left to right as (length, how many) with equal perpends between; `rests` is mortar left at the two ends."""

    runs: tuple[tuple[float, int], ...]
    perpend: float
    rests: tuple[float, float] = (0.0, 0.0)

    def mirrored(self) -> Layout:
        return Layout(self.runs[::-1], self.perpend, self.rests[::-1])


Candidate = tuple[Cost, Layout]


def set_out(stretch: Stretch, limits: Limits) -> Layout:
    """The pieces and perpends that fill a stretch exactly. Never refuses: too short a stretch gets cut pieces."""
    if stretch.left.raking and not stretch.right.raking:
        return set_out(stretch.mirrored(), limits).mirrored()
    if stretch.length <= limits.unit + TOLERANCE:
        return Layout(((stretch.length, 1),), limits.joint)
    if stretch.right.raking:
        return _cheapest(_running_out(stretch, limits))
    whole = list(_unbroken(stretch, limits))
    if whole and (best := min(whole, key=_cost))[0][:2] == (0, 0):
        return best[1]
    return _cheapest(chain(whole, _broken(stretch, limits), _short(stretch, limits)))


def _cost(candidate: Candidate) -> Cost:
    return candidate[0]


def _cheapest(candidates: Iterator[Candidate] | chain[Candidate]) -> Layout:
    return min(candidates, key=_cost)[1]


def _unbroken(stretch: Stretch, limits: Limits) -> Iterator[Candidate]:
    """Whole units between the end pieces, the perpends sharing the difference."""
    for left, right in product(stretch.left.pieces, stretch.right.pieces):
        free = stretch.length - left - right
        near = (free - limits.joint) / limits.module
        for count in sorted({floor(near), ceil(near)}):
            perpend = (free - count * limits.unit) / (count + 1) if count >= 0 else inf
            if limits.allow(perpend):
                clashes = len(_clashing(left + perpend / 2, limits.unit + perpend, count + 1, stretch.below, limits.lap))
                cost = (clashes, 0, 0, 0, _effort(stretch, limits, left, right, perpend), 0.0, 0.0)
                yield cost, Layout(((left, 1), (limits.unit, count), (right, 1)), perpend)


def _broken(stretch: Stretch, limits: Limits) -> Iterator[Candidate]:
    """One broken bond of one cut piece or of two alike, in the place between the end pieces that suits best."""
    for left, right in product(stretch.left.pieces, stretch.right.pieces):
        free = stretch.length - left - right
        for cuts in (1, 2):
            count = floor((free - (cuts + 1) * limits.joint - cuts * limits.least + TOLERANCE) / limits.module)
            cut = (free - count * limits.module - (cuts + 1) * limits.joint) / cuts
            if count >= 0 and at_most(cut, limits.unit):
                yield _best_place(stretch, limits, (left, right), count, (cut, cuts), limits.joint)
        count += 2
        perpend = (free - count * limits.unit - limits.least) / (count + 2)
        if count >= 0 and limits.allow(perpend):
            yield _best_place(stretch, limits, (left, right), count, (limits.least, 1), perpend)


def _best_place(
    stretch: Stretch, limits: Limits, ends: tuple[float, float], count: int, cut: tuple[float, int], perpend: float
) -> Candidate:
    """`count` whole units and the cut ones among them: the place with the fewest short laps, then nearest the middle."""
    left, right = ends
    step, length = limits.unit + perpend, stretch.length
    first, last = left + perpend / 2, length - right - perpend / 2
    lefts = _running_total(_clashing(first, step, count + 1, stretch.below, limits.lap), count + 1)
    mirrored = [length - b for b in reversed(stretch.below)]
    rights = _running_total(_clashing(length - last, step, count + 1, mirrored, limits.lap), count + 1)
    pitch = cut[0] + perpend

    def place(before: int) -> tuple[int, float, int]:
        start = first + before * step
        inner = len(_clashing(start + pitch, pitch, cut[1] - 1, stretch.below, limits.lap))
        return lefts[before] + rights[count - before] + inner, round(abs(start + cut[1] * pitch / 2 - length / 2), 6), before

    clashes, off, before = min(map(place, range(count + 1)))
    short = 0 if at_least(cut[0], limits.least) else cut[1]
    cost = (clashes, short, 0, cut[1], _effort(stretch, limits, left, right, perpend), -round(cut[0], 6), off)
    return cost, Layout(((left, 1), (limits.unit, before), cut, (limits.unit, count - before), (right, 1)), perpend)


def _short(stretch: Stretch, limits: Limits) -> Iterator[Candidate]:
    """For stretches too short for the rest: two pieces, or as many equal ones as it takes."""
    pieces = ceil((stretch.length + limits.joint - TOLERANCE) / limits.module)
    equal = (stretch.length - (pieces - 1) * limits.joint) / pieces
    yield _explicit(stretch, limits, [equal] * pieces)
    if pieces == 2:
        both = stretch.length - limits.joint
        known = {*stretch.left.pieces, *stretch.right.pieces, limits.unit, limits.least, limits.least + limits.lap}
        lapped = {below - limits.joint / 2 + side * limits.lap for below in stretch.below for side in (-1, 1)}
        for length in sorted({round(x, 6) for x in known | lapped | {both - x for x in known}}):
            if 0 < length < both and max(length, both - length) <= limits.unit + TOLERANCE:
                yield _explicit(stretch, limits, [length, both - length])


def _explicit(stretch: Stretch, limits: Limits, lengths: Sequence[float]) -> Candidate:
    """Pieces given one by one, at nominal perpends."""
    lines = [end + limits.joint / 2 + k * limits.joint for k, end in enumerate(accumulate(lengths[:-1]))]
    clashes = sum(len(_clashing(line, limits.module, 1, stretch.below, limits.lap)) for line in lines)
    ends = (not stretch.left.takes(lengths[0])) + (not stretch.right.takes(lengths[-1]))
    cut = [x for x in lengths[1:-1] if not limits.whole(x)]
    short = sum(not at_least(x, limits.least) for x in lengths)
    smallest = -round(min(lengths), 6)
    cost = (clashes, short, ends, ends + len(cut), _effort(stretch, limits, lengths[0], lengths[-1], limits.joint), smallest, 0.0)
    return cost, Layout(tuple((x, 1) for x in lengths), limits.joint)


def _running_out(stretch: Stretch, limits: Limits) -> Iterator[Candidate]:
    """Towards a raking end: whole units at nominal perpends, the last as long as there is room for."""
    for rest, first in _starts(stretch, limits):
        at = rest + first + limits.joint
        count = max(0, floor((stretch.length - at + limits.joint + TOLERANCE) / limits.module))
        last = stretch.length - at - count * limits.module
        runs = ((first, 1), (limits.unit, count))
        clashes = len(_clashing(at - limits.joint / 2, limits.module, count + (last > limits.tip), stretch.below, limits.lap))
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


def _clashing(first: float, step: float, count: int, below: Sequence[float], lap: float) -> list[int]:
    """Which of `count` perpends at `first + k * step` stand nearer than `lap` to one below."""
    if count <= 0:
        return []
    limit, top = lap - TOLERANCE, count - 1
    nearest = ((min(max(round((line - first) / step), 0), top), line) for line in below)
    return [k for k, line in nearest if abs(line - first - k * step) < limit]


def _running_total(indices: list[int], count: int) -> list[int]:
    """How many of the indices lie at or before 0, 1, 2... `count - 1`."""
    flags = [0] * count
    for k in indices:
        flags[k] += 1
    return list(accumulate(flags))
