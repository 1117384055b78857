"""A laid leaf measured anew from positions and rule values, none of the product's own measuring used. Lengths in mm."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from shapely import Point, Polygon, box, union_all
from shapely.geometry.base import BaseGeometry

from elevgen.building.model import Leaf, Unit
from elevgen.coursing.model import LeafCoursing, Pattern, Placement
from elevgen.result import Design, Finding

NEAR = 0.02
CORNER, COURSES, LINTEL_END = 25.0, 2, 25.0
"""bond.opening.clear, bond.opening.courses, bond.lintel_end.clear of the uk rules, all practice."""


class Laid(NamedTuple):
    """A leaf and how it is laid."""

    design: Design
    leaf: Leaf
    work: LeafCoursing

    def placed(self) -> Iterator[tuple[Placement, Pattern]]:
        patterns = {p.id: p for p in self.design.coursing.patterns}
        yield from ((p, patterns[p.pattern]) for p in self.work.placements)

    def unit(self, name: str) -> Unit:
        return next(u for u in self.design.building.units if u.name == name)

    def told(self, code: str, opening: str = "") -> list[Finding]:
        """What a check says of this leaf that is no pass."""
        mine = (f for f in self.design.findings if f.code == code and self.leaf.id in f.leaves and f.severity != "pass")
        return [f for f in mine if not opening or opening in f.openings]


def leaves_of(design: Design) -> Iterator[Laid]:
    yield from (Laid(design, design.building.leaf(work.leaf), work) for work in design.coursing.leaves)


def face(laid: Laid) -> BaseGeometry:
    """The masonry of a leaf: between its base and its top, less its openings and movement joints."""
    points = [*laid.leaf.base.points, *reversed(laid.leaf.top.points)]
    start, end = laid.leaf.span.start, laid.leaf.span.end
    whole = Polygon(points).buffer(0).intersection(box(start, -1e5, end, 1e5))
    gaps = [box(j.gap.start, j.levels.start, j.gap.end, j.levels.end) for j in laid.design.plan.on_leaf(laid.leaf.id)]
    return whole.difference(union_all([box(v.left, v.bottom, v.right, v.top) for v in laid.leaf.voids] + gaps))


def misfilled(laid: Laid) -> list[str]:
    """Stretches whose pieces and perpends do not follow one another from end to end."""
    found = []
    for placement, pattern in laid.placed():
        parts = sorted([(x.at, x.length) for x in pattern.pieces] + [(x.at, x.width) for x in pattern.perpends])
        at = 0.0
        gaps = []
        for start, length in parts:
            gaps.append(abs(start - at))
            at = start + length
        if max((*gaps, abs(at - placement.span.length))) > NEAR:
            found.append(f"{placement} {pattern}")
    return found


def lengths(pattern: Pattern) -> list[tuple[int, float]]:
    """By place in the pattern: whole lengths of its pieces but those of other walls, hidden parts included."""
    last = len(pattern.pieces) - 1
    return [
        (k, x.length + pattern.hidden[0] * (k == 0) + pattern.hidden[1] * (k == last))
        for k, x in enumerate(pattern.pieces)
        if x.kind != "return"
    ]


def impossible_pieces(laid: Laid) -> list[float]:
    """Pieces of no length, or longer than their unit."""
    return [x for _, p in laid.placed() for _, x in lengths(p) if not 0 < x <= laid.unit(p.unit).length + NEAR]


def shortest_lack(laid: Laid) -> float:
    """By how much the shortest cut piece is shorter than a half; closers first or second from an end are the bond's."""
    worst = 0.0
    for _, pattern in laid.placed():
        unit = laid.unit(pattern.unit)
        least = (unit.length + unit.joint) / 2 - unit.joint
        last = len(pattern.pieces) - 1
        for k, real in lengths(pattern):
            piece = pattern.pieces[k]
            closer = piece.laid == "closer" and (k <= 1 or k >= last - 1)
            if piece.kind == "cut" and not closer:
                worst = max(worst, least - real)
    return worst


def lap_lack(laid: Laid) -> float:
    """By how much the worst lap is too short: a quarter of the unit, 0.4 of its height or 40 mm up to 250 mm, else a fifth or
    100 mm. Courses of one unit on another of the same."""
    courses: dict[int, list[tuple[Placement, Pattern]]] = defaultdict(list)
    for placement, pattern in laid.placed():
        courses[placement.course].append((placement, pattern))
    worst = 0.0
    for number, here in courses.items():
        for (up, over), (low, under) in ((a, b) for a in here for b in courses.get(number - 1, [])):
            if over.unit != under.unit or min(up.span.end, low.span.end) - max(up.span.start, low.span.start) <= 0.01:
                continue
            unit = laid.unit(over.unit)
            height = max(0.4 * unit.height, 40) if unit.height <= 250 else max(0.2 * unit.height, 100)
            least = max(unit.length / 4, height)
            lines = [up.span.start + x.at + x.width / 2 for x in over.perpends]
            others = [low.span.start + x.at + x.width / 2 for x in under.perpends]
            worst = max([worst, *(least - abs(x - y) for x in lines for y in others)])
    return worst


def in_the_way(laid: Laid) -> dict[str, list[tuple[str, float]]]:
    """By opening: what has a perpend in reach (`corner`, `lintel`) and how far off it is."""
    lines: dict[int, list[float]] = defaultdict(list)
    for placement, pattern in laid.placed():
        lines[placement.course] += [placement.span.start + x.at + x.width / 2 for x in pattern.perpends]
    solid = face(laid)
    found: dict[str, list[tuple[str, float]]] = defaultdict(list)
    for opening in laid.design.building.wall(laid.leaf.wall).openings:
        rect = opening.rect
        over = [c.number for c in laid.work.courses if c.level + c.height > rect.top + NEAR][:COURSES]
        under = [c.number for c in laid.work.courses if c.level < rect.bottom - NEAR][-COURSES:]
        for at, aside in ((rect.left, -1), (rect.right, 1)):
            for level, up, courses in ((rect.top, 1, over), (rect.bottom, -1, under)):
                around = ((aside, up), (-aside, up), (aside, -up))
                if all(solid.covers(Point(at + dx * 0.05, level + dy * 0.05)) for dx, dy in around):
                    found[opening.id] += [
                        ("corner", abs(x - at)) for n in courses for x in lines[n] if abs(x - at) < CORNER - NEAR
                    ]
    for lintel in laid.design.fittings.lintels:
        if lintel.leaf == laid.leaf.id:
            on = [c.number for c in laid.work.courses if c.level + c.height > lintel.level + NEAR][:1]
            for at, reveal in ((lintel.span.start, lintel.clear.start), (lintel.span.end, lintel.clear.end)):
                if abs(at - reveal) > NEAR:
                    near = [("lintel", abs(x - at)) for n in on for x in lines[n] if abs(x - at) < LINTEL_END - NEAR]
                    found["+".join(lintel.openings)] += near
    return {name: near for name, near in found.items() if near}
