"""Which corners are drawn: every different one once, those built alike named with it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from shapely import Polygon

from elevgen.building.model import Unit
from elevgen.core.geometry import Point, cross, direction, dot
from elevgen.drawing.corners import Arm, Corner, Laid, corners_of, lay_corner, pieces_of
from elevgen.drawing.course_plan import Courses
from elevgen.result import Design

ALIKE = 2.0
"""Corners whose pieces lie no further apart than this (mm) are alike."""
CLASH = 25.0
"""Pieces that lie in one another by no more than this (mm2) touch, as far as reckoning goes."""
MOST = 24
"""How many different corners are drawn of one building."""


class Detail(NamedTuple):
    """A corner drawn, first and second course; the names of others built alike, and of those whose two courses change places."""

    corner: Corner
    first: Laid
    second: Laid
    alike: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """`Corner W1/W2, also W3/W4`."""
        also = f", also {', '.join(self.alike)}" if self.alike else ""
        return f"{self.corner.kind.capitalize()} {self.corner.name}{also}"


class Details(NamedTuple):
    """What is drawn, and the corners there was no drawing left for."""

    drawn: tuple[Detail, ...]
    left_out: tuple[str, ...]


def corner_details(design: Design, most: int = MOST) -> Details:
    """Every different corner and bonded tee once, in the order of the building; at most so many."""
    courses = Courses(design.building, design.coursing)
    found: list[Detail] = []
    seen: list[tuple[Likeness, Likeness]] = []
    left_out: list[str] = []
    for corner in corners_of(design.building):
        laid = lay_corner(corner, courses, design.plan)
        if laid is None:
            continue
        first, second = likeness(corner, laid[0]), likeness(corner, laid[1])
        same = next((n for n, (a, b) in enumerate(seen) if a.like(first) and b.like(second)), None)
        changed = next((n for n, (a, b) in enumerate(seen) if a.like(second) and b.like(first)), None)
        if same is not None:
            found[same] = found[same]._replace(alike=(*found[same].alike, corner.name))
        elif changed is not None:
            found[changed] = found[changed]._replace(changed=(*found[changed].changed, corner.name))
        elif len(found) < most:
            found.append(Detail(corner, *laid))
            seen.append((first, second))
        else:
            left_out.append(corner.name)
    return Details(tuple(found), tuple(left_out))


class Likeness(NamedTuple):
    """What is compared of a drawing: what its pieces are, in order from the corner out, and where their angles lie (mm)."""

    what: tuple[object, ...]
    where: tuple[float, ...]

    def like(self, other: Likeness) -> bool:
        """True where the same pieces lie in the same places, to a couple of millimetres."""
        same = self.what == other.what and len(self.where) == len(other.where)
        return same and all(abs(a - b) <= ALIKE for a, b in zip(self.where, other.where, strict=True))


def likeness(corner: Corner, laid: Laid) -> Likeness:
    """A corner as it would be seen by somebody who stands at its outer angle; which way round it turns is kept apart."""
    arms: tuple[Arm, ...] = corner.arms if corner.kind == "tee" or corner.arms[0].side == 1 else corner.arms[::-1]
    d = arms[0].away

    def local(point: Point) -> Point:
        v = point[0] - corner.point[0], point[1] - corner.point[1]
        return dot(v, d), cross(d, v)

    def angles(outline: Polygon) -> list[float]:
        x, y = local((outline.centroid.x, outline.centroid.y))
        left, bottom, right, top = outline.bounds
        return [x, y, outline.area / max(right - left, top - bottom)]

    what: list[object] = [corner.kind]
    where: list[float] = []
    for arm in arms:
        rows = [row for leaf in arm.wall.leaves for row in laid.courses if row.leaf == leaf]
        for row in rows:
            what.append((_side_of(row.leaf), arm.wall.type))
            for piece in sorted(row.pieces, key=lambda p: _out_along(p.outline, arm)):
                what.append((piece.unit, piece.cut))
                where += angles(piece.outline)
    for _, gap in laid.joints:
        what.append("joint")
        where += angles(gap)
    return Likeness(tuple(what), tuple(where))


def _out_along(outline: Polygon, arm: Arm) -> tuple[int, float]:
    """How far along its wall a piece lies, to the half centimetre; those side by side from the right."""
    x, y = outline.centroid.coords[0]
    d = direction(arm.wall.start, arm.wall.end)
    v = x - arm.wall.start[0], y - arm.wall.start[1]
    return round(dot(v, d) * (-1 if arm.side == 1 else 1) / 5), cross(d, v)


def _side_of(leaf: str) -> str:
    return leaf.rsplit("/", 1)[-1]


def longer_at_the_back(detail: Detail, units: Mapping[str, Unit]) -> bool:
    """Whether a piece cut to the angle of a corner is as long on the face as its unit and longer at the back."""
    along = {leaf: arm.away for arm in detail.corner.arms for leaf in arm.wall.leaves}
    for piece in (*pieces_of(detail.first), *pieces_of(detail.second)):
        at = [dot((x, y), along[piece.leaf]) for x, y in piece.outline.exterior.coords]
        if max(at) - min(at) > units[piece.unit].length + ALIKE:
            return True
    return False


def clashes(laid: Laid) -> tuple[tuple[str, str], ...]:
    """Leaves whose units the coursing lays in one place: a fault of the coursing, to be said, never hidden."""
    pieces = list(pieces_of(laid))
    found: dict[tuple[str, str], None] = {}
    for n, one in enumerate(pieces):
        for other in pieces[n + 1 :]:
            if one.leaf != other.leaf and one.outline.intersection(other.outline).area > CLASH:
                found[one.leaf, other.leaf] = None
    return tuple(found)
