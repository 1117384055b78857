"""Widths of joints in buildings: rule of thumb and calculation from the rule set and a spec's overrides, the larger built."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import pytest

from elevgen.building.resolve import resolve
from elevgen.building.trace import trace
from elevgen.core.figures import METRIC
from elevgen.joints.model import JointPlan, MovementJoint
from elevgen.joints.place import place
from elevgen.joints.width_words import width_words
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

SEALANT = {"rule": "sealant.movement_capability", "value": 50, "reason": "data sheet", "by": "supplier"}
BRICK = {"rule": "movement.moisture.clay", "value": 0.15, "reason": "maker's test", "by": "maker"}


def product(rule: str, value: float | str, unit: str = "") -> dict[str, Any]:
    return {"rule": rule, "value": value, "unit": unit, "reason": "data sheet", "by": "maker"}


def wall(name: str, start: Sequence[float], end: Sequence[float], **more: Any) -> dict[str, Any]:
    return {"id": name, "start": start, "end": end, "line": "face", "type": "single", "top": 5000, **more}


def placed(walls: Sequence[dict[str, Any]], *overrides: dict[str, Any], unit: str = "brick_65", **more: Any) -> JointPlan:
    spec = Spec.model_validate(
        {
            "spec": 1,
            "overrides": overrides,
            "leaves": {"outer": {"zones": [{"unit": unit}]}},
            "wall_types": {"single": {"outer": "outer"}},
            "walls": walls,
            **more,
        }
    )
    reader = RuleReader(load_book(spec.rules, spec.overrides))
    building = resolve(spec, reader)
    return place(building, trace(building), reader)


def only(plan: JointPlan) -> MovementJoint:
    (joint,) = plan.joints
    return joint


LONG = [wall("W1", [0, 0], [14300, 0], joints=[{"at": 5900}])]


def test_without_a_sealants_figure_the_movement_is_known_the_width_is_not_and_the_rule_of_thumb_is_built() -> None:
    joint = only(placed(LONG))
    assert (joint.width.rule_of_thumb, joint.width.calculated, joint.width.built) == (16, None, 16)
    assert [lacking.key for lacking in joint.width.lacking] == ["sealant.movement_capability"]
    movement = joint.width.movement
    assert movement is not None
    assert movement.lengths == (5900, 8400)
    # 0.008 mm/m/K over 60 K, growth 1.0 mm/m, wetting 0.2 mm/m: uk ranges, unfavourable ends, on half of 14.3 m
    assert movement.closing.movement.high == pytest.approx(7.15 * (0.008 * 60 + 1.0 + 0.2))
    assert movement.closing.movement.low == pytest.approx(7.15 * 0.2)
    assert movement.opening.movement.high == pytest.approx(7.15 * (0.008 * 60 + 0.2 + 0.2))
    assert not any(key.startswith("movement.") for key in joint.basis), "what no width rests on is no basis of one"


def test_with_the_products_figures_both_widths_are_known_and_the_larger_is_built() -> None:
    joint = only(placed(LONG, SEALANT, BRICK))
    closing = 7.15 * (0.008 * 60 + 0.15 + 0.2)
    assert joint.width.calculated == pytest.approx(closing * 2 + 3)
    assert (joint.width.rule_of_thumb, joint.width.built) == (16, 16)
    assert not joint.width.lacking
    assert joint.width.movement is not None
    assert joint.width.movement.closing.moisture.low == joint.width.movement.closing.moisture.high
    assert {"sealant.movement_capability", "movement.moisture.clay", "movement.thermal.high.clay"} <= set(joint.basis)
    assert "movement.moisture.high.clay" not in joint.basis, "the product's figure took its place"
    stiff = only(placed(LONG, product("sealant.movement_capability", 25), BRICK))
    assert stiff.width.calculated == pytest.approx(closing * 4 + 3)
    assert stiff.width.built == 27, "26.738 rounded up to a whole millimetre"


def test_every_figure_of_the_sum_can_be_the_products_own() -> None:
    own = [
        product("movement.thermal.clay", 5.5e-6, "per_K"),
        product("movement.moisture.clay", 0.03, "percent"),
        product("movement.reversible.clay", 0.1),
        product("movement.temperature_range", 50),
        product("movement.other", 2),
        product("movement_joint.tolerance", 1),
        product("sealant.movement_capability", 40),
        product("sealant.capability_of", "closed_width"),
    ]
    joint = only(placed(LONG, *own))
    closing = 7.15 * (0.0055 * 50 + 0.3 + 0.1) + 2
    assert joint.width.calculated == pytest.approx(closing * 100 / 40 + closing + 1)
    movement = joint.width.movement
    assert movement is not None
    assert movement.width is not None
    assert movement.opening.movement.high == pytest.approx(7.15 * (0.0055 * 50 + 0.1) + 2)
    served = joint.width.serves
    assert served is not None
    assert served >= 7150, "built is a whole millimetre, so it serves a little more than there is"


@pytest.mark.parametrize(
    ("colour", "rise"), [("light", 31 + 18 - 3), ("medium", 31 + 30 - 3), ("dark", 31 + 42 - 3), (None, 31 + 42 - 3)]
)
def test_the_colour_of_a_leaf_counts_where_temperatures_of_the_air_are_given(colour: str | None, rise: float) -> None:
    """EN 1991-1-5 Table 5.2 (quoted): 18, 30 and 42 K facing south-west; laid at 3 to 30 degrees (practice)."""
    air = [product("movement.temperature.air.hottest", 31), product("movement.temperature.air.coldest", -8)]
    leaf = {"zones": [{"unit": "brick_65"}]} | ({"colour": colour} if colour else {})
    joint = only(placed(LONG, SEALANT, *air, leaves={"outer": leaf}))
    assert joint.width.movement is not None
    assert joint.width.movement.closing.thermal.high == pytest.approx(7.15 * 0.008 * rise)
    assert joint.width.movement.opening.thermal.high == pytest.approx(7.15 * 0.008 * (30 + 8))
    assert joint.width.movement.closing.thermal.low == pytest.approx(7.15 * 0.004 * (rise - 27))


def test_an_inner_leaf_gets_no_sun_and_may_have_a_range_of_its_own() -> None:
    cavity = {
        "leaves": {"outer": {"zones": [{"unit": "brick_65"}]}, "inner": {"zones": [{"unit": "aircrete_block_100"}]}},
        "wall_types": {"single": {"outer": "outer", "inner": "inner", "cavity": 100}},
    }
    walls = [wall("W1", [0, 0], [14300, 0], joints=[{"at": 5900, "leaf": "inner"}])]
    air = [product("movement.temperature.air.hottest", 31), product("movement.temperature.air.coldest", -8)]
    joint = only(placed(walls, SEALANT, *air, **cavity))
    assert joint.width.movement is not None
    assert joint.width.movement.closing.thermal.high == pytest.approx(7.15 * 0.009 * (31 - 3))
    ranged = only(placed(walls, SEALANT, product("movement.temperature_range.inside", 22), **cavity))
    assert ranged.width.movement is not None
    assert ranged.width.movement.opening.thermal.high == pytest.approx(7.15 * 0.009 * 22)
    assert ranged.width.movement.governs == "opening", "aircrete shrinks more than it grows"


def test_unlike_masonry_on_the_two_sides_each_moves_its_own_way() -> None:
    """Brick runs on into concrete block in one line; the joint between them has both beside it."""
    walls = [
        wall("W1", [0, 0], [8000, 0], joints=[{"at": 7900}]),
        wall("W2", [8000, 0], [13000, 0], type="block", joints=[]),
    ]
    more = {
        "leaves": {"outer": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "dense_block_100"}]}},
        "wall_types": {"single": {"outer": "outer"}, "block": {"outer": "block"}},
    }
    joint = only(placed(walls, SEALANT, BRICK, **more))
    movement = joint.width.movement
    assert movement is not None
    left, right = movement.lengths
    assert (left, right) == (pytest.approx(7900), pytest.approx(5100))
    for case in (movement.closing, movement.opening):
        assert [side.material for side in case.sides] == ["clay", "dense_concrete"], "of the right side the block moves furthest"
    closing = 3.95 * (0.008 * 60 + 0.15 + 0.2) + 2.55 * (0.012 * 60 + 0.4)
    assert movement.closing.movement.high == pytest.approx(closing)
    opening = 3.95 * (0.008 * 60 + 0.2) + 2.55 * (0.012 * 60 + 0.6 + 0.4)
    assert movement.opening.movement.high == pytest.approx(opening)
    assert movement.governs == "opening"


def test_a_ring_cut_once_has_the_same_masonry_on_both_sides() -> None:
    corners = [[0, 0], [3000, 0], [3000, 2400], [0, 2400], [0, 0]]
    walls = [wall(f"W{n}", a, b, joints=[{"at": 1500}] if n == 1 else []) for n, (a, b) in enumerate(pairwise(corners), 1)]
    joint = only(placed(walls, SEALANT))
    assert joint.width.movement is not None
    one, other = joint.width.movement.lengths
    assert one == other > 10000


def test_a_given_width_stays_and_says_what_it_serves() -> None:
    narrow = only(placed([wall("W1", [0, 0], [14300, 0], joints=[{"at": 5900, "width": 9}])], SEALANT, BRICK))
    assert narrow.width.built == 9
    assert narrow.width.calculated == pytest.approx(7.15 * 0.83 * 2 + 3)
    assert narrow.width.serves == pytest.approx((9 - 3) / 2 / 0.83 * 1000, rel=1e-3)


def test_placed_joints_keep_clear_by_the_width_that_may_be_built() -> None:
    """A sealant that hardly moves asks for wide joints; none of them reaches into the lintel's bearing."""
    window = {"id": "N7", "kind": "window", "at": 6300, "width": 1200, "sill": 900, "height": 1200}
    walls = [wall("W1", [0, 0], [15100, 0], openings=[window])]
    joint = only(placed(walls, product("sealant.movement_capability", 20)))
    assert joint.width.built > 60
    assert joint.gap.end <= 6300 - 100 or joint.gap.start >= 7500 + 100


def test_a_joint_no_rule_has_a_width_for_says_where_its_own_is_from() -> None:
    """eu has no rule of thumb for aircrete and no sealant's figure."""
    joint = only(placed([wall("W1", [0, 0], [9000, 0])], unit="aircrete_block_100", rules="eu"))
    assert (joint.width.rule_of_thumb, joint.width.calculated, joint.width.built) == (None, None, 10)
    told = width_words(METRIC, joint.width)
    assert told.startswith("no rule of thumb; not calculated")
    assert told.endswith(": as wide as a mortar joint, or as the spec has it")


def test_in_words() -> None:
    joint = only(placed(LONG, SEALANT, BRICK))
    assert width_words(METRIC, joint.width) == (
        "16 mm by rule of thumb; 8 to 14.9 mm by calculation, closing governs: closes by 2.5 to 5.9 mm, opens by 1.4 to 4.9 mm"
    )
    bare = only(placed(LONG))
    assert width_words(METRIC, bare.width).startswith(
        "16 mm by rule of thumb; not calculated, no figure for how far the sealant may move"
    )
