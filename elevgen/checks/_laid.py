"""What is laid in a course of a leaf, along the wall: its pieces, and the centre lines of its perpends."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.core.geometry import Span
from elevgen.coursing.model import LeafCoursing, Pattern, Piece, Placement
from elevgen.result import Design


class LaidPiece(NamedTuple):
    """A piece where it lies along the wall; `real` is its whole length, what is hidden in a return included."""

    along: Span
    real: float
    piece: Piece


class LaidWork:
    """The courses of one leaf, each looked at when it is asked for."""

    def __init__(self, design: Design, leaf_id: str) -> None:
        self.coursing: LeafCoursing = design.coursing.of(leaf_id)
        self._patterns: dict[str, Pattern] = {pattern.id: pattern for pattern in design.coursing.patterns}
        self._placed: dict[int, list[tuple[float, Pattern]]] = {}
        for placement in self.coursing.placements:
            here = self._placed.setdefault(placement.course, [])
            here.append((placement.span.start, self._patterns[placement.pattern]))

    def lines(self, course: int) -> list[float]:
        """The centre lines of a course's perpends, from the left."""
        placed = self._placed.get(course, [])
        return sorted(left + perpend.at + perpend.width / 2 for left, pattern in placed for perpend in pattern.perpends)

    def pieces(self, course: int) -> Iterator[LaidPiece]:
        """The pieces of a course but those of other walls, stretch after stretch."""
        for left, pattern in self._placed.get(course, []):
            for k, piece in enumerate(pattern.pieces):
                if piece.kind != "return":
                    start = left + piece.at
                    yield LaidPiece(Span(start, start + piece.length), pattern.real(k), piece)

    def height(self, pattern: str) -> float:
        """The height of a pattern's units."""
        return self._patterns[pattern].height

    def stretches(self, placed: Placement) -> Iterator[Span]:
        """Where along the wall the pieces of a stretch lie, those of other walls too."""
        for piece in self._patterns[placed.pattern].pieces:
            yield Span(placed.span.start + piece.at, placed.span.start + piece.at + piece.length)
