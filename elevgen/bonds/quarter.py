"""Quarter bond: stretchers, each course a quarter of a unit over the one below; for blocks four times as long as wide.

At a corner the end of a block from round it is the quarter; at a stopped end a piece of three quarters makes the offset.
"""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.core.geometry import Span

NAME = "quarter"
TITLE = "quarter bond"
THICKNESS = "half_brick"
HEADERS = False
PERIOD = 2
LAPS = True


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Stretchers; every other course begins with three quarters and ends with a half and three quarters, half outermost."""
    whole, three, half = brick.length, brick.part(3, 4), brick.half
    ends = (whole,), (three,), (half, three)
    return Motif((whole,), (), ends, ((whole,),), ends)


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every quarter of a unit."""
    return parts_grid(span, unit_length, joint, 4)
