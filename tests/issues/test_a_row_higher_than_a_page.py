"""A row of a table with more to say than a column is high ran off the sheet: cuts of many lengths in feet at 1:10."""

from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board, text_box, written
from elevgen.drawing.font import Fonts
from elevgen.drawing.tables import TICK, Column, Page, Row, Table, flow

SPACE = Rect(20.0, 10.0, 110.0, 70.0)


def _laid(words: str) -> list[Board]:
    table = Table("Cuts", (Column("Unit", 20), Column("lengths", 60), Column("done", 10)), (
        Row(("brick", "65", TICK), "a"),
        Row(("block", words, TICK), "b"),
        Row(("stone", "last", TICK), "c"),
    ))  # fmt: skip
    fonts = Fonts()
    boards = [Board(fonts)]

    def page() -> Page:
        boards.append(Board(fonts))
        return Page(boards[-1], (SPACE,))

    flow([table], Page(boards[0], (SPACE,)), page)
    return boards


def test_it_is_carried_over_whole_and_within_the_frame() -> None:
    words = [f"{n}mm" for n in range(1, 400)]
    boards = _laid(" ".join(words))
    assert len(boards) > 3
    for board in boards:
        for text in written(board.primitives):
            box = text_box(text, board.fonts)
            assert SPACE.bottom <= box.bottom and box.top <= SPACE.top, text.text
    texts = [text.text for board in boards for text in written(board.primitives)]
    assert [word for text in texts for word in text.split() if word.endswith("mm")] == words
    assert [text for text in texts if text in ("brick", "block", "stone", "last")] == ["brick", "block", "stone", "last"]
    assert sum(getattr(p, "title", "") == "tick when done" for board in boards for p in board.primitives) == 3
    heads = [text for text in texts if text.startswith("Cuts")]
    assert heads == ["Cuts", *["Cuts (continued)"] * (len(boards) - 2)], "a short table is not begun in too low a space"


def test_a_row_that_fits_is_not_parted() -> None:
    assert len(_laid("215 102.5")) == 1
