"""Fittings as placed: each with a position, a length, a reason in its rule keys."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from elevgen.core.geometry import Span
from elevgen.spec.fields import Finish

TieKind = Literal["field", "reveal", "joint", "verge", "slip", "partition"]
BondBreaker = Literal["rod", "tape"]
DampCoursePlace = Literal["base", "coping"]
TrayKind = Literal["opening", "abutment", "step"]
"""Over an opening; over a level stretch of a lower roof; one of a row that steps down a sloping one."""


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
class Fittings:
    """Everything in the walls besides units and mortar."""

    lintels: tuple[Lintel, ...]
    bed_reinforcement: tuple[BedReinforcement, ...]
    ties: tuple[WallTies, ...]
    damp_courses: tuple[DampCourse, ...]
    trays: tuple[Tray, ...]
    joint_parts: tuple[JointParts, ...]
    mesh: tuple[Mesh, ...] = ()
