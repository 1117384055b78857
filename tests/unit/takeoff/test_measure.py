"""Quantities by place, worked out by hand from the small design; waste and rounding only in the orders."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.building.model import Unit
from elevgen.core.figures import METRIC
from elevgen.coursing.cutting import cutting_of
from elevgen.result import Design
from elevgen.takeoff.items import codes_of
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Quantity, Takeoff
from elevgen.takeoff.waste import STEPS, rounded_up, with_waste


@pytest.fixture
def takeoff(small_design: Design) -> Takeoff:
    return measure(small_design)


BRICKWORK = "WALL-M2/FACING/STRETCHER/102.5"


def one(takeoff: Takeoff, code: str, where: str) -> Quantity:
    (found,) = [q for q in takeoff.quantities if q.code == code and q.where == where]
    return found


def test_walling_is_by_unit_bond_and_thickness_and_adds_up_to_the_net_faces(takeoff: Takeoff) -> None:
    assert one(takeoff, BRICKWORK, "W1/outer").net == pytest.approx((1004.5 * 300 - 235 * 150) / 1e6, abs=5e-5)
    assert takeoff.total("WALL-M2") == pytest.approx(sum(area.net for area in takeoff.areas) / 1e6, abs=1e-4)


def test_two_makes_of_walling_in_one_leaf_are_measured_apart(small_design: Design) -> None:
    outer, inner = small_design.building.leaves
    plinth = replace(outer, zones=(outer.zones[0], replace(outer.zones[1], unit=inner.zones[0].unit)))
    building = replace(small_design.building, leaves=(plinth, inner))
    takeoff = measure(replace(small_design, building=building))
    half_hole = 235 * 75
    assert one(takeoff, BRICKWORK, "W1/outer").net == pytest.approx((1004.5 * 150 - half_hole) / 1e6, abs=5e-5)
    assert one(takeoff, "WALL-M2/INNER-BLOCK/STRETCHER/102.5", "W1/outer").net == pytest.approx(0.1331, abs=5e-5)


def test_units_are_whole_and_cut_together_and_say_so(takeoff: Takeoff) -> None:
    bricks = one(takeoff, "UNIT-NR/FACING", "W1/outer")
    assert (bricks.net, bricks.needed, bricks.order, bricks.unit) == (18, 16, 17, "nr")  # 14 + 2 and 5 % is 16.8
    assert (
        bricks.derivation == "pieces laid: 14 whole + 4 cut, these out of 2 units in this leaf by itself, 4 mm for each saw cut"
    )
    blocks = one(takeoff, "UNIT-NR/INNER-BLOCK", "W1/inner")
    assert (blocks.net, blocks.needed, blocks.derivation) == (10, 10, "pieces laid: 10 whole + 0 cut")


def test_without_a_saw_allowance_each_cut_piece_is_a_unit(small_design: Design) -> None:
    old = small_design.coursing
    cutting = cutting_of(small_design.building, old.patterns, old.leaves, None, 1500.0)
    bricks = one(measure(replace(small_design, coursing=replace(old, cutting=cutting))), "UNIT-NR/FACING", "W1/outer")
    assert (bricks.net, bricks.needed) == (18, 18)
    assert "each out of a unit of its own" in bricks.derivation


def test_off_cuts_of_one_leaf_serve_another_in_the_order_but_not_in_its_place(small_design: Design) -> None:
    """One half in each of two leaves: a unit each by itself, one for both."""
    old = small_design.coursing
    half = replace(old.leaves[0], placements=tuple(p for p in old.leaves[0].placements if p.pattern == "P2")[:1])
    building = small_design.building
    twin = replace(building.leaves[0], id="W1/twin")
    building = replace(building, leaves=(building.leaves[0], twin))
    leaves = (half, replace(half, leaf=twin.id))
    coursing = replace(old, leaves=leaves, cutting=cutting_of(building, old.patterns, leaves, 4.0, 1500.0))
    takeoff = measure(replace(small_design, building=building, coursing=coursing))
    assert [q.needed for q in takeoff.quantities if q.code == "UNIT-NR/FACING"] == [2, 2]
    (order,) = [o for o in takeoff.orders if o.code == "UNIT-NR/FACING"]
    assert (order.net, order.needed, order.with_waste, order.order, order.left_over) == (4, 3, 3.15, 4, 1)


def test_mortar_is_its_face_times_the_leaf(takeoff: Takeoff) -> None:
    face = (992.5 * 2 + 757.5 * 2) * 10 + (3 * 2 + 1 * 2) * 650
    assert one(takeoff, "MORTAR-M3", "W1/outer").net == pytest.approx(face * 102.5 / 1e9, abs=5e-5)


def test_a_joint_and_all_that_fills_it(takeoff: Takeoff) -> None:
    assert one(takeoff, "JT-MOVE-M/12x102.5", "W1/outer").net == 0.3
    assert one(takeoff, "JT-FILL-M/12x92.5", "W1/outer").net == 0.3
    assert one(takeoff, "JT-ROD-M/15", "W1/outer").net == 0.3
    assert one(takeoff, "JT-SEAL-M/12x10", "W1/outer").net == 0.3
    assert one(takeoff, "JT-SEAL-L", "W1/outer").net == pytest.approx(300 * 12 * 10 / 1e6)
    assert one(takeoff, "TIE-NR/SLIP", "W1/outer").net == 3


def test_both_faces_sealed_take_twice_the_sealant_and_rod_but_one_filler(small_design: Design) -> None:
    parts = tuple(replace(part, sealant_faces=2) for part in small_design.fittings.joint_parts)
    takeoff = measure(replace(small_design, fittings=replace(small_design.fittings, joint_parts=parts)))
    assert (takeoff.total("JT-SEAL-M"), takeoff.total("JT-ROD-M"), takeoff.total("JT-FILL-M")) == (0.6, 0.6, 0.3)
    assert takeoff.total("JT-SEAL-L") == pytest.approx(0.072)


def test_tape_stands_in_for_rod_and_a_strip_is_said(small_design: Design) -> None:
    (part,) = small_design.fittings.joint_parts
    taped = replace(part, backer_diameter=None, bond_breaker="tape", filler_strip=16.0, sealant_faces=2)
    takeoff = measure(replace(small_design, fittings=replace(small_design.fittings, joint_parts=(taped,))))
    assert one(takeoff, "JT-TAPE-M/12", "W1/outer").net == 0.6
    assert not [q for q in takeoff.quantities if q.code.startswith("JT-ROD")]
    strip = one(takeoff, "JT-FILL-M/12x92.5/STRIP16", "W1/outer")
    assert strip.item.endswith("from a 16 mm strip")
    codes = list(dict.fromkeys(q.code for q in takeoff.quantities if q.code.startswith("JT-")))
    assert codes == ["JT-MOVE-M/12x102.5", "JT-FILL-M/12x92.5/STRIP16", "JT-TAPE-M/12", "JT-SEAL-M/12x10", "JT-SEAL-L"]


def test_a_leaf_all_sealant_and_rod_has_no_filler_to_buy(small_design: Design) -> None:
    (part,) = small_design.fittings.joint_parts
    full = replace(part, filler_depth=0.0)
    takeoff = measure(replace(small_design, fittings=replace(small_design.fittings, joint_parts=(full,))))
    assert not [q for q in takeoff.quantities if q.code.startswith("JT-FILL")]


def test_sealant_says_what_a_metre_takes_and_how_far_a_container_goes(takeoff: Takeoff) -> None:
    """12 x 10 mm: 120 ml a metre, 310 ml for 2.58 m, 600 ml for 5 m."""
    said = one(takeoff, "JT-SEAL-L", "W1/outer").derivation
    assert said == "12x10 takes 120 ml a metre of face, 2.6 m from 310 ml, 5.0 m from 600 ml"


def test_laps_are_kept_out_of_the_net_and_in_the_order(takeoff: Takeoff) -> None:
    outer = one(takeoff, "BR-M/102.5", "W1/outer")
    assert (outer.net, outer.laps) == (pytest.approx(0.8446), pytest.approx(0.225))
    assert outer.order == 1.1  # (0.8446 + 0.225) and 2.5 % is 1.0963
    dpc = one(takeoff, "DPC-M/102.5", "W1/outer")
    assert (dpc.net, dpc.laps) == (1.0045, 0.2)


def test_lintels_are_counted_by_length_and_ties_by_kind_and_length(takeoff: Takeoff) -> None:
    assert one(takeoff, "LINTEL-NR/450x102.5", "W1/outer").net == 1
    assert one(takeoff, "LINTEL-NR/435x100", "W1/inner").net == 1
    kinds = {q.code: q.net for q in takeoff.quantities if q.code.startswith("TIE-NR") and q.where == "W1"}
    assert kinds == {"TIE-NR/FIELD/225": 1, "TIE-NR/REVEAL/225": 2, "TIE-NR/JOINT/225": 1}
    assert takeoff.total("TIE-NR") == 7


def test_trays_stop_ends_and_weeps(takeoff: Takeoff) -> None:
    assert [one(takeoff, code, "W1").net for code in ("TRAY-M", "TRAY-END-NR", "WEEP-NR")] == [0.5, 2, 3]


def test_waste_is_the_specs_then_the_rule_sets_then_none_and_says_which(takeoff: Takeoff) -> None:
    ties, tray = one(takeoff, "TIE-NR/REVEAL/225", "W1"), one(takeoff, "TRAY-M", "W1")
    bricks = one(takeoff, "UNIT-NR/FACING", "W1/outer")
    assert (ties.waste, ties.waste_known) == (12.5, "given in the spec")
    assert (bricks.waste, bricks.waste_known) == (5, "from memory, check")
    assert (tray.waste, tray.waste_known) == (0, "none added: the rule set has no figure")
    used = {value.key for value in takeoff.rules_used}
    assert "waste.units" in used
    assert "waste.ties" not in used


def test_every_order_covers_what_is_needed(takeoff: Takeoff) -> None:
    """Net and laps; of units, measured as pieces laid, whole units for all of them. Work is not ordered."""
    for line in (*(q for q in takeoff.quantities if q.kind == "material"), *takeoff.orders):
        assert line.needed is not None
        assert line.order >= line.needed - 1e-9
        if line.code.startswith("UNIT-NR"):
            assert line.needed <= line.net
        else:
            assert line.needed == pytest.approx(line.net + (line.laps or 0), abs=1e-4)
    assert all(q.needed is None and q.order == q.net for q in takeoff.quantities if q.kind == "work")
    assert {q.code for q in takeoff.quantities if q.kind == "material"} == {order.code for order in takeoff.orders}


def test_the_building_is_ordered_once_not_place_by_place(small_design: Design) -> None:
    ties = replace(small_design.fittings.ties[0], wall="W2")
    wall = replace(small_design.building.walls[0], id="W2", leaves=("W1/outer",))
    building = replace(small_design.building, walls=(*small_design.building.walls, wall))
    fittings = replace(small_design.fittings, ties=(*small_design.fittings.ties, ties))
    takeoff = measure(replace(small_design, building=building, fittings=fittings))
    (order,) = [o for o in takeoff.orders if o.code == "TIE-NR/FIELD/225"]
    assert [q.order for q in takeoff.quantities if q.code == "TIE-NR/FIELD/225"] == [2, 2]
    assert (order.net, order.order, order.left_over) == (2, 3, 1)


def test_no_place_has_an_item_twice_and_no_code_two_descriptions(takeoff: Takeoff) -> None:
    assert max(Counter((q.code, q.where) for q in takeoff.quantities).values()) == 1
    assert len({(q.code, q.item, q.unit) for q in takeoff.quantities}) == len({q.code for q in takeoff.quantities})


def test_what_no_rule_covers_is_not_left_out_in_silence(small_design: Design) -> None:
    fittings = replace(
        small_design.fittings,
        joint_parts=(),
        ties=(),
        damp_courses=tuple(replace(course, lap=None) for course in small_design.fittings.damp_courses),
    )
    takeoff = measure(replace(small_design, fittings=fittings))
    assert [line.split(":")[0] for line in takeoff.not_measured] == ["J1", "W1", "D1"]
    assert one(takeoff, "DPC-M/102.5", "W1/outer").laps is None
    assert measure(small_design).not_measured == ()


def test_sizes_apart_by_less_than_a_label_shows_are_one_item(small_design: Design) -> None:
    first = small_design.plan.joints[0]
    joints = (first, replace(first, id="J2", width=replace(first.width, built=12.0 + 1e-9)))
    takeoff = measure(replace(small_design, plan=replace(small_design.plan, joints=joints)))
    assert one(takeoff, "JT-MOVE-M/12x102.5", "W1/outer").net == 0.6


def test_a_total_takes_in_every_size_but_no_other_item(takeoff: Takeoff) -> None:
    assert takeoff.total("UNIT-NR") == 28
    assert takeoff.total("UNIT-NR/FACING") == 18
    assert takeoff.total("TIE") == 0


@given(st.lists(st.text(max_size=6), unique=True, max_size=8))
def test_codes_of_any_names_are_plain_and_never_alike(names: list[str]) -> None:
    codes = codes_of(names)
    assert len(set(codes.values())) == len(names)
    assert all(code and set(code) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-") for code in codes.values())
    assert codes == codes_of(reversed(names))


@given(st.integers(0, 10**7), st.sampled_from(sorted(STEPS)), st.integers(0, 100))
def test_orders_are_the_next_whole_step(steps: int, unit: str, percent: int) -> None:
    """Against exact fractions: a net of whole thousandths of a step, any whole per cent."""
    step = Fraction(STEPS[unit]).limit_denominator(100)
    net = steps * step / 1000
    expected = ceil(net * (100 + percent) / 100 / step) * step
    assert rounded_up(with_waste(float(net), percent), STEPS[unit]) == pytest.approx(float(expected), abs=1e-9)


def test_material_words_come_from_the_unit() -> None:
    from elevgen.takeoff.items import unit_words

    assert unit_words(Unit("b", "dense_concrete", 440.0, 215.0, 100.0, 10.0), METRIC) == "b, dense concrete 440 x 100 x 215 mm"
