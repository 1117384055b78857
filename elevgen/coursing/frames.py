"""Frames of a course: rows of pieces at its ends, what its bond repeats between them, and at most one broken bond.

All mm. A broken bond is one cut piece or two alike, in place of what links the two halves of the course.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import ceil, floor, inf
from typing import NamedTuple

import numpy as np

from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.coursing.setout import (
    Candidate,
    Ground,
    Layout,
    Limits,
    Lines,
    Pieces,
    Stretch,
    cut_cost,
    effort,
    layout_of,
)


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
    """What perpends beyond the ends that are so much wider leave of the stretch; nothing where they are as nominal."""
    if abs(more) <= TOLERANCE:
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
            if count >= 0 and at_most(cut, limits.unit):
                yield Frame(left, right, repeat, count, (*side, *(cut,) * cuts, *side[::-1]), cut, cuts, limits.joint)
        count = floor((stretch.length - sum(ends) - (len(ends) + 1) * limits.joint - 2 * limits.least + TOLERANCE) / pitch) + 2
        spare = stretch.length - sum(ends) - count * sum(repeat) - limits.least
        perpend = spare / (len(ends) + count * len(repeat)) if count >= 0 else inf
        if limits.allow(perpend):
            yield Frame(left, right, repeat, count, (limits.least,), limits.least, 1, perpend)


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
    return (_best_place(stretch, limits, ground, frame) for frame in broken_frames(stretch, limits))


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
    cost = laps + off_middle * frame.cuts
    before = int(cost.argmin())
    fixed = frame.cuts * cut_cost(frame.cut, limits) + effort(stretch, limits, frame.left, frame.right, perpend)
    return int(cost[before]) + fixed, frame.layout(before)


def _row_lines(frame: Frame, row: Pieces) -> Lines:
    """The perpends after each piece of a row and of all the repeats, from that end."""
    pieces: Lines = np.array([*row, *frame.repeat * frame.wholes])
    lines: Lines = pieces.cumsum() + frame.perpend * (np.arange(len(pieces)) + 0.5)
    return lines
