"""Parts the spec lists for a wall, because they stand already or somebody has chosen them. Kept and judged, never moved.

Positions along the wall line, levels from datum, all mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

from elevgen.core.geometry import Span
from elevgen.spec.fields import LeafSide, LintelKind

_Part = TypeVar("_Part")


@dataclass(frozen=True)
class Given(Generic[_Part]):
    """The parts of one kind that a wall lists. `placing`: others are placed beside them."""

    parts: tuple[_Part, ...] = ()
    placing: bool = True


class _Along:
    """What lies along a wall from its left end `at` over its `length`."""

    __slots__ = ()
    at: float
    length: float

    @property
    def span(self) -> Span:
        return Span(self.at, self.at + self.length)


@dataclass(frozen=True, slots=True)
class GivenLintel(_Along):
    """A lintel over some openings; `leaf` None: in every leaf. `kind`, `depth` None: as its leaf's are."""

    over: tuple[str, ...]
    leaf: LeafSide | None
    at: float
    length: float
    kind: LintelKind | None
    depth: float | None


@dataclass(frozen=True, slots=True)
class GivenReinforcement(_Along):
    """A length of bed-joint reinforcement in the bed at `level`; `leaf` None: in every leaf."""

    leaf: LeafSide | None
    level: float
    at: float
    length: float


@dataclass(frozen=True, slots=True)
class GivenTie:
    """A wall tie between the two leaves."""

    at: float
    level: float


@dataclass(frozen=True, slots=True)
class GivenDampCourse(_Along):
    """A damp-proof course; `leaf` None: in every leaf."""

    leaf: LeafSide | None
    level: float
    at: float
    length: float


@dataclass(frozen=True, slots=True)
class GivenTray(_Along):
    """A cavity tray; `level` is that of its lower edge, in the outer leaf."""

    level: float
    at: float
    length: float
    stop_ends: int


@dataclass(frozen=True, slots=True)
class Load:
    """A load on the masonry: kN to the metre over `length`, or kN at one point where that is None. `leaf` None: on every leaf."""

    leaf: LeafSide | None
    level: float
    at: float
    length: float | None
    load: float
