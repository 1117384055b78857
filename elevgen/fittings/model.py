"""Fittings as placed: each with a position, a length, a reason in its rule keys."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from elevgen.core.geometry import Span

TieKind = Literal["field", "reveal", "joint", "verge", "slip", "partition", "end"]
BondBreaker = Literal["rod", "tape"]


@dataclass(frozen=True, slots=True)
class Lintel:
    """A lintel over one opening or a group of them in one leaf.

    `level` is its underside, `bears` the length it really takes on each side, `clear` the span between reveals.
    `depth` is None until somebody qualified has chosen the section.
    """

    id: str
    wall: str
    leaf: str
    openings: tuple[str, ...]
    level: float
    clear: Span
    bearing_start: float
    bearing_end: float
    depth: float | None
    basis: tuple[str, ...]

    @property
    def span(self) -> Span:
        return Span(self.clear.start - self.bearing_start, self.clear.end + self.bearing_end)

    @property
    def length(self) -> float:
        return self.span.length


@dataclass(frozen=True, slots=True)
class BedReinforcement:
    """A length of bed-joint reinforcement in the bed on top of course `course` of a leaf; `level` is that bed's underside.

    `pieces` are the stock pieces it is made of, each `lap` over the next.
    """

    id: str
    wall: str
    leaf: str
    course: int
    level: float
    span: Span
    laps: int
    lap: float
    pieces: tuple[float, ...]
    serves: tuple[str, ...]
    basis: tuple[str, ...]

    @property
    def with_laps(self) -> float:
        return sum(self.pieces)


@dataclass(frozen=True, slots=True)
class Tie:
    """A wall tie: where along the wall, in the bed at which level, and why.

    `kind`: what it is there for; `end` is a free end, a step in the top or a change of leaf. `leaf` is the one it lies in where
    that is one leaf only: a slip tie's, or that of a wall tied to another. `given`: it is in the spec.
    """

    at: float
    level: float
    kind: TieKind
    leaf: str | None = None
    given: bool = False


@dataclass(frozen=True, slots=True)
class TiePanel:
    """A stretch of a wall between movement joints: the masonry both leaves have there (mm2) and the ties across the cavity in it.

    `judged`: large enough that one tie more or less does not decide whether it has enough.
    """

    span: Span
    area: float
    ties: int
    judged: bool

    @property
    def density(self) -> float | None:
        """Ties to the square metre; None where there is no masonry."""
        return self.ties / self.area * 1e6 if self.area > 0 else None


@dataclass(frozen=True, slots=True)
class WallTies:
    """All ties of a wall. `length` is None where the rule set has no length for the cavity.

    `beds_meet` is False where the two leaves' bed joints do not come to one level within tolerance; `apart` are the levels of
    rows of ties that lie in a bed of one leaf only. `panels` are counted, not worked out from the spacing; `required` is the
    least density, None where the rule set has none. `reasons`: the rule keys behind each kind. `given`: a survey, nothing added.
    """

    wall: str
    ties: tuple[Tie, ...]
    length: float | None
    beds_meet: bool
    basis: tuple[str, ...]
    panels: tuple[TiePanel, ...] = ()
    required: float | None = None
    apart: tuple[float, ...] = ()
    reasons: tuple[tuple[TieKind, tuple[str, ...]], ...] = ()
    given: bool = False

    def count(self, *kinds: TieKind) -> int:
        return sum(1 for t in self.ties if not kinds or t.kind in kinds)

    @property
    def across(self) -> tuple[Tie, ...]:
        """The ties that hold the two leaves of the wall to one another."""
        return tuple(t for t in self.ties if t.kind not in ("slip", "partition"))


@dataclass(frozen=True, slots=True)
class DampCourse:
    """A damp-proof course along a leaf: net length, and the laps it needs."""

    id: str
    wall: str
    leaf: str
    level: float
    span: Span
    width: float
    laps: int
    lap: float | None
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tray:
    """A cavity tray over a lintel: its length with stop ends past the lintel, and the weeps over it."""

    id: str
    wall: str
    opening: str
    level: float
    span: Span
    stop_ends: int
    weeps: tuple[float, ...]
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class JointParts:
    """What one movement joint takes. Lengths and widths in mm; sealant runs each face that is seen.

    `backer_diameter` is a size rod is sold in; None where a rod has no room or none is sold that wide. `bond_breaker` keeps
    the sealant off the bottom of the joint: the rod, or tape where there is none; None where the set says nothing of rods.
    `filler` is what the joint may be filled with in every material of the leaf, None where the set does not say for one of
    them; `filler_barred` is what it must not be. `filler_strip` is the thickness of strip squeezed in, None where it is not.
    `slip_ties` is None where nobody has said whether stability asks for them: that is an engineer's to say.
    """

    joint: str
    length: float
    filler_width: float
    filler_depth: float
    sealant_width: float
    sealant_depth: float
    sealant_faces: int
    backer_diameter: float | None
    slip_ties: int | None
    basis: tuple[str, ...]
    bond_breaker: BondBreaker | None = None
    filler: tuple[str, ...] | None = None
    filler_barred: tuple[str, ...] = ()
    filler_strip: float | None = None

    @property
    def sealant_litres(self) -> float:
        """Volume of sealant, litres."""
        return self.length * self.sealant_faces * self.sealant_per_metre / 1e6

    @property
    def sealant_per_metre(self) -> float:
        """Sealant for a metre of one face, millilitres: width times depth in mm."""
        return self.sealant_width * self.sealant_depth


@dataclass(frozen=True, slots=True)
class Fittings:
    """Everything in the walls besides units and mortar."""

    lintels: tuple[Lintel, ...]
    bed_reinforcement: tuple[BedReinforcement, ...]
    ties: tuple[WallTies, ...]
    damp_courses: tuple[DampCourse, ...]
    trays: tuple[Tray, ...]
    joint_parts: tuple[JointParts, ...]
