"""What is laid in a course of a leaf, along the wall: its pieces, and the centre lines of its perpends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.core.geometry import Span
from elevgen.coursing.model import LeafCoursing, Pattern, Piece, Placement
from elevgen.result import Design


class LaidPiece(NamedTuple):
    """A piece where it lies along the wall; `real` is its whole length, what is hidden in a return included."""

    along: Span
    real: float
    piece: Piece


def laid_work(design: Design) -> dict[str, LaidWork]:
    """The courses of every leaf, by its id."""
    return {leaf.id: LaidWork(design, leaf.id) for leaf in design.building.leaves}


class LaidWork:
    """The courses of one leaf, each looked at when it is asked for."""

    def __init__(self, design: Design, leaf_id: str) -> None:
        self.coursing: LeafCoursing = design.coursing.of(leaf_id)
        self._patterns: dict[str, Pattern] = {pattern.id: pattern for pattern in design.coursing.patterns}
        self._placed: dict[int, list[tuple[float, Pattern]]] = {}
        self._placements: dict[int, list[Placement]] = {}
        self._lines: dict[int, list[float]] = {}
        for placement in self.coursing.placements:
            here = self._placed.setdefault(placement.course, [])
            here.append((placement.span.start, self._patterns[placement.pattern]))
            self._placements.setdefault(placement.course, []).append(placement)

    def lines(self, course: int) -> Sequence[float]:
        """The centre lines of a course's perpends, from the left."""
        if course not in self._lines:
            placed = self._placed.get(course, [])
            lines = (left + perpend.at + perpend.width / 2 for left, pattern in placed for perpend in pattern.perpends)
            self._lines[course] = sorted(lines)
        return self._lines[course]

    def pieces(self, course: int) -> Iterator[LaidPiece]:
        """The pieces of a course but those of other walls, stretch after stretch."""
        for left, pattern in self._placed.get(course, []):
            for k, piece in enumerate(pattern.pieces):
                if piece.kind != "return":
                    start = left + piece.at
                    yield LaidPiece(Span(start, start + piece.length), pattern.real(k), piece)

    def placements(self, course: int) -> Sequence[Placement]:
        """The stretches laid in a course."""
        return self._placements.get(course, ())

    def height(self, pattern: str) -> float:
        """The height of a pattern's units."""
        return self._patterns[pattern].height

    def stretches(self, placed: Placement) -> Iterator[Span]:
        """Where along the wall the pieces of a stretch lie, those of other walls too."""
        for piece in self._patterns[placed.pattern].pieces:
            yield Span(placed.span.start + piece.at, placed.span.start + piece.at + piece.length)
