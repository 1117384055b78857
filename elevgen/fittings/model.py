"""Fittings as placed: each with a position, a length, a reason in its rule keys."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from elevgen.core.geometry import Span

TieKind = Literal["field", "reveal", "joint", "verge", "slip", "partition"]
BondBreaker = Literal["rod", "tape"]
ReinforcedFor = Literal["opening", "all_over", "stack_bond", "low_lap", "parapet", "corner", "given"]
"""What a bed is reinforced for: an opening; the whole leaf said to be; units that do not lap, or too little; a parapet; what
comes round a corner from another leaf; because the spec lists it."""


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
class Return:
    """Where reinforcement goes on round a corner, at the `end` of a length: as length `continues`, in another `leaf`.

    Its last piece there is bent: `leg` of it lies in the other leaf. `round_corner` is what the bend takes besides, where the
    faces that lengths are measured on lie inside the corner.
    """

    end: Literal["start", "finish"]
    leaf: str
    continues: str
    leg: float
    round_corner: float = 0.0


@dataclass(frozen=True, slots=True)
class BedReinforcement:
    """A length of bed-joint reinforcement in the bed on top of course `course` of a leaf; `level` is that bed's underside.

    `pieces` are what of each stock piece lies in this leaf, each `lap` over the next; `cuts` say where they lie. A piece at an
    end that `returns` is longer by its leg round the corner. `ends_at`: leaves round a corner that it would go on into, were a
    bed of theirs at its level. `why`: what it is there for. `width_most`: how wide the reinforcement may be to keep its cover in
    both faces; None where the rule set has no cover. `given`: listed in the spec, kept as it is.
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
    cuts: tuple[Span, ...] = ()
    returns: tuple[Return, ...] = ()
    ends_at: tuple[str, ...] = ()
    why: tuple[ReinforcedFor, ...] = ("opening",)
    width_most: float | None = None
    given: bool = False

    @property
    def with_laps(self) -> float:
        return sum(self.pieces)

    @property
    def lap_at(self) -> tuple[Span, ...]:
        """Where its pieces lie over one another."""
        return tuple(Span(b.start, a.end) for a, b in pairwise(self.cuts))


@dataclass(frozen=True, slots=True)
class StockCut:
    """How one stock length is cut: its pieces, the longest first, how many are cut so, and what is left of each."""

    pieces: tuple[float, ...]
    number: int
    left: float


@dataclass(frozen=True, slots=True)
class StockCutting:
    """The reinforcement of a wall, for leaves of one thickness, cut from stock lengths. A bent piece is cut where it begins.

    Fewer stock lengths than `least` are proven not to do: each length in as few pieces as there are, laps free to slide, but
    for those lengths whose laps are kept clear of others'.
    """

    wall: str
    thickness: float
    stock: float
    cuts: tuple[StockCut, ...]
    least: int
    width_most: float | None = None

    @property
    def number(self) -> int:
        """Stock lengths to buy, before waste."""
        return sum(cut.number for cut in self.cuts)

    @property
    def proven(self) -> bool:
        """No way to do with fewer."""
        return self.number == self.least

    @property
    def left(self) -> float:
        """Off-cuts, end to end."""
        return sum(cut.left * cut.number for cut in self.cuts)


@dataclass(frozen=True, slots=True)
class Tie:
    """A wall tie: where along the wall, in the bed at which level, and why."""

    at: float
    level: float
    kind: TieKind


@dataclass(frozen=True, slots=True)
class WallTies:
    """All ties of a wall. `length` is None where the rule set has no length for the cavity.

    `beds_meet` is False where the two leaves' bed joints do not come to one level within tolerance.
    """

    wall: str
    ties: tuple[Tie, ...]
    length: float | None
    beds_meet: bool
    basis: tuple[str, ...]

    def count(self, *kinds: TieKind) -> int:
        return sum(1 for t in self.ties if not kinds or t.kind in kinds)


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
    stock: tuple[StockCutting, ...] = ()
