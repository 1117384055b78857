"""Flemish bond: stretcher and header by turns in every course, each header over the middle of a stretcher.

The course that begins with a header has a closer second from the end.
"""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.core.geometry import Span

NAME = "flemish"
TITLE = "Flemish bond"
THICKNESS = "one_brick"
HEADERS = True
PERIOD = 2
LAPS = True


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Every course alike but for the end it begins with."""
    long, head, closer = brick.length, brick.header, brick.closer
    return Motif((head, long), (head,), ((long,), (head, closer, long)), ((long,),), ((closer, long),))


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every half unit."""
    return parts_grid(span, unit_length, joint, 2)
