"""A word written inside a box of the drawing, level or turned upright, where it fits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

from elevgen.core.geometry import Rect
from elevgen.drawing.board import SMALLEST_TEXT, Board, text_box
from elevgen.drawing.scene import Role, Text

FIGURE_SIZES = (2.0, SMALLEST_TEXT)
"""Heights of figures in pieces, paper mm."""


def written_inside(
    board: Board, box: Rect, wordings: Iterable[str], role: Role, heights: tuple[float, ...], source: str
) -> Iterator[Text]:
    """Each wording that fits the box at one of the heights: in its middle, then to one side, where neighbours may leave room.

    Figures only: none hangs below its line.
    """
    x, y = box.along.middle, box.levels.middle
    for words, height in product(wordings, heights):
        tall = board.mm(height)
        wide = board.fonts.width(words, tall)
        if wide <= box.width and tall <= box.height:
            for middle in (x, box.left + wide / 2, box.right - wide / 2):
                yield Text(role, (middle, y - tall / 2), words, height, "centre", "base", source=source)
        if tall <= box.width and wide <= box.height:
            # Turned, capitals lie to the left of their base line.
            bases, middles = (x + tall / 2, box.left + tall, box.right), (y, box.top - wide / 2, box.bottom + wide / 2)
            for middle, base in product(middles, bases):
                yield Text(role, (base, middle), words, height, "centre", "base", 90.0, source=source)


def free(board: Board, texts: Iterable[Text]) -> Text | None:
    """The first of several texts that meets nothing on the board; None where all do."""
    return next((text for text in texts if board.room.free(text_box(text, board.fonts, board.scale))), None)


def write(board: Board, text: Text) -> None:
    """Put a text made beforehand on the board; its box is taken."""
    board.text(text.role, text.at, text.text, text.height, text.align, text.valign, text.rotation, text.bold, text.source)
