"""English garden wall bond with five courses of stretchers to one of headers."""

from __future__ import annotations

from elevgen.bonds._courses import Brick, Grid, Motif, parts_grid
from elevgen.bonds._garden_wall import garden_wall
from elevgen.core.geometry import Span

NAME = "english_garden_wall_5"
TITLE = "English garden wall bond, five courses of stretchers"
THICKNESS = "one_brick"
HEADERS = True
PERIOD = 6
LAPS = True


def course(number: int, through: bool, brick: Brick) -> Motif:
    """Courses 1 to 5 of stretchers, then headers."""
    return garden_wall(number, 5, brick)


def grid(span: Span, unit_length: float, joint: float) -> Grid:
    """Every half unit."""
    return parts_grid(span, unit_length, joint, 2)
