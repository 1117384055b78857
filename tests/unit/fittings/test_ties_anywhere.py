"""Ties of hundreds of walls nobody drew, both leaves with coursings of their own; judged here, by the checks, and by scipy.

`pytest -m bench` runs thousands.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from random_ties import Tied, designed, tied
from scipy.ndimage import distance_transform_edt
from scipy.spatial import Delaunay

from elevgen.building.model import Leaf
from elevgen.checks import (
    tie_density,
    tie_in_beds,
    tie_length,
    tie_near_joint_and_reveal,
    tie_reach,
    tie_slip,
    tie_spacing,
    tie_top,
)
from elevgen.result import Design
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book

CHECKS = (tie_density, tie_in_beds, tie_length, tie_near_joint_and_reveal, tie_reach, tie_slip, tie_spacing, tie_top)
TOLERANCE, ROUND, CLEAR = 0.02, 6.0, 20.0
FEW, MANY = range(200), range(200, 4200)
CELL = 15.0
"""Side of the squares (mm) a wall is cut into for the distance transform."""


def beds(design: Design, leaf: Leaf) -> list[tuple[float, float]]:
    return [(under.top, over.level) for under, over in pairwise(design.coursing.of(leaf.id).courses)]


def holes(design: Design) -> list[tuple[float, float, float, float]]:
    """Openings and joints of either leaf: left, bottom, right, top."""
    (wall,) = design.building.walls
    taken = [(v.left, v.bottom, v.right, v.top) for name in wall.leaves for v in design.building.leaf(name).voids]
    return taken + [(j.gap.start, j.levels.start, j.gap.end, j.levels.end) for j in design.plan.joints]


def every_tie_lies_in_two_beds_or_is_told_of(wall: Tied) -> None:
    """In a bed of each leaf within 10 mm, or among the levels that are told of."""
    design, ties = wall.design, wall.ties
    of_leaf = [beds(design, leaf) for leaf in design.building.leaves]
    for tie in ties.across:
        inside = [any(low <= tie.level <= high or abs(tie.level - (low + high) / 2) <= 10.01 for low, high in b) for b in of_leaf]
        assert any(inside), tie
        assert all(inside) or tie.level in ties.apart, tie
    assert (
        ties.beds_meet or ties.apart or any(f.severity != "pass" for check in (tie_spacing, tie_top) for f in check.check(design))
    )


def none_hangs_in_an_opening_or_a_joint(wall: Tied) -> None:
    """Clear of every edge by 20 mm, of heads and sills by 6, under the top and over the foot."""
    design = wall.design
    outer, inner = design.building.leaves
    for tie in wall.ties.across:
        for left, bottom, right, top in holes(design):
            beside = max(left - tie.at, tie.at - right)
            level = max(bottom - tie.level, tie.level - top)
            assert beside >= CLEAR - TOLERANCE or level >= ROUND - TOLERANCE - 0.01, (tie, left, bottom, right, top)
        for leaf in (outer, inner):
            assert leaf.span.start + CLEAR - TOLERANCE <= tie.at <= leaf.span.end - CLEAR + TOLERANCE
            assert leaf.base.level_right_of(tie.at) + ROUND - 0.1 <= tie.level <= leaf.top.level_right_of(tie.at) - ROUND + 0.1


def slip_ties_are_held_on_both_sides(wall: Tied) -> None:
    """In a bed of its leaf, 50 mm of masonry on each side, never in an opening; as many as the joint's parts say."""
    design = wall.design
    slips = [t for t in wall.ties.ties if t.kind == "slip"]
    for tie in slips:
        leaf = design.building.leaf(tie.leaf or "")
        assert any(low <= tie.level <= high for low, high in beds(design, leaf))
        for void in leaf.voids:
            beside = max(void.left - tie.at, tie.at - void.right)
            assert beside >= 50 or not void.bottom < tie.level < void.top
    parts = sum(part.slip_ties or 0 for part in design.fittings.joint_parts)
    assert len(slips) == parts


def the_mirror_image_has_as_many(wall: Tied) -> None:
    (image,) = wall.image.fittings.ties
    assert Counter(t.kind for t in wall.ties.ties) == Counter(t.kind for t in image.ties)
    length = wall.design.building.walls[0].length
    here = sorted((round(t.level, 3), round(t.at, 2)) for t in wall.ties.across)
    there = sorted((round(t.level, 3), round(length - t.at, 2)) for t in image.across)
    assert np.allclose(here, there, atol=0.02)


def panels_hold_every_tie_and_are_dense_enough(wall: Tied) -> None:
    """Counted again from where ties and joints are; 2.5 to the square metre, to the decimal it is published with."""
    ties = wall.ties
    assert sum(panel.ties for panel in ties.panels) == len(ties.across)
    for panel in ties.panels:
        assert panel.ties == sum(1 for t in ties.across if panel.span.start <= t.at <= panel.span.end)
        assert panel.density is not None
        assert round(panel.density, 1) >= 2.5 or not panel.judged


def nothing_fails_but_for_want_of_a_bed(wall: Tied) -> None:
    """The checks, which measure by themselves; what no bed of both leaves allows is told with that reason."""
    for check in CHECKS:
        for finding in check.check(wall.design):
            assert finding.severity != "fail" or "no bed of both leaves there" in finding.text, (
                check.CODE,
                finding.where,
                finding.text,
            )


def judge(wall: Tied) -> None:
    every_tie_lies_in_two_beds_or_is_told_of(wall)
    none_hangs_in_an_opening_or_a_joint(wall)
    slip_ties_are_held_on_both_sides(wall)
    the_mirror_image_has_as_many(wall)
    panels_hold_every_tie_and_are_dense_enough(wall)
    nothing_fails_but_for_want_of_a_bed(wall)


@pytest.mark.parametrize("tens", range(len(FEW) // 10))
def test_ties_of_walls_nobody_drew(yard, reader, tens):
    for seed in FEW[10 * tens : 10 * tens + 10]:
        judge(tied(yard, reader, seed))


@pytest.mark.bench
@pytest.mark.parametrize("hundreds", range(len(MANY) // 100))
def test_ties_of_thousands_of_walls_nobody_drew(yard, hundreds):
    reader = RuleReader(load_book("uk"))
    for seed in MANY[100 * hundreds : 100 * hundreds + 100]:
        judge(tied(yard, reader, seed))


# ---- scipy as judge of reach ------------------------------------------------------------------------------------------------


def solid(design: Design) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Squares of the wall, true where both leaves have masonry all over them; with the middles of columns and rows."""
    outer, inner = design.building.leaves
    left, right = max(outer.span.start, inner.span.start), min(outer.span.end, inner.span.end)
    low = outer.base.lowest(outer.span) + 5
    xs = np.arange(left + CELL / 2, right, CELL)
    ys = np.arange(low + CELL / 2, outer.top.highest(outer.span), CELL)
    top = np.array([min(leaf.top.level_right_of(x) for leaf in (outer, inner)) for x in xs])
    base = np.array([max(leaf.base.level_right_of(x) for leaf in (outer, inner)) + 5 for x in xs])
    inside = (ys[:, None] < top[None, :]) & (ys[:, None] > base[None, :])
    for a, b, c, d in holes(design):
        inside[np.ix_((ys > b) & (ys < d), (xs > a) & (xs < c))] = False
    return inside, xs, ys


def largest_empty_circle(design: Design, ties: list[tuple[float, float]]) -> float:
    """The largest circle that lies in the masonry and holds no tie, by distance transforms to ties and to the edge.

    Known to a cell or two: a tie stands in some square, an edge between two.
    """
    inside, xs, ys = solid(design)
    free = np.ones_like(inside)
    for at, level in ties:
        free[np.abs(ys - level).argmin(), np.abs(xs - at).argmin()] = False
    to_tie = distance_transform_edt(free, sampling=CELL)
    to_edge = distance_transform_edt(np.pad(inside, 1), sampling=CELL)[1:-1, 1:-1]
    return float(np.minimum(to_tie, to_edge)[inside].max())


@pytest.mark.parametrize("seed", range(0, 60, 2))
def test_no_circle_in_the_masonry_is_emptier_than_the_grid_allows_by_distance_transform(yard, reader, seed):
    wall = tied(yard, reader, seed)
    found = [(t.at, t.level) for t in wall.ties.across]
    assert largest_empty_circle(wall.design, found) <= 450 + 2 * CELL
    # the measure can fail, and the check sees what it sees
    _, xs, ys = solid(wall.design)
    middle = (float(xs[len(xs) // 2]), float(ys[len(ys) // 2]))
    bare = [t for t in found if abs(t[0] - middle[0]) > 700 or abs(t[1] - middle[1]) > 700]
    emptied = largest_empty_circle(wall.design, bare)
    if emptied > 450 + 3 * CELL:
        (ties,) = wall.design.fittings.ties
        kept = tuple(t for t in ties.ties if (t.at, t.level) in set(bare))
        design = replace(wall.design, fittings=replace(wall.design.fittings, ties=(replace(ties, ties=kept),)))
        assert next(iter(tie_reach.check(design))).severity in ("fail", "note")


@pytest.mark.parametrize(
    ("across", "up"),
    [(900.0, 450.0), (750.0, 450.0), (800.0, 400.0), (600.0, 600.0), (900.0, 300.0), (400.0, 600.0), (914.4, 609.6)],
)
def test_the_covering_radius_of_a_staggered_grid_by_delaunay(across, up):
    """Circles round the triangles of a large staggered grid, those at its rim left out: none is larger than the limit."""
    points = np.array([(across * (i + (j % 2) / 2), up * j) for j in range(-12, 13) for i in range(-12, 12)])
    radii = []
    for corners in points[Delaunay(points).simplices]:
        (ax, ay), (bx, by), (cx, cy) = corners
        if np.abs(corners[:, 0]).max() > 5 * across or np.abs(corners[:, 1]).max() > 5 * up:
            continue
        a, b, c = np.hypot(bx - cx, by - cy), np.hypot(ax - cx, ay - cy), np.hypot(ax - bx, ay - by)
        area = abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)) / 2
        radii.append(a * b * c / (4 * area))
    assert max(radii) == pytest.approx(tie_reach.inside_limit(across, up), abs=1e-6)


@pytest.mark.parametrize("seed", range(1, 60, 4))
def test_the_check_measures_what_delaunay_measures(yard, reader, seed):
    """Of a wall without openings, the largest circle round a triangle of ties whose middle is deep in the wall."""
    wall = tied(yard, reader, seed)
    design = wall.design
    inside, _, _ = solid(design)
    if holes(design) or not inside.all():
        bare = yard.wall(6000.0 + 13 * seed, base=0, top=4500, ends=("corner", "corner"))
        design = designed(bare, reader, "building", slip=False)
    (ties,) = design.fittings.ties
    points = np.array([(t.at, t.level) for t in ties.across])
    outer, inner = design.building.leaves
    worst = 0.0
    for corners in points[Delaunay(points).simplices]:
        (ax, ay), (bx, by), (cx, cy) = corners
        d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
        x = ((ax**2 + ay**2) * (by - cy) + (bx**2 + by**2) * (cy - ay) + (cx**2 + cy**2) * (ay - by)) / d
        y = ((ax**2 + ay**2) * (cx - bx) + (bx**2 + by**2) * (ax - cx) + (cx**2 + cy**2) * (bx - ax)) / d
        deep = min(x - inner.span.start, inner.span.end - x, y - 5, outer.top.lowest(outer.span) - y)
        if deep >= 450:
            worst = max(worst, float(np.hypot(ax - x, ay - y)))
    (finding,) = tie_reach.check(design)
    assert worst > 300
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured / finding.limit >= worst / 450 - 1e-6, "the check has at least this circle"
