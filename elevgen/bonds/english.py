"""English bond: a course of stretchers, a course of headers, with a closer second from the end of the headers.

What shows stretchers on one side of a corner shows headers round it.
"""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.core.geometry import Span

NAME = "english"
TITLE = "English bond"
THICKNESS = "one_brick"
HEADERS = True
PERIOD = 2
LAPS = True


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Stretchers where the course runs through the corner, headers where it meets the unit that does."""
    return stretchers(brick) if through else headers(brick)


def stretchers(brick: Brick) -> Motif:
    """A course of stretchers over or under one of headers; beyond a return it starts as at an end."""
    ends = ((brick.length,),)
    return Motif(ends[0], (), ends, ends, ends)


def headers(brick: Brick) -> Motif:
    """A course of headers, the closer second from the end; a pier of one brick is two headers and no closer.

    Where such a course has to run through a corner a three-quarter piece takes the place of quoin header and closer.
    """
    quoin = (brick.header, brick.closer)
    return Motif((brick.header,), (), (quoin, (brick.header,)), ((brick.three_quarter,),), ((brick.closer,),))


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every whole unit, so that the courses of stretchers stay whole."""
    return parts_grid(span, unit_length, joint, 1)
