"""Stack bond: every perpend over the one below. The units do not lap: without reinforcement in the beds it is no wall."""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.core.geometry import Span

NAME = "stack"
TITLE = "stack bond"
THICKNESS = "half_brick"
HEADERS = False
PERIOD = 2
LAPS = False


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Stretchers, every course alike, whole ones at the ends; what the end shown at a return lacks of a unit stands beyond it,
    a half where that is too little to cut."""
    whole, rest = (brick.length,), brick.length - brick.width - brick.joint
    return Motif(whole, (), (whole,), (whole,), ((rest if rest > brick.joint else brick.half,),))


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every unit."""
    return parts_grid(span, unit_length, joint, 1)
