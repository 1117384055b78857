"""Kinds of joint rule the uk set has none of, given by overrides: a wall that breaks each, and the same wall put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
STEM = "movement_joint"
Value = float | str | tuple[float, str]


def given(**rules: Value) -> list[dict[str, Any]]:
    """Overrides: `corner__within=3050` is `movement_joint.corner.within`; a value with its unit as a pair."""
    made = []
    for name, value in rules.items():
        number, unit = value if isinstance(value, tuple) else (value, "")
        key = f"{STEM}.{name.replace('__', '.')}"
        made.append({"rule": key, "value": number, "unit": unit, "reason": "another country's", "by": "test"})
    return made


def wall(wall_id: str, start: tuple[float, float], end: tuple[float, float], **more: Any) -> dict[str, Any]:
    return {"id": wall_id, "type": "garden", "start": list(start), "end": list(end), "top": 4800, "line": "face"} | more


CORNER = [wall("A", (0, 0), (9000, 0)), wall("B", (9000, 0), (9000, 7600))]
SUM = given(corner__kind__clay="sum_round_corner")
ONE_SIDE = given(corner__kind="one_side_within", corner__within=3050)


def severities(found: Found, design: Design, code: str) -> list[str]:
    return [f.severity for f in found(design, code, everything=True)]


@pytest.mark.parametrize(
    ("a", "b", "severity"), [(2000, 7000, "pass"), (2000, 6999, "pass"), (2000, 5001, "pass"), (1000, 4000.5, "warn")]
)
def test_the_sum_round_a_corner(build: Build, found: Found, a: float, b: float, severity: str) -> None:
    """12 m usual, 15 m at most: joints 9000 - a and b from the corner."""
    (finding,) = found(build(CORNER, {"A/outer": [a], "B/outer": [b]}, overrides=SUM), "corner-distance", everything=True)
    together = 9000 - a + b
    assert finding.measured == pytest.approx(together)
    assert finding.severity == ("pass" if together <= 12000 else "warn" if together <= 15000 else "fail")
    assert finding.severity == severity or together > 12000
    assert f"{together / 1000:.2f} m together" in finding.text
    assert set(finding.walls) == {"A", "B"}


def test_the_sum_is_not_half_on_each_side(build: Build, found: Found) -> None:
    """8 m on one side are too far by half the spacing, and fine where the other side has no more than 4 m."""
    joints = {"A/outer": [1000.0], "B/outer": [3900.0]}
    assert "fail" in severities(found, build(CORNER, joints), "corner-distance")
    assert severities(found, build(CORNER, joints, overrides=SUM), "corner-distance") == ["pass"]


@pytest.mark.parametrize(("at", "severity"), [(4600.0, "pass"), (4599.0, "note")])
def test_a_corner_with_joints_on_one_wall_only_is_left_to_the_spacing(
    build: Build, found: Found, at: float, severity: str
) -> None:
    """4.4 m and all of B, 7.6 m, make 12 m; with more the rule has nothing to add up, which is said."""
    (finding,) = found(build(CORNER, {"A/outer": [at]}, overrides=SUM), "corner-distance", everything=True)
    assert (finding.severity, finding.measured) == (severity, pytest.approx(9000 - at + 7600))
    assert ("the spacing alone is held to" in finding.text) == (severity == "note")


@pytest.mark.parametrize(
    ("joints", "severity", "measured"),
    [
        ({"A/outer": [5950.0]}, "pass", 3050),
        ({"A/outer": [5949.5]}, "fail", 3050.5),
        ({"A/outer": [2000.0], "B/outer": [3050.0]}, "pass", 3050),
        ({"A/outer": [2000.0], "B/outer": [4000.0]}, "fail", 4000),
        ({}, "fail", None),
    ],
)
def test_a_joint_on_one_of_two_walls(
    build: Build, found: Found, joints: dict[str, list[float]], severity: str, measured: float | None
) -> None:
    (finding,) = found(build(CORNER, joints, overrides=ONE_SIDE), "corner-distance", everything=True)
    assert finding.severity == severity
    assert finding.measured == (None if measured is None else pytest.approx(measured))


def test_a_material_without_a_spacing_is_not_held_to_another_ones_corners(
    build: Build, found: Found, lacking: Callable[..., Design]
) -> None:
    """Nothing is placed in masonry no document has a spacing for: it is not told to have a joint by its corner either."""
    design = lacking(build(CORNER, overrides=ONE_SIDE), f"{STEM}.spacing.normal.clay")
    assert severities(found, design, "corner-distance") == ["not_checked"]


def test_where_the_masonry_ends_near_a_corner_no_joint_is_asked(build: Build, found: Found) -> None:
    short = [CORNER[0], wall("B", (9000, 0), (9000, 3000))]
    (finding,) = found(build(short, overrides=ONE_SIDE), "corner-distance", everything=True)
    assert (finding.severity, finding.measured) == ("pass", pytest.approx(3000))


def test_without_the_distance_the_corner_is_not_checked(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    design = lacking(build(CORNER, overrides=ONE_SIDE), f"{STEM}.corner.within")
    assert severities(found, design, "corner-distance") == ["not_checked"]


def test_the_rule_of_the_material_goes_before_that_for_every_other(build: Build, found: Found) -> None:
    joints = {"A/outer": [1000.0], "B/outer": [3900.0]}
    other = given(corner__kind__dense_concrete="sum_round_corner")
    assert "fail" in severities(found, build(CORNER, joints, overrides=other), "corner-distance")


# ---- spacing of some walls ----


def window(at: float, width: float = 1210, height: float = 1200, name: str = "V1") -> dict[str, Any]:
    return {"id": name, "kind": "window", "at": at, "width": width, "sill": 900, "height": height}


OPENINGS = given(
    spacing__with_openings__clay=(5, "m"), with_openings__number=2, with_openings__width=900, with_openings__height=900
)


@pytest.mark.parametrize(
    ("openings", "limit"),
    [
        ([], 12000),
        ([window(900)], 12000),
        ([window(900), window(3000, name="V2")], 5000),
        ([window(900), window(3000, 900, 900, name="V2")], 12000),
        ([window(900), window(3000, 910, 600, name="V2")], 5000),
        ([window(900), window(3000, 600, 910, name="V2")], 5000),
    ],
)
def test_a_wall_with_openings_has_a_spacing_of_its_own(
    build: Build, found: Found, openings: list[dict[str, Any]], limit: float
) -> None:
    design = build([wall("A", (0, 0), (5500, 0), openings=openings)], overrides=OPENINGS)
    (finding,) = found(design, "joint-spacing", everything=True)
    assert finding.limit == limit
    assert finding.severity == ("pass" if limit == 12000 else "fail")
    assert ("in a wall with 2 openings" in finding.text) == (limit == 5000)


@pytest.mark.parametrize(("height", "limit"), [(65, 6000), (64, 12000)])
def test_low_units_have_a_spacing_of_their_own(build: Build, found: Found, height: float, limit: float) -> None:
    low = given(spacing__low_units__clay=(6, "m"), low_units__height=height)
    (finding,) = found(build([wall("A", (0, 0), (7000, 0))], overrides=low), "joint-spacing", everything=True)
    assert finding.limit == limit


def test_low_units_without_a_height_are_said(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    low = given(spacing__low_units__clay=(6, "m"), low_units__height=65)
    design = lacking(build([wall("A", (0, 0), (5000, 0))], overrides=low), f"{STEM}.low_units.height")
    assert "not_checked" in severities(found, design, "joint-spacing")


def test_a_parapet_has_a_length_of_its_own_unless_its_beds_are_reinforced(build: Build, found: Found) -> None:
    """In the uk set every parapet has a bed reinforced every 450 mm or nearer."""
    walls = [wall("A", (0, 0), (5000, 0), top=1200, stands="parapet")]
    own = {"parapet__spacing__clay": (4.5, "m")}
    for every, limit in ((300, 4500), (450, 6000)):
        design = build(walls, overrides=given(**own, parapet__reinforced_every=every))
        (finding,) = found(design, "joint-spacing", everything=True)
        assert finding.limit == limit, every
    (finding,) = found(build(walls, overrides=given(**own)), "joint-spacing", everything=True)
    assert finding.limit == 4500


# ---- openings ----

NEAR = given(at_opening__one_side__clay=900, at_opening__within=1200)
BOTH = given(at_opening__both_sides__clay=1830, at_opening__one_side__clay=(0, "mm"), at_opening__within=1200)
STEEL = given(at_opening__one_side__clay=900, at_opening__within=1200, at_opening__instead="reinforced_beds")


@pytest.mark.parametrize(
    ("width", "joint", "severity"),
    [
        (910, 3300, "pass"),
        (910, 3299, "fail"),
        (910, 6610, "pass"),
        (910, 6611, "fail"),
        (900, 1000, None),
    ],
)
def test_a_joint_near_one_side(build: Build, found: Found, width: float, joint: float, severity: str | None) -> None:
    design = build([wall("A", (0, 0), (9000, 0), openings=[window(4500, width)])], {"A/outer": [joint]}, overrides=NEAR)
    (finding,) = found(design, "joint-near-opening", everything=True)
    if severity is None:
        assert (finding.severity, finding.where) == ("pass", "building")
    else:
        assert finding.severity == severity
        assert finding.measured == pytest.approx(4500 - joint if joint < 4500 else joint - 4500 - width)


@pytest.mark.parametrize(
    ("joints", "width", "severity"),
    [
        ([3300.0, 7550.0], 1840, "fail"),
        ([3300.0, 7540.0], 1840, "pass"),
        ([3300.0], 1830, "pass"),
        ([7541.0], 1840, "fail"),
    ],
)
def test_a_joint_near_each_side(build: Build, found: Found, joints: list[float], width: float, severity: str) -> None:
    design = build([wall("A", (0, 0), (9000, 0), openings=[window(4500, width)])], {"A/outer": joints}, overrides=BOTH)
    (finding,) = found(design, "joint-near-opening", everything=True)
    assert finding.severity == severity


def test_the_end_of_the_masonry_does_as_well(build: Build, found: Found) -> None:
    design = build([wall("A", (0, 0), (9000, 0), openings=[window(1200)])], overrides=NEAR)
    assert severities(found, design, "joint-near-opening") == ["pass"]
    corner = [wall("A", (0, 0), (9000, 0), openings=[window(6600)]), wall("B", (9000, 0), (9000, 4000))]
    assert severities(found, build(corner, overrides=NEAR), "joint-near-opening") == ["fail"], "round a corner it goes on"


def test_reinforced_beds_may_stand_in(build: Build, found: Found) -> None:
    walls = [wall("A", (0, 0), (9000, 0), openings=[window(4500)])]
    design = build(walls, overrides=STEEL)
    (finding,) = found(design, "joint-near-opening", everything=True)
    assert finding.severity == "note"
    assert "an engineer's" in finding.text
    bare = replace(design, fittings=replace(design.fittings, bed_reinforcement=()))
    assert severities(found, bare, "joint-near-opening") == ["fail"]
    nothing = build(walls, overrides=[*NEAR, *given(at_opening__instead="none")])
    assert severities(found, nothing, "joint-near-opening") == ["fail"]


def test_a_door_on_one_course_has_no_bed_under_it_to_reinforce(build: Build, found: Found) -> None:
    door = {"id": "D1", "kind": "door", "at": 4500, "width": 910, "sill": 0, "height": 2110}
    low, high = (wall("A", (0, 0), (9000, 0), base=base, openings=[door]) for base in (-75, -300))
    for design in (build([low], overrides=STEEL), build([high], overrides=STEEL)):
        assert severities(found, design, "joint-near-opening") == ["note"]


@pytest.mark.parametrize("base", [-87, -225])
def test_a_bed_nearer_than_a_unit_can_be_cut_is_none_to_reinforce(build: Build, found: Found, base: float) -> None:
    """12 mm under the sill, or with two more below it: no reinforcement is laid in the first, so none is asked of it."""
    door = {"id": "D1", "kind": "door", "at": 4500, "width": 910, "sill": 0, "height": 2110}
    design = build([wall("A", (0, 0), (9000, 0), base=base, openings=[door])], overrides=STEEL)
    assert severities(found, design, "joint-near-opening") == ["note"]


def test_over_a_deep_lintel_the_first_beds_are_those_on_it(build: Build, found: Found) -> None:
    """Four courses deep: the beds it takes the place of cannot be reinforced, those over it are."""
    leaves = {"brick": {"zones": [{"unit": "brick_65"}], "lintel": {"kind": "concrete", "depth": 290}}}
    design = build(
        [wall("A", (0, 0), (9000, 0), openings=[window(4500)])],
        overrides=STEEL,
        leaves=leaves,
        wall_types={"garden": {"outer": "brick"}},
    )
    assert severities(found, design, "joint-near-opening") == ["note"]
    bare = replace(design, fittings=replace(design.fittings, bed_reinforcement=()))
    assert severities(found, bare, "joint-near-opening") == ["fail"]


def test_without_the_distance_openings_are_not_checked(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    design = build([wall("A", (0, 0), (9000, 0), openings=[window(4500)])], {"A/outer": [3300.0]}, overrides=NEAR)
    assert severities(found, lacking(design, f"{STEM}.at_opening.within"), "joint-near-opening") == ["not_checked"]


# ---- corners and the height of the wall ----


@pytest.mark.parametrize(("at", "severity"), [(9000 - 4808, "pass"), (9000 - 4807, "warn")])
def test_no_nearer_to_a_corner_than_the_wall_is_high(build: Build, found: Found, at: float, severity: str) -> None:
    """4.8 m high, a joint 16 mm wide: its gap begins half of that nearer."""
    design = build(CORNER, {"A/outer": [at]}, overrides=given(corner__height_fraction=1))
    (finding,) = found(design, "joint-clear-of-corner", everything=True)
    assert (finding.severity, finding.limit) == (severity, 4800)


def test_a_re_entrant_corner_is_no_corner_to_keep_from(build: Build, found: Found) -> None:
    inwards = [wall("A", (0, 0), (9000, 0)), wall("B", (9000, 0), (9000, -7600))]
    design = build(inwards, {"A/outer": [8000.0]}, overrides=given(corner__height_fraction=1))
    (finding,) = found(design, "joint-clear-of-corner", everything=True)
    assert (finding.severity, finding.where) == ("pass", "building")


# ---- steel ----


def block(every: float | None, length: float = 14500) -> dict[str, Any]:
    zones: dict[str, Any] = {"zones": [{"unit": "dense_block_140"}]}
    return {
        "walls": [wall("A", (0, 0), (length, 0), type="block", top=3000)],
        "leaves": {"block": zones if every is None else zones | {"reinforced_every": every}},
        "wall_types": {"block": {"outer": "block"}},
    }


@pytest.mark.parametrize(
    ("every", "asked", "severity"), [(450, 50, "pass"), (225, 100, "pass"), (450, 60, "warn"), (None, 50, "warn")]
)
def test_steel_the_spacing_depends_on(build: Build, found: Found, every: float | None, asked: float, severity: str) -> None:
    """Two wires of 4 mm, the uk set's: 25.1 mm2 every 450 mm are 55.9 mm2 to the metre, every 225 mm 111.7."""
    rule = given(spacing__steel__dense_concrete=asked)
    made = block(every)
    design = build(made.pop("walls"), overrides=rule, **made)
    (finding,) = found(design, "spacing-steel", everything=True)
    assert finding.severity == severity, finding.text
    if severity == "warn":
        assert (
            "every bed joint, no more than 225" if asked == 60 else "every second bed joint, no more than 450"
        ) in finding.text


def test_masonry_too_short_for_a_joint_needs_no_steel(build: Build, found: Found) -> None:
    made = block(None, 5000)
    design = build(made.pop("walls"), overrides=given(spacing__steel__dense_concrete=50), **made)
    assert severities(found, design, "spacing-steel") == ["pass"]


def test_steel_is_not_checked_without_a_wire(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    made = block(450)
    design = build(made.pop("walls"), overrides=given(spacing__steel__dense_concrete=50), **made)
    assert severities(found, lacking(design, "bed_reinforcement.wire.diameter"), "spacing-steel") == ["not_checked"]


# ---- widths of high walls, steps ----

HIGH = given(high_wall__height=(4.7, "m"), high_wall__width=24)


@pytest.mark.parametrize(("top", "width", "severity"), [(4800, 24, "pass"), (4800, 23.9, "fail"), (4700, 16, "pass")])
def test_high_walls_have_wider_joints(build: Build, found: Found, top: float, width: float, severity: str) -> None:
    design = build([wall("A", (0, 0), (11500, 0), top=top)], {"A/outer": [4300.0]}, width=width, overrides=HIGH)
    worst = [f.severity for f in found(design, "joint-width", everything=True)]
    assert ("fail" in worst) == (severity == "fail")


def test_the_width_of_high_walls_is_not_checked_without_their_height(
    build: Build, found: Found, lacking: Callable[..., Design]
) -> None:
    design = build([wall("A", (0, 0), (11500, 0))], {"A/outer": [4300.0]}, width=24, overrides=HIGH)
    assert "not_checked" in severities(found, lacking(design, f"{STEM}.high_wall.height"), "joint-width")


@pytest.mark.parametrize(("step", "severity"), [(960, "pass"), (961, "fail")])
def test_a_step_by_part_of_the_height(
    build: Build, found: Found, lacking: Callable[..., Design], step: float, severity: str
) -> None:
    """20 % of 4800 mm are 960 mm; the set's own figure taken away."""
    stepped = [wall("A", (0, 0), (9000, 0), top=[[0, 4800], [4000, 4800], [4000, 4800 - step], [9000, 4800 - step]])]
    design = build(stepped, overrides=given(change_of_height__fraction=0.2))
    alone = lacking(design, f"{STEM}.change_of_height")
    assert [f.severity for f in found(alone, "joint-missing", everything=True)] == [severity]
