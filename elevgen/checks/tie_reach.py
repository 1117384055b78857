"""No part of a cavity wall is out of reach of its wall ties."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import hypot
from typing import TYPE_CHECKING, NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._cavities import BED, Cavity, cavities
from elevgen.checks._finding import at_wall, beside, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._tie_beds import beds_in_common
from elevgen.core.geometry import Span, at_most
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

CODE = "tie-reach"
TITLE = "Reach of wall ties"
RATIONALE = "Rows and columns can each be close enough and still leave a hole: the largest circle without a tie shows it."
ACROSS, UP = "tie.spacing.horizontal", "tie.spacing.vertical"
ROOM = 50.0
"""A strip of masonry no wider than this (mm) has no room for a tie, and none is asked for in it."""

COURSE = 100.0
"""Masonry no higher than this (mm) between an opening and the lintel over it is no field to be tied."""


class _Far(NamedTuple):
    """The point of some masonry that is furthest from a tie, how far that is and how far it may be; `what` the circle is in."""

    at: float
    level: float
    distance: float
    limit: float
    what: str


def check(design: Design) -> Iterator[Finding]:
    """The largest circle without a tie, of those that lie in the masonry of both leaves and of those that overhang its edges.

    Limits are worked out from the spacing along a bed and up the wall. In a staggered grid no circle larger than the one round
    three neighbouring ties is empty: 450 mm for 900 by 450. At an end the leaves go on round, such a grid begins a quarter of a
    spacing along in one row and three quarters in the next. The foot counts as a row: both leaves stand on it, and what is
    within a spacing of it is held. A movement joint is an edge, and ties beyond it do not count. Lintels in the place of units
    are left out like openings.
    """
    across, up = rule(design, ACROSS), rule(design, UP)
    for cavity in cavities(design):
        if across is None or up is None:
            yield uncovered(design, at_wall(cavity.wall), ACROSS, UP)
        elif cavity.ties:
            yield beside(_judged(design, cavity, across.number, up), across)


def inside_limit(across: float, up: float) -> float:
    """The radius of the circle round three neighbours of a staggered grid of ties (mm)."""
    return (across**2 / 4 + up**2) / max(2 * up, across)


def edge_limit(across: float, up: float) -> float:
    """How far from a tie a point on a plain edge may be: three quarters of a spacing along and a whole one up (mm)."""
    return hypot(0.75 * across, up)


def _judged(design: Design, cavity: Cavity, across: float, up: Sourced) -> Finding:
    place = at_wall(cavity.wall)
    inside, edge = inside_limit(across, up.number), edge_limit(across, up.number)
    furthest: list[_Far] = []
    for part in _parts(cavity):
        held, deep = _over_foot(cavity, part, up.number), part.buffer(-inside)
        if held.is_empty and deep.is_empty:
            continue
        ties = _ties_in(cavity, part)
        if not ties:
            where = f"at {design.figures.measure(part.representative_point().x)} along"
            return found(
                "fail",
                place,
                f"no tie in {design.figures.amount(part.area / 1e6, 'm2')} of masonry of both leaves {where}",
                source=up,
            )
        realms = _Realms(ties, part)
        if not held.is_empty:
            furthest.append(_Far(*realms.furthest(held), edge, "over an edge"))
        if not deep.is_empty:
            furthest.append(_Far(*realms.furthest(deep), inside, "in the masonry"))
    if not furthest:
        return found("pass", place, f"all within {design.figures.measure(up.number)} of the foot", source=up)
    worst = max(furthest, key=lambda far: far.distance / far.limit)
    limit = replace(up, value=worst.limit, status="derived", note="worked out from the spacing along a bed and up the wall")
    where = f"round {design.figures.measure(worst.at)} along at {design.figures.level(worst.level)}"
    text = f"largest circle {worst.what} without a tie: {design.figures.measure(worst.distance)} from middle to rim, {where}"
    if at_most(worst.distance, worst.limit):
        return found("pass", place, text, measured=worst.distance, most=worst.limit, source=limit)
    if _has_bed(design, cavity, worst, up.number):
        return found("fail", place, text, measured=worst.distance, most=worst.limit, source=limit)
    text = f"{text}: no bed of both leaves there"
    return found("note", place, text, measured=worst.distance, most=worst.limit, source=limit)


def _has_bed(design: Design, cavity: Cavity, far: _Far, up: float) -> bool:
    """Whether a bed of both leaves lies over or under a point, within a spacing of it, with masonry round it there.

    One beyond a lintel in the place of units does not serve.
    """
    between = [body.levels for body in cavity.bodies if body.along.contains(far.at)]
    beds = (bed.tie for bed in beds_in_common(design, cavity.outer, cavity.inner))
    near = [level for level in beds if at_most(abs(level - far.level), up)]
    near = [y for y in near if not any(min(y, far.level) <= b.middle <= max(y, far.level) for b in between)]
    return any(any(span.contains(far.at) for span in cavity.solid(level)) for level in near)


class _Realms:
    """The realms of the ties in some masonry: what is nearer to each than to any other."""

    def __init__(self, ties: list[tuple[float, float]], masonry: Polygon) -> None:
        import shapely

        points = shapely.points(ties)
        self._tree = shapely.STRtree(points)
        self._borders = shapely.voronoi_polygons(shapely.multipoints(points), extend_to=masonry, only_edges=True)

    def furthest(self, masonry: BaseGeometry) -> tuple[float, float, float]:
        """The point of some of the masonry furthest from all ties, at and level, and how far.

        It is a corner of the masonry, a crossing of its edge with a border, or a point where three realms meet.
        """
        import numpy
        import shapely

        met = shapely.get_coordinates(shapely.intersection(self._borders, masonry))
        corners = numpy.unique(numpy.vstack([met, shapely.get_coordinates(masonry)]), axis=0)
        _, distances = self._tree.query_nearest(shapely.points(corners), return_distance=True, all_matches=False)
        worst = int(distances.argmax())
        at, where = (float(x) for x in corners[worst])
        return at, where, float(distances[worst])


def _over_foot(cavity: Cavity, part: Polygon, up: float) -> BaseGeometry:
    """What of some masonry stands higher than a spacing above the foot of the wall."""
    import shapely

    left, low, right, _ = part.bounds
    span = Span(left, right)
    first = cavity.outer.zones[0].unit.bed / 2 + up + BED
    foot = [(at, level + first) for at, level in cavity.outer.base.clipped(span)]
    under = min(low, *(level for _, level in foot)) - 1
    return part.difference(shapely.Polygon([(left, under), *foot, (right, under)]))


def _parts(cavity: Cavity) -> Iterator[Polygon]:
    """The masonry both leaves have, cut at the movement joints of either; strips without room for a tie left out."""
    import shapely

    face = _face(cavity.outer).intersection(_face(cavity.inner))
    gaps = [shapely.box(j.gap.start, j.levels.start - 1, j.gap.end, j.levels.end + 1) for j in cavity.joints]
    bodies = [shapely.box(body.left, body.bottom, body.right, body.top) for body in cavity.bodies]
    bodies += [
        shapely.box(over.start, void.top, over.end, body.bottom)
        for body in cavity.bodies
        for leaf in (cavity.outer, cavity.inner)
        for void in leaf.voids
        if 0 < body.bottom - void.top <= COURSE and (over := void.along.common(body.along))
    ]
    whole = face.difference(shapely.union_all([*gaps, *bodies]))
    whole = whole.buffer(-ROOM / 2, join_style="mitre").buffer(ROOM / 2, join_style="mitre")
    for part in shapely.get_parts(whole):
        if part.geom_type == "Polygon" and not part.is_empty:
            yield part


def _face(leaf: Leaf) -> BaseGeometry:
    """A leaf from the middle of the bed it stands on to its top, without its voids."""
    import shapely

    bed = leaf.zones[0].unit.bed / 2
    base = [(at, low + bed) for at, low in leaf.base.clipped(leaf.span)]
    outline: BaseGeometry = shapely.make_valid(shapely.Polygon([*base, *reversed(leaf.top.clipped(leaf.span))]))
    return outline.difference(shapely.union_all([shapely.box(v.left, v.bottom, v.right, v.top) for v in leaf.voids]))


def _ties_in(cavity: Cavity, part: Polygon) -> list[tuple[float, float]]:
    """The ties in one part of the masonry."""
    import shapely

    left, _, right, _ = part.bounds
    near = [(tie.at, tie.level) for tie in cavity.ties if Span(left, right).contains(tie.at)]
    shapely.prepare(part)
    return [at for at, inside in zip(near, shapely.intersects_xy(part, near), strict=True) if inside] if near else []
