"""Joints in whole buildings, from spec to plan."""

from itertools import pairwise
from pathlib import Path

import pytest

from elevgen.building.demand import lintel_demands
from elevgen.building.resolve import resolve
from elevgen.building.trace import trace
from elevgen.core.geometry import Span, at_least
from elevgen.joints.candidates import perpends
from elevgen.joints.place import place
from elevgen.pipeline import load
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

DATA = Path(__file__).parents[2] / "data"


def spec_of(walls, *, unit="brick_65", junctions=(), types=None, leaves=None):
    return Spec.model_validate(
        {
            "spec": 1,
            "leaves": leaves or {"outer": {"zones": [{"unit": unit}]}},
            "wall_types": types or {"single": {"outer": "outer"}},
            "walls": [{"type": "single", "top": 5000, **wall} for wall in walls],
            "junctions": list(junctions),
        }
    )


def built(spec):
    reader = RuleReader(load_book(spec.rules, spec.overrides))
    building = resolve(spec, reader)
    runs = trace(building)
    return building, runs, place(building, runs, reader)


def wall(name, start, end, **more):
    return {"id": name, "start": start, "end": end, "line": "face", **more}


def test_a_wall_over_the_spacing_gets_one_joint_in_the_middle_of_its_panels():
    _, _, short = built(spec_of([wall("W1", [0, 0], [12000, 0])]))
    assert short.joints == ()
    _, _, plan = built(spec_of([wall("W1", [0, 0], [14300, 0])]))
    (joint,) = plan.joints
    assert (joint.id, joint.wall, joint.leaf, joint.given) == ("MJ1", "W1", "W1/outer", False)
    perpends = [112.5 * k - 5 for k in range(1, 127)]  # whole and half bricks from the left end; the same from the right
    nearest = min(abs(at - 7150) for at in perpends)
    assert nearest == 45
    assert joint.at in [at for left in perpends for at in (left, 14300 - left) if abs(at - 7150) == nearest]
    assert (joint.levels.start, joint.levels.end) == (0, 5000)
    assert joint.reason.startswith("run of 14.3 m exceeds 12 m")
    assert "movement_joint.spacing.normal.clay" in joint.basis
    assert [p.span.length for p in plan.panels] == pytest.approx([joint.at, 14300 - joint.at])


def test_the_bond_may_be_set_out_from_either_end():
    building, _, _ = built(spec_of([wall("W1", [0, 0], [14340, 0])]))
    leaf = building.leaf("W1/outer")
    found = perpends(leaf, leaf.zones[0].unit, Span(5000, 6000), 0.0)
    from_left, from_right = ([112.5 * k - 5 for k in range(1, 200)], [14340 - 112.5 * k + 5 for k in range(1, 200)])
    assert found == pytest.approx(sorted(at for at in (*from_left, *from_right) if 5000 <= at <= 6000))
    assert len(found) == 18
    image = perpends(leaf, leaf.zones[0].unit, Span(14340 - 6000, 14340 - 5000), 12.0)
    assert [14340 - at for at in reversed(image)] == pytest.approx(found)


def test_where_both_bonds_meet_a_perpend_is_offered_once():
    building, _, _ = built(spec_of([wall("W1", [0, 0], [112.5 * 80 - 10, 0])]))
    leaf = building.leaf("W1/outer")
    assert perpends(leaf, leaf.zones[0].unit, leaf.span, 12.0) == pytest.approx([112.5 * k - 5 for k in range(1, 80)])


def test_nominal_width_of_clay_and_block():
    """Pocket Book p.146 and BDA 2014: 16 mm in clay at 12 m; 10 mm in concrete block."""
    _, _, clay = built(spec_of([wall("W1", [0, 0], [14300, 0])]))
    assert (clay.joints[0].width.rule_of_thumb, clay.joints[0].width.calculated, clay.joints[0].width.built) == (16, None, 16)
    _, _, block = built(spec_of([wall("W1", [0, 0], [7300, 0])], unit="dense_block_100"))
    assert block.joints[0].width.built == 10


def test_clay_too_far_apart_gets_a_wider_joint():
    """1.3 mm a metre: 18.3 m beside a given joint asks for 23.79 mm, built 24."""
    _, _, plan = built(spec_of([wall("W1", [0, 0], [23450, 0], top=7000, joints=[{"at": 5150}])]))
    (joint,) = plan.joints
    assert joint.given
    assert joint.width.rule_of_thumb == pytest.approx(23.79)
    assert joint.width.built == 24
    (proof,) = plan.placements
    (relaxed,) = proof.relaxed
    assert (relaxed.rule, relaxed.measured, relaxed.limit) == ("movement_joint.spacing.normal.clay", 18300, 12000)
    assert "W1/outer" in relaxed.where


def test_the_corner_does_not_break_the_run():
    walls = [wall("W1", [0, 0], [9100, 0]), wall("W2", [9100, 0], [9100, 4600])]
    _, _, plan = built(spec_of(walls))
    assert len(plan.joints) == 1
    assert plan.joints[0].reason.startswith("run of 13.7 m round one corner exceeds 12 m")
    _, _, parted = built(spec_of(walls, junctions=[{"walls": ["W1", "W2"], "connection": "jointed"}]))
    assert [j.reason for j in parted.joints] == ["junction with W1, jointed"]


def test_the_nearest_opening_and_the_hiding_place_are_named():
    window = {"id": "N7", "kind": "window", "at": 7400, "width": 1200, "sill": 900, "height": 1200}
    features = [{"kind": "downpipe", "at": 5950}]
    _, _, plan = built(spec_of([wall("W1", [0, 0], [15100, 0], openings=[window], features=features)]))
    (joint,) = plan.joints
    assert abs(joint.at - 5950) <= 107.5
    assert "behind the downpipe" in joint.reason
    assert f"{(7400 - joint.at - 8) / 1000:.2f} m clear of window N7" in joint.reason


def test_a_joint_keeps_clear_of_a_tee_and_of_ends():
    walls = [wall("W1", [0, 0], [12600, 0]), wall("P1", [6285, 102.5], [6285, 3100], line="centre")]
    building, _, plan = built(spec_of(walls))
    meeting = building.meetings[0]
    stem = building.leaf(meeting.stem).thickness
    assert plan.joints
    for joint in plan.joints:
        leaf = building.leaf(joint.leaf)
        if joint.leaf == meeting.host:
            assert at_least(abs(joint.at - meeting.host_at), stem / 2 + 107.5 + 8)
        assert at_least(min(joint.at - leaf.span.start, leaf.span.end - joint.at), 107.5 + 8)


def test_a_joint_ends_at_the_top_of_a_gable_where_it_stands():
    top = [[0, 2600], [7100, 6100], [14200, 2600]]
    _, _, plan = built(spec_of([wall("W1", [0, 0], [14200, 0], top=top, base=-150, joints=[{"at": 3000, "width": 12}])]))
    (joint,) = plan.joints
    slope = (6100 - 2600) / 7100
    assert joint.levels.start == -150
    assert joint.levels.end == pytest.approx(2600 + slope * 3006)
    assert joint.width.built == 12


def test_given_joints_for_one_leaf_leave_the_other_alone():
    types = {"cavity": {"outer": "outer", "inner": "inner", "cavity": 100}}
    leaves = {"outer": {"zones": [{"unit": "brick_65"}]}, "inner": {"zones": [{"unit": "aircrete_block_100"}]}}
    given = [{"at": 4000, "leaf": "outer"}, {"at": 5500, "leaf": "inner"}]
    spec = spec_of([wall("W1", [0, 0], [10000, 0], type="cavity", joints=given)], types=types, leaves=leaves)
    _, _, plan = built(spec)
    assert [(j.id, j.leaf, j.at, j.given) for j in plan.joints] == [
        ("MJ1", "W1/outer", 4000, True),
        ("MJ2", "W1/inner", 5500, True),
    ]


def test_the_stricter_zone_governs_and_is_named():
    leaves = {"outer": {"zones": [{"unit": "brick_65", "to": 600}, {"unit": "dense_block_100"}]}}
    _, _, plan = built(spec_of([wall("W1", [0, 0], [7300, 0])], leaves=leaves))
    (joint,) = plan.joints
    assert "exceeds 6 m (dense concrete governs)" in joint.reason
    _, _, low = built(spec_of([wall("W1", [0, 0], [1700, 0], top=600)], leaves=leaves))
    assert low.joints == ()  # no block is reached, and clay may run 12 m


def test_panels_no_longer_than_three_times_their_height():
    """LABC Warranty (2022): 3 to 1; a wall 2.4 m high may run 7.2 m."""
    _, _, fine = built(spec_of([wall("W1", [0, 0], [7200, 0], top=2400)]))
    assert fine.joints == ()
    _, _, plan = built(spec_of([wall("W1", [0, 0], [7300, 0], top=2400)]))
    (joint,) = plan.joints
    assert "panel of 7.3 m would exceed 7.2 m, 3 times its height" in joint.reason
    assert joint.basis[0] == "movement_joint.panel_ratio.clay"


@pytest.fixture(scope="module")
def duplex():
    return built(load(DATA / "duplex.json"))


def test_no_joint_of_the_duplex_cuts_an_opening_or_a_bearing_on_any_storey(duplex):
    building, _, plan = duplex
    reader = RuleReader(load_book("uk"))
    demands = lintel_demands(building, reader)
    assert plan.joints
    for joint in plan.joints:
        leaf = building.leaf(joint.leaf)
        keep = [v.along for v in leaf.voids] + [d.keep_out for d in demands if d.leaf == leaf.id]
        assert not any(span.overlaps(joint.gap) for span in keep), joint


def test_the_duplex_is_proven_and_its_long_faces_are_cut(duplex):
    building, runs, plan = duplex
    assert all(p.optimal and p.lower_bound == len(p.joints) for p in plan.placements)
    for leaf in building.leaves:
        if leaf.side == "outer" and leaf.span.length > 17000:
            assert len(plan.on_leaf(leaf.id)) >= 2
    assert [r.closed for r in runs] == [True, True]
    # the outer leaf all round, joint to joint, in the order of the walls
    ring, at = [], 0.0
    for face in building.walls:
        leaf = building.leaf(f"{face.id}/outer")
        ring += [at + j.at - leaf.span.start for j in plan.on_leaf(leaf.id)]
        at += leaf.span.length
    gaps = [b - a for a, b in pairwise([*ring, ring[0] + at])]
    assert max(gaps) <= 12000.01
    assert sum(gaps) == pytest.approx(53200)


def test_ids_follow_walls_then_positions(duplex):
    building, _, plan = duplex
    order = {leaf: n for n, leaf in enumerate(leaf for w in building.walls for leaf in w.leaves)}
    assert [j.id for j in plan.joints] == [f"MJ{n}" for n in range(1, len(plan.joints) + 1)]
    places = [(order[j.leaf], j.at) for j in plan.joints]
    assert places == sorted(places)


def test_what_cannot_be_kept_is_named_with_its_measure(duplex):
    """The block ring: ground and first floor openings leave no place for 8.4 m of the two short walls."""
    *_, plan = duplex
    inner = plan.placements[1]
    assert {r.rule for r in inner.relaxed} == {"movement_joint.spacing.normal.dense_concrete", "movement_joint.corner.fraction"}
    assert all(r.measured > r.limit for r in inner.relaxed)


def test_a_material_without_a_spacing_is_not_placed_and_not_proven():
    spec = spec_of([wall("W1", [0, 0], [14300, 0])])
    book = load_book("uk")
    missing = "movement_joint.spacing.normal.clay"
    values = {key: value for key, value in book.values.items() if key != missing}
    reader = RuleReader(type(book)(**{**{f: getattr(book, f) for f in book.__slots__}, "values": values}))
    building = resolve(spec, reader)
    plan = place(building, trace(building), reader)
    assert plan.joints == ()
    assert [(p.optimal, p.lower_bound) for p in plan.placements] == [(False, 0)]
