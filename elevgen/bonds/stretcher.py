"""Stretcher bond: every unit shows its long face, each course half a unit over the one below.

Facts only, no solving. A half unit is what makes the offset at an end: two halves and a perpend are one unit.
"""

from __future__ import annotations

from typing import NamedTuple

from elevgen.core.geometry import Span

NAME = "stretcher"


class Grid(NamedTuple):
    """Where perpends can stand in one course or the next: centre lines at `origin + k * step`, k = 1, 2, ... (mm)."""

    step: float
    origin: float

    def line(self, k: int) -> float:
        """The k-th centre line."""
        return self.origin + k * self.step


def half_bond(unit_length: float, joint: float) -> float:
    """Length of the half unit that starts every other course, mm."""
    return (unit_length - joint) / 2


def end_pieces(unit_length: float, joint: float) -> tuple[float, ...]:
    """The pieces a stopped end, a reveal or the side of a movement joint may show, the one to prefer first (mm)."""
    return (unit_length, half_bond(unit_length, joint))


def offset(course: int, unit_length: float, joint: float) -> float:
    """How far course 0, 1, 2... is shifted along the wall against course 0, mm."""
    return (course % 2) * (unit_length + joint) / 2


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """The centre lines of perpends over a stretch that starts with a whole unit or a half one.

    A movement joint as wide as a perpend and centred on one of them is met by whole and half units.
    """
    return Grid(step=(unit_length + joint) / 2, origin=span.start - joint / 2)
