"""Header bond: every unit shows its end, each course half a header over the one below. For curved and stout walls.

Three-quarter pieces at the end of every other course make the offset: two abreast, at a corner too, where the wall round it
shows the ends of both and begins behind them (common practice, no source).
"""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.core.geometry import Span

NAME = "header"
TITLE = "header bond"
THICKNESS = "one_brick"
HEADERS = True
PERIOD = 2
LAPS = True


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Headers; every other course begins with three-quarter pieces, at corners the one that runs through."""
    head, three = (brick.header,), (brick.three_quarter,)
    return Motif(head, (), (head, three), (three,), (head,), abreast=2)


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every half unit."""
    return parts_grid(span, unit_length, joint, 2)
