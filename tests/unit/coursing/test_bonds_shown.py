"""Bonds laid round whole plans: what shows at corners, on faces, at reveals and beside movement joints.

Common practice, no source.
"""

from __future__ import annotations

from functools import cache
from itertools import groupby, pairwise

import pytest
from bonded import COURSES, FULL_LAP, ONE_BRICK, PLANS, SIZES, Laid, corners, near, ring, suited, unit_of

from elevgen import pipeline
from elevgen.bonds import bond_names
from elevgen.building.model import Leaf
from elevgen.spec.models import Spec

every_plan = pytest.mark.parametrize("plan", PLANS)
every_bond = pytest.mark.parametrize("bond", bond_names())


# ---- what shows


@every_bond
@every_plan
def test_at_every_outer_corner_one_wall_runs_through_and_the_other_shows_its_end(bond: str, plan: str) -> None:
    """By turns, course by course; the unit's width shows, and belongs to the wall that runs through."""
    work = suited(bond, plan)
    width = SIZES[unit_of(bond)][2]
    for one, other, outer in corners(work):
        if not outer:
            continue
        turns = []
        for course in work.courses(one[0]):
            first, second = (work.pieces(leaf, course)[-side] for leaf, side in (one, other))
            returned = [x for x in (first, second) if x.piece.kind == "return"]
            assert len(returned) == 1
            assert near(returned[0].shown, width)
            assert returned[0].piece.laid == "header"
            turns.append(first.piece.kind == "return")
        assert all(a != b for a, b in pairwise(turns))


@pytest.mark.parametrize("bond", ONE_BRICK)
@pytest.mark.parametrize("plan", ["ring", "odd", "ell"])
def test_the_closer_stands_beside_the_quoin_header_at_outer_corners_only(bond: str, plan: str) -> None:
    """In garden walls in the course of headers, in header bond nowhere: there the quoin is a three-quarter."""
    work = suited(bond, plan)
    closers = 0
    for one, other, outer in corners(work):
        for leaf, side in (one, other):
            for course in work.courses(leaf):
                pieces = work.pieces(leaf, course)[:: -1 if side else 1]
                first, second, third = (r.shown for r in pieces[:3])
                headers = bond in ("english", "flemish", "flemish_garden_wall") or near(third, 102.5)
                if outer and bond == "header":
                    assert near(first, 102.5 if pieces[0].piece.kind == "return" else 158.75)
                elif outer and headers and pieces[0].piece.kind == "return":
                    assert near(second, 46.25)
                    assert pieces[1].piece.laid == "closer"
                elif outer and bond.startswith("english_garden") and headers:
                    assert (round(first, 2), round(second, 2)) == (215, 46.25)
                elif outer:
                    assert not near(second, 46.25)
                closers += outer and near(second, 46.25)
    assert (closers > 0) == (bond != "header")


def runs(work: Laid, leaf: Leaf, course: int) -> list[tuple[float, int]]:
    """Lengths that show in a course, each with how many stand side by side."""
    return [(x, len(list(same))) for x, same in groupby(round(r.shown, 2) for r in work.pieces(leaf, course))]


def test_what_shows_in_each_bond() -> None:
    """Whole courses of walls whose lengths suit, from corner to corner; common practice, no source."""
    for bond in bond_names():
        if bond == "third":
            continue
        work = suited(bond)
        for leaf in work.leaves:
            found = [runs(work, leaf, course) for course in work.courses(leaf)]
            length = SIZES[unit_of(bond)][0]
            inner = [[run for run in course if run[0] in (length, 102.5)] for course in found]
            if bond == "english":
                assert {tuple(x for x, _ in course) for course in found} == {(215,), (102.5, 46.25, 102.5, 46.25, 102.5)}
            elif bond == "flemish":
                assert all(many == 1 for course in found for _, many in course)
                assert all(a[0] != b[0] for course in inner for a, b in pairwise(course))
            elif bond == "flemish_garden_wall":
                middle = [course[2:-2] if course[0][0] == 215 else course[3:-3] for course in inner]
                assert all((x, many) in ((215, 3), (102.5, 1)) for course in middle for x, many in course)
                assert all(len(course) > 3 for course in middle)
            elif bond.startswith("english_garden"):
                stretchers = int(bond[-1])
                headers = [k for k, course in enumerate(found) if max((many for x, many in course if x == 102.5), default=0) > 1]
                assert headers == list(range(stretchers, COURSES, stretchers + 1))
            elif bond == "header":
                assert {x for course in found for x, _ in course} == {102.5, 158.75}
            else:
                assert all(abs(x - length) < 0.01 or many <= 2 for course in found for x, many in course)


# ---- reveals and both sides of movement joints

STARTS = {
    "stretcher": {(215, 215, 215), (102.5, 215, 215)},
    "stack": {(215, 215, 215)},
    "english": {(215, 215, 215), (102.5, 46.25, 102.5)},
    "english_garden_wall_3": {(215, 215, 215), (102.5, 215, 215), (102.5, 46.25, 102.5)},
    "english_garden_wall_5": {(215, 215, 215), (102.5, 215, 215), (102.5, 46.25, 102.5)},
    "flemish": {(215, 102.5, 215), (102.5, 46.25, 215)},
    "flemish_garden_wall": {(215, 102.5, 215), (102.5, 46.25, 215)},
    "header": {(102.5, 102.5, 102.5), (158.75, 102.5, 102.5)},
}
"""How courses begin at a stopped end, in metric bricks; common practice, no source."""
PANELS = {
    "flemish": (19, 7, 17),
    "flemish_garden_wall": (27, 9.5, 19),
    "english_garden_wall_3": (20, 7, 17),
    "english_garden_wall_5": (20, 7, 17),
}
"""Units in the first wall, in its panels on both sides of a window, in the second wall, which a joint halves; or 20, 7, 16."""


@cache
def parted(bond: str) -> Laid:
    """A ring with a window and a movement joint that leave panels of lengths that suit; no perpend moved for its corners."""
    along, panel, across = PANELS.get(bond, (20, 7, 16))
    walls = ring(225, 10, 75 * COURSES, along, across)
    place = {"at": 225 * panel - 10, "width": 225 * (along - 2 * panel) + 10, "sill": 225, "height": 300}
    walls[0]["openings"] = [{"id": "V1", "kind": "window"} | place]
    walls[1]["joints"] = [{"at": 225 * across / 2 - 5, "width": 10}]
    spec = {
        "spec": 1,
        "leaves": {"masonry": {"bond": bond, "zones": [{"unit": "brick_65"}]}},
        "wall_types": {"single": {"outer": "masonry"}},
        "overrides": [
            {"rule": rule, "value": 0, "unit": "mm", "reason": "the bond kept whole", "by": "nobody"}
            for rule in ("bond.opening.clear", "bond.lintel_end.clear")
        ],
        "walls": [{"id": f"W{n}", "type": "single", "base": 0, "joints": []} | wall for n, wall in enumerate(walls, 1)],
    }
    return Laid(pipeline.design(Spec.model_validate(spec), "parted"))


@pytest.mark.parametrize("bond", STARTS)
@pytest.mark.parametrize(("wall", "courses"), [(0, range(4, 8)), (1, range(1, COURSES + 1))], ids=["window", "joint"])
def test_courses_begin_at_reveals_and_movement_joints_as_at_stopped_ends(bond: str, wall: int, courses: range) -> None:
    """By turns, so that all laps are whole; and nothing is cut but what stands at the ends."""
    work = parted(bond)
    leaf = work.leaves[wall]
    starts = []
    for course in courses:
        left, right = (pattern.pieces for _, pattern in work.placed[leaf.id, course])
        beside = tuple(round(p.length, 2) for p in left[:-4:-1]), tuple(round(p.length, 2) for p in right[:3])
        assert set(beside) <= STARTS[bond]
        starts.append(beside)
        assert all(round(p.length, 2) in (215, 102.5) for p in (*left[3:-2], *right[2:-3]))
    if bond != "stack":
        assert all(a[side] != b[side] for a, b in pairwise(starts) for side in (0, 1))
        assert min(work.laps()) >= FULL_LAP[bond] - 0.01
