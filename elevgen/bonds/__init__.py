"""Bond patterns, one file each: what a bond is, never how a wall is set out.

Every file has NAME, `half_bond`, `end_pieces`, `offset` and `grid`; the `Bond` protocol says what they take and give.
"""

from __future__ import annotations

import sys
from typing import Protocol, cast

from elevgen.core.discover import load_module, module_names
from elevgen.core.geometry import Span


class Grid(Protocol):
    """Centre lines of perpends at `origin + k * step` (mm)."""

    @property
    def step(self) -> float: ...
    @property
    def origin(self) -> float: ...


class Bond(Protocol):
    """What every bond file offers; lengths in mm."""

    NAME: str

    def half_bond(self, unit_length: float, joint: float) -> float: ...
    def end_pieces(self, unit_length: float, joint: float) -> tuple[float, ...]: ...
    def offset(self, course: int, unit_length: float, joint: float) -> float: ...
    def grid(self, span: Span, unit_length: float, joint: float) -> Grid: ...


def bond_names() -> tuple[str, ...]:
    """The bonds there are."""
    return module_names(sys.modules[__name__])


def load_bond(name: str) -> Bond:
    """One bond by name. Raises ModuleNotFoundError for a name there is no file for."""
    return cast(Bond, load_module(sys.modules[__name__], name))
