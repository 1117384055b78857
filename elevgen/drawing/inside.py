"""A word written inside a box of the drawing, level or turned upright, where it fits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board
from elevgen.drawing.scene import Role, Text


def written_inside(board: Board, box: Rect, wordings: Iterable[str], role: Role, height: float, source: str) -> Iterator[Text]:
    """Each wording that fits the box, in its middle, the best first. Figures only: they hang below no line."""
    middle = (box.along.middle, box.levels.middle)
    tall = board.mm(height)
    for words in wordings:
        wide = board.fonts.width(words, tall)
        for turned, along, up in ((0.0, wide, tall), (90.0, tall, wide)):
            if along > box.width or up > box.height:
                continue
            # The middle of a text is that of its capitals: turned, they lie to the left of its base line.
            at = (middle[0] + tall / 2, middle[1]) if turned else (middle[0], middle[1] - tall / 2)
            yield Text(role, at, words, height, "centre", "base", turned, source=source)


def write(board: Board, text: Text) -> None:
    """Put a text made beforehand on the board; its box is taken."""
    board.text(text.role, text.at, text.text, text.height, text.align, text.valign, text.rotation, text.bold, text.source)
