"""Mortar by volume: beds and perpends, corners once, hollows of units; rules of thumb beside it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from elevgen.takeoff.measure import measure

BRICK = {"material": "clay", "length": 215, "height": 65, "width": 102.5}
STRAIGHT = {"start": [0, 0], "end": [4490, 0], "top": 750}
"""Twenty bricks less a joint, ten courses."""
JOINTS = (10 * 4490 * 10 + 10 * 65 * (19 + 20) / 2 * 10) * 102.5 / 1e9
"""Ten beds; 19 perpends in a course of whole bricks, 20 in one with half bricks at its ends; m3."""


def test_mortar_of_a_straight_wall(made: Any, bill: Any) -> None:
    found = bill(made([STRAIGHT]))["MORTAR-M3", "W1/outer"]
    assert found.net == pytest.approx(JOINTS, abs=5e-5)
    assert "frogs and cores not filled: the spec does not say" in found.derivation


@pytest.mark.parametrize("hollows", [20, 7.5, 60])
def test_hollows_of_units_fill_with_mortar(made: Any, bill: Any, hollows: float) -> None:
    """Units fill all of the wall but its joints: 4490 x 750 x 102.5 less those."""
    units = {"frogged": {**BRICK, "hollows": hollows}}
    found = bill(made([STRAIGHT], {"brick": {"zones": [{"unit": "frogged"}]}}, units=units))["MORTAR-M3", "W1/outer"]
    filled = (4490 * 750 * 102.5 / 1e9 - JOINTS) * hollows / 100
    assert found.net == pytest.approx(JOINTS + filled, abs=5e-5)
    assert f"frogs and cores filled with {filled:.3f} m3, {hollows:g} % of every frogged" in found.derivation


def test_nothing_hollow_is_said_as_such(made: Any, bill: Any) -> None:
    units = {"solid": {**BRICK, "hollows": 0}}
    found = bill(made([STRAIGHT], {"brick": {"zones": [{"unit": "solid"}]}}, units=units))["MORTAR-M3", "W1/outer"]
    assert found.net == pytest.approx(JOINTS, abs=5e-5)
    assert "filled with 0.000 m3, 0 % of every solid" in found.derivation


def test_beds_at_a_corner_are_mortar_of_one_wall(made: Any, bill: Any) -> None:
    """Both walls together: beds over the area they stand on, 102.5 thick with the corner once; perpends as they are."""
    walls = [{"start": [0, 0], "end": [2240, 0], "top": 600}, {"start": [2240, 0], "end": [2240, 1565], "top": 600}]
    design = made(walls)
    found = bill(design)
    total = sum(found["MORTAR-M3", f"W{n}/outer"].net for n in (1, 2))
    beds = (2240 + 1565 - 102.5) * 102.5 * 10 * 8
    patterns = {p.id: p for p in design.coursing.patterns}
    placed = [patterns[p.pattern] for leaf in design.coursing.leaves for p in leaf.placements]
    perpends = sum(x.width for p in placed for x in p.perpends) * 65 * 102.5
    assert total == pytest.approx((beds + perpends) / 1e9, abs=1e-4)
    assert "beds at corners" in found["MORTAR-M3", "W1/outer"].derivation


def test_a_wall_a_brick_thick_has_its_upright_joint_between_stretchers(made: Any, bill: Any) -> None:
    """English bond: all the wall less its bricks; a piece counts by its length, width and height."""
    design = made([{"type": "thick", "start": [0, 0], "end": [4490, 0], "top": 750}])
    found = bill(design)["MORTAR-M3", "W1/outer"]
    patterns = {p.id: p for p in design.coursing.patterns}
    bricks = 0.0
    for placed in design.coursing.of("W1/outer").placements:
        for piece in patterns[placed.pattern].laid:
            through = 2 * 102.5 if piece.laid == "stretcher" else 215.0
            bricks += piece.length * 65 * through
    assert found.net == pytest.approx((4490 * 750 * 215 - bricks) / 1e9, abs=1e-4)
    assert "between stretchers one behind another" in found.derivation


def test_rules_of_thumb_stand_beside_it_with_their_status(made: Any, bill: Any) -> None:
    design = made([STRAIGHT])
    said = bill(design)["MORTAR-M3", "W1/outer"].derivation
    assert f"rule of thumb 0.0176 m3/m2, {0.0176 * 4.49 * 0.75:.3f} m3 (worked out from the others)" in said
    assert "1 kg a unit, waste in it (quoted by others)" in said
    takeoff = measure(design)
    keys = [rule.source.key for rule in takeoff.thumbs]
    stem = "thumb.mortar"
    assert keys == ["thumb.units.half_brick", f"{stem}.half_brick", f"{stem}.thousand.half_brick", f"{stem}.mass.brick"]
    assert set(keys) <= {value.key for value in takeoff.rules_used}


@pytest.mark.parametrize(
    "units",
    [
        {"odd": {"material": "clay", "length": 191, "height": 58, "width": 97, "joint": 9}},
        {"odd": {**BRICK, "joint": 6}},
    ],
)
def test_a_unit_no_rule_is_printed_for_has_none(made: Any, units: Any) -> None:
    assert measure(made([STRAIGHT], {"brick": {"zones": [{"unit": "odd"}]}}, units=units)).thumbs == ()


def test_a_rule_the_set_has_not_is_left_out_and_without_density_there_is_no_mass(made: Any) -> None:
    design = made([STRAIGHT])
    values = {k: v for k, v in design.rules.values.items() if k not in ("thumb.units.half_brick", "lintel.load.mortar.density")}
    found = measure(replace(design, rules=replace(design.rules, values=values))).thumbs
    assert found[0].source.key == "thumb.mortar.half_brick"
    assert (found[-1].unit, found[-1].ours, found[-1].agrees) == ("kg", None, None)


def test_hollows_of_the_spec_are_at_most_60_per_cent(made: Any) -> None:
    with pytest.raises(ValueError, match="less than or equal to 60"):
        made([STRAIGHT], units={"frogged": {**BRICK, "hollows": 61}})
