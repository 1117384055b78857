"""Fittings as placed: each with a position, a length, a reason in its rule keys."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

from elevgen.core.geometry import Rect, Span
from elevgen.coursing.model import lintel_body
from elevgen.fittings.load_model import LintelLoad
from elevgen.spec.fields import Finish, LintelKind

TieKind = Literal["field", "reveal", "joint", "verge", "slip", "partition", "end"]
BondBreaker = Literal["rod", "tape"]
DampCoursePlace = Literal["base", "coping"]
TrayKind = Literal["opening", "abutment", "step"]
"""Over an opening; over a level stretch of a lower roof; one of a row that steps down a sloping one."""
ReinforcedFor = Literal["opening", "all_over", "stack_bond", "low_lap", "parapet", "corner", "given"]
"""What a bed is reinforced for: an opening; the whole leaf said to be; units that do not lap, or too little; a parapet; what
comes round a corner from another leaf; because the spec lists it."""


@dataclass(frozen=True, slots=True)
class Lintel:
    """A lintel over one opening or a group of them in one leaf.

    `level` is that of the heads, `bed` the mortar between it and the lintel's underside. `clear` is the span from the first
    reveal to the last, `clears` its spans between supports: it bears on the piers between too. `bearing_start` and
    `bearing_end` are how far it goes past the reveals. `depth` is None until somebody qualified has chosen the section;
    `courses` are those it takes the place of, None where they are no whole number or it takes none's. `given`: the spec lists it.
    `mass` in kg of one of concrete or stone, as wide as its leaf is thick; None where its size or density is not known.
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
    clears: tuple[Span, ...] = ()
    kind: LintelKind | None = None
    courses: int | None = None
    given: bool = False
    bed: float = 0.0
    mass: float | None = None

    def __post_init__(self) -> None:
        if not self.clears:
            object.__setattr__(self, "clears", (self.clear,))

    @property
    def span(self) -> Span:
        return Span(self.clear.start - self.bearing_start, self.clear.end + self.bearing_end)

    @property
    def length(self) -> float:
        return self.span.length

    @property
    def underside(self) -> float:
        return self.level + self.bed

    @property
    def body(self) -> Rect | None:
        """What it takes of the face of the leaf; None where units are laid as if it were not there."""
        return lintel_body(self.span, self.underside, self.kind, self.depth)


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


class Laps(NamedTuple):
    """What a damp-proof course is lapped at: corners and junctions, movement joints, ends of rolls, steps."""

    corners: int = 0
    joints: int = 0
    rolls: int = 0
    steps: int = 0


@dataclass(frozen=True, slots=True)
class DampCourse:
    """A damp-proof course along a leaf: where it lies, and the laps it needs. Lengths mm.

    `place`: at the foot of a wall, or under its coping. `extra` is what it takes beyond its span: up a step, along a slope.
    `lapped` says what the laps are for; None where that is not known apart. It runs on through the movement joints `folded`,
    lapped or folded there so that the joint can move. `barred`: what it must not be of.
    """

    id: str
    wall: str
    leaf: str
    level: float
    span: Span
    width: float
    laps: int
    lap: float | None
    basis: tuple[str, ...]
    given: bool = False
    place: DampCoursePlace = "base"
    extra: float = 0.0
    lapped: Laps | None = None
    folded: tuple[str, ...] = ()
    barred: tuple[str, ...] = ()

    @property
    def length(self) -> float:
        """As laid, without laps."""
        return self.span.length + self.extra


@dataclass(frozen=True, slots=True)
class Tray:
    """A cavity tray: over one lintel or more, or over a lower roof or building that meets the wall. Lengths mm.

    It lies in the outer leaf at `level`, on what is under it, and rises to the bed of the inner leaf at `upper`, which is None
    where that leaf has none high enough. `width` is that of the sheet across the wall, None where it is not known. `weeps` are
    all of its weep holes along the wall, `cut_weeps` those that no perpend of the course on it stands near enough for.
    `opening` is the first of `openings`, empty where it is over none.
    """

    id: str
    wall: str
    opening: str
    level: float
    span: Span
    stop_ends: int
    weeps: tuple[float, ...]
    basis: tuple[str, ...]
    given: bool = False
    kind: TrayKind = "opening"
    openings: tuple[str, ...] = ()
    leaf: str = ""
    upper: float | None = None
    width: float | None = None
    cut_weeps: tuple[float, ...] = ()
    barred: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Mesh:
    """A strip of mesh in render or plaster across a corner of an opening, `length` by `width` (mm), on so many `faces`.

    `at` and `level` are the corner; the strip lies across the line that goes on from the opening to the `side` and `end` told.
    """

    leaf: str
    opening: str
    at: float
    level: float
    side: Literal["left", "right"]
    end: Literal["head", "sill"]
    length: float
    width: float
    faces: int
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class JointParts:
    """What one movement joint takes. Lengths and widths in mm; sealant runs each face that is seen.

    `backer_diameter` is a size rod is sold in; None where a rod has no room or none is sold that wide. `bond_breaker` keeps
    the sealant off the bottom of the joint: the rod, or tape where there is none; None where the set says nothing of rods.
    `filler` is what the joint may be filled with in every material of the leaf, None where the set does not say for one of
    them; `filler_barred` is what it must not be. `filler_strip` is the thickness of strip squeezed in, None where it is not.
    `finish` is that of the faces in sight, through which the joint goes on between stop beads of this length all together.
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
    finish: Finish | None = None
    stop_beads: float = 0.0

    @property
    def sealant_litres(self) -> float:
        """Volume of sealant, litres."""
        return self.length * self.sealant_faces * self.sealant_per_metre / 1e6

    @property
    def sealant_per_metre(self) -> float:
        """Sealant for a metre of one face, millilitres: width times depth in mm."""
        return self.sealant_width * self.sealant_depth


@dataclass(frozen=True, slots=True)
class SiteTolerance:
    """What a leaf may be out by when it is built: its beds out of level over its length, its face out of plumb over its height.

    mm; None where the rule set does not say.
    """

    leaf: str
    length: float
    level: float | None
    height: float
    plumb: float | None
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fittings:
    """Everything in the walls besides units and mortar."""

    lintels: tuple[Lintel, ...]
    bed_reinforcement: tuple[BedReinforcement, ...]
    ties: tuple[WallTies, ...]
    damp_courses: tuple[DampCourse, ...]
    trays: tuple[Tray, ...]
    joint_parts: tuple[JointParts, ...]
    lintel_loads: tuple[LintelLoad, ...] = ()
    mesh: tuple[Mesh, ...] = ()
    stock: tuple[StockCutting, ...] = ()
    tolerances: tuple[SiteTolerance, ...] = ()
