"""Where on a drawing a box of a size is free: the drawing as a raster of cells taken or not, asked about all places at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor, hypot, pi
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from elevgen.core.geometry import Point, Rect
from elevgen.drawing.board import Board, Room

CELL = 0.5
"""Side of a cell, paper mm. Boxes are found at whole cells: up to so much is given away round each."""
REACH_ALONG, REACH_UP = 55.0, 32.0
"""How far from what it names a label is sought, paper mm."""
_SECTORS, _FROM_EACH = 16, 3
_SHARED = 0.35
"""Candidates of one direction stand at least so much of the box's height apart, so that they are not all behind one obstacle."""

_Cells = npt.NDArray[np.bool_]
_Whole = npt.NDArray[np.int64]
_Lengths = npt.NDArray[np.floating[Any]]


class FreeSpace:
    """What is free inside `within`, of what its rooms say is taken. Follows what the rooms take later."""

    def __init__(self, board: Board, within: Rect, rooms: tuple[Room, ...]) -> None:
        self.cell = board.mm(CELL)
        self.within = within
        self.rooms = rooms
        self.read = [0] * len(rooms)
        rows, columns = int(within.height // self.cell), int(within.width // self.cell)
        self.taken: _Cells = np.zeros((max(rows, 1), max(columns, 1)), dtype=np.bool_)
        self.reach = board.mm(REACH_ALONG), board.mm(REACH_UP)

    def near(self, targets: Sequence[Point], width: float, height: float) -> Iterator[tuple[float, int, Rect]]:
        """Free boxes of a size round some points: the nearest in each direction of each and some behind them.

        Gives how far off each box is, from which of the points, and the box.
        """
        if not targets:
            return
        self._follow()
        of, rows, columns = self._free_corners(targets, ceil(height / self.cell), ceil(width / self.cell))
        left = self.within.left + columns * self.cell
        bottom = self.within.bottom + rows * self.cell
        x, y = np.array(targets).T[:, of]
        across = np.maximum(np.maximum(left - x, x - left - width), 0.0)
        up = np.maximum(np.maximum(bottom - y, y - bottom - height), 0.0)
        away = np.hypot(across, up)
        turn = np.arctan2(bottom + height / 2 - y, left + width / 2 - x)
        sector = np.floor((turn / pi + 1.0) * _SECTORS / 2).astype(np.int64) % _SECTORS
        for k in _in_each_direction(of * _SECTORS + sector, away, left, bottom, height):
            at, low = float(left[k]), float(bottom[k])
            yield round(float(away[k]), 6), int(of[k]), Rect(at, low, at + width, low + height)

    def _free_corners(self, targets: Sequence[Point], rows: int, columns: int) -> tuple[_Whole, _Whole, _Whole]:
        """Of every free box round each target: the target's number, row and column of the box's lower left cell."""
        windows = [self._window(target) for target in targets]
        low, left = min(w.rows.start for w in windows), min(w.columns.start for w in windows)
        taken = self.taken[low : max(w.rows.stop for w in windows), left : max(w.columns.stop for w in windows)]
        free = ~_any_of(_any_of(taken, rows).T, columns).T
        found = []
        for n, window in enumerate(windows):
            row, column = window.rows.start, window.columns.start
            up, along = max(window.rows.stop - rows + 1, row), max(window.columns.stop - columns + 1, column)
            i, j = free[row - low : up - low, column - left : along - left].nonzero()
            found.append((np.full(len(i), n), i + row, j + column))
        of, i, j = (np.concatenate(each) for each in zip(*found, strict=True))
        return of, i, j

    def _window(self, target: Point) -> _Window:
        rows, columns = self.taken.shape
        i, j = (target[0] - self.within.left) / self.cell, (target[1] - self.within.bottom) / self.cell
        along, up = self.reach[0] / self.cell, self.reach[1] / self.cell
        return _Window(
            slice(min(max(int(j - up), 0), rows), min(max(int(j + up), 0), rows)),
            slice(min(max(int(i - along), 0), columns), min(max(int(i + along), 0), columns)),
        )

    def _follow(self) -> None:
        """Mark what the rooms took since."""
        for n, room in enumerate(self.rooms):
            for box in room.boxes[self.read[n] :]:
                left, right = (box.left - self.within.left) / self.cell, (box.right - self.within.left) / self.cell
                low, high = (box.bottom - self.within.bottom) / self.cell, (box.top - self.within.bottom) / self.cell
                if right > 0 and high > 0:
                    self.taken[max(floor(low), 0) : ceil(high), max(floor(left), 0) : ceil(right)] = True
            self.read[n] = len(room.boxes)


class _Window(NamedTuple):
    rows: slice
    columns: slice


def _any_of(taken: _Cells, count: int) -> _Cells:
    """For each row, whether it or one of those after it is taken, so many in all; none where there are not so many.

    Looked at twice as many at a time.
    """
    reach = 1
    while reach < count and len(taken):
        step = min(reach, count - reach)
        taken = taken[:-step] | taken[step:]
        reach += step
    return taken


def _in_each_direction(group: _Whole, away: _Lengths, left: _Lengths, bottom: _Lengths, height: float) -> Iterator[int]:
    """The nearest of each group, and behind it those that stand apart from it."""
    order = np.lexsort((away, group))
    starts = np.flatnonzero(np.diff(group[order], prepend=-1, append=-1))
    apart = height * _SHARED
    for start, end in pairwise(starts.tolist()):
        mine: list[int] = []
        for k in order[start:end:2]:
            if all(hypot(left[k] - left[m], bottom[k] - bottom[m]) >= apart for m in mine):
                mine.append(int(k))
            if len(mine) == _FROM_EACH:
                break
        yield from mine
