"""Third bond: stretchers, each course a third of a unit over the one below; for units three times as long as they are wide.

At a corner the end of a unit from round it is the third; at a stopped end a piece of two thirds makes the offset.
"""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.core.geometry import Span

NAME = "third"
TITLE = "third bond"
THICKNESS = "half_brick"
HEADERS = False
PERIOD = 2
LAPS = True


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Stretchers; every other course begins with two thirds, and where it does so at one end it ends with two such pieces."""
    whole, two_thirds = brick.length, brick.part(2, 3)
    ends = (whole,), (two_thirds,), (two_thirds, two_thirds)
    return Motif((whole,), (), ends, ((whole,),), ends)


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every third of a unit."""
    return parts_grid(span, unit_length, joint, 3)
