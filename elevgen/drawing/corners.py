"""The corners and tees of a building, each with the two courses that are drawn of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import atan2
from typing import Literal, NamedTuple

from shapely import Polygon, box

from elevgen.building.model import Building, Leaf, Meeting, Wall
from elevgen.core.geometry import Point, Span, cross, direction, distance, dot
from elevgen.drawing.course_plan import CoursePlan, Courses, PlanPiece, Side, on_plan
from elevgen.joints.model import JointPlan, MovementJoint

REACH, TEE_REACH = 700.0, 650.0
"""How far from a corner, and from the middle of a tee, masonry is drawn, mm."""
ONE_PLACE = 1500.0
"""Meetings of the leaves of two walls nearer to one another than this (mm) are one corner."""
STRAIGHT = 0.17
"""Sine of the least angle at which walls turn a corner (10 degrees)."""
LOWEST = 8
"""Among so many courses from the bottom one level of both leaves at a corner is looked for."""
Hand = Literal["corner", "tee"]


class Arm(NamedTuple):
    """A wall at a corner: which of its ends is there (None: it runs past), and where along it the corner is."""

    wall: Wall
    side: Side | None
    at: float
    met: float = 0.0
    """Of an arm that goes on in line: where along the other wall it does."""
    reach: float = REACH

    @property
    def near(self) -> Span:
        """The stretch of it that is drawn."""
        before = self.reach if self.side != 0 else ONE_PLACE
        after = self.reach if self.side != 1 else ONE_PLACE
        return Span(self.at - before, self.at + after)

    @property
    def away(self) -> Point:
        """The direction in which it leaves the corner; past a tee, its own."""
        d = direction(self.wall.start, self.wall.end)
        return (-d[0], -d[1]) if self.side == 1 else d


class Corner(NamedTuple):
    """Where two walls meet. `point` is the outer angle of their outermost leaves; `meetings` those of their leaves there.

    `arms` are the two, at a tee the wall met first; a third one goes on in line with a wall that is met at its end.
    """

    id: str
    name: str
    kind: Hand
    point: Point
    arms: tuple[Arm, ...]
    meetings: tuple[Meeting, ...]

    @property
    def square(self) -> bool:
        """True where the walls are at right angles."""
        return abs(dot(self.arms[0].away, self.arms[1].away)) < 1e-6

    @property
    def re_entrant(self) -> bool:
        """True where the second wall turns to the right of the first as that is walked towards the corner."""
        one, other, *_ = self.arms
        towards = (-one.away[0], -one.away[1])
        left = cross(towards, other.away) > 0
        return self.kind == "corner" and left != (one.side == 1)


class Laid(NamedTuple):
    """One of the drawings of a corner: a course of every leaf there, what is drawn of it, and the joints that stand in it."""

    courses: tuple[CoursePlan, ...]
    joints: tuple[tuple[MovementJoint, Polygon], ...]


def corners_of(building: Building) -> tuple[Corner, ...]:
    """Where walls turn, and where one is bonded into the side of another; in the order of their meetings."""
    walls, leaves = {w.id: w for w in building.walls}, {leaf.id: leaf for leaf in building.leaves}
    places: list[tuple[frozenset[str], Point, list[Meeting]]] = []
    for meeting in building.meetings:
        if meeting.kind == "cross":
            continue
        pair = frozenset((leaves[meeting.host].wall, leaves[meeting.stem].wall))
        host = leaves[meeting.host]
        point = on_plan(walls[host.wall], meeting.host_at, host.offset)
        together = next((p for p in places if p[0] == pair and distance(p[1], point) <= ONE_PLACE), None)
        if together:
            together[2].append(meeting)
        else:
            places.append((pair, point, [meeting]))
    in_line = list(_in_line(building, walls, leaves))
    found = []
    for _, _, meetings in places:
        corner = _corner(meetings, walls, leaves, in_line)
        if corner is not None:
            found.append(corner)
    return _named_apart(found)


def _in_line(building: Building, walls: dict[str, Wall], leaves: dict[str, Leaf]) -> Iterator[tuple[str, Arm]]:
    """By wall, the arms of others that go on in its line from one of its ends."""
    for meeting in building.meetings:
        one, other = walls[leaves[meeting.host].wall], walls[leaves[meeting.stem].wall]
        if meeting.kind == "corner" and abs(cross(direction(one.start, one.end), direction(other.start, other.end))) < STRAIGHT:
            yield one.id, Arm(other, _side(other, meeting.stem_at), meeting.stem_at, meeting.host_at)
            yield other.id, Arm(one, _side(one, meeting.host_at), meeting.host_at, meeting.stem_at)


def _corner(
    meetings: Sequence[Meeting], walls: dict[str, Wall], leaves: dict[str, Leaf], in_line: Sequence[tuple[str, Arm]]
) -> Corner | None:
    turning = [m for m in meetings if m.kind == "corner"]
    kind: Hand = "corner" if turning else "tee"
    if not turning and not any(m.connection == "bonded" for m in meetings):
        return None
    meeting = (turning or list(meetings))[0]
    host, stem = leaves[meeting.host], leaves[meeting.stem]
    one, other = walls[host.wall], walls[stem.wall]
    if abs(cross(direction(one.start, one.end), direction(other.start, other.end))) < STRAIGHT:
        return None
    stem_side = _side(other, meeting.stem_at)
    arms = [
        Arm(one, _side(one, meeting.host_at) if turning else None, meeting.host_at),
        Arm(other, stem_side, meeting.stem_at),
    ]
    if turning:
        arms = [arm._replace(reach=REACH + _drawn_out(arms)) for arm in arms]
    else:
        arms += [going_on for wall, going_on in in_line if wall == one.id and abs(going_on.met - meeting.host_at) <= ONE_PLACE][
            :1
        ]
        arms = [arm if n == 1 else arm._replace(reach=TEE_REACH) for n, arm in enumerate(arms)]
    name = f"{one.id}/{other.id}"
    point = on_plan(one, meeting.host_at, host.offset)
    if turning:
        point = _outer_point(meetings, walls, leaves)
    return Corner(f"corner-{one.id}-{other.id}", name, kind, point, tuple(arms), tuple(meetings))


def _drawn_out(arms: Sequence[Arm]) -> float:
    """How much further from a sharp corner its innermost angle lies than from a square one."""
    one, other = arms[0].away, arms[1].away
    half = (1 + dot(one, other)) / abs(cross(one, other))
    return max(0.0, half - 1.0) * max(arm.wall.thickness for arm in arms)


def _side(wall: Wall, at: float) -> Side:
    return 0 if at < wall.length / 2 else 1


def _outer_point(meetings: Sequence[Meeting], walls: dict[str, Wall], leaves: dict[str, Leaf]) -> Point:
    """Where the right-hand face of the first leaf that turns here ends."""
    meeting = next(m for m in meetings if m.kind == "corner")
    leaf = leaves[meeting.host]
    wall = walls[leaf.wall]
    at = leaf.span.end if _side(wall, meeting.host_at) else leaf.span.start
    return on_plan(wall, at, leaf.offset)


def _named_apart(corners: Iterable[Corner]) -> tuple[Corner, ...]:
    """Walls that meet twice get a number for each place; others, with names that only make the same id, another id."""
    seen: dict[str, int] = {}
    found: dict[str, Corner] = {}
    for corner in corners:
        seen[corner.name] = number = seen.get(corner.name, 0) + 1
        name = corner.name if number == 1 else f"{corner.name} ({number})"
        unique, n = corner.id, 1
        while unique in found:
            n += 1
            unique = f"{corner.id}-{n}"
        found[unique] = corner._replace(id=unique, name=name)
    return tuple(found.values())


def lay_corner(corner: Corner, courses: Courses, plan: JointPlan) -> tuple[Laid, Laid] | None:
    """The lowest two courses that go round a corner, in every leaf there; None where it is not laid."""
    lowest = _lowest(corner, courses)
    if not lowest:
        return None
    found = []
    for up in (False, True):
        rows = []
        for leaf_id, course in lowest.items():
            number = courses.above(leaf_id, course) if up else course
            if number is not None:
                arm = next(a for a in corner.arms if a.wall.id == courses.leaves[leaf_id].wall)
                rows.append(_clipped(courses.plan(leaf_id, number, arm.near), arm, courses.leaves[leaf_id]))
        levels = {row.leaf: row.level for row in rows}
        joints = [
            (joint, gap_on_plan(arm.wall, courses.leaves[joint.leaf], joint))
            for arm in corner.arms
            for joint in plan.joints
            if joint.leaf in levels and joint.wall == arm.wall.id and arm.near.contains(joint.at)
        ]
        found.append(Laid(tuple(rows), tuple(joints)))
    return found[0], found[1]


def _lowest(corner: Corner, courses: Courses) -> dict[str, int]:
    """By leaf, the lowest course that goes round the corner. Leaves that meet there show courses of one level where they can."""
    reaching: dict[str, tuple[int, ...]] = {}
    for arm in corner.arms:
        for leaf_id in arm.wall.leaves:
            leaf = courses.leaves[leaf_id]
            reaching[leaf_id] = courses.reaching(leaf, _tip(leaf, arm))
    found = {leaf: numbers[0] for leaf, numbers in reaching.items() if numbers}
    for meeting in corner.meetings:
        one, other = meeting.host, meeting.stem
        if one in found and other in found:
            levels = {round(courses.level(other, n), 2): n for n in reaching[other][:LOWEST]}
            alike = ((n, levels.get(round(courses.level(one, n), 2))) for n in reaching[one][:LOWEST] if n >= found[one])
            shared = next(((n, m) for n, m in alike if m is not None), None)
            if shared:
                found[one], found[other] = shared
    return found


def _tip(leaf: Leaf, arm: Arm) -> Span:
    """The part of a leaf by which a course is known to reach the corner."""
    if arm.side is None:
        return Span(arm.at - 100.0, arm.at + 100.0)
    edge = leaf.span.end if arm.side else leaf.span.start
    return Span(edge - 100.0, edge + 1.0) if arm.side else Span(edge - 1.0, edge + 100.0)


def _clipped(course: CoursePlan, arm: Arm, leaf: Leaf) -> CoursePlan:
    """Only what lies within reach of the corner."""
    wall, near = arm.wall, arm.near
    low, high = leaf.offset - 1.0, leaf.offset + leaf.thickness + 1.0
    window = Polygon([on_plan(wall, s, t) for s, t in box(near.start, low, near.end, high).exterior.coords[:-1]])
    pieces = []
    for piece in course.pieces:
        if window.contains(piece.outline):
            pieces.append(piece)
            continue
        seen = piece.outline.intersection(window)
        if isinstance(seen, Polygon) and seen.area > 1.0:
            pieces.append(piece._replace(outline=seen, whole=False))
    return course._replace(pieces=tuple(pieces))


def gap_on_plan(wall: Wall, leaf: Leaf, joint: MovementJoint) -> Polygon:
    """A movement joint through a leaf's thickness."""
    low, high = leaf.offset, leaf.offset + leaf.thickness
    gap = joint.gap
    return Polygon([on_plan(wall, s, t) for s, t in ((gap.start, low), (gap.end, low), (gap.end, high), (gap.start, high))])


def pieces_of(laid: Laid) -> Iterator[PlanPiece]:
    """Every piece of a drawing."""
    return (piece for row in laid.courses for piece in row.pieces)


def turned(corner: Corner) -> float:
    """By how much a corner is turned (radians) so that its first wall lies along the sheet; 0 where both walls do already."""
    d = corner.arms[0].away
    if min(abs(d[0]), abs(d[1])) < 1e-6 and corner.square:
        return 0.0
    return -atan2(d[1], d[0])
