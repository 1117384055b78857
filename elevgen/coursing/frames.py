"""Frames of a course: rows of pieces at its ends, what its bond repeats between them, and at most one broken bond.

All mm. A broken bond stands in place of what links the two halves of the course: whole pieces in another order, where the bond
repeats more than one kind; else one cut piece or two alike.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, product
from math import ceil, floor, inf
from typing import NamedTuple

import numpy as np

from elevgen.bonds import Pieces
from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.coursing.stretch import CUT, Candidate, Ground, Layout, Limits, Lines, Stretch, cut_cost, effort, layout_of

OUT_OF_ORDER = CUT // 2
"""What it costs that whole pieces stand in another order than the bond's."""
_NOISE = 1e-9
"""What arithmetic leaves over of a perpend as wide as nominal (mm)."""


class Frame(NamedTuple):
    """The pieces that make up a length; how many of the `wholes` repeats stand before the middle is still open.

    `left` and `right` are read inwards; `cuts` of the middle's pieces are cut to `cut`. `rests` as in a layout.
    """

    left: Pieces
    right: Pieces
    repeat: Pieces
    wholes: int
    middle: Pieces
    cut: float
    cuts: int
    perpend: float
    rests: tuple[float, float] = (0.0, 0.0)

    def layout(self, before: int) -> Layout:
        """With so many repeats before the middle."""
        if len(self.repeat) == 1 and len(self.left) == len(self.right) == 1:
            (unit,) = self.repeat
            runs = [(self.left[0], 1), (unit, before), *((x, 1) for x in self.middle), (unit, self.wholes - before)]
            return _joined([*runs, (self.right[0], 1)], self.perpend)._replace(rests=self.rests)
        after = self.repeat[::-1] * (self.wholes - before)
        pieces = [*self.left, *self.repeat * before, *self.middle, *after, *self.right[::-1]]
        return layout_of(pieces, self.perpend, self.rests)

    def price(self, limits: Limits) -> int:
        """What its middle costs wherever it stands."""
        return self.cuts * cut_cost(self.cut, limits) if self.cuts else OUT_OF_ORDER

    @property
    def seen(self) -> int:
        """What each mm costs that its middle stands from where it is least seen."""
        return max(1, self.cuts)

    def place(self, before: int) -> float:
        """Where the middle of the middle then is."""
        pieces = (*self.left, *self.repeat * before)
        return sum(pieces) + len(pieces) * self.perpend + (sum(self.middle) + (len(self.middle) - 1) * self.perpend) / 2


def _joined(runs: list[tuple[float, int]], perpend: float) -> Layout:
    """Runs with neighbours of one length put together, empty ones left out."""
    kept: list[tuple[float, int]] = []
    for length, count in runs:
        if kept and kept[-1][0] == length:
            kept[-1] = length, kept[-1][1] + count
        elif count:
            kept.append((length, count))
    return Layout(tuple(kept), perpend)


def unbroken_frames(stretch: Stretch, limits: Limits) -> Iterator[Frame]:
    """Nothing cut but what the rows at the ends ask for, the perpends sharing the difference, those beyond the ends too."""
    repeat, link = stretch.repeated(limits), stretch.link
    beyond = stretch.left.perpend + stretch.right.perpend
    for left, right in product(stretch.left.rows, stretch.right.rows):
        fixed = (*left, *link, *right)
        free = stretch.length - sum(fixed) - (len(fixed) - 1) * limits.joint
        near = free / (sum(repeat) + len(repeat) * limits.joint)
        for count in sorted({floor(near), ceil(near)}):
            spare = stretch.length + beyond * limits.joint - sum(fixed) - count * sum(repeat)
            perpend = spare / (len(fixed) + count * len(repeat) - 1 + beyond) if count >= 0 else inf
            if limits.allow(perpend):
                yield Frame(left, right, repeat, count, link, 0.0, 0, perpend, _rests(stretch, perpend - limits.joint))


def _rests(stretch: Stretch, more: float) -> tuple[float, float]:
    """What perpends beyond the ends that are so much wider leave of the stretch."""
    if abs(more) < _NOISE:
        return 0.0, 0.0
    return more if stretch.left.perpend else 0.0, more if stretch.right.perpend else 0.0


def alone(stretch: Stretch, limits: Limits) -> Iterator[Layout]:
    """One piece that both ends take, where the perpends beyond them make up what it lacks or is too long."""
    beyond = stretch.left.perpend + stretch.right.perpend
    pieces = {row[0] for end in (stretch.left, stretch.right) for row in end.rows if len(row) == 1 and not end.hidden}
    for piece in sorted(pieces, reverse=True) if beyond and not (stretch.left.hidden or stretch.right.hidden) else ():
        perpend = limits.joint + (stretch.length - piece) / beyond
        if limits.allow(perpend):
            yield Layout(((piece, 1),), perpend, _rests(stretch, perpend - limits.joint))


def broken_frames(stretch: Stretch, limits: Limits) -> Iterator[Frame]:
    """One broken bond of one cut piece or of two alike; or of one at the least length, the perpends making room for it."""
    repeat = stretch.repeated(limits)
    pitch = sum(repeat) + len(repeat) * limits.joint
    for left, right in product(stretch.left.rows, stretch.right.rows):
        ends = (*left, *right)
        for side, cuts in product(_sides(repeat), (1, 2)):
            fixed = (*ends, *side, *side)
            free = stretch.length - sum(fixed) - (len(fixed) + cuts - 1) * limits.joint
            count = floor((free - cuts * limits.least + TOLERANCE) / pitch)
            cut = (free - count * pitch) / cuts
            if count >= 0 and at_most(cut, limits.unit) and not _hardly_sawn(cut, stretch, limits):
                yield Frame(left, right, repeat, count, (*side, *(cut,) * cuts, *side[::-1]), cut, cuts, limits.joint)
        count = floor((stretch.length - sum(ends) - (len(ends) + 1) * limits.joint - 2 * limits.least + TOLERANCE) / pitch) + 2
        spare = stretch.length - sum(ends) - count * sum(repeat) - limits.least
        perpend = spare / (len(ends) + count * len(repeat)) if count >= 0 else inf
        if limits.allow(perpend):
            yield Frame(left, right, repeat, count, (limits.least,), limits.least, 1, perpend)


def _hardly_sawn(cut: float, stretch: Stretch, limits: Limits) -> bool:
    """Whether a piece is within half a joint of one the bond has, and perpends may take up the difference."""
    off = min(abs(cut - piece) for piece in (*stretch.repeated(limits), *stretch.link))
    return limits.narrow < limits.wide and TOLERANCE < off < limits.joint / 2


def reordered_frames(stretch: Stretch, limits: Limits) -> Iterator[Frame]:
    """Whole pieces in another order in place of the link; for bonds that repeat more than one kind."""
    for left, right in product(stretch.left.rows, stretch.right.rows):
        one, other = stretch.left._replace(rows=(left,)), stretch.right._replace(rows=(right,))
        for middle in _orders(stretch.repeated(limits)):
            if middle != stretch.link:
                yield from unbroken_frames(stretch._replace(left=one, right=other, link=middle), limits)


def _orders(repeat: Pieces) -> list[Pieces]:
    """Up to four pieces that read alike from both sides, of a bond that repeats more than one kind; the fewest first."""
    kinds = [(kind,) for kind in sorted(set(repeat), reverse=True)]
    if len(kinds) < 2:
        return []
    halves = [(), *kinds, *(a + b for a, b in product(kinds, kinds))]
    orders = {half + centre + half[::-1] for half in halves for centre in ((), *kinds)}
    return sorted((order for order in orders if len(order) <= 4), key=lambda order: (len(order), order))


def _sides(repeat: Pieces) -> Iterator[Pieces]:
    """What may stand on both sides of a cut besides the repeats: the beginnings of one."""
    return (repeat[:k] for k in range(len(repeat)))


def unbroken(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """Every unbroken frame with what it costs."""
    for frame in unbroken_frames(stretch, limits):
        layout = frame.layout(frame.wholes)
        yield int(ground.cost(layout.lines()).sum()) + effort(stretch, limits, frame.left, frame.right, frame.perpend), layout
    for layout in alone(stretch, limits):
        yield effort(stretch, limits, (), (), layout.perpend), layout


def broken(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """Every broken frame at its best place, with what it costs."""
    frames = chain(reordered_frames(stretch, limits), broken_frames(stretch, limits))
    return (_best_place(stretch, limits, ground, frame) for frame in frames)


def _best_place(stretch: Stretch, limits: Limits, ground: Ground, frame: Frame) -> Candidate:
    """The place with the fewest short laps, then nearest the middle."""
    many, perpend = len(frame.repeat), frame.perpend
    pitch = sum(frame.repeat) + many * perpend
    places = np.arange(frame.wholes + 1)
    from_left = _row_lines(frame, frame.left)
    from_right = _row_lines(frame, frame.right)
    costs_left = ground.cost(from_left).cumsum()[len(frame.left) - 1 :: many]
    costs_right = ground.cost(stretch.length - from_right).cumsum()[len(frame.right) - 1 :: many]
    edge = from_left[len(frame.left) - 1] + places * pitch
    within = np.cumsum([length + perpend for length in frame.middle[:-1]])
    laps = costs_left + costs_right[::-1] + sum(ground.cost(edge + step) for step in within)
    middle = edge + (sum(frame.middle) + len(frame.middle) * perpend) / 2
    off_middle = np.abs(middle - stretch.length / 2).round(3).round().astype(np.int64)
    cost = laps + off_middle * frame.seen
    before = int(cost.argmin())
    fixed = frame.price(limits) + effort(stretch, limits, frame.left, frame.right, perpend)
    return int(cost[before]) + fixed, frame.layout(before)


def _row_lines(frame: Frame, row: Pieces) -> Lines:
    """The perpends after each piece of a row and of all the repeats, from that end."""
    pieces: Lines = np.array([*row, *frame.repeat * frame.wholes])
    lines: Lines = pieces.cumsum() + frame.perpend * (np.arange(len(pieces)) + 0.5)
    return lines
