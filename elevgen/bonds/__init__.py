"""Bond patterns, one file each: what a bond is, never how a wall is set out.

Every file has NAME, TITLE, THICKNESS, HEADERS, PERIOD, LAPS, `course` and `grid`; the `Bond` protocol says what they take and
give.
"""

from __future__ import annotations

import sys
from typing import Literal, Protocol, cast

from elevgen.bonds._courses import Brick, Grid, Motif, Pieces
from elevgen.core.discover import load_module, module_names
from elevgen.core.geometry import Span

__all__ = ["Bond", "Brick", "Grid", "Motif", "Pieces", "Thickness", "bond_names", "load_bond"]

Thickness = Literal["half_brick", "one_brick"]
"""How thick a leaf is: as wide as a unit, or as long."""


class Bond(Protocol):
    """What every bond file offers; lengths in mm.

    TITLE is what the trade calls it; THICKNESS what it is usually built in; HEADERS: whether ends of units show on its face;
    PERIOD: after how many courses it comes round again; LAPS: whether its courses lap.
    """

    NAME: str
    TITLE: str
    THICKNESS: Thickness
    HEADERS: bool
    PERIOD: int
    LAPS: bool

    def course(self, number: int, through: bool, brick: Brick) -> Motif:
        """The pieces of course 0, 1, 2... counted alike in all walls bonded together; `through` as at the leaf's first corner."""
        ...

    def grid(self, span: Span, unit_length: float, joint: float) -> Grid:
        """Where the centre line of a movement joint or a perpend suits the bond, over a stretch that starts afresh."""
        ...


def bond_names() -> tuple[str, ...]:
    """The bonds there are."""
    return module_names(sys.modules[__name__])


def load_bond(name: str) -> Bond:
    """One bond by name. Raises ModuleNotFoundError for a name there is no file for."""
    return cast(Bond, load_module(sys.modules[__name__], name))
