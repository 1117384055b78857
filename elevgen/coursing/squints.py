"""Corners of walls one brick thick that are not square: how courses end there.

Quoin header and closer do not close such a corner: what they leave behind the quoin stretcher is no longer a rectangle. Courses
run through in their whole thickness by turns, as those of a thinner wall do, and begin with three-quarter pieces abreast, so that
the next one laps them (common practice, no source). Lengths are those along the face (mm).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from math import ceil, hypot
from typing import NamedTuple

from elevgen.bonds import Brick, Pieces
from elevgen.building.model import LeafEnd
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.coursing.rows import Margin
from elevgen.coursing.stretch import End


class Carried(NamedTuple):
    """A row carried on by what the bond repeats past so much of it that is out of sight: the pieces wholly `unseen`, the first
    `piece` in sight and where it ends, and the `rest`, to the end of the row or of what it repeats."""

    unseen: Pieces
    piece: float
    end: float
    rest: Pieces

    @property
    def start(self) -> float:
        """Where the first piece in sight begins."""
        return self.end - self.piece

    def shown(self, reach: float) -> float:
        """How much of the first piece in sight shows; none where a perpend stands at the corner."""
        return self.end - reach if self.start < reach - TOLERANCE else 0.0


def carried(row: Pieces, repeat: Pieces, joint: float, reach: float) -> Carried:
    """A row and as many repeats as reach past what is out of sight."""
    pieces = (*row, *repeat * (ceil(reach / (sum(repeat) + len(repeat) * joint)) + 2))
    ends = list(accumulate(pieces, lambda at, piece: at + joint + piece))
    first = next(k for k, end in enumerate(ends) if end > reach + TOLERANCE)
    begun = max(0, first - len(row)) // len(repeat) + 1
    last = len(row) if first < len(row) else len(row) + begun * len(repeat)
    return Carried(pieces[:first], pieces[first], ends[first], pieces[first + 1 : last])


def first_to_lap(found: Sequence[Carried], reach: float, least: float) -> Carried:
    """The first whose first piece in sight shows so much; that which shows most if none does."""
    return next((c for c in found if at_least(c.shown(reach), least)), max(found, key=lambda c: c.shown(reach)))


class Squint(NamedTuple):
    """Such a corner as one wall, ending `at` it, sees it: the wall met is `depth` deep along the face."""

    brick: Brick
    repeat: Pieces
    thickness: float
    depth: float
    at: LeafEnd

    def outer(self, runs_through: bool) -> tuple[End, Margin]:
        """An end whose face is on the outer angle."""
        if runs_through:
            row = *self._quoin, self.brick.length
            return End((row, (*row, self.brick.header))), Margin()
        joint = self.brick.joint
        between = joint * hypot(1.0, self.at.lean) if self._abreast else 0.0
        return End(self._beside(self.depth), perpend=True), Margin(joint, self.depth, between=between)

    def inner(self, runs_through: bool, least: float) -> tuple[End, Margin]:
        """An end whose face is in the inner angle; at least so much of a piece that runs through is to be seen."""
        brick, reach = self.brick, self.depth + self.at.beyond(self.thickness)
        if not runs_through:
            return End(self._beside(reach), perpend=True), Margin(brick.joint)
        rows = (*self._quoin, brick.length), (*self._quoin, brick.header, brick.length)
        found = first_to_lap([carried(row, self.repeat, brick.joint, reach) for row in rows], reach, least)
        shown = (found.end - reach, *found.rest)
        return End((shown, (*shown, brick.header)), reach - found.start), Margin(unseen=found.unseen)

    @property
    def _abreast(self) -> bool:
        """Whether the wall met is so thick that two units of it lie abreast."""
        return self.depth > self.brick.width + 2 * self.brick.joint

    @property
    def _quoin(self) -> Pieces:
        """The quoin of a course that runs through: three quarters of what the wall met is deep.

        Its perpend stands half way between those beside and between the two ends that show in the next course. Where a unit is
        not as long, and would not lap the one between, a header stands before it.
        """
        length, header, joint = self.brick.length, self.brick.header, self.brick.joint
        if not self._abreast:
            return (min(self.depth + (header + joint) / 2, length),)
        end = self.depth * 3 / 4 - joint / 4
        if self.depth <= length * 3 / 2 + joint:
            return (min(end, length),)
        return header, min(end - header - joint, length)

    def _beside(self, taken: float) -> tuple[Pieces, ...]:
        """Rows beside what the wall met takes: the first piece brings the course to where it laps the other by half a header."""
        length, header, joint = self.brick.length, self.brick.header, self.brick.joint
        step = header + joint
        perpend = sum(self._quoin) + len(self._quoin) * joint - joint / 2
        first = header + (perpend + step / 2 - taken - joint * 3 / 2 - header) % step
        first += step if at_least(header - TOLERANCE, first) else 0.0
        return (min(first, length),), (min(first, length), header)
