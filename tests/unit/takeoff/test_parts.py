"""Quantities of the small design by panel and lift: one lift of 1500, panels parted at the joint, 671 along."""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from elevgen.coursing.cutting import cutting_of
from elevgen.result import Design
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Part, Quantity, Takeoff


@pytest.fixture
def low_lifts(small_design: Design) -> Design:
    """The same with lifts of 140 mm: two courses, the units of which stand at 10 and 85; then those at 160 and 235."""
    old = small_design.coursing
    cutting = cutting_of(small_design.building, old.patterns, old.leaves, 4.0, 140.0)
    return replace(small_design, coursing=replace(old, cutting=cutting))


def one(takeoff: Takeoff, code: str, where: str) -> Quantity:
    (found,) = [q for q in takeoff.quantities if q.code == code and q.where == where]
    return found


def nets(parts: Iterable[Part]) -> dict[tuple[str | None, int | None], float]:
    return {(None if p.panel is None else p.panel[-1:], p.lift): p.net for p in parts}


def test_walling_is_cut_at_the_middle_of_the_joint_and_at_the_lift(low_lifts: Design) -> None:
    """To 671 and on to 1004.5; up to 140, up to 280, up to 300; the opening 235 wide from 75 to 225."""
    parts = nets(one(measure(low_lifts), "WALL-M2/FACING/STRETCHER/102.5", "W1/outer").parts)
    assert parts == {
        ("1", 1): pytest.approx((671 * 140 - 235 * 65) / 1e6, abs=1e-4),
        ("2", 1): pytest.approx(333.5 * 140 / 1e6, abs=1e-4),
        ("1", 2): pytest.approx((671 * 160 - 235 * 85) / 1e6, abs=1e-4),
        ("2", 2): pytest.approx(333.5 * 160 / 1e6, abs=1e-4),
    }


def test_units_are_in_the_lift_they_stand_in_and_needed_there(low_lifts: Design) -> None:
    """A lift: 3 + 2 whole before the joint; a whole one and a half each course after it, the halves out of one brick."""
    parts = one(measure(low_lifts), "UNIT-NR/FACING", "W1/outer").parts
    assert nets(parts) == {("1", 1): 5, ("2", 1): 4, ("1", 2): 5, ("2", 2): 4}
    assert [p.needed for p in parts] == [5, 3, 5, 3]


def test_mortar_of_a_lift_is_its_own_beds_and_perpends(low_lifts: Design) -> None:
    """Beds 10 thick under a course, perpends 65 high: before the joint 665 and two openings of 430, after it 327.5 a course."""
    parts = nets(one(measure(low_lifts), "MORTAR-M3", "W1/outer").parts)
    before, after = ((665 + 430) * 10 + 2 * 650) * 102.5 / 1e9, (2 * 327.5 * 10 + 2 * 650) * 102.5 / 1e9
    assert parts == {(p, lift): pytest.approx(v, abs=1.1e-4) for lift in (1, 2) for p, v in (("1", before), ("2", after))}


def test_a_joint_and_its_filling_is_in_no_panel(low_lifts: Design) -> None:
    takeoff = measure(low_lifts)
    for code in ("JT-MOVE-M/12x102.5", "JT-FILL-M/12x92.5", "JT-ROD-M/15", "JT-SEAL-M/12x10"):
        assert nets(one(takeoff, code, "W1/outer").parts) == {(None, 1): 0.14, (None, 2): 0.16}, code
    assert nets(one(takeoff, "JT-SEAL-L", "W1/outer").parts) == {(None, 1): 0.0168, (None, 2): 0.0192}


def test_reinforcement_carries_its_laps_where_it_lies(low_lifts: Design) -> None:
    """B1 637.3 with a lap of 225 in the bed at 65, B2 207.3 in that at 215."""
    parts = one(measure(low_lifts), "BR-M/102.5", "W1/outer").parts
    assert nets(parts) == {("1", 1): pytest.approx(0.6373), ("1", 2): pytest.approx(0.2073)}
    assert [p.needed for p in parts] == pytest.approx([0.8623, 0.2073])


def test_a_damp_proof_course_runs_on_through_the_joint(low_lifts: Design) -> None:
    quantity = one(measure(low_lifts), "DPC-M/102.5", "W1/outer")
    assert nets(quantity.parts) == {("1", 1): pytest.approx(0.671), ("2", 1): pytest.approx(0.3335)}
    assert sum(p.needed or 0 for p in quantity.parts) == pytest.approx(1.2045)


def test_lintels_ties_and_trays_are_in_the_lift_of_their_level(low_lifts: Design) -> None:
    takeoff = measure(low_lifts)
    assert nets(one(takeoff, "LINTEL-NR/450x102.5", "W1/outer").parts) == {("1", 2): 1}
    ties = [q for q in takeoff.quantities if q.code.startswith("TIE-NR") and q.where == "W1"]
    assert all(part.panel is None for q in ties for part in q.parts)
    assert sum(part.net for q in ties for part in q.parts) == 4
    assert nets(one(takeoff, "WEEP-NR", "W1").parts) == {("1", 2): 3}
    assert nets(one(takeoff, "TRAY-M", "W1").parts) == {("1", 2): 0.5}


def test_a_cavity_is_by_lift_only(low_lifts: Design) -> None:
    parts = nets(one(measure(low_lifts), "CAVITY-M2/100", "W1").parts)
    assert parts == {
        (None, 1): pytest.approx((665 * 140 - 235 * 65) / 1e6, abs=1e-4),
        (None, 2): pytest.approx((665 * 160 - 235 * 85) / 1e6, abs=1e-4),
    }


def test_without_lifts_everything_is_in_none(small_design: Design) -> None:
    """A building in which no course lies."""
    bare = replace(small_design.coursing, cutting=replace(small_design.coursing.cutting, lifts=()))
    parts = nets(one(measure(replace(small_design, coursing=bare)), "JT-MOVE-M/12x102.5", "W1/outer").parts)
    assert parts == {(None, None): 0.3}
