"""Rules of other countries in placing: joints near corners and openings, and spacings that depend on openings and units."""

from __future__ import annotations

from typing import Any

import pytest
from plans import LEAVES, built, joints_of, wall

STEM = "movement_joint"


def given(**rules: Any) -> list[dict[str, Any]]:
    """Overrides: `corner__within=3050` is `movement_joint.corner.within`."""
    names = {name: f"{STEM}.{name.replace('__', '.')}" for name in rules}
    return [{"rule": names[name], "value": value, "reason": "another country's", "by": "test"} for name, value in rules.items()]


def window(name: str, at: float, width: float = 1210) -> dict[str, Any]:
    return {"id": name, "kind": "window", "at": at, "width": width, "sill": 900, "height": 1200}


ONE_SIDE = given(corner__kind="one_side_within", corner__within=3050)
NEAR = given(at_opening__one_side__clay=900, at_opening__within=1200)
BOTH = given(at_opening__both_sides__clay=1830, at_opening__within=1200)
RING = [
    wall("A", (0, 0), (8010, 0)),
    wall("B", (8010, 0), (8010, 6110)),
    wall("C", (8010, 6110), (0, 6110)),
    wall("D", (0, 6110), (0, 0)),
]


def corner_distances(joints: Any) -> list[float]:
    """How far each of the four corners of the ring has its nearest joint on either wall."""
    lengths = {"A": 8010, "B": 6110, "C": 8010, "D": 6110}
    far: dict[int, float] = dict.fromkeys(range(4), 1e9)
    for joint in joints:
        n = "ABCD".index(joint.wall)
        far[n] = min(far[n], joint.at)
        far[(n + 1) % 4] = min(far[(n + 1) % 4], lengths[joint.wall] - joint.at)
    return [far[n] for n in range(4)]


def test_each_corner_has_a_joint_on_one_of_its_walls() -> None:
    """28.24 m round: three joints by the spacing of 12 m; two of them can serve two corners each only on walls up to 6.1 m."""
    _, _, plan = built(RING, overrides=ONE_SIDE)
    assert max(corner_distances(plan.joints)) <= 3050
    (proof,) = plan.placements
    assert (proof.optimal, proof.lower_bound, proof.relaxed) == (True, len(plan.joints), ())
    plain = built(RING)[2]
    assert len(plain.joints) == 3, "half the spacing on each side asks for no more"


def test_a_joint_that_only_a_corner_asks_for_says_so() -> None:
    walls = [wall("A", (0, 0), (5000, 0)), wall("B", (5000, 0), (5000, 4600))]
    assert joints_of(walls) == ()
    (joint,) = joints_of(walls, overrides=ONE_SIDE)
    assert joint.reason.startswith("one is asked for within 3.05 m of the corner of A and B")
    assert f"{STEM}.corner.within" in joint.basis
    assert joints_of([walls[0], wall("B", (5000, 0), (5000, 3050))], overrides=ONE_SIDE) == (), "the masonry ends as near"


def test_the_corner_rule_of_the_material_goes_first() -> None:
    """Half of 12 m each side without it; added up round the corner with it: 7.5 and 4.4 m from the corner do."""
    walls = [
        wall("A", (0, 0), (9000, 0), joints=[{"at": 1500}]),
        wall("B", (9000, 0), (9000, 9000), joints=[{"at": 4400}]),
    ]
    half = built(walls)[2].placements[0].relaxed
    assert [r.rule for r in half] == [f"{STEM}.corner.fraction"]
    assert built(walls, overrides=given(corner__kind__clay="sum_round_corner"))[2].placements[0].relaxed == ()


def near(joints: Any, left: float, right: float) -> list[float]:
    return sorted(left - j.at if j.at <= left else j.at - right for j in joints)


def test_a_wide_opening_has_a_joint_near_one_side() -> None:
    walls = [wall("A", (0, 0), (9000, 0), openings=[window("V1", 4500)])]
    (joint,) = joints_of(walls, overrides=NEAR)
    assert near([joint], 4500, 5710)[0] <= 1200
    assert "asked for within 1.2 m of window V1" in joint.reason
    assert joint.basis[0] == f"{STEM}.at_opening.one_side.clay"
    assert joints_of([wall("A", (0, 0), (9000, 0), openings=[window("V1", 4500, 900)])], overrides=NEAR) == ()
    assert joints_of([wall("A", (0, 0), (9000, 0), openings=[window("V1", 1200)])], overrides=NEAR) == (), "it ends as near"


def test_a_wider_one_has_a_joint_near_each_side() -> None:
    walls = [wall("A", (0, 0), (9000, 0), openings=[window("V1", 3500, 1840)])]
    joints = joints_of(walls, overrides=BOTH)
    assert len(joints) == 2
    assert max(near(joints, 3500, 5340)) <= 1200
    assert joints_of([wall("A", (0, 0), (9000, 0), openings=[window("V1", 3500, 1830)])], overrides=BOTH) == ()


def test_one_joint_between_two_openings_serves_both() -> None:
    """1.5 m of wall between them: a joint in it is within 1.2 m of one side of each."""
    walls = [wall("A", (0, 0), (11000, 0), openings=[window("V1", 3500), window("V2", 6210)])]
    _, _, plan = built(walls, overrides=NEAR)
    (joint,) = plan.joints
    assert 4710 < joint.at < 6210
    assert "window V1" in joint.reason
    assert "window V2" in joint.reason
    assert plan.placements[0].optimal


def test_openings_whose_beds_are_reinforced_may_do_without() -> None:
    walls = [wall("A", (0, 0), (9000, 0), openings=[window("V1", 4500)])]
    instead = [*NEAR, *given(at_opening__instead="reinforced_beds")]
    assert joints_of(walls, overrides=instead) == ()
    bare = [walls[0] | {"reinforcement": []}]
    assert len(joints_of(bare, overrides=instead)) == 1, "nothing is to be reinforced in this wall"
    listed = [{"level": 2175, "at": 4000, "length": 2300}, {"level": 825, "at": 4000, "length": 2300}]
    assert joints_of([walls[0] | {"reinforcement": listed}], overrides=instead) == ()
    assert len(joints_of([walls[0] | {"reinforcement": listed[:1]}], overrides=instead)) == 1, "nothing under it"
    for far in ({"level": 2475}, {"level": 375}):
        moved = [listed[0] | far, listed[1]] if far["level"] > 900 else [listed[0], listed[1] | far]
        assert len(joints_of([walls[0] | {"reinforcement": moved}], overrides=instead)) == 1, "too far from it to stand in"


def test_what_has_no_place_is_told_with_its_rule_and_what_would_mend_it() -> None:
    """Openings 1.2 m apart: bearings and half a brick leave 600 mm; within 0.25 m of either no joint can stand."""
    tight = given(at_opening__one_side__clay=900, at_opening__within=150)
    walls = [wall("A", (0, 0), (9000, 0), openings=[window("V1", 4500)])]
    _, _, plan = built(walls, overrides=tight)
    assert plan.joints == ()
    ((relaxed,),) = [p.relaxed for p in plan.placements]
    assert relaxed.rule == f"{STEM}.at_opening.one_side.clay"
    assert relaxed.limit == 150
    assert relaxed.measured > 150
    assert plan.placements[0].lower_bound == 0


def test_where_the_bond_has_no_place_near_enough_one_off_it_is_taken() -> None:
    """A window of 20 mm between the end of the bearing and what is near enough."""
    edge = 150 + 16 / 2
    tight = given(at_opening__one_side__clay=900, at_opening__within=edge + 20)
    (joint,) = joints_of([wall("A", (0, 0), (9000, 0), openings=[window("V1", 4560)])], overrides=tight)
    assert near([joint], 4560, 5770)[0] <= edge + 20


def test_given_joints_serve_and_where_all_are_given_nothing_is_asked() -> None:
    walls = [wall("A", (0, 0), (9000, 0), openings=[window("V1", 4500)], joints=["place", {"at": 3500}])]
    assert [j.given for j in joints_of(walls, overrides=NEAR)] == [True]
    walls = [wall("A", (0, 0), (9000, 0), openings=[window("V1", 4500)], joints=[])]
    _, _, plan = built(walls, overrides=NEAR)
    assert (plan.joints, plan.placements[0].relaxed) == ((), ())


def test_branched_masonry_has_what_is_asked_for_too() -> None:
    openings = [window("V1", 1500), window("V2", 5200)]
    walls = [RING[0] | {"openings": openings}, *RING[1:], wall("P", (4000, 0), (4000, 6110))]
    _, _, plan = built(walls, overrides=[*NEAR, *ONE_SIDE])
    assert max(corner_distances([j for j in plan.joints if j.wall in "ABCD"])) <= 3050
    on_a = [j for j in plan.joints if j.wall == "A"]
    for left in (1500, 5200):
        assert near(on_a, left, left + 1210)[0] <= 1200
    assert plan.placements[0].relaxed == ()
    assert built(walls, overrides=[*NEAR, *ONE_SIDE])[2] == plan


def test_a_place_passed_over_because_of_an_opening_says_so() -> None:
    walls = [wall("A", (0, 0), (9000, 0), openings=[window("V1", 2000)])]
    (joint,) = joints_of(walls, overrides=NEAR)
    assert any("none would be within 1.2 m of window V1" in r.why for r in joint.rejected) or joint.at > 3210


def test_joints_keep_as_far_from_corners_as_the_wall_is_high() -> None:
    """17 m of wall and a corner: a joint is liked 5 m from the corner rather than hidden behind a pipe 2 m from it."""
    pipe = [{"kind": "downpipe", "at": 9700}]
    walls = [wall("A", (0, 0), (12000, 0), features=pipe), wall("B", (12000, 0), (12000, 4000))]
    (near_pipe,) = joints_of(walls)
    (clear,) = joints_of(walls, overrides=given(corner__height_fraction=1))
    assert 12000 - near_pipe.at < 5000 <= 12000 - clear.at - clear.width.built / 2


@pytest.mark.parametrize(("number", "width", "joints"), [(2, 900, 2), (3, 900, 0), (2, 1210, 0), (1, 1210, 0)])
def test_a_wall_with_openings_has_its_own_spacing(number: int, width: float, joints: int) -> None:
    rules = given(
        spacing__with_openings__clay=5000, with_openings__number=number, with_openings__width=width, with_openings__height=1200
    )
    walls = [wall("A", (0, 0), (10900, 0), openings=[window("V1", 1500), window("V2", 6700)])]
    placed = joints_of(walls, overrides=rules)
    assert len(placed) == joints
    assert all("5 m in a wall with two openings" in j.reason for j in placed)


def test_low_units_have_their_own_spacing() -> None:
    walls = [wall("A", (0, 0), (7000, 0))]
    (joint,) = joints_of(walls, overrides=given(spacing__low_units__clay=6000, low_units__height=65))
    assert "6 m in units as low as these" in joint.reason
    assert joints_of(walls, overrides=given(spacing__low_units__clay=6000, low_units__height=64)) == ()


def test_a_parapet_has_its_own_spacing_unless_reinforced() -> None:
    walls = [wall("A", (0, 0), (5000, 0), stands="parapet")]
    assert len(joints_of(walls, overrides=given(parapet__spacing__clay=4500))) == 1
    near = given(parapet__spacing__clay=4500, parapet__reinforced_every=450)
    assert joints_of(walls, overrides=near) == ()
    nearer = given(parapet__spacing__clay=4500, parapet__reinforced_every=300)
    assert len(joints_of(walls, overrides=nearer)) == 1
    reinforced = {"brick": LEAVES["brick"] | {"reinforced_every": 300}}
    assert joints_of(walls, overrides=nearer, leaves=reinforced) == ()


@pytest.mark.parametrize(("top", "least"), [(8500, 16), (8501, 25)])
def test_joints_of_high_walls_are_wider(top: float, least: float) -> None:
    joints = joints_of([wall("A", (0, 0), (13000, 0), top=top)], overrides=given(high_wall__height=8500, high_wall__width=25))
    assert [j.width.rule_of_thumb for j in joints] == [pytest.approx(least if least == 25 else joints[0].width.rule_of_thumb)]
    assert (joints[0].width.built >= 25) == (least == 25)


@pytest.mark.parametrize(("fraction", "joints"), [(0.2, 0), (0.199, 1)])
def test_a_step_by_part_of_the_height(fraction: float, joints: int) -> None:
    """A step of 600 mm, below the set's own figure, in a wall 3 m high."""
    stepped = [wall("A", (0, 0), (6500, 0), top=[[0, 3000], [2500, 3000], [2500, 2400], [6500, 2400]])]
    own = given(change_of_height=1000, change_of_height__fraction=fraction)
    found = joints_of(stepped, overrides=own)
    assert len(found) == joints
    assert all(j.basis[0] == f"{STEM}.change_of_height.fraction" for j in found)


@pytest.mark.parametrize(("fraction", "parted"), [(0.2, False), (0.199, True)])
def test_walls_in_line_of_unlike_heights(fraction: float, parted: bool) -> None:
    walls = [wall("A", (0, 0), (4000, 0), top=3000), wall("B", (4000, 0), (8000, 0), top=2400)]
    own = given(change_of_height=1000, change_of_height__fraction=fraction)
    assert bool(joints_of(walls, overrides=own)) == parted
