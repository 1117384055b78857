"""Nothing is lost between spec and bill: pieces and perpends fill every pattern, placements every course, areas the face.

The face is measured here from the wall's own levels with shapely, not by the stage that laid it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from itertools import pairwise

import pytest
from buildings import SEEDS
from shapely import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from elevgen.building.model import Leaf
from elevgen.core.geometry import Span
from elevgen.coursing.model import Course, LeafCoursing
from elevgen.result import Design
from elevgen.takeoff.measure import measure

LENGTH, AREA = 0.01, 1e-6
"""mm, and as a part of the whole."""
MORTAR_ENDS = 20.0
"""What is lower, or under a slope shorter, is made up in mortar (coursing.split.min of the uk rules, practice)."""

BUILDINGS = ("studio", "duplex", "long-wall", *SEEDS)


@pytest.fixture(scope="module", params=BUILDINGS, ids=str)
def design(request: pytest.FixtureRequest, design_of: Callable[..., Design]) -> Design:
    return design_of(request.param)


def face(leaf: Leaf) -> Polygon:
    """Outline of the leaf from its base and top levels, point by point along its span."""
    under, over = (_levels_along(p.points, leaf.span) for p in (leaf.base, leaf.top))
    return Polygon([*under, *reversed(over)])


def _levels_along(points: tuple[tuple[float, float], ...], span: Span) -> list[tuple[float, float]]:
    """A profile as a line over the span, its first and last level carried on to the span's ends."""
    first, last = points[0], points[-1]
    line = [(min(first[0], span.start) - 1, first[1]), *points, (max(last[0], span.end) + 1, last[1])]
    found = []
    for (x0, y0), (x1, y1) in pairwise(line):
        for x in (x0, span.start, span.end, x1):
            if x0 <= x <= x1 and span.start <= x <= span.end and (x1 > x0 or x == x0):
                y = y0 if x == x0 else y1 if x == x1 else y0 + (y1 - y0) * (x - x0) / (x1 - x0)
                if (not found or found[-1] != (x, y)) and (not found or x >= found[-1][0]):
                    found.append((x, y))
    # A step at the very end of the span leaves a point of the level beyond it.
    while len(found) > 1 and found[-1][0] == found[-2][0]:
        found.pop()
    while len(found) > 1 and found[0][0] == found[1][0]:
        found.pop(0)
    return found


def holes(design: Design, leaf: Leaf) -> BaseGeometry:
    """Openings, joints, and lintels in the place of units with a perpend at each end."""
    gaps = [box(j.gap.start, j.levels.start, j.gap.end, j.levels.end) for j in design.plan.on_leaf(leaf.id)]
    bodies = [x.body for x in design.fittings.lintels if x.leaf == leaf.id and x.body]
    perpend = leaf.zones[0].unit.joint
    lintels = [box(b.left - perpend, b.bottom, b.right + perpend, b.top) for b in bodies]
    return unary_union([*(box(v.left, v.bottom, v.right, v.top) for v in leaf.voids), *gaps, *lintels])


def laid_pieces(design: Design, laid: LeafCoursing, course: Course) -> tuple[list[Polygon], list[Polygon]]:
    """Of one course: its placements as rectangles, its pieces cut to a slope."""
    patterns = {p.id: p for p in design.coursing.patterns}
    placed = [
        box(p.span.start, p.level, p.span.end, p.level + patterns[p.pattern].height)
        for p in laid.placements
        if p.course == course.number
    ]
    return placed, [Polygon(r.outline) for r in laid.rakes if r.course == course.number]


def parts(shape: BaseGeometry) -> Iterator[Polygon]:
    shapes = shape.geoms if hasattr(shape, "geoms") else (shape,)
    yield from (s for s in shapes if isinstance(s, Polygon) and s.area > 0.5)


def test_pieces_and_perpends_fill_every_pattern(design: Design) -> None:
    for pattern in design.coursing.patterns:
        along = sorted([(x.at, x.length) for x in pattern.pieces] + [(x.at, x.width) for x in pattern.perpends])
        assert sum(length for _, length in along) == pytest.approx(pattern.length, abs=LENGTH), pattern.id
        assert along[0][0] == pytest.approx(0, abs=LENGTH)
        for (at, length), (following, _) in pairwise(along):
            assert following == pytest.approx(at + length, abs=LENGTH), pattern.id
        assert min(length for _, length in along) > 0


def test_placements_are_as_long_as_their_patterns_and_lie_in_their_course(design: Design) -> None:
    patterns = {p.id: p for p in design.coursing.patterns}
    used = set()
    for laid in design.coursing.leaves:
        courses = {c.number: c for c in laid.courses}
        assert [c.number for c in laid.courses] == list(range(1, len(laid.courses) + 1))
        for under, over in pairwise(laid.courses):
            assert over.level - over.bed == pytest.approx(under.top, abs=LENGTH)
        for placed in laid.placements:
            pattern, course = patterns[placed.pattern], courses[placed.course]
            used.add(pattern.id)
            assert placed.span.length == pytest.approx(pattern.length, abs=LENGTH)
            assert pattern.unit == course.unit
            assert course.level - LENGTH <= placed.level
            assert placed.level + pattern.height <= course.top + LENGTH
    assert used == set(patterns)


def test_placements_voids_and_joints_fill_every_course(design: Design) -> None:
    """Where holes take the whole height of a course and nothing slopes, to the hundredth of a millimetre."""
    looked_at = 0
    for laid in design.coursing.leaves:
        leaf = design.building.leaf(laid.leaf)
        outline = face(leaf).difference(holes(design, leaf))
        for course in laid.courses:
            band = box(leaf.span.start - 1, course.level, leaf.span.end + 1, course.top)
            masonry = outline.intersection(band)
            whole = [p for p in parts(masonry) if p.area == pytest.approx(p.envelope.area, rel=1e-9)]
            whole = [p for p in whole if p.bounds[3] - p.bounds[1] == pytest.approx(course.height, abs=1e-6)]
            spans = {(round(p.bounds[0], 2), round(p.bounds[2], 2)) for p in whole}
            placed = {(round(p.span.start, 2), round(p.span.end, 2)) for p in laid.placements if p.course == course.number}
            for start, end in spans:
                assert any(abs(start - a) <= LENGTH * 1.5 and abs(end - b) <= LENGTH * 1.5 for a, b in placed), (
                    laid.leaf,
                    course.number,
                    (start, end),
                    sorted(placed),
                )
            looked_at += len(spans)
    assert looked_at > 10


def test_nothing_overlaps_and_what_is_left_over_is_mortar(design: Design) -> None:
    """Every course, sloping and split ones too: units side by side inside the masonry; what remains no unit would fit."""
    for laid in design.coursing.leaves:
        leaf = design.building.leaf(laid.leaf)
        outline = face(leaf).difference(holes(design, leaf))
        for course in laid.courses:
            placed, rakes = laid_pieces(design, laid, course)
            shapes = [*placed, *rakes]
            together = unary_union(shapes)
            assert together.area == pytest.approx(sum(s.area for s in shapes), abs=0.5), (laid.leaf, course.number)
            band = box(leaf.span.start - 1, course.level, leaf.span.end + 1, course.top)
            masonry = outline.intersection(band)
            assert together.difference(masonry.buffer(LENGTH * 2, join_style="mitre")).area < 0.5, (laid.leaf, course.number)
            widest = 15.0 + MORTAR_ENDS if rakes else 0.0
            for rest in parts(masonry.difference(together.buffer(LENGTH * 2, join_style="mitre"))):
                left, bottom, right, top = rest.bounds
                assert top - bottom < MORTAR_ENDS or right - left <= widest, (laid.leaf, course.number, rest.bounds)


def test_units_mortar_joints_openings_and_strips_make_the_gross_face(design: Design) -> None:
    for area in measure(design).areas:
        leaf = design.building.leaf(area.leaf)
        crossed = (
            unary_union([box(c.left, c.bottom, c.right, c.top) for c in leaf.crossings]) if leaf.crossings else MultiPolygon()
        )
        gross = face(leaf).difference(crossed).area
        assert area.gross == pytest.approx(gross, rel=AREA)
        shared_out = area.units + area.mortar + area.movement_joints + area.openings + area.strips + area.lintels
        assert shared_out == pytest.approx(gross, rel=AREA), area.leaf


def test_openings_of_the_bill_are_those_of_the_spec(design: Design) -> None:
    """Each opening is cut from every leaf of its wall, clipped to that leaf's face only."""
    rects = {w.id: [box(o.rect.left, o.rect.bottom, o.rect.right, o.rect.top) for o in w.openings] for w in design.building.walls}
    for area in measure(design).areas:
        leaf = design.building.leaf(area.leaf)
        cut = face(leaf).intersection(unary_union(rects[leaf.wall])).area if rects[leaf.wall] else 0.0
        assert area.openings == pytest.approx(cut, rel=AREA, abs=1)


def test_units_counted_are_the_pieces_laid(design: Design) -> None:
    patterns = {p.id: p for p in design.coursing.patterns}
    for laid in design.coursing.leaves:
        full: Counter[str] = Counter()
        cut: Counter[str] = Counter(r.unit for r in laid.rakes)
        for placed in laid.placements:
            pattern = patterns[placed.pattern]
            kinds = Counter("cut" if pattern.split and p.kind == "full" else p.kind for p in pattern.pieces)
            full[pattern.unit] += kinds["full"]
            cut[pattern.unit] += kinds["cut"]
        assert {c.unit: (c.full, c.cut) for c in laid.counts} == {c.unit: (full[c.unit], cut[c.unit]) for c in laid.counts}
        assert set(full) | set(cut) <= {c.unit for c in laid.counts}


def test_every_unit_belongs_to_one_wall_round_a_corner(design: Design) -> None:
    """What one leaf shows as the end of the other's unit, the other has hidden: per corner the courses take turns."""
    patterns = {p.id: p for p in design.coursing.patterns}
    for leaf in design.building.leaves:
        if leaf.finish_end.kind != "corner" or leaf.finish_end.near >= leaf.finish_end.far:
            continue
        other = design.building.leaf(str(leaf.finish_end.other))
        ends = (_returns(design, leaf, "finish", patterns), _returns(design, other, _end_meeting(other, leaf), patterns))
        both = [number for number in ends[0] if ends[0][number] and ends[1].get(number)]
        assert both == [], (leaf.id, other.id)


def _end_meeting(leaf: Leaf, other: Leaf) -> str:
    return "start" if leaf.start_end.other == other.id else "finish"


def _returns(design: Design, leaf: Leaf, end: str, patterns: dict) -> dict[int, bool]:
    """By course: whether the leaf shows at that end the end of a unit of the other leaf."""
    found: dict[int, bool] = {}
    for placed in design.coursing.of(leaf.id).placements:
        at_end = placed.span.start - leaf.span.start if end == "start" else leaf.span.end - placed.span.end
        if abs(at_end) <= LENGTH:
            found[placed.course] = patterns[placed.pattern].pieces[0 if end == "start" else -1].kind == "return"
    return found
