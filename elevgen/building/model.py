"""The building as geometry: walls, leaves, meetings, openings, and the runs of tied masonry.

Positions (`at`) run along the wall line from the wall's `start`; levels are from datum. All millimetres.
"Left" is the left hand of somebody walking from `start` to `end`, which is the inside of an outer wall.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from elevgen.bonds import Thickness
from elevgen.building.given import Given, GivenDampCourse, GivenLintel, GivenReinforcement, GivenTie, GivenTray, Load
from elevgen.core.geometry import TOLERANCE, Point, Rect, Span, between, cross, distance, merge
from elevgen.spec.fields import Colour, Connection, FeatureKind, Finish, LeafSide, LintelKind, Material, Stands

EndKind = Literal["stopped", "corner", "abutting"]
NodeKind = Literal["end", "corner", "tee", "cross"]


@dataclass(frozen=True, slots=True)
class Unit:
    """A brick or block at work size; `joint` is its nominal perpend and bed thickness, `mass` its kg where told.

    `own_bed`: the nominal bed where it is not as thick as the perpend, as of bricks laid three courses to 8 in.
    `hollows`: frogs and cores that fill with mortar, per cent of its volume; None: not told.
    """

    name: str
    material: Material
    length: float
    height: float
    width: float
    joint: float
    mass: float | None = None
    hollows: float | None = None
    own_bed: float | None = None

    @property
    def bed(self) -> float:
        """Nominal thickness of a bed."""
        return self.joint if self.own_bed is None else self.own_bed

    @property
    def module(self) -> float:
        """Coordinating length: unit and one perpend."""
        return self.length + self.joint

    @property
    def gauge(self) -> float:
        """Coordinating height: unit and one bed."""
        return self.height + self.bed


@dataclass(frozen=True, slots=True)
class Zone:
    """One unit type between two levels of a leaf."""

    unit: Unit
    levels: Span


@dataclass(frozen=True, slots=True)
class Profile:
    """A level that may step or slope along the wall: (at, level) points, straight between; two points at one `at` are a step."""

    points: tuple[tuple[float, float], ...]

    def highest(self, over: Span) -> float:
        """The highest level anywhere over the span."""
        return max(level for _, level in self.clipped(over))

    def lowest(self, over: Span) -> float:
        """The lowest level anywhere over the span."""
        return min(level for _, level in self.clipped(over))

    def clipped(self, over: Span) -> tuple[tuple[float, float], ...]:
        """The profile's points inside the span, with its levels at the span's two ends added."""
        inside = [p for p in self.points if over.start + TOLERANCE < p[0] < over.end - TOLERANCE]
        return ((over.start, self.level_right_of(over.start)), *inside, (over.end, self.level_left_of(over.end)))

    def turns(self, over: Span) -> tuple[Point, ...]:
        """The (at, level) points inside the span where the profile steps or changes its slope, in order; both ends of a step."""
        points = self.clipped(over)
        return tuple(b for a, b, c in zip(points, points[1:], points[2:], strict=False) if _turns(a, b, c))

    def level_left_of(self, at: float) -> float:
        """The level just before `at`; before the first point, its level."""
        reached = next((i for i, p in enumerate(self.points) if p[0] >= at - TOLERANCE), None)
        if reached is None:
            return self.points[-1][1]
        return self._between(reached - 1, reached, at)

    def level_right_of(self, at: float) -> float:
        """The level just after `at`; past the last point, its level."""
        passed = next((i for i, p in enumerate(self.points) if p[0] > at + TOLERANCE), None)
        if passed is None:
            return self.points[-1][1]
        return self._between(passed - 1, passed, at)

    def _between(self, before: int, after: int, at: float) -> float:
        if before < 0:
            return self.points[after][1]
        (x0, y0), (x1, y1) = self.points[before], self.points[after]
        if x1 - x0 <= TOLERANCE:
            return y0
        return y0 + (y1 - y0) * min(1.0, max(0.0, (at - x0) / (x1 - x0)))


def _turns(a: Point, b: Point, c: Point) -> bool:
    reach = distance(a, c)
    return reach <= TOLERANCE or abs(cross(between(a, b), between(a, c))) > TOLERANCE * reach


@dataclass(frozen=True, slots=True)
class LeafEnd:
    """One end of a leaf.

    `near` and `far` are positions of the near and far face of the leaf it meets, measured along this wall:
    at a corner, courses alternately run through to `far` and stop one perpend short of `near`.
    A stopped end has `near == far`. An abutting end stops against a face, `near == far` at that face: a leaf
    that is not bonded there, and the stem of a tee however connected (what is toothed in is hidden in its host).
    A corner of 180 degrees has `near == far`.
    `through_on_even` says whether courses 0, 2, 4... are the ones that run through; the other leaf has the opposite.
    `near` and `far` are those of this leaf's right-hand face; `lean`: how much further out they lie at a corner for each mm to
    the left, nothing where it is square.
    """

    kind: EndKind
    near: float
    far: float
    other: str | None = None
    connection: Connection | None = None
    through_on_even: bool = True
    lean: float = 0.0

    def beyond(self, thickness: float) -> float:
        """How much further out a leaf this thick reaches on its left-hand face than on its right-hand one, mm."""
        return max(0.0, self.lean) * thickness


@dataclass(frozen=True, slots=True)
class Opening:
    """An opening as resolved: its clear rectangle on the wall face."""

    id: str
    kind: str
    rect: Rect


@dataclass(frozen=True, slots=True)
class Strip:
    """Masonry between openings too small to build, taken as part of the hole: a pier or a band."""

    kind: Literal["pier", "band", "head", "sill"]
    rect: Rect
    between: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OpeningGroup:
    """Openings that act as one because what stands between them cannot be built; most groups hold one opening.

    `clear` bounds the group. Voids of the group are its openings and its strips; they fill every place
    where there is no masonry.
    """

    id: str
    openings: tuple[str, ...]
    clear: Rect
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class Feature:
    """Something along the wall that can hide a joint."""

    kind: FeatureKind
    at: float


@dataclass(frozen=True, slots=True)
class GivenJoint:
    """A movement joint the spec lists; kept and judged, never moved."""

    at: float
    leaf: LeafSide | None
    width: float | None


@dataclass(frozen=True, slots=True)
class Parting:
    """Why two leaves that meet are not built in one piece: the rule, and in words."""

    rule: str
    words: str


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two leaves that touch: `corner` end to end, `tee` the stem's end on the host's side, `cross`.

    For a corner `host` and `stem` are the two leaves in spec order, but at a jointed one the stem is the leaf that stops:
    in line the lower of the two, and the new one rather than the old. `host_at` and `stem_at` are positions of the meeting
    along each wall line. `parted`: what makes it a joint though the spec does not say so.
    """

    id: str
    kind: Literal["corner", "tee", "cross"]
    host: str
    stem: str
    host_at: float
    stem_at: float
    connection: Connection
    parted: tuple[Parting, ...] = ()

    @property
    def continuous(self) -> bool:
        """True when the two act as one piece of masonry: bonded or tied."""
        return self.connection in ("bonded", "tied")


@dataclass(frozen=True, slots=True)
class Leaf:
    """One skin of a wall.

    `span` is its face as seen from the outside (right hand side), along the wall line. `offset` is how far
    its outer face stands to the left of the wall line. `voids` are the rectangles without masonry.
    `crossings` are those voids where another wall runs through this one: they are no part of its face. `strips` are
    those too small to build; the others are openings.
    `exposed` is True when the right-hand face is weather side. `reinforced_every`: the distance between its reinforced bed
    joints (mm), None where it has none all over. `colour` None: not told. `build`: as thick as a unit is wide, or as long.
    `finish` on the faces that stay in sight, None: left as it is. `lintel_kind`, `lintel_depth`: None: nobody has chosen.
    `mortar`, `pointing`: as the spec puts them, None: not said.
    """

    id: str
    wall: str
    side: LeafSide
    zones: tuple[Zone, ...]
    bond: str
    thickness: float
    offset: float
    span: Span
    start_end: LeafEnd
    finish_end: LeafEnd
    base: Profile
    top: Profile
    voids: tuple[Rect, ...]
    exposed: bool
    colour: Colour | None = None
    crossings: tuple[Rect, ...] = ()
    strips: tuple[Rect, ...] = ()
    reinforced_every: float | None = None
    build: Thickness = "half_brick"
    finish: Finish | None = None
    lintel_kind: LintelKind | None = None
    lintel_depth: float | None = None
    mortar: str | None = None
    pointing: str | None = None

    @property
    def joints_as_asked(self) -> tuple[str, ...]:
        """The mortar and the pointing in words, where the spec says them."""
        named = (("mortar", self.mortar), ("pointing", self.pointing))
        return tuple(f"{of} {asked}" for of, asked in named if asked is not None)

    @property
    def breaks(self) -> tuple[Span, ...]:
        """Where no masonry is left from the base to the top: a gate, or another wall that runs right through."""
        return merge(
            void.along
            for void in self.voids
            if void.bottom <= self.base.lowest(void.along) + TOLERANCE and void.top >= self.top.highest(void.along) - TOLERANCE
        )

    @property
    def height(self) -> float:
        """From the lowest base to the highest top over the face."""
        return self.top.highest(self.span) - self.base.lowest(self.span)


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall as resolved. `leaves` are leaf ids, outer first.

    `joints` are those the spec lists; `placing`: others are placed around them. `existing`: it stands already. `slip_ties`
    across its joints: None where nobody has said. `lintels` to `trays`: those the spec lists, and whether others are placed
    beside them. `ground`: its level outside; None: not known. `abutments`: the lines in which lower roofs meet the outer face.
    """

    id: str
    name: str
    type: str
    start: Point
    end: Point
    length: float
    line: Literal["face", "centre"]
    leaves: tuple[str, ...]
    cavity: float | None
    thickness: float
    internal: bool
    openings: tuple[Opening, ...]
    groups: tuple[OpeningGroup, ...]
    features: tuple[Feature, ...]
    joints: tuple[GivenJoint, ...]
    placing: bool = True
    stands: Stands = "building"
    existing: bool = False
    slip_ties: bool | None = None
    lintels: Given[GivenLintel] = field(default_factory=Given)
    reinforcement: Given[GivenReinforcement] = field(default_factory=Given)
    ties: Given[GivenTie] = field(default_factory=Given)
    tie_length: float | None = None
    damp_courses: Given[GivenDampCourse] = field(default_factory=Given)
    trays: Given[GivenTray] = field(default_factory=Given)
    ground: Profile | None = None
    abutments: tuple[Profile, ...] = ()
    loads: tuple[Load, ...] = ()


@dataclass(frozen=True, slots=True)
class Building:
    """Everything the spec says, in absolute geometry. `units` are those its leaves use."""

    walls: tuple[Wall, ...]
    leaves: tuple[Leaf, ...]
    meetings: tuple[Meeting, ...]
    units: tuple[Unit, ...]

    def wall(self, wall_id: str) -> Wall:
        return next(w for w in self.walls if w.id == wall_id)

    def leaf(self, leaf_id: str) -> Leaf:
        return next(leaf for leaf in self.leaves if leaf.id == leaf_id)

    def leaves_of(self, wall_id: str) -> tuple[Leaf, ...]:
        return tuple(leaf for leaf in self.leaves if leaf.wall == wall_id)


@dataclass(frozen=True, slots=True)
class RunNode:
    """A place where edges of a run end or meet; `at` gives its position on each leaf that reaches it."""

    id: str
    kind: NodeKind
    at: tuple[tuple[str, float], ...]

    def position(self, leaf_id: str) -> float:
        return next(at for leaf, at in self.at if leaf == leaf_id)


@dataclass(frozen=True, slots=True)
class RunEdge:
    """A straight stretch of one leaf between two nodes; `a` lies at `span.start`, `b` at `span.end`."""

    id: str
    leaf: str
    span: Span
    a: str
    b: str


@dataclass(frozen=True, slots=True)
class Run:
    """Masonry that is tied together: a graph of straight stretches.

    `length` is the sum of its edges; `closed` is True when it is one ring without ends or branches.
    """

    id: str
    edges: tuple[RunEdge, ...]
    nodes: tuple[RunNode, ...]
    length: float
    closed: bool

    def node(self, node_id: str) -> RunNode:
        return next(n for n in self.nodes if n.id == node_id)

    @property
    def leaves(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(edge.leaf for edge in self.edges))

    def edges_at(self, node_id: str) -> tuple[RunEdge, ...]:
        return tuple(e for e in self.edges if node_id in (e.a, e.b))
