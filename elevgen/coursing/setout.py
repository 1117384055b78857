"""Set-out: the lengths of one stretch of course, given its ends and the perpends it must lap.

Perpends are opened or tightened before anything is cut; a cut makes one broken bond near the middle (`frames`). The layouts of
that kind are few, all are costed, and the cheapest wins; the first found wins a tie. Where even that one laps too little, has
too short a piece, a cut at an end or a perpend where none should be, `exact` looks at every other way to cut the stretch.
Lap is measured between the centre lines of perpends. All mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain, groupby
from math import ceil, floor, inf
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from elevgen.core.geometry import TOLERANCE, at_least, at_most

CLASH, LACK, SHORT, PARE, END, CUT = 10**14, 10**10, 10**9, 3 * 10**6, 10**6, 2 * 10**4
"""What is worst first: a perpend that laps too little, each 0.1 mm it lacks; a piece too short, each mm it lacks; a cut at an
end; a cut. Less than these weigh how far broken bonds stand from the middle (1 a mm), how far perpends are from nominal
(10 a mm), and a half at an end (10). What is to be kept clear of perpends costs as much as its `Clear` says."""

Pieces = tuple[float, ...]


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
_NONE: Candidate = 10**18, Layout((), 0.0)

Lines = NDArray[np.floating[Any]]


class Ground:
    """The perpends a stretch must lap and the places it keeps clear of them, asked what its own would cost."""

    def __init__(self, stretch: Stretch, limits: Limits) -> None:
        self._below = np.array([-inf, *stretch.below, inf])
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


def set_out(stretch: Stretch, limits: Limits) -> Layout:
    """The pieces and perpends that fill a stretch exactly. Never refuses: too short a stretch gets cut pieces."""
    from elevgen.coursing.frames import alone, broken, unbroken

    if stretch.left.raking and (not stretch.right.raking or _later(stretch)):
        return set_out(stretch.mirrored(), limits).mirrored()
    if stretch.length + stretch.left.hidden + stretch.right.hidden <= max(stretch.repeated(limits)) + TOLERANCE:
        return next(alone(stretch, limits), Layout(((stretch.length, 1),), limits.joint))
    ground = Ground(stretch, limits)
    if stretch.right.raking:
        best = min(_running_out(stretch, limits, ground), key=_cost)
    else:
        best = min(unbroken(stretch, limits, ground), key=_cost, default=_NONE)
        if best[0] >= CUT:
            best = min(chain((best,), broken(stretch, limits, ground), _in_few(stretch, limits, ground)), key=_cost)
    if best[0] >= END or (stretch.clear and best[0] >= 3 * CUT):
        from elevgen.coursing.exact import exact

        best = min((best, *exact(stretch, limits, ground)), key=_cost)
        if best[0] >= CLASH and not stretch.right.raking:
            from elevgen.coursing.frames import unbroken_frames

            others = {frame.perpend for frame in unbroken_frames(stretch, limits)} - {limits.joint}
            for perpend in sorted(others, key=limits.off_nominal)[:2]:
                best = min((best, *exact(stretch, limits._replace(joint=perpend), ground)), key=_cost)
    return best[1] if best[1].runs else Layout(((stretch.length, 1),), limits.joint)


def _later(stretch: Stretch) -> bool:
    """Whether a stretch with like ends comes after its mirror image, which is then the one set out."""
    here, there = ([round(b, 3) for b in s.below] for s in (stretch, stretch.mirrored()))
    return there < here


def _cost(candidate: Candidate) -> int:
    return candidate[0]


def effort(stretch: Stretch, limits: Limits, left: Pieces, right: Pieces, perpend: float) -> int:
    """What perpends off nominal (mm) and other than the preferred rows at the ends cost."""
    second = sum(row != end.rows[0] for row, end in ((left, stretch.left), (right, stretch.right)) if end.rows)
    return round(limits.off_nominal(perpend) * 10) + 10 * second


def _in_few(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """As many equal pieces as a stretch takes that is too short for the rest."""
    hidden = stretch.left.hidden, stretch.right.hidden
    pieces = ceil((stretch.length + sum(hidden) + limits.joint - TOLERANCE) / limits.module)
    if pieces <= 3:
        real = (stretch.length + sum(hidden) - (pieces - 1) * limits.joint) / pieces
        lengths = [real] * pieces
        lengths[0] -= hidden[0]
        lengths[-1] -= hidden[1]
        layout = layout_of(lengths, limits.joint)
        if min(lengths) <= TOLERANCE:
            return
        yield int(ground.cost(layout.lines()).sum()) + piece_costs(stretch, limits, layout), layout


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


def _running_out(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """Towards a raking end: whole units at nominal perpends, the last as long as there is room for."""
    repeat, pitch = stretch.repeated(limits), sum(stretch.repeated(limits)) + len(stretch.repeated(limits)) * limits.joint
    for rest, row in _starts(stretch, limits):
        pieces = list(row)
        free = stretch.length - rest - sum(row) - len(row) * limits.joint
        pieces += repeat * max(0, floor((free + limits.joint + TOLERANCE) / pitch))
        used = rest + sum(pieces) + len(pieces) * limits.joint
        for piece in repeat:
            if used + piece > stretch.length + TOLERANCE:
                break
            pieces.append(piece)
            used += piece + limits.joint
        last = stretch.length - used
        if at_least(last, limits.tip):
            layout = layout_of([*pieces, last], limits.joint, (rest, 0.0))
        else:
            layout = layout_of(pieces, limits.joint, (rest, last + limits.joint))
        cost = int(ground.cost(layout.lines()).sum()) + effort(stretch, limits, row, (), limits.joint)
        yield cost, layout


def _starts(stretch: Stretch, limits: Limits) -> Iterator[tuple[float, Pieces]]:
    """(mortar before it, the first pieces); under a rake at both ends the bond below says where units lie."""
    if not stretch.left.raking:
        rows = [row for row in stretch.left.rows if sum(row) + (len(row) - 1) * limits.joint <= stretch.length]
        yield from ((0.0, row) for row in rows or [stretch.left.rows[0][:1]])
        return
    unit = stretch.repeated(limits)[0]
    middle = min(stretch.below, key=lambda b: abs(b - stretch.length / 2), default=stretch.length / 2)
    first = (middle - unit / 2) % (unit + limits.joint) - limits.joint
    if first < limits.tip:
        yield max(0.0, first + limits.joint), (unit,)
    else:
        yield 0.0, (first,)
