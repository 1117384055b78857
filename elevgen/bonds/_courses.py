"""The parts bonds are described in: a unit as bonds see it, and a course as what ends it and what repeats."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span

Pieces = tuple[float, ...]
"""Lengths of pieces as they show on the face, one after another (mm)."""


class Brick(NamedTuple):
    """A unit by its length, what it shows as a header, and the perpend; `width` is how wide its end really is (mm).

    In a leaf as thick as a unit is wide a header is a half, whatever its width.
    """

    length: float
    header: float
    joint: float
    width: float

    @property
    def half(self) -> float:
        """Two halves and a perpend are one unit."""
        return (self.length - self.joint) / 2

    @property
    def closer(self) -> float:
        """Two closers and a perpend are one header: it brings the header over the middle of half a stretcher.

        Of units hardly wider than a joint a quarter of the header, so that there is one.
        """
        return max(self.header - self.joint, self.header / 2) / 2

    @property
    def three_quarter(self) -> float:
        """A header, a perpend and a closer long."""
        return self.header + self.joint + self.closer

    def part(self, count: int, of: int) -> float:
        """So many of the equal parts a unit is cut into with a perpend between each."""
        one = (self.length - (of - 1) * self.joint) / of
        return count * one + (count - 1) * self.joint


class Motif(NamedTuple):
    """One course of a bond: rows of pieces that may end it, read inwards, and what repeats between them.

    A row from the left, `repeat` any number of times, `link`, `repeat` mirrored any number of times, a row from the right make
    a whole course. `ends`: at stopped ends, reveals and movement joints, the one to prefer first. `through`: at a corner this
    course runs through. `returned`: beyond the end that a unit from round the corner shows there. `abreast`: how many units of
    the course that runs through lie side by side in the corner; behind a single one lie those of the other wall.
    """

    repeat: Pieces
    link: Pieces
    ends: tuple[Pieces, ...]
    through: tuple[Pieces, ...]
    returned: tuple[Pieces, ...]
    abreast: int = 1

    def closers(self, brick: Brick) -> Pieces:
        """The lengths of the slips its rows hold: shorter than a half, and no header."""
        pieces = {piece for row in (*self.ends, *self.through, *self.returned) for piece in row}
        return tuple(sorted(piece for piece in pieces if piece < brick.half - TOLERANCE and piece != brick.header))


class Grid(NamedTuple):
    """Centre lines at `origin + k * step`, k = 1, 2, ... (mm)."""

    step: float
    origin: float

    def line(self, k: int) -> float:
        """The k-th centre line."""
        return self.origin + k * self.step


def parts_grid(span: Span, unit_length: float, joint: float, parts: int) -> Grid:
    """The centre lines of perpends over a stretch, where courses lie any number of such parts of a unit over one another.

    A movement joint as wide as a perpend and centred on one of them is met by whole units and such parts.
    """
    return Grid(step=(unit_length + joint) / parts, origin=span.start - joint / 2)
