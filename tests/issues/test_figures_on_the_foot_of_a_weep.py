"""The foot of a weep hole's mark, under the tray, was not kept clear: the figure of a cut could stand on it."""

from collections.abc import Callable

from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board
from elevgen.drawing.damp_marks import draw_trays
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Symbol
from elevgen.result import Design
from elevgen.writers._flatten import symbol_parts

SCALE = 20.0


def test_no_text_finds_room_there(wall_of: Callable[..., Design]) -> None:
    opening = {"id": "D1", "kind": "window", "at": 1340, "width": 1210, "sill": 900, "height": 1135}
    facts = next(f for f in leaf_facts(wall_of({"openings": [opening]}, {}, {})) if f.trays)
    board = Board(Fonts(), SCALE)
    draw_trays(board, facts)
    weeps = [p for p in board.primitives if isinstance(p, Symbol) and p.name == "weep"]
    assert weeps
    for weep in weeps:
        outlines = symbol_parts(weep.name, weep.at, weep.size * SCALE, weep.rotation)
        foot = min(y for points, _ in outlines for _, y in points)
        assert not board.room.free(Rect(weep.at[0] - 1, foot, weep.at[0] + 1, foot + 2))
