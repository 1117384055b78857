"""A user's figures brought to a bill: by code, then by exact description, units agreeing; nothing guessed, nothing silent."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.core.errors import RatesError
from elevgen.takeoff.model import Order, Quantity, Takeoff
from elevgen.takeoff.pricing import KeptBook, KeptLine, PriceBook, PriceLine, bill_total, items_of, line_amount, rates_for
from elevgen.takeoff.rates import Own, Rates


def quantity(code: str, item: str, unit: str, net: float, where: str = "W1/outer") -> Quantity:
    return Quantity(code, item, unit, net, 0.0, net, where, "", "", kind="work" if code.startswith("WALL") else "material")


def order(code: str, item: str, unit: str, net: float) -> Order:
    return Order(code, item, unit, net, None, 5.0, "", net, 1.0, net, net)


TAKEOFF = Takeoff(
    (
        quantity("WALL-M2/BRICK/103", "Brick walling", "m2", 12.5),
        quantity("WALL-M2/BRICK/103", "Brick walling", "m2", 3.25, "W2/outer"),
        quantity("UNIT-NR/BRICK", "Bricks", "nr", 934),
        quantity("TIE-NR/A", "Wall ties", "nr", 61),
        quantity("TIE-NR/B", "Wall ties", "nr", 7),
    ),
    (),
    (order("UNIT-NR/BRICK", "Bricks", "nr", 934), order("SEALANT-L", "Sealant", "l", 2.5)),
)
CODES = ("WALL-M2/BRICK/103", "UNIT-NR/BRICK", "TIE-NR/A", "TIE-NR/B")


def line(code="", description="", unit="nr", rate=None, price=None, row=2) -> PriceLine:
    return PriceLine(code, description, unit, rate, price, f"row {row}")


def priced(*lines: PriceLine, kept: KeptBook | None = None) -> Rates:
    return rates_for(TAKEOFF, PriceBook("book.csv", lines), kept)


def told(rates: Rates, kind: str) -> list[str]:
    return [one.code or one.item for one in rates.told if one.told == kind]


def test_the_items_are_those_of_the_bill_and_of_the_order_list():
    items = items_of(TAKEOFF)
    assert set(items) == {*CODES, "SEALANT-L"}
    assert (items["UNIT-NR/BRICK"].billed, items["UNIT-NR/BRICK"].ordered) == (True, True)
    assert (items["SEALANT-L"].billed, items["SEALANT-L"].ordered) == (False, True)
    assert (items["TIE-NR/A"].billed, items["TIE-NR/A"].ordered) == (True, False)


def test_code_before_description():
    rates = priced(line("UNIT-NR/BRICK", "Brick walling", "nr", 0.8))
    assert rates.of("UNIT-NR/BRICK").rate == 0.8
    assert rates.of("WALL-M2/BRICK/103") == Own()
    assert told(rates, "matched") == ["UNIT-NR/BRICK"]


def test_a_code_of_the_users_own_leaves_it_to_the_description():
    assert priced(line("4711", "Brick walling", "m2", 96)).of("WALL-M2/BRICK/103").rate == 96


@pytest.mark.parametrize(
    "near", ["brick walling", "Brick  walling", "Brick wallin", "Brick walling.", "WALL-M2", "WALL-M2/BRICK"]
)
def test_nothing_is_guessed(near):
    rates = priced(line("", near, "m2", 96), line(near, "", "m2", 96))
    assert not rates.items
    assert told(rates, "not in the bill") == [near, near]


def test_every_line_is_told_of_once_and_every_item_without_a_rate():
    rates = priced(line("UNIT-NR/BRICK", rate=0.8), line("NO-SUCH", rate=1, row=3), line("TIE-NR/A", unit="m", rate=2, row=4))
    assert told(rates, "matched") == ["UNIT-NR/BRICK"]
    assert told(rates, "not in the bill") == ["NO-SUCH"]
    assert told(rates, "unit differs") == ["TIE-NR/A"]
    assert told(rates, "without a rate") == ["WALL-M2/BRICK/103", "TIE-NR/A", "TIE-NR/B"]
    assert [one.source for one in rates.told[:3]] == ["book.csv, row 2", "book.csv, row 3", "book.csv, row 4"]


@pytest.mark.parametrize(
    ("unit", "lands"),
    [("m2", True), ("m²", True), ("M2", False), ("sqm", False), ("sq m", False), ("", False), ("m", False), ("m³", False)],
)
def test_units_agree_in_the_bills_own_words(unit, lands):
    rates = priced(line("WALL-M2/BRICK/103", unit=unit, rate=96))
    assert (rates.of("WALL-M2/BRICK/103").rate == 96) is lands
    assert told(rates, "unit differs") == ([] if lands else ["WALL-M2/BRICK/103"])


def test_a_description_of_several_items_is_refused_with_their_codes():
    with pytest.raises(RatesError) as caught:
        priced(line("", "Bricks", "nr", 1), line("", "Wall ties", "nr", 0.4, row=9))
    (fault,) = caught.value.faults
    assert (fault.where, fault.given) == ("row 9", "Wall ties")
    assert "TIE-NR/A, TIE-NR/B" in fault.allowed


def test_two_figures_for_one_item_are_refused_by_whatever_way_they_came():
    by_code, by_words = line("UNIT-NR/BRICK", rate=0.8), line("", "Bricks", rate=0.9, row=3)
    with pytest.raises(RatesError, match="row 3: a second rate for the item UNIT-NR/BRICK"):
        priced(by_code, by_words)
    assert priced(by_code, by_words._replace(rate=0.8)).of("UNIT-NR/BRICK").rate == 0.8


def test_the_second_figure_is_found_behind_a_line_without_one():
    with pytest.raises(RatesError, match="row 4: a second price"):
        priced(line("UNIT-NR/BRICK", rate=1), line("", "Bricks", price=2, row=3), line("", "Bricks", price=3, row=4))


def test_a_rate_goes_to_the_bill_and_a_price_to_the_order_list():
    rates = priced(
        line("UNIT-NR/BRICK", rate=1.1, price=0.7), line("SEALANT-L", unit="l", rate=5, price=4), line("TIE-NR/A", price=0.2)
    )
    assert rates.of("UNIT-NR/BRICK") == Own(rate=1.1, price=0.7)
    assert rates.of("SEALANT-L") == Own(price=4)
    assert rates.of("TIE-NR/A") == Own()
    assert told(rates, "not in the bill") == ["TIE-NR/A"]


def test_a_rate_of_nothing_is_a_rate():
    rates = priced(line("TIE-NR/A", rate=0.0))
    assert rates.of("TIE-NR/A").rate == 0.0
    assert "TIE-NR/A" not in told(rates, "without a rate")
    assert bill_total(TAKEOFF, rates) == 0.0


def test_no_rate_is_no_total():
    assert bill_total(TAKEOFF, Rates()) is None


def test_the_total_is_of_rounded_amounts_of_added_quantities():
    rates = priced(line("WALL-M2/BRICK/103", unit="m2", rate=96.333), line("UNIT-NR/BRICK", rate=0.805))
    assert bill_total(TAKEOFF, rates) == pytest.approx(1517.24 + 751.87, abs=1e-9)


@given(st.integers(0, 10**8), st.integers(0, 10**7))
def test_amounts_round_halves_away_from_nought(quantity_e4, rate_e3):
    exact = Fraction(quantity_e4, 10**4) * Fraction(rate_e3, 10**3)
    pence = floor(exact * 100 + Fraction(1, 2))
    assert Decimal(repr(line_amount(quantity_e4 / 10**4, rate_e3 / 10**3))) == Decimal(pence) / 100


# --- an earlier workbook ---

KEPT = KeptBook(
    "old.xlsx",
    (
        KeptLine("UNIT-NR/BRICK", "Bricks", "nr", Own(rate=0.75, note="ask again"), "sheet Bill, row 9"),
        KeptLine("WALL-M2/OLD", "Gone walling", "m2", Own(rate=80), "sheet Bill, row 10"),
    ),
    (
        KeptLine(
            "UNIT-NR/BRICK", "Bricks", "nr", Own(price=0.5, waste=7.5, pack=500, order_note="red"), "sheet Order list, row 6"
        ),
    ),
    {"TAX_PERCENT": 20.0},
)


def test_what_was_in_the_workbook_is_carried_across_by_code():
    rates = rates_for(TAKEOFF, None, KEPT)
    assert rates.of("UNIT-NR/BRICK") == Own(0.75, 0.5, 7.5, 500, "ask again", "red")
    assert rates.settings == {"TAX_PERCENT": 20.0}
    assert told(rates, "kept") == ["UNIT-NR/BRICK", "UNIT-NR/BRICK"]


def test_what_is_gone_is_listed_with_what_it_had():
    (gone,) = [one for one in rates_for(TAKEOFF, None, KEPT).told if one.told == "gone"]
    assert (gone.code, gone.given, gone.source) == ("WALL-M2/OLD", 80, "old.xlsx, sheet Bill, row 10")
    assert "rate 80" in gone.words


def test_kept_figures_win_and_differences_are_listed():
    rates = priced(line("UNIT-NR/BRICK", rate=0.8, price=0.5), line("TIE-NR/A", rate=0.3, row=3), kept=KEPT)
    assert rates.of("UNIT-NR/BRICK").rate == 0.75
    assert rates.of("TIE-NR/A").rate == 0.3
    (differs,) = [one for one in rates.told if one.told == "differs"]
    assert (differs.code, differs.given) == ("UNIT-NR/BRICK", 0.8)
    assert "rate 0.75 kept from old.xlsx; book.csv has 0.8" in differs.words


def test_the_book_fills_what_the_workbook_left_open():
    kept = KeptBook("old.xlsx", (KeptLine("TIE-NR/A", "Wall ties", "nr", Own(note="galvanized"), "row 3"),))
    assert priced(line("TIE-NR/A", rate=0.3), kept=kept).of("TIE-NR/A") == Own(rate=0.3, note="galvanized")


def test_a_rate_for_another_unit_is_not_kept_but_its_note_is():
    kept = KeptBook("old.xlsx", (KeptLine("TIE-NR/A", "Wall ties", "m", Own(rate=3, note="by the metre?"), "row 3"),))
    rates = rates_for(TAKEOFF, None, kept)
    assert rates.of("TIE-NR/A") == Own(note="by the metre?")
    assert told(rates, "unit differs") == ["TIE-NR/A"]


def test_nothing_brought_is_nothing_told():
    assert rates_for(TAKEOFF) == Rates()
