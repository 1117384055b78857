"""Stretcher bond: every unit shows its long face, each course half a unit over the one below.

A half unit at an end makes the offset: two halves and a perpend are one unit.
"""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.core.geometry import Span

NAME = "stretcher"
TITLE = "stretcher bond"
THICKNESS = "half_brick"
HEADERS = False
PERIOD = 2
LAPS = True


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Stretchers, every course alike; a half begins every other one."""
    ends = (brick.length,), (brick.half,)
    return Motif((brick.length,), (), ends, ((brick.length,),), ends)


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every half unit."""
    return parts_grid(span, unit_length, joint, 2)
