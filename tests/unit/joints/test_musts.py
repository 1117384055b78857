"""Joints that stand whatever the spacing: at steps in height, and in short returns of clay."""

from __future__ import annotations

import pytest
from plans import built, joints_of, wall

HEIGHT, SHORT = "movement_joint.change_of_height", "movement_joint.short_return.clay"


def stepped(rise: float, at: float = 3285.0, **more):
    """A wall 5.4 m long whose top steps down by so much at a place, 2.7 m high past it."""
    return wall("W1", (0, 0), (5400, 0), top=[[0, 2700 + rise], [at, 2700 + rise], [at, 2700], [5400, 2700]], **more)


def test_a_step_of_900_needs_none_and_a_higher_one_does():
    """Common practice, no source: 900 mm."""
    assert joints_of([stepped(900)]) == ()
    (joint,) = joints_of([stepped(901)])
    assert joint.reason.startswith("the wall steps 0.90 m in height")
    assert joint.basis[0] == HEIGHT
    assert not joint.given


def test_its_gap_begins_at_the_step_on_the_lower_side_and_is_as_high_as_that():
    (joint,) = joints_of([stepped(1500)])
    assert (joint.gap.start, joint.gap.end) == (3285, 3301)
    assert (joint.levels.start, joint.levels.end) == (0, 2700)
    rising = wall("W1", (0, 0), (5400, 0), top=[[0, 2400], [2060, 2400], [2060, 4200], [5400, 4200]])
    (joint,) = joints_of([rising])
    assert (joint.gap.start, joint.gap.end) == (2044, 2060)
    assert joint.levels.end == 2400


def test_a_step_of_the_base_counts_as_one_of_the_top():
    """The ground steps up under a level top: the side where the wall is less high is the lower."""
    base = [[0, -1200], [2060, -1200], [2060, -150], [5400, -150]]
    (joint,) = joints_of([wall("W1", (0, 0), (5400, 0), base=base, top=2700)])
    assert (joint.gap.start, joint.gap.end) == (2060, 2076)
    assert joint.levels.start == -150
    low = [[0, -1050], *base[1:]]
    low[1] = [2060, -1050]
    assert joints_of([wall("W1", (0, 0), (5400, 0), base=low, top=2700)]) == (), "exactly 900"


def test_base_and_top_that_step_together_are_a_step_though_the_height_stays():
    top = [[0, 2700], [2060, 2700], [2060, 3750], [5400, 3750]]
    base = [[0, -150], [2060, -150], [2060, 900], [5400, 900]]
    (joint,) = joints_of([wall("W1", (0, 0), (5400, 0), base=base, top=top)])
    assert joint.gap.end == 2060, "on the side whose top is lower"


@pytest.mark.parametrize("top", [[[0, 2700], [2700, 5400], [5400, 2700]], [[0, 2400], [60, 4800], [5400, 4800]]])
def test_a_slope_is_no_step(top):
    assert joints_of([wall("W1", (0, 0), (5400, 0), top=top)]) == ()


def test_both_leaves_of_a_cavity_wall_have_it():
    joints = joints_of([stepped(1500) | {"type": "cavity"}])
    assert [(j.leaf, j.gap.start) for j in joints] == [("W1/outer", 3285), ("W1/inner", 3285)]


def test_where_a_window_stands_it_goes_to_the_nearest_place_on_the_lower_side():
    window = {"id": "N3", "kind": "window", "at": 2960, "width": 1235, "sill": 900, "height": 1050}
    (joint,) = joints_of([stepped(1500, openings=[window])])
    moved = joint.at - (3285 + 8)
    assert f"{moved:g} mm to the right of the step, the nearest place it can have" in joint.reason
    # Clear of the reveal by the bearing of the lintel over it, and not a millimetre more.
    assert joint.gap.start == pytest.approx(2960 + 1235 + 150)


def test_where_no_place_is_legal_it_is_reported():
    window = {"id": "N3", "kind": "window", "at": 3000, "width": 2260, "sill": 900, "height": 1050}
    _, _, plan = built([stepped(1500, openings=[window])])
    assert plan.joints == ()
    (relaxed,) = plan.placements[0].relaxed
    assert (relaxed.rule, relaxed.where, relaxed.measured, relaxed.limit) == (HEIGHT, "W1/outer 3285 to 5400", 1500, 900)


def test_the_place_is_sought_no_further_than_the_next_step():
    """The lower part between two steps is all window; past the second step there is room, but that is another height."""
    top = [[0, 4500], [2000, 4500], [2000, 3000], [3600, 3000], [3600, 1500], [7200, 1500]]
    window = {"id": "N3", "kind": "window", "at": 1900, "width": 1600, "sill": 300, "height": 900}
    _, _, plan = built([wall("W1", (0, 0), (7200, 0), top=top, openings=[window])])
    (joint,) = plan.joints
    assert joint.gap.start == pytest.approx(3650)
    assert [(r.rule, r.where) for r in plan.placements[0].relaxed] == [(HEIGHT, "W1/outer 2000 to 3600")]


def test_a_joint_given_at_the_step_is_that_joint():
    joints = joints_of([stepped(1500, joints=["place", {"at": 3300}])])
    assert [(j.at, j.given) for j in joints] == [(3300, True)]
    joints = joints_of([stepped(1500, joints=["place", {"at": 1200}])])
    assert [(j.at, j.given) for j in joints] == [(1200, True), (3293, False)]


def test_nothing_is_added_where_the_joints_are_listed():
    assert joints_of([stepped(1500, joints=[])]) == ()


def test_a_step_counts_among_the_joints_that_the_spacing_needs():
    """21 m of clay with a step at 11.4 m: the joint there is one of the two, and no other is set beside it."""
    top = [[0, 4800], [11400, 4800], [11400, 3300], [21000, 3300]]
    _, _, plan = built([wall("W1", (0, 0), (21000, 0), top=top)])
    assert [j.gap.start for j in plan.joints] == [11400]
    assert (plan.placements[0].optimal, plan.placements[0].lower_bound) == (True, 1)


def crank(length: float, leaf: str = "brick", **more):
    """A wall that jumps sideways by a short return: out at its start, in at its end."""
    return [
        wall("W1", (0, 0), (4950, 0), leaf, top=2700),
        wall("W2", (4950, 0), (4950, length), leaf, top=2700, **more),
        wall("W3", (4950, length), (8100, length), leaf, top=2700),
    ]


def test_a_return_of_675_in_clay_needs_none_and_a_shorter_one_does():
    """LABC Warranty (quoted): less than 675 mm. Its face is measured from the outer corner to the inner one."""
    building, _, plan = built(crank(675))
    assert building.leaf("W2/outer").span.length == 675
    assert plan.joints == ()
    building, _, plan = built(crank(674.9))
    (joint,) = plan.joints
    assert joint.leaf == "W2/outer"
    assert joint.reason.startswith("return of 674.9 mm in clay between two corners, shorter than 675 mm")
    assert joint.basis[0] == SHORT


def test_a_short_return_of_other_material_needs_none():
    assert not any(SHORT in j.basis for j in joints_of(crank(562.5, "dense")))
    assert [j.leaf for j in joints_of(crank(562.5, "plinth")) if SHORT in j.basis] == ["W2/outer"], "clay up to 600"


def test_a_short_end_is_no_return():
    assert joints_of([wall("W1", (0, 0), (4950, 0)), wall("W2", (4950, 0), (4950, 562.5))]) == ()
    jointed = [{"walls": ["W2", "W3"], "connection": "jointed"}]
    (only,) = joints_of(crank(562.5), junctions=jointed)
    assert "junction" in only.reason


def test_it_is_hidden_in_the_re_entrant_corner():
    (joint,) = joints_of(crank(630))
    # Half a brick and half its own width off the inner corner, or on the bond next to that, but within a brick of it.
    assert 630 - 225 <= joint.at <= 630 - 107.5 - 8
    assert "hidden in the re-entrant corner" in joint.reason


def test_where_both_corners_stick_out_it_stands_on_the_bond_near_the_middle():
    """The end of a narrow bay: two outer corners, nothing to hide behind."""
    walls = [
        wall("W1", (0, 0), (4950, 0)),
        wall("W2", (4950, 0), (4950, 665)),
        wall("W3", (4950, 665), (0, 665)),
    ]
    (joint,) = joints_of(walls)
    assert joint.leaf == "W2/outer"
    perpends = {112.5 * k - 5 for k in range(1, 6)} | {665 - (112.5 * k - 5) for k in range(1, 6)}
    assert min(abs(joint.at - at) for at in perpends) < 0.01
    assert abs(joint.at - 332.5) < 60


def test_a_return_with_no_room_for_it_is_reported():
    _, _, plan = built(crank(220))
    assert plan.joints == ()
    (relaxed,) = [r for p in plan.placements for r in p.relaxed]
    assert (relaxed.rule, relaxed.measured, relaxed.limit) == (SHORT, 220, 675)


def test_a_joint_given_in_the_return_is_enough():
    joints = joints_of(crank(630, joints=["place", {"at": 300}]))
    assert [(j.at, j.given) for j in joints] == [(300, True)]
