"""Bonds laid round whole plans: areas, counts and laps, found from positions and lengths; nothing is taken from the checks."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from bonded import COURSES, FULL_LAP, JOINTS, PLANS, SIZES, laid, near, suited, unit_of

from elevgen.bonds import bond_names, load_bond

every_plan = pytest.mark.parametrize("plan", PLANS)
every_bond = pytest.mark.parametrize("bond", bond_names())


# ---- areas and counts


@every_bond
@every_plan
def test_pieces_and_perpends_fill_every_stretch_and_the_stretches_the_wall(bond: str, plan: str) -> None:
    work = suited(bond, plan)
    for leaf in work.leaves:
        wall = work.design.building.wall(leaf.wall)
        found = work.design.coursing.of(leaf.id)
        gaps = [j.gap for j in work.design.plan.on_leaf(leaf.id)]
        holes = [o.rect for o in wall.openings]
        brick = 0.0
        for course in found.courses:
            at = leaf.span.start
            open_here = [h.along for h in holes if h.bottom < course.top - 0.01 and h.top > course.level + 0.01]
            for placement, pattern in work.placed[leaf.id, course.number]:
                parts = sorted([(p.at, p.length) for p in pattern.pieces] + [(p.at, p.width) for p in pattern.perpends])
                assert all(near(a + x, b) for (a, x), (b, _) in pairwise(parts))
                assert near(parts[0][0], 0)
                assert near(sum(parts[-1]), placement.span.length)
                brick += sum(p.length for p in pattern.pieces) * course.height
                left_out = sum(s.length for s in (*gaps, *open_here) if near(s.start, at))
                assert near(placement.span.start, at + left_out)
                at = placement.span.end
            assert near(at, leaf.span.end)
        assert found.unit_area == pytest.approx(brick)
        height = leaf.top.level_left_of(leaf.span.end)
        net = leaf.span.length * height - sum(h.width * h.height for h in holes) - sum(g.length for g in gaps) * height
        assert found.unit_area + found.mortar_area == pytest.approx(net)


@every_bond
@every_plan
def test_counts_are_the_pieces_through_the_leaf(bond: str, plan: str) -> None:
    """Seen and unseen, as many as lie one behind another; a unit that shows its end or all of its length is whole."""
    work = suited(bond, plan)
    length, _, width = SIZES[unit_of(bond)]
    for leaf in work.leaves:
        tally: Counter[bool] = Counter()
        for course in work.courses(leaf):
            for real, piece in work.real(leaf, course):
                whole = near(real, length) or (leaf.build == "one_brick" and near(real, width))
                assert whole == (piece.kind == "full")
                tally[whole] += piece.deep
        (count,) = work.design.coursing.of(leaf.id).counts
        assert (count.full, count.cut) == (tally[True], tally[False])


# ---- laps


@every_bond
@every_plan
def test_every_course_laps_by_a_quarter_of_the_unit(bond: str, plan: str) -> None:
    """At lengths that suit the bond and at others, over and under the window, on both sides of the movement joint."""
    if not load_bond(bond).LAPS:
        pytest.skip("its units do not lap")
    assert min(suited(bond, plan).laps()) >= SIZES[unit_of(bond)][0] / 4 - 0.01


@pytest.mark.parametrize(
    ("bond", "lap"),
    FULL_LAP.items(),
)
def test_a_ring_that_suits_a_bond_has_its_whole_lap_all_round(bond: str, lap: float) -> None:
    assert min(suited(bond).laps()) >= lap - 0.01


@pytest.mark.parametrize(
    "unit",
    ["brick", "390x190", "modular", "quarter", "third"],
)
def test_perpends_of_stack_bond_stand_over_one_another_but_for_those_beside_returns(unit: str) -> None:
    """Bricks; blocks of 440 x 100 mm, of which the end and 330 mm make up the unit."""
    work = suited("stack", unit=unit)
    length, _, width = SIZES[unit]
    joint = JOINTS.get(unit, 10.0)
    for leaf in work.leaves:
        for lower, upper in pairwise(work.courses(leaf)):
            beside = {leaf.span.start + width + joint / 2, leaf.span.end - width - joint / 2}
            low, high = ([x for x in work.lines(leaf, k) if not any(near(x, y) for y in beside)] for k in (lower, upper))
            assert low == pytest.approx(high)
            assert len(low) == round((leaf.span.length + joint) / (length + joint)) - 1


@pytest.mark.parametrize("bond", ["third", "quarter"])
def test_units_that_do_not_suit_a_bond_are_laid_in_it_all_the_same_or_a_finding_says_so(bond: str) -> None:
    """Metric bricks, two ends long, between corners."""
    work = laid(bond, "ring", "brick", None, (20, 16))
    said = [f for f in work.design.findings if f.severity != "pass" and f.code == "bond-unit"]
    assert said or min(work.laps()) < 215 / 2


@pytest.mark.parametrize("length", [1513, 1676, 1849])
def test_nothing_is_sawn_that_perpends_can_take(length: float) -> None:
    """A Flemish wall between stopped ends, a few millimetres off two headers or two stretchers side by side: no perpend need be
    wider or narrower by a millimetre for whole units to fill it."""
    work = laid("flemish", "straight", "brick", None, ((length + 10) / 225, 0))
    (leaf,) = work.leaves
    for course in work.courses(leaf):
        pieces = [r.real for r in work.pieces(leaf, course)]
        assert {round(x, 2) for x in pieces} <= {215, 102.5, 46.25}


def test_areas_balance_where_perpends_open_by_a_hundredth() -> None:
    """Header bond, 6853 mm, half a millimetre over 61 headers: 0.00833 mm to each of 60 perpends, those at returns too."""
    work = laid("header", "ring", "brick", None, (6863 / 225, 16))
    for leaf in work.leaves:
        found = work.design.coursing.of(leaf.id)
        assert found.unit_area + found.mortar_area == pytest.approx(leaf.span.length * 75 * COURSES, abs=1)
