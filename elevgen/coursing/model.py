"""Coursing: patterns of pieces stored once, laid many times. Never one object per brick.

A course takes a band of the face: its bed joint below, then its units. `level` of a course is the underside
of its units; the bed lies from `level - bed` to `level`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from elevgen.core.geometry import TOLERANCE, Point, Rect, Span
from elevgen.spec.fields import LintelKind

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
    `hidden` is how much longer the first and last piece really are than they show (bonded into a return). `unseen` are pieces
    that belong to it wholly out of sight, round a corner seen from inside.
    """

    id: str
    unit: str
    length: float
    height: float
    split: bool
    pieces: tuple[Piece, ...]
    perpends: tuple[Perpend, ...]
    hidden: tuple[float, float] = (0.0, 0.0)
    unseen: tuple[Piece, ...] = ()

    def real(self, index: int) -> float:
        """How long a piece really is along the wall, what is hidden in a return included; unseen pieces are numbered on."""
        last = len(self.pieces) - 1
        if index > last:
            return self.unseen[index - last - 1].length
        return self.pieces[index].length + (index == 0) * self.hidden[0] + (index == last) * self.hidden[1]

    @property
    def laid(self) -> tuple[Piece, ...]:
        """All its pieces but those of other walls, seen or not."""
        return tuple(piece for piece in (*self.pieces, *self.unseen) if piece.kind != "return")

    @property
    def counts(self) -> tuple[int, int]:
        """Units laid whole, and cut pieces; one behind another counts as two."""
        laid = self.laid
        whole = 0 if self.split else sum(piece.deep for piece in laid if piece.kind == "full")
        return whole, sum(piece.deep for piece in laid) - whole


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
    """A unit cut to a sloping top: the outline of what remains of it, (at, level) points.

    `hidden` is how much longer it really is than it shows (bonded into a return). `deep` 0: the end of a unit of another wall.
    """

    course: int
    unit: str
    outline: tuple[Point, ...]
    laid: Laid = "stretcher"
    deep: int = 1
    hidden: float = 0.0


class Box(NamedTuple):
    """How much of a unit a piece takes: along its length, across its width, up its height."""

    length: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class CutPiece:
    """Pieces of one size in one lift of a leaf. `length` along the wall holds what is hidden in a return.

    Sizes to a tenth of a millimetre, rounded up.
    """

    leaf: str
    lift: int
    unit: str
    laid: Laid
    length: float
    height: float
    box: Box
    number: int


@dataclass(frozen=True, slots=True)
class SlopeCut:
    """Pieces of one shape that a sloping top cuts in one course of a leaf.

    `long` and `short` are the lengths of its lower and upper bed, `high` and `low` the heights of its two ends; 0 where the
    slope runs out. `box` bounds it. Where two slopes meet over a piece its outline says more (`RakePiece`).
    """

    leaf: str
    lift: int
    course: int
    unit: str
    laid: Laid
    long: float
    short: float
    high: float
    low: float
    box: Box
    number: int


@dataclass(frozen=True, slots=True)
class Sawing:
    """Lengths of unit cut alike: the pieces out of one of them, how many are so cut, and what is left of each.

    A unit gives `per_unit` such lengths, `width` wide and `height` high: more than one where pieces are cut in height or width.
    `sloping`: pieces cut to a slope, by the lengths that bound them.
    """

    unit: str
    sloping: bool
    width: float
    height: float
    pieces: tuple[float, ...]
    number: int
    left: float
    per_unit: int


@dataclass(frozen=True, slots=True)
class OffCut:
    """What is left over of units that are cut; what is thinner than a saw cut is not counted."""

    unit: str
    box: Box
    number: int


@dataclass(frozen=True, slots=True)
class UnitNeed:
    """Units of one kind: laid whole, pieces cut, and the units those are cut out of; fewer than `least` is proven not to do.

    Proven for a unit cut into pieces of one width and one height; for pieces cut to a slope `least` is a plain bound.
    """

    unit: str
    whole: int
    pieces: int
    cut_from: int
    least: int

    @property
    def to_buy(self) -> int:
        """Whole units, without waste."""
        return self.whole + self.cut_from


@dataclass(frozen=True, slots=True)
class Lift:
    """What one scaffold lift of the building needs. A course belongs to the lift its units stand in."""

    number: int
    levels: Span
    needs: tuple[UnitNeed, ...]
    sawing: tuple[Sawing, ...]
    off_cuts: tuple[OffCut, ...]


@dataclass(frozen=True, slots=True)
class LeafNeeds:
    """What a leaf needs by itself, its cut pieces cut out of no other leaf's units; each lift by itself.

    `by_lift` is the same lift by lift, from the lowest.
    """

    leaf: str
    needs: tuple[UnitNeed, ...]
    by_lift: tuple[tuple[int, tuple[UnitNeed, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class Cutting:
    """Every cut piece, and the units it takes to lay the building, lift by lift.

    `saw` is what each cut takes away; None where the rule set has no value: each piece is then taken out of a unit of its own.
    """

    saw: float | None = None
    pieces: tuple[CutPiece, ...] = ()
    slopes: tuple[SlopeCut, ...] = ()
    lifts: tuple[Lift, ...] = ()
    leaves: tuple[LeafNeeds, ...] = ()

    def of(self, leaf_id: str) -> LeafNeeds:
        return next(needs for needs in self.leaves if needs.leaf == leaf_id)


@dataclass(frozen=True, slots=True)
class UnitMass:
    """How heavy one unit is at most, kg; None where nobody has said. `given` by the spec or the catalogue, else reckoned
    from its size and the greatest usual density. `limit`: what one person lifts; None where the rule set does not say."""

    unit: str
    mass: float | None
    given: bool
    limit: float | None

    @property
    def heavy(self) -> bool:
        return self.mass is not None and self.limit is not None and self.mass > self.limit + TOLERANCE


@dataclass(frozen=True, slots=True)
class UnitCount:
    """How many units of one kind a leaf takes: laid whole, and cut pieces."""

    unit: str
    full: int
    cut: int


@dataclass(frozen=True, slots=True)
class LintelSeat:
    """Where a lintel lies in a leaf: over which openings, at the `level` of their heads, from `along.start` to `along.end`.

    `clears` are its spans between supports, from the left: it bears on its ends and on every pier between. `bed` is the
    mortar between `level` and its underside. `courses`: how many it takes the place of; None: not a whole number, or none.
    `given`: its number in the wall's list of lintels; None: it is placed.
    """

    wall: str
    leaf: str
    openings: tuple[str, ...]
    level: float
    clears: tuple[Span, ...]
    along: Span
    kind: LintelKind | None = None
    depth: float | None = None
    bed: float = 0.0
    courses: int | None = None
    given: int | None = None
    basis: tuple[str, ...] = ()

    @property
    def clear(self) -> Span:
        """From the first reveal to the last."""
        return Span(self.clears[0].start, self.clears[-1].end)

    @property
    def body(self) -> Rect | None:
        """What it takes of the face of the leaf; None where units are laid on and beside it as if it were not there."""
        return lintel_body(self.along, self.level + self.bed, self.kind, self.depth)


def lintel_body(along: Span, underside: float, kind: LintelKind | None, depth: float | None) -> Rect | None:
    """Concrete and stone take the place of units; steel carries those laid on its flange (common practice, no source).

    None for steel, and where nobody has said what the lintel is or how deep.
    """
    if kind not in ("concrete", "stone") or depth is None:
        return None
    return Rect(along.start, underside, along.end, underside + depth)


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
    """The whole building laid. `patterns` are shared by all leaves; `lintels` are seats wall by wall, from each leaf's start."""

    patterns: tuple[Pattern, ...]
    leaves: tuple[LeafCoursing, ...]
    cutting: Cutting = Cutting()
    masses: tuple[UnitMass, ...] = ()
    lintels: tuple[LintelSeat, ...] = ()

    def of(self, leaf_id: str) -> LeafCoursing:
        return next(c for c in self.leaves if c.leaf == leaf_id)

    def pattern(self, pattern_id: str) -> Pattern:
        return next(p for p in self.patterns if p.id == pattern_id)
