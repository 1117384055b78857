"""Flemish garden wall bond: three stretchers and a header by turns, each header over the middle one of three stretchers.

The course that begins with a header has a closer second from the end.
"""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.core.geometry import Span

NAME = "flemish_garden_wall"
TITLE = "Flemish garden wall bond"
THICKNESS = "one_brick"
HEADERS = True
PERIOD = 2
LAPS = True


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Every course alike but for the end it begins with."""
    long, head, closer = brick.length, brick.header, brick.closer
    three = (long, long, long)
    header_first = (head, closer, long, long, head)
    return Motif((*three, head), three, ((long, head), header_first), ((long, head),), (header_first[1:],))


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every half unit."""
    return parts_grid(span, unit_length, joint, 2)
