"""Every meeting that is a joint is one in the plan, in the end of the leaf that stops there; and which meetings have to be."""

from __future__ import annotations

import pytest
from plans import built, joints_of, wall

UNLIKE, OLD = "movement_joint.unlike_materials", "movement_joint.old_to_new"
THICKNESS, HEIGHT = "movement_joint.change_of_thickness", "movement_joint.change_of_height"


def jointed(*walls: str, leaf: str | None = None):
    return {"walls": list(walls), "connection": "jointed"} | ({"leaf": leaf} if leaf else {})


def corner(one: str = "brick", other: str = "brick", **more):
    return [wall("W1", (0, 0), (4950, 0), one), wall("W2", (4950, 0), (4950, 3190), other, **more)]


def in_line(one: str = "brick", other: str = "brick", tops=(2700, 2700), **more):
    """Two walls in one line, the second drawn the other way round."""
    return [wall("W1", (0, 0), (4950, 0), one, top=tops[0]), wall("W2", (8100, 0), (4950, 0), other, top=tops[1], **more)]


def tee(host: str = "brick", stem: str = "brick", **more):
    return [wall("W1", (0, 0), (9000, 0), host), wall("P1", (3150, 4000), (3150, 102.5), stem) | more]


def test_the_stem_of_a_tee_has_it_in_its_end():
    building, _, plan = built(tee(), junctions=[jointed("P1", "W1")])
    (joint,) = plan.joints
    face = building.leaf("P1/outer").span.end
    assert face == pytest.approx(4000 - 102.5)
    assert (joint.leaf, joint.given, joint.reason) == ("P1/outer", False, "junction with W1, jointed")
    assert (joint.gap.start, joint.gap.end) == pytest.approx((face - 16, face))
    assert (joint.levels.start, joint.levels.end) == (0, 5000)


def test_at_a_corner_the_later_wall_stops():
    building, _, plan = built(corner(), junctions=[jointed("W1", "W2")])
    (joint,) = plan.joints
    assert joint.leaf == "W2/outer"
    start = building.leaf("W2/outer").span.start
    assert start == pytest.approx(102.5), "the inner face of the wall that passes"
    assert (joint.gap.start, joint.gap.end) == pytest.approx((start, start + 16))


def test_in_line_the_later_wall_has_it():
    building, _, plan = built(in_line(), junctions=[jointed("W1", "W2")])
    (joint,) = plan.joints
    assert (joint.leaf, joint.gap.end) == ("W2/outer", building.leaf("W2/outer").span.end)


def test_each_leaf_of_a_cavity_corner_has_its_own():
    walls = [w | {"type": "cavity"} for w in corner()]
    joints = joints_of(walls, junctions=[jointed("W1", "W2")])
    assert [(j.leaf, j.width.built) for j in joints] == [("W2/outer", 16), ("W2/inner", 10)]
    one = joints_of(walls, junctions=[jointed("W1", "W2", leaf="outer")])
    assert [j.leaf for j in one if j.reason.startswith("junction")] == ["W2/outer"]


def test_tied_and_free_meetings_have_none():
    for connection in ("tied", "free", "bonded"):
        assert joints_of(tee(), junctions=[{"walls": ["P1", "W1"], "connection": connection}]) == ()


@pytest.mark.parametrize(("at", "added"), [(3897.5 - 5, False), (3897.5 - 107.5, False), (3897.5 - 108, True), (1000, True)])
def test_a_joint_listed_there_is_not_doubled(at, added):
    """Within half a brick of the end nothing else could stand."""
    joints = joints_of(tee(joints=[{"at": at}]), junctions=[jointed("P1", "W1")])
    assert [j.given for j in joints] == ([True, False] if added else [True])


def test_it_counts_in_the_proof_of_its_run():
    _, runs, plan = built(tee(), junctions=[jointed("P1", "W1")])
    stem = next(n for n, run in enumerate(runs) if "P1/outer" in run.leaves)
    proof = plan.placements[stem]
    assert (proof.joints, proof.lower_bound, proof.optimal) == (("MJ1",), 1, True)


def test_panels_stop_at_it_and_it_makes_none_of_its_own():
    _, _, plan = built(tee(), junctions=[jointed("P1", "W1")])
    (panel,) = [p for p in plan.panels if p.leaf == "P1/outer"]
    assert (panel.span.start, panel.span.end) == pytest.approx((0, 3889.5))


def test_in_line_the_longer_side_makes_its_width():
    """1.3 mm a metre of clay: 18.45 m given without a joint ask for 23.985 mm, built 24, in the wall of 3.15 m."""
    long = [wall("W1", (0, 0), (18450, 0), joints=[]), wall("W2", (18450, 0), (21600, 0))]
    (joint,) = joints_of(long, junctions=[jointed("W1", "W2")])
    assert (joint.leaf, joint.width.built) == ("W2/outer", 24)


@pytest.mark.parametrize(
    ("host", "stem", "parted"),
    [
        ("brick", "aircrete", True),
        ("dense", "brick", True),
        ("cs", "brick", True),
        ("brick", "cs", True),
        ("dense", "aircrete", False),
        ("cs", "dense", False),
        ("stone", "brick", False),
        ("brick", "brick", False),
    ],
)
@pytest.mark.parametrize("plan", [corner, in_line, tee])
def test_clay_parts_from_what_shrinks(plan, host, stem, parted):
    """The Pocket Book's table (p.146, read) has clay expand, calcium silicate and concrete shrink, stone move with heat."""
    building, _, found = built(plan(host, stem))
    assert [m.connection for m in building.meetings] == ["jointed" if parted else "bonded"]
    ends = [j for j in found.joints if j.reason.startswith("junction")]
    assert len(ends) == parted
    if parted:
        names = {"brick": "clay", "cs": "calcium silicate", "dense": "dense concrete", "aircrete": "aircrete"}
        assert ends[0].reason == f"junction with W1, jointed; {names[stem]} meets {names[host]}"
        assert ends[0].basis[0] == UNLIKE


@pytest.mark.parametrize(("word", "parted"), [("any_two", True), ("none", False)])
def test_which_materials_are_unlike_can_be_said(word, parted):
    override = {"rule": UNLIKE, "value": word, "reason": "engineer's choice", "by": "engineer"}
    building, _, _ = built(tee("dense", "aircrete"), overrides=[override])
    assert building.meetings[0].connection == ("jointed" if parted else "bonded")


def test_a_stated_connection_is_kept():
    for connection in ("bonded", "tied"):
        building, _, _ = built(tee("brick", "aircrete"), junctions=[{"walls": ["W1", "P1"], "connection": connection}])
        assert building.meetings[0].connection == connection


def test_a_meeting_is_left_as_it_is_where_joints_are_listed():
    building, _, plan = built(tee("brick", "aircrete", joints=[]))
    assert building.meetings[0].connection == "bonded"
    assert not any(j.reason.startswith("junction") for j in plan.joints)


def test_zones_are_compared_level_by_level():
    """Brick to 600, block above: it is like its own kind, and block for the most part; of 1.1 m it is clay."""
    assert built(tee("plinth", "plinth"))[0].meetings[0].connection == "bonded"
    assert built(tee("plinth", "dense"))[0].meetings[0].connection == "bonded"
    assert built([w | {"top": 1190} for w in tee("plinth", "dense")])[0].meetings[0].connection == "jointed"
    assert built([w | {"top": 1200} for w in tee("plinth", "dense")])[0].meetings[0].connection == "bonded"


@pytest.mark.parametrize("plan", [corner, in_line, tee])
def test_new_masonry_parts_from_old(plan):
    first, second = plan()
    old = [first | {"existing": True}, second]
    building, _, found = built(old)
    assert building.meetings[0].connection == "jointed"
    assert found.joints[-1].reason == "junction with W1, jointed; new masonry meets old"
    assert found.joints[-1].basis[0] == OLD
    both = [first | {"existing": True}, second | {"existing": True}]
    assert built(both)[0].meetings[0].connection == "bonded"


@pytest.mark.parametrize("plan", [corner, in_line])
def test_the_new_wall_stops_and_not_the_old_one(plan):
    first, second = plan()
    joints = joints_of([first, second | {"existing": True}])
    assert [j.leaf for j in joints] == ["W1/outer"]
    assert joints[0].reason.startswith("junction with W2")


def test_a_change_of_thickness_in_line():
    """Common practice, no source: 50 mm. From half a brick to a brick it is 112.5 mm, from brick to 100 block 2.5."""
    (joint,) = joints_of(in_line("brick", "thick"))
    assert joint.basis[0] == THICKNESS
    assert "a leaf of 215 mm goes on from one of 102.5 mm" in joint.reason
    assert built(in_line("dense", "dense_215"))[0].meetings[0].connection == "jointed"
    assert built(in_line("dense", "aircrete"))[0].meetings[0].connection == "bonded"
    assert built(corner("brick", "thick"))[0].meetings[0].connection == "bonded", "a corner is no change in line"


@pytest.mark.parametrize(("tops", "leaf"), [((2700, 3601), "W1/outer"), ((3601, 2700), "W2/outer")])
def test_a_change_of_height_in_line_lies_in_the_lower_wall(tops, leaf):
    (joint,) = joints_of(in_line(tops=tops))
    assert (joint.leaf, joint.levels.end) == (leaf, 2700)
    assert joint.basis[0] == HEIGHT
    assert built(in_line(tops=(2700, 3600)))[0].meetings[0].connection == "bonded", "exactly 900"


def test_a_cross_is_no_end():
    walls = [wall("W1", (0, 0), (9000, 0)), wall("P1", (3150, -2000), (3150, 4000), "aircrete")]
    building, _, plan = built(walls)
    assert [m.kind for m in building.meetings] == ["cross"]
    assert not any(j.reason.startswith("junction") for j in plan.joints)


def test_a_joint_keeps_half_a_unit_clear_of_it():
    """Block 12.1 m long, jointed at its end: the last place begins half a block and both joints off the face."""
    building, _, plan = built(tee("brick", "dense", start=[3150, 12200]))
    leaf = building.leaf("P1/outer")
    end = next(j for j in plan.joints if j.reason.startswith("junction"))
    for joint in plan.on_leaf("P1/outer"):
        if joint is not end:
            assert end.gap.start - joint.gap.end >= 220 - 0.01
    assert end.gap.end == leaf.span.end
