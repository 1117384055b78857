"""Where on a drawing a box of a size is free: the drawing as a raster of cells taken or not, asked about all places at once."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, hypot, pi
from typing import NamedTuple

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


class FreeSpace:
    """What is free inside `within`, of what its rooms say is taken. Follows what the rooms take later."""

    def __init__(self, board: Board, within: Rect, rooms: tuple[Room, ...]) -> None:
        self.cell = board.mm(CELL)
        self.within = within
        self.rooms = rooms
        self.read = [0] * len(rooms)
        rows, columns = int(within.height // self.cell), int(within.width // self.cell)
        self.taken: npt.NDArray[np.bool_] = np.zeros((max(rows, 1), max(columns, 1)), dtype=np.bool_)
        self.reach = board.mm(REACH_ALONG), board.mm(REACH_UP)

    def near(self, target: Point, width: float, height: float) -> Iterator[tuple[float, Rect]]:
        """Free boxes of a size round a point: the nearest in each direction and some behind them, and how far off each is."""
        self._follow()
        window = self._window(target)
        found = _free_corners(self.taken[window.rows, window.columns], ceil(height / self.cell), ceil(width / self.cell))
        if not len(found):
            return
        left = self.within.left + (found[:, 1] + window.columns.start) * self.cell
        bottom = self.within.bottom + (found[:, 0] + window.rows.start) * self.cell
        x, y = target
        across = np.maximum(np.maximum(left - x, x - left - width), 0.0)
        up = np.maximum(np.maximum(bottom - y, y - bottom - height), 0.0)
        away = np.hypot(across, up)
        turn = np.arctan2(bottom + height / 2 - y, left + width / 2 - x)
        sector = np.floor((turn / pi + 1.0) * _SECTORS / 2).astype(np.int64) % _SECTORS
        chosen = self._in_each_direction(left, bottom, away, sector, height)
        for k in chosen:
            x, y = float(left[k]), float(bottom[k])
            yield round(float(away[k]), 6), Rect(x, y, x + width, y + height)

    def _in_each_direction(
        self,
        left: npt.NDArray[np.float64],
        bottom: npt.NDArray[np.float64],
        away: npt.NDArray[np.float64],
        sector: npt.NDArray[np.int64],
        height: float,
    ) -> list[int]:
        chosen: list[int] = []
        order = np.lexsort((away, sector))
        starts = np.searchsorted(sector[order], np.arange(_SECTORS + 1))
        apart = height * _SHARED
        for n in range(_SECTORS):
            mine: list[int] = []
            for k in order[starts[n] : starts[n + 1] : 2]:
                if all(hypot(left[k] - left[m], bottom[k] - bottom[m]) >= apart for m in mine):
                    mine.append(int(k))
                if len(mine) == _FROM_EACH:
                    break
            chosen += mine
        return chosen

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


def _free_corners(taken: npt.NDArray[np.bool_], rows: int, columns: int) -> npt.NDArray[np.int64]:
    """Row and column of the lower left cell of every free stretch of so many rows and columns."""
    if taken.shape[0] < rows or taken.shape[1] < columns:
        return np.empty((0, 2), dtype=np.int64)
    sums = np.zeros((taken.shape[0] + 1, taken.shape[1] + 1), dtype=np.int32)
    sums[1:, 1:] = taken.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
    inside = sums[rows:, columns:] - sums[:-rows, columns:] - sums[rows:, :-columns] + sums[:-rows, :-columns]
    return np.argwhere(inside == 0)
