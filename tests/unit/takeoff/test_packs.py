"""What materials are sold in: the spec's word first, then the rule set's, else nobody's; and whole packs of it."""

from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.core.errors import SpecError
from elevgen.core.sourced import Sourced, Status
from elevgen.result import Design
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import MeasurementModel
from elevgen.takeoff.joints import CONTAINERS
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Pack
from elevgen.takeoff.packs import number_of, packs_by_item

ITEMS = {
    "UNIT-NR/FACING": ("nr", "units"),
    "UNIT-NR/FACING-2": ("nr", "units"),
    "TIE-NR/FIELD/225": ("nr", "ties"),
    "TIE-NR/SLIP": ("nr", "ties"),
    "DPC-M/102.5": ("m", "dpc"),
    "DPC-M/327/COPING": ("m", "dpc"),
    "TRAY-M/440": ("m", "dpc"),
    "BR-M/100": ("m", "bed_reinforcement"),
    "JT-SEAL-L": ("l", "sealant"),
    "MORTAR-M3": ("m3", "mortar"),
    "WEEP-NR": ("nr", ""),
}


def book(**values: tuple[float, str, Status]) -> RuleBook:
    found = {key.replace("__", "."): value for key, value in values.items()}
    sourced = {key: Sourced(key, value, unit, "a page", "", "", status) for key, (value, unit, status) in found.items()}
    return RuleBook("test", "Test", "1", ("test",), sourced, {}, {}, {})


NOTHING = book()


def packs(given: dict[str, Any], rules: RuleBook = NOTHING) -> dict[str, tuple[Pack, ...]]:
    model = MeasurementModel.model_validate({"packs": given})
    return packs_by_item(model.packs, ITEMS, RuleReader(rules))


def faults(given: dict[str, Any]) -> list[tuple[str, str, str]]:
    with pytest.raises(SpecError) as refused:
        packs(given)
    return [(fault.where, fault.message, fault.nearest) for fault in refused.value.faults]


def test_nothing_is_made_up() -> None:
    """Bricks, ties, trays, mortar: no rule says what they are sold in."""
    assert set(packs({}).values()) == {()}
    known = {code for code, found in packs({}, load_book("uk")).items() if found}
    assert known == {"DPC-M/102.5", "DPC-M/327/COPING", "BR-M/100", "JT-SEAL-L"}


def test_the_rule_set_says_what_sealant_dpc_and_reinforcement_are_sold_in() -> None:
    rules = book(
        pack__sealant__cartridge=(310.0, "ml", "practice"),
        pack__sealant__foil_pack=(400.0, "ml", "quoted"),
        dpc__roll_length=(20000.0, "mm", "read"),
        bed_reinforcement__stock_length=(2700.0, "mm", "memory"),
    )
    found = packs({}, rules)
    assert found["JT-SEAL-L"] == (
        Pack("cartridge", 0.31, "common practice, no source"),
        Pack("foil pack", 0.4, "quoted by others"),
    )
    assert found["DPC-M/102.5"] == found["DPC-M/327/COPING"] == (Pack("roll", 20.0, "read in the document"),)
    assert found["BR-M/100"] == (Pack("stock length", 2.7, "from memory, check"),)


def test_yields_are_told_for_the_containers_sealant_is_sold_in() -> None:
    uk = packs({}, load_book("uk"))["JT-SEAL-L"]
    assert tuple(pack.holds * 1000 for pack in uk) == CONTAINERS


def test_rules_read_are_told_with_the_take_off(small_design: Design) -> None:
    sold = book(pack__sealant__cartridge=(310.0, "ml", "practice"), dpc__roll_length=(20000.0, "mm", "read"))
    rules = replace(small_design.rules, values={**small_design.rules.values, **sold.values})
    used = {value.key for value in measure(replace(small_design, rules=rules)).rules_used}
    assert {"pack.sealant.cartridge", "dpc.roll_length"} <= used


def test_the_spec_comes_before_the_rule_set() -> None:
    rules = book(dpc__roll_length=(30000.0, "mm", "practice"), pack__sealant__cartridge=(310.0, "ml", "practice"))
    found = packs({"DPC-M": 8, "sealant": {"holds": 0.38, "name": "tube"}}, rules)
    assert found["DPC-M/102.5"] == (Pack("pack", 8.0, "given in the spec"),)
    assert found["JT-SEAL-L"] == (Pack("tube", 0.38, "given in the spec"),)


@pytest.mark.parametrize("turned", [False, True])
def test_a_longer_code_comes_before_a_shorter_and_any_before_what_waste_is_called(turned: bool) -> None:
    given = {"ties": 50, "TIE-NR": 100, "TIE-NR/FIELD": 250, "dpc": 12.5}
    found = packs(dict(reversed(given.items())) if turned else given)
    assert [found[code][0].holds for code in ("TIE-NR/FIELD/225", "TIE-NR/SLIP", "DPC-M/102.5", "TRAY-M/440")] == [
        250,
        100,
        12.5,
        12.5,
    ]


def test_a_code_begins_another_only_up_to_a_stroke() -> None:
    found = packs({"UNIT-NR/FACING": 500})
    assert found["UNIT-NR/FACING"] and not found["UNIT-NR/FACING-2"]


def test_what_waste_may_be_given_for_may_have_packs_in_any_building() -> None:
    assert packs({"lintels": 1, "finishes": 2.5})["WEEP-NR"] == ()


def test_names_of_nothing_are_refused_with_the_nearest() -> None:
    assert faults({"UNIT-NR/FACNG": 452, "ties": 50, "unit": 4}) == [
        ("measurement.packs.UNIT-NR/FACNG", 'the building has no material "UNIT-NR/FACNG"', "UNIT-NR/FACING"),
        ("measurement.packs.unit", 'the building has no material "unit"', "units"),
    ]
    assert faults({"WALL-M2": 3})[0][0] == "measurement.packs.WALL-M2"


def test_a_pack_of_counted_things_holds_whole_ones() -> None:
    where = [where for where, *_ in faults({"ties": 2.5, "TIE-NR/SLIP": {"holds": 0.5}, "mortar": 0.0125})]
    assert where == ["measurement.packs.ties", "measurement.packs.TIE-NR/SLIP.holds"]


@given(st.integers(0, 10**7), st.integers(1, 10**6))
def test_packs_hold_the_amount_and_one_fewer_does_not(thousandths: int, holds: int) -> None:
    """Against exact fractions: amounts of whole thousandths, packs of whole thousandths."""
    assert number_of(Pack("", holds / 1000, ""), thousandths / 1000) == ceil(Fraction(thousandths, holds))


def test_the_largest_pack_is_not_overfilled_by_rounding() -> None:
    assert number_of(Pack("", 1_000_000, ""), 1_000_000.1) == 2
    assert number_of(Pack("", 0.31, ""), 3.1) == 10
