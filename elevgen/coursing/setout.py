"""Set-out: the lengths of one stretch of course, given its ends and the perpends it must lap.

Perpends are opened or tightened before anything is cut; a cut makes one broken bond near the middle. The layouts of that
kind are few, all are costed, and the cheapest wins; the first found wins a tie. Where even that one laps too little, or
has too short a piece or a cut at an end, `exact` looks at every other way to cut the stretch.
Lap is measured between the centre lines of perpends. All mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain, product
from math import ceil, floor, inf
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from elevgen.core.geometry import TOLERANCE, at_least, at_most

CLASH, LACK, SHORT, PARE, END, CUT = 10**14, 10**10, 10**9, 3 * 10**6, 10**6, 2 * 10**4
"""What is worst first: a perpend that laps too little, each 0.1 mm it lacks; a piece too short, each mm it lacks; a cut at an
end; a cut. Less than these weigh how far broken bonds stand from the middle (1 a mm), how far perpends are from nominal
(10 a mm), and a half at an end (10)."""


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

    def off_nominal(self, perpend: float) -> float:
        return abs(perpend - self.joint)

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
    """A length to fill between two ends; `below` are the centre lines of the perpends it must lap, from its left, in order."""

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

    def lines(self) -> NDArray[np.floating[Any]]:
        """The centre lines of its perpends, mortar at the ends not counted."""
        lengths = np.repeat([length for length, _ in self.runs], [count for _, count in self.runs])
        return self.rests[0] + lengths[:-1].cumsum() + self.perpend * (np.arange(len(lengths) - 1) + 0.5)


class Frame(NamedTuple):
    """End pieces, whole units and cut ones that make up a length; where the cut ones stand is still open."""

    left: float
    right: float
    wholes: int
    cut: float
    cuts: int
    perpend: float

    def layout(self, unit: float, before: int) -> Layout:
        """With so many whole units before the cut ones."""
        middle = ((unit, before), (self.cut, self.cuts), (unit, self.wholes - before)) if self.cuts else ((unit, self.wholes),)
        return Layout(((self.left, 1), *(run for run in middle if run[1]), (self.right, 1)), self.perpend)

    def place(self, unit: float, before: int) -> float:
        """Where the middle of the cut ones then is."""
        return self.left + before * (unit + self.perpend) + (self.cuts * (self.cut + self.perpend) + self.perpend) / 2


Candidate = tuple[int, Layout]
"""Its cost and a layout."""
_NONE: Candidate = 10**18, Layout((), 0.0)

Lines = NDArray[np.floating[Any]]


class Ground:
    """The perpends a stretch must lap, asked what its own would cost."""

    def __init__(self, below: Sequence[float], lap: float) -> None:
        self._below = np.array([-inf, *below, inf])
        self._lap = lap

    def cost(self, lines: Lines) -> NDArray[np.int64]:
        """For each perpend what it costs by lapping too little."""
        after = self._below.searchsorted(lines)
        return lacking(self._lap - np.minimum(self._below[after] - lines, lines - self._below[after - 1]))


def lacking(lack: Lines) -> NDArray[np.int64]:
    """The cost of laps that fall short by so much (mm); none at or under tolerance."""
    bad = lack > TOLERANCE
    if not bad.any():
        return np.zeros(lack.shape, np.int64)
    cost: NDArray[np.int64] = np.where(bad, CLASH + LACK * (np.where(bad, lack, 0.0).round(3) * 10).round().astype(np.int64), 0)
    return cost


def set_out(stretch: Stretch, limits: Limits) -> Layout:
    """The pieces and perpends that fill a stretch exactly. Never refuses: too short a stretch gets cut pieces."""
    if stretch.left.raking and (not stretch.right.raking or _later(stretch)):
        return set_out(stretch.mirrored(), limits).mirrored()
    if stretch.length <= limits.unit + TOLERANCE:
        return Layout(((stretch.length, 1),), limits.joint)
    ground = Ground(stretch.below, limits.lap)
    if stretch.right.raking:
        best = min(_running_out(stretch, limits, ground), key=_cost)
    else:
        best = min(_unbroken(stretch, limits, ground), key=_cost, default=_NONE)
        if best[0] >= SHORT:
            best = min(chain((best,), _broken(stretch, limits, ground), _in_few(stretch, limits, ground)), key=_cost)
    if best[0] >= END:
        from elevgen.coursing.exact import exact

        best = min((best, *exact(stretch, limits, ground)), key=_cost)
        if best[0] >= CLASH and not stretch.right.raking:
            others = {frame.perpend for frame in unbroken_frames(stretch, limits)} - {limits.joint}
            for perpend in sorted(others, key=limits.off_nominal)[:2]:
                best = min((best, *exact(stretch, limits._replace(joint=perpend), ground)), key=_cost)
    return best[1]


def _later(stretch: Stretch) -> bool:
    """Whether a stretch with like ends comes after its mirror image, which is then the one set out."""
    here, there = ([round(b, 3) for b in s.below] for s in (stretch, stretch.mirrored()))
    return there < here


def _cost(candidate: Candidate) -> int:
    return candidate[0]


def unbroken_frames(stretch: Stretch, limits: Limits) -> Iterator[Frame]:
    """Whole units between the end pieces, the perpends sharing the difference."""
    for left, right in product(stretch.left.pieces, stretch.right.pieces):
        free = stretch.length - left - right
        near = (free - limits.joint) / limits.module
        for count in sorted({floor(near), ceil(near)}):
            perpend = (free - count * limits.unit) / (count + 1) if count >= 0 else inf
            if limits.allow(perpend):
                yield Frame(left, right, count, 0.0, 0, perpend)


def broken_frames(stretch: Stretch, limits: Limits) -> Iterator[Frame]:
    """One broken bond of one cut piece or of two alike; or of one at the least length, the perpends making room for it."""
    for left, right in product(stretch.left.pieces, stretch.right.pieces):
        free = stretch.length - left - right
        for cuts in (1, 2):
            count = floor((free - (cuts + 1) * limits.joint - cuts * limits.least + TOLERANCE) / limits.module)
            cut = (free - count * limits.module - (cuts + 1) * limits.joint) / cuts
            if count >= 0 and at_most(cut, limits.unit):
                yield Frame(left, right, count, cut, cuts, limits.joint)
        count += 2
        perpend = (free - count * limits.unit - limits.least) / (count + 2)
        if count >= 0 and limits.allow(perpend):
            yield Frame(left, right, count, limits.least, 1, perpend)


def effort(stretch: Stretch, limits: Limits, left: float, right: float, perpend: float) -> int:
    """What perpends off nominal (mm) and other than the preferred pieces at the ends cost."""
    second = (left != stretch.left.pieces[0] if stretch.left.pieces else 0) + (
        right != stretch.right.pieces[0] if stretch.right.pieces else 0
    )
    return round(limits.off_nominal(perpend) * 10) + 10 * second


def _unbroken(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    for frame in unbroken_frames(stretch, limits):
        lines = frame.left + frame.perpend / 2 + np.arange(frame.wholes + 1) * (limits.unit + frame.perpend)
        cost = int(ground.cost(lines).sum()) + effort(stretch, limits, frame.left, frame.right, frame.perpend)
        yield cost, frame.layout(limits.unit, 0)


def _broken(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    return (_best_place(stretch, limits, ground, frame) for frame in broken_frames(stretch, limits))


def _best_place(stretch: Stretch, limits: Limits, ground: Ground, frame: Frame) -> Candidate:
    """The place with the fewest short laps, then nearest the middle."""
    length, places, pitch = stretch.length, np.arange(frame.wholes + 1), limits.unit + frame.perpend
    from_left = frame.left + frame.perpend / 2 + places * pitch
    from_right = length - frame.right - frame.perpend / 2 - places * pitch
    step = frame.cut + frame.perpend
    beside = ground.cost(np.stack([from_left, from_right, *(from_left + k * step for k in range(1, frame.cuts))]))
    laps = beside[0].cumsum() + beside[1].cumsum()[::-1] + beside[2:].sum(0)
    off_middle = np.abs(from_left + frame.cuts * step / 2 - length / 2).round(3).round().astype(np.int64)
    cost = laps + off_middle * frame.cuts
    before = int(cost.argmin())
    fixed = frame.cuts * cut_cost(frame.cut, limits)
    fixed += effort(stretch, limits, frame.left, frame.right, frame.perpend)
    return int(cost[before]) + fixed, frame.layout(limits.unit, before)


def _in_few(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """As many equal pieces as a stretch takes that is too short for the rest."""
    pieces = ceil((stretch.length + limits.joint - TOLERANCE) / limits.module)
    if pieces <= 3:
        equal = (stretch.length - (pieces - 1) * limits.joint) / pieces
        layout = Layout(((equal, pieces),), limits.joint)
        yield int(ground.cost(layout.lines()).sum()) + piece_costs(stretch, limits, layout), layout


def piece_costs(stretch: Stretch, limits: Limits, layout: Layout) -> int:
    """What the pieces of a layout cost by being cut: too short, at an end where no such piece may stand, off the middle."""
    cost, at, last = 0, layout.rests[0], len(layout.runs) - 1
    for number, (length, count) in enumerate(layout.runs):
        for k in range(count):
            left = number == 0 and k == 0
            right = number == last and k == count - 1
            end = stretch.left if left else stretch.right if right else None
            if end is None or not (end.raking or end.takes(length)):
                cost += piece_cost(length, at + length / 2 - stretch.length / 2, end is not None, limits)
            at += length + layout.perpend
    return cost + effort(stretch, limits, layout.runs[0][0], layout.runs[-1][0], layout.perpend)


def piece_cost(length: float, off_middle: float, end: bool, limits: Limits) -> int:
    """What one piece costs that stands within the stretch, or at an end that does not take it."""
    if limits.whole(length) and not end:
        return 0
    return cut_cost(length, limits) + (END if end else 0) + round(round(abs(off_middle), 3))


def cut_cost(length: float, limits: Limits) -> int:
    """What a cut piece costs by its length."""
    if at_least(length, limits.least):
        return CUT
    return CUT + SHORT + PARE * round(round(limits.least - length, 3))


def _running_out(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """Towards a raking end: whole units at nominal perpends, the last as long as there is room for."""
    for rest, first in _starts(stretch, limits):
        at = rest + first + limits.joint
        count = max(0, floor((stretch.length - at + limits.joint + TOLERANCE) / limits.module))
        last = stretch.length - at - count * limits.module
        runs = ((first, 1), (limits.unit, count))
        lines = at - limits.joint / 2 + np.arange(count + (last > limits.tip)) * limits.module
        cost = int(ground.cost(lines).sum()) + effort(stretch, limits, first, limits.unit, limits.joint)
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
