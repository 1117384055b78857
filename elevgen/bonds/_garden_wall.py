"""English garden wall bond, however many courses of stretchers stand between its courses of headers."""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Motif
from elevgen.bonds.english import headers


def garden_wall(number: int, stretcher_courses: int, brick: Brick) -> Motif:
    """So many courses of stretchers lapping by half, then a course of headers.

    The course of headers shows the quoin unit's long face on one side of a corner; there the closer comes after it. So it does
    at an end where the courses of stretchers over and under it begin with a header.
    """
    if number % (stretcher_courses + 1) == stretcher_courses:
        motif, long_quoin = headers(brick), (brick.length, brick.closer)
        return motif._replace(ends=(*motif.ends, long_quoin), through=(long_quoin,))
    whole = (brick.length,)
    return Motif(whole, (), (whole, (brick.header,)), (whole,), (whole,))
