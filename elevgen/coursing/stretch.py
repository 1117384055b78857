"""A stretch of course to fill, what a unit allows, a layout of pieces, and the price of everything that may be wrong with one.

Lap is measured between the centre lines of perpends. All mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from elevgen.bonds import Pieces
from elevgen.core.geometry import TOLERANCE, at_least, at_most

CLASH, LACK, SHORT, PARE, END, CUT = 10**14, 10**10, 10**9, 3 * 10**6, 10**6, 2 * 10**4
"""What is worst first: a perpend that laps too little, each 0.1 mm it lacks; a piece too short, each mm it lacks; a cut at an
end; a cut. Less than these weigh how far broken bonds stand from the middle (1 a mm), how far perpends are from nominal
(10 a mm), and a half at an end (10). What is to be kept clear of perpends costs as much as its `Clear` says."""


class Limits(NamedTuple):
    """What a unit and the rule set allow: perpends `narrow` to `wide`, `joint` nominal; laps and pieces at least so long.

    `tip` is the shortest piece worth cutting at a raking end; what is shorter is mortar. `unit` is the longest piece.
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

    def off_nominal(self, perpend: float) -> float:
        return abs(perpend - self.joint)

    def allow(self, perpend: float) -> bool:
        return at_least(perpend, self.narrow) and at_most(perpend, self.wide)


class End(NamedTuple):
    """How a stretch may end: the rows of pieces that may stand there, read inwards, the one to prefer first.

    `hidden` is what the first of them has besides, out of sight round a corner. A raking end takes any length. An `open` end is
    a perpend within the masonry: what stands beside it is judged like any other piece. Where a `perpend` stands beyond the end
    it is opened and tightened with the others.
    """

    rows: tuple[Pieces, ...]
    hidden: float = 0.0
    raking: bool = False
    open: bool = False
    perpend: bool = False

    def row_of(self, lengths: Sequence[float]) -> int:
        """How many of these pieces, read inwards, are a row that may stand there; the longest such row."""
        fits = (row for row in self.rows if len(row) <= len(lengths))
        return max((len(r) for r in fits if all(abs(a - b) <= TOLERANCE for a, b in zip(r, lengths, strict=False))), default=0)


class Clear(NamedTuple):
    """A place to be kept clear of perpends, from the left of a stretch, and what one in it costs.

    `planned` is what it costs while a layout is chosen, when it may still be moved out by cutting a part anew; None: as much.
    """

    left: float
    right: float
    cost: int
    planned: int | None = None


class Stretch(NamedTuple):
    """A length to fill between two ends; `below` are the centre lines of the perpends it must lap, from its left, in order.

    `repeat` and `link` are those of its bond's course (`bonds.Motif`); without them its units are laid whole, end to end.
    """

    length: float
    left: End
    right: End
    below: tuple[float, ...]
    repeat: Pieces = ()
    link: Pieces = ()
    clear: tuple[Clear, ...] = ()

    def mirrored(self) -> Stretch:
        below = tuple(self.length - b for b in reversed(self.below))
        clear = tuple(c._replace(left=self.length - c.right, right=self.length - c.left) for c in reversed(self.clear))
        return self._replace(left=self.right, right=self.left, below=below, clear=clear)

    def repeated(self, limits: Limits) -> Pieces:
        """The pieces it repeats."""
        return self.repeat or (limits.unit,)

    def keeps(self, length: float, limits: Limits) -> bool:
        """Whether a piece within it is one the bond asks for."""
        return any(abs(length - piece) <= TOLERANCE for piece in (*self.repeated(limits), *self.link))


class Layout(NamedTuple):
    """Pieces from left to right as (length, how many) with equal perpends between; `rests` is mortar left at the two ends.

    Less than nothing where the perpend beyond an end is tightened.
    """

    runs: tuple[tuple[float, int], ...]
    perpend: float
    rests: tuple[float, float] = (0.0, 0.0)

    def mirrored(self) -> Layout:
        return Layout(self.runs[::-1], self.perpend, self.rests[::-1])

    @property
    def lengths(self) -> list[float]:
        """The pieces one by one."""
        return [length for length, count in self.runs for _ in range(count)]

    def lines(self) -> Lines:
        """The centre lines of its perpends, mortar at the ends not counted."""
        lengths = np.repeat([length for length, _ in self.runs], [count for _, count in self.runs])
        return self.rests[0] + lengths[:-1].cumsum() + self.perpend * (np.arange(len(lengths) - 1) + 0.5)


def layout_of(pieces: Sequence[float], perpend: float, rests: tuple[float, float] = (0.0, 0.0)) -> Layout:
    """Pieces one by one as a layout."""
    return Layout(tuple((length, len(list(same))) for length, same in groupby(pieces)), perpend, rests)


Candidate = tuple[int, Layout]
"""Its cost and a layout."""

Lines = NDArray[np.floating[Any]]


class Ground:
    """The perpends a stretch must lap and the places it keeps clear of them, asked what its own would cost."""

    def __init__(self, stretch: Stretch, limits: Limits) -> None:
        self._below = np.array([-np.inf, *stretch.below, np.inf])
        self._lap = limits.lap
        self._clear = stretch.clear

    def cost(self, lines: Lines) -> NDArray[np.int64]:
        """For each perpend what it costs by lapping too little or standing where none should."""
        after = self._below.searchsorted(lines)
        laps = lacking(self._lap - np.minimum(self._below[after] - lines, lines - self._below[after - 1]))
        return laps + in_the_way(lines, self._clear)


def lacking(lack: Lines) -> NDArray[np.int64]:
    """The cost of laps that fall short by so much (mm); none at or under tolerance."""
    bad = lack > TOLERANCE
    if not bad.any():
        return np.zeros(lack.shape, np.int64)
    cost: NDArray[np.int64] = np.where(bad, CLASH + LACK * (np.where(bad, lack, 0.0).round(3) * 10).round().astype(np.int64), 0)
    return cost


def in_the_way(lines: Lines, clear: Sequence[Clear]) -> NDArray[np.int64]:
    """The cost of perpends within places to be kept clear; none at their edges."""
    cost = np.zeros(lines.shape, np.int64)
    for place in clear:
        cost[(lines > place.left + TOLERANCE) & (lines < place.right - TOLERANCE)] += place.cost
    return cost


def effort(stretch: Stretch, limits: Limits, left: Pieces, right: Pieces, perpend: float) -> int:
    """What perpends off nominal (mm) and other than the preferred rows at the ends cost."""
    second = sum(row != end.rows[0] for row, end in ((left, stretch.left), (right, stretch.right)) if end.rows)
    return round(limits.off_nominal(perpend) * 10) + 10 * second


def piece_costs(stretch: Stretch, limits: Limits, layout: Layout) -> int:
    """What the pieces of a layout cost by being cut: too short, at an end where no such piece may stand, off the middle."""
    lengths = layout.lengths
    first, last = stretch.left.row_of(lengths), stretch.right.row_of(lengths[::-1])
    cost, at = 0, layout.rests[0]
    for k, length in enumerate(lengths):
        ends = [end for end, here in ((stretch.left, k == 0), (stretch.right, k == len(lengths) - 1)) if here]
        kept = k < first or k >= len(lengths) - last or any(end.raking for end in ends)
        outer = any(not end.open for end in ends)
        if not kept and not (stretch.keeps(length, limits) and not outer):
            real = length + sum(end.hidden for end in ends)
            cost += cut_cost(real, limits) + (END if outer else 0) + round(round(abs(at + length / 2 - stretch.length / 2), 3))
        at += length + layout.perpend
    return cost + effort(stretch, limits, tuple(lengths[:first]), tuple(lengths[len(lengths) - last :][::-1]), layout.perpend)


def cut_cost(length: float, limits: Limits) -> int:
    """What a cut piece costs by its length."""
    if at_least(length, limits.least):
        return CUT
    return CUT + SHORT + PARE * round(round(limits.least - length, 3))
