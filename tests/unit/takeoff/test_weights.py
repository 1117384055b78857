"""How heavy materials are: as told, else the greatest usual; what nobody has said is not known, never nothing."""

from dataclasses import replace

import pytest

from elevgen.core.sourced import Sourced
from elevgen.coursing.model import UnitMass
from elevgen.result import Design
from elevgen.takeoff.calloff import call_off
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import LiftNeed, Order
from elevgen.takeoff.weights import NOT_KNOWN, Weight, handling, weight_by_lift


def with_rules(design: Design, **densities: float) -> Design:
    found = {key.replace("__", "."): value for key, value in densities.items()}
    values = {key: Sourced(key, value, "kg/m3", "a page", "", "p. 3", "quoted") for key, value in found.items()}
    return replace(design, rules=replace(design.rules, values={**design.rules.values, **values}))


def with_masses(design: Design, *masses: UnitMass) -> Design:
    return replace(design, coursing=replace(design.coursing, masses=masses))


def order_for(design: Design, code: str) -> Order:
    (order,) = [order for order in measure(design).orders if order.code == code]
    return order


def test_a_unit_weighs_what_is_told_of_it(small_design: Design) -> None:
    order = order_for(with_masses(small_design, UnitMass("facing", 3.5, True, 20.0)), "UNIT-NR/FACING")
    assert (order.mass, order.mass_known, order.handling) == (3.5, "as told of the unit", "")
    assert order.weight == 17 * 3.5


def test_else_it_is_at_most_its_size_by_a_density_with_its_source(small_design: Design) -> None:
    design = with_rules(with_masses(small_design, UnitMass("inner block", 21.25, False, 20.0)), unit__density__aircrete=750.0)
    order = order_for(design, "UNIT-NR/INNER-BLOCK")
    assert order.mass == 21.25
    assert order.mass_known == "at most: size by density, a page, p. 3 (quoted by others); holes not taken off"
    assert order.handling == "over 20 kg each: two people or a machine"
    assert "unit.density.aircrete" in {value.key for value in measure(design).rules_used}


def test_a_unit_nobody_has_said_the_weight_of_is_asked_about(small_design: Design) -> None:
    order = order_for(with_masses(small_design, UnitMass("facing", None, False, 20.0)), "UNIT-NR/FACING")
    assert (order.mass, order.weight) == (None, None)
    assert (order.mass_known, order.handling) == ("not known: ask the supplier", "ask how heavy one is before lifting")


def test_mortar_is_weighed_wet_by_the_rule_for_loads(small_design: Design) -> None:
    order = order_for(with_rules(small_design, lintel__load__mortar__density=1990.0), "MORTAR-M3")
    assert (order.mass, order.mass_known) == (1990.0, "at most, wet: a page, p. 3 (quoted by others)")
    assert order.weight == pytest.approx(order.order * 1990.0)
    assert order_for(small_design, "MORTAR-M3").mass is None


def test_a_lintel_of_concrete_is_weighed_once_its_section_is_chosen(small_design: Design) -> None:
    outer, inner = small_design.fittings.lintels
    lintels = (outer, replace(inner, kind="concrete", depth=65.0, mass=7.2))
    design = replace(small_design, fittings=replace(small_design.fittings, lintels=lintels))
    design = with_rules(design, lintel__density__concrete=2500.0)
    orders = {order.code: order for order in measure(design).orders if order.code.startswith("LINTEL-NR")}
    (heavy,) = [order for code, order in orders.items() if "CONCRETE" in code]
    (bare,) = [order for code, order in orders.items() if "CONCRETE" not in code]
    assert (heavy.mass, heavy.mass_known) == (7.2, "at most: size by density, a page, p. 3 (quoted by others)")
    assert (bare.mass, bare.mass_known) == (None, "not known: no section is chosen")
    assert bare.handling == "ask how heavy one is before lifting"


def test_steel_ties_and_sheets_are_not_weighed(small_design: Design) -> None:
    for order in measure(small_design).orders:
        if order.code.startswith(("BR-", "TIE-", "DPC-", "TRAY-", "JT-")):
            assert (order.mass, order.mass_known, order.handling) == (None, "not known: ask the supplier", "")


@pytest.mark.parametrize(
    ("mass", "limit", "said"),
    [(20.0, 20.0, ""), (20.1, 20.0, "over 20 kg each: two people or a machine"), (300.0, None, "")],
)
def test_only_what_is_over_a_known_limit_is_said(mass: float, limit: float | None, said: str) -> None:
    assert handling("UNIT-NR/X", Weight(mass, ""), limit) == said


def test_only_what_is_lifted_one_by_one_is_handled() -> None:
    assert handling("MORTAR-M3", Weight(2100.0, ""), 20.0) == ""
    assert handling("TIE-NR/SLIP", NOT_KNOWN, 20.0) == ""
    assert handling("LINTEL-NR/900x100", NOT_KNOWN, None) != ""


def line(code: str, mass: float | None, *lifts: tuple[int | None, float]) -> Order:
    needed = sum(amount for _, amount in lifts)
    needs = tuple(LiftNeed(*lift) for lift in lifts)
    return Order(code, code, "nr", needed, None, 0.0, "", needed, 1.0, needed, needed, (), mass, "", needs)


def test_the_weight_of_a_lift_is_that_of_its_calls_and_what_is_not_known_is_named() -> None:
    orders = (line("A", 2.5, (1, 10.0), (2, 4.0)), line("B", None, (2, 3.0)), line("C", 30.0, (None, 1.0), (3, 2.0)))
    lifts = weight_by_lift(orders)
    assert [tuple(lift) for lift in lifts] == [(1, 55.0, ()), (2, 10.0, ("B",)), (3, 60.0, ())]
    assert sum(lift.kg for lift in lifts) == sum(order.weight or 0.0 for order in orders)
    assert {call.lift for order in orders for call in call_off(order)} == {1, 2, 3}
