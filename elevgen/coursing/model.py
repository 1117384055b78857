"""Coursing: patterns of pieces stored once, laid many times. Never one object per brick.

A course takes a band of the face: its bed joint below, then its units. `level` of a course is the underside
of its units; the bed lies from `level - bed` to `level`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from elevgen.core.geometry import Point, Span

PieceKind = Literal["full", "cut", "return"]
"""A whole unit, a cut one, or the end of a unit that belongs to the wall round the corner."""

Laid = Literal["stretcher", "header", "closer"]
"""Which face of a unit shows: its long one, its end, or a slip of either that brings a bond into lap."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a pattern: `at` from the pattern's left end to the piece's left, and how long it shows.

    `deep` is how many units like it lie one behind another through the leaf: two stretchers in a wall one brick thick.
    """

    at: float
    length: float
    kind: PieceKind
    laid: Laid = "stretcher"
    deep: int = 1


@dataclass(frozen=True, slots=True)
class Perpend:
    """A vertical mortar joint: `at` from the pattern's left end to the joint's left, and its width."""

    at: float
    width: float


@dataclass(frozen=True, slots=True)
class Pattern:
    """A stretch of course: pieces and perpends that fill `length` exactly, `height` of unit face.

    `split` is True when the units are cut in height; every piece of it then counts as cut.
    `hidden` is how much longer the first and last piece really are than they show (bonded into a return).
    """

    id: str
    unit: str
    length: float
    height: float
    split: bool
    pieces: tuple[Piece, ...]
    perpends: tuple[Perpend, ...]
    hidden: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Course:
    """One course of a leaf. `number` counts from 1 at the bottom."""

    number: int
    unit: str
    level: float
    bed: float
    height: float
    span: Span

    @property
    def top(self) -> float:
        return self.level + self.height


@dataclass(frozen=True, slots=True)
class Placement:
    """A pattern laid: in which course, at which level (underside of its units), from where to where."""

    course: int
    level: float
    pattern: str
    span: Span


@dataclass(frozen=True, slots=True)
class RakePiece:
    """A unit cut to a sloping top: the outline of what remains of it, (at, level) points."""

    course: int
    unit: str
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class UnitCount:
    """How many units of one kind a leaf takes: laid whole, and cut pieces."""

    unit: str
    full: int
    cut: int


Bar = Literal["tolerance", "ties", "run", "others"]
"""Why a bed that would land a level is not laid: it is outside the tolerance; ties need the beds of the other leaf;
courses would not meet those of the walls of the run; other levels would be lost."""


@dataclass(frozen=True, slots=True)
class Misfit:
    """A level that does not land on a course: which, and the nearest levels that would at the beds as laid.

    `course` is the one that pays: its units are `cut_to` this height there, or its bed is `made_up` to this thickness.
    `bed` is that of all courses of the zone; `bed_needed`, nearest nominal, would land the level but is `barred`, and
    `loses` so many levels that land now. None: there is none, or nobody has looked.
    """

    leaf: str
    what: str
    level: float
    down: float
    up: float
    course: int | None = None
    cut_to: float | None = None
    made_up: float | None = None
    bed: float | None = None
    bed_needed: float | None = None
    barred: Bar | None = None
    loses: int | None = None


@dataclass(frozen=True, slots=True)
class LeafCoursing:
    """A leaf laid: its courses, the placements in them, counts and areas (mm2 of face)."""

    leaf: str
    courses: tuple[Course, ...]
    placements: tuple[Placement, ...]
    rakes: tuple[RakePiece, ...]
    counts: tuple[UnitCount, ...]
    unit_area: float
    mortar_area: float
    misfits: tuple[Misfit, ...]


@dataclass(frozen=True, slots=True)
class Coursing:
    """The whole building laid. `patterns` are shared by all leaves."""

    patterns: tuple[Pattern, ...]
    leaves: tuple[LeafCoursing, ...]

    def of(self, leaf_id: str) -> LeafCoursing:
        return next(c for c in self.leaves if c.leaf == leaf_id)

    def pattern(self, pattern_id: str) -> Pattern:
        return next(p for p in self.patterns if p.id == pattern_id)
