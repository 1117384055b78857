"""The sheets an estimator works in, on the small design: figures worked out by hand beside each."""

import re
from dataclasses import replace
from io import BytesIO
from zipfile import ZipFile

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from elevgen.rules.measurement import MeasurementRules
from elevgen.takeoff.model import Deduction, LiftNeed, Pack
from elevgen.takeoff.rates import Own, Rates
from elevgen.writers._package import Package
from elevgen.writers.xlsx import render


def opened(package: Package, formulas: bool = False) -> Workbook:
    (content,) = render(package).values()
    return load_workbook(BytesIO(content), data_only=not formulas)


def table(page: Worksheet, heading: str) -> list[dict[str, object]]:
    rows = list(page.iter_rows(values_only=True))
    start = next(i for i, row in enumerate(rows) if i > 2 and row[0] == heading)
    found = []
    for row in rows[start + 2 :]:
        if all(value is None for value in row):
            break
        found.append({str(name): value for name, value in zip(rows[start + 1], row, strict=True) if name})
    return found


def priced(package: Package, **settings: float) -> Package:
    walling = next(q for q in package.takeoff.quantities if q.code.startswith("WALL-M2/FACING"))
    items = {walling.code: Own(rate=80.0, note="=SUM(1)"), "MORTAR-M3": Own(rate=100.0, price=250.0, waste=20.0, pack=0.5)}
    return replace(package, rates=Rates(items, settings))


def test_a_priced_bill_adds_up_section_by_section(small_package: Package) -> None:
    """Two items of the bill have a rate; the percentages go one upon another."""
    book = opened(priced(small_package, CONTINGENCY_PERCENT=10.0, OVERHEADS_PERCENT=5.0, TAX_PERCENT=20.0))
    rows = table(book["Bill"], "The whole building")
    walling = next(row for row in rows if str(row["Code"]).startswith("WALL-M2/FACING"))
    mortar = next(row for row in rows if row["Code"] == "MORTAR-M3")
    assert walling["Amount"] == round(float(str(walling["Quantity"])) * 80, 2)
    assert mortar["Amount"] == round(float(str(mortar["Quantity"])) * 100, 2)
    totals = {row["Section"]: row["Amount"] for row in rows if not row["Code"]}
    assert totals["Walling"] == walling["Amount"] and totals["Mortar"] == mortar["Amount"] and totals["Ties"] is None
    comes = {row["What"]: row["Amount"] for row in table(book["Summary"], "What it comes to")}
    bill = round(float(str(walling["Amount"])) + float(str(mortar["Amount"])), 2)
    contingency = round(bill * 0.1, 2)
    overheads = round((bill + contingency) * 0.05, 2)
    tax = round((bill + contingency + overheads) * 0.2, 2)
    added = [comes[name] for name in ("Bill", "Contingency", "Overheads and profit", "Tax", "Bill with all of these")]
    assert added == pytest.approx([bill, contingency, overheads, tax, bill + contingency + overheads + tax], abs=0.0101)
    assert comes["Items without a rate"] == sum(1 for row in rows if row["Code"]) - 2


def test_walling_and_mortar_both_priced_is_said_on_the_bill_and_the_summary(small_package: Package) -> None:
    book = opened(priced(small_package))
    assert all(str(book[name]["A3"].value).startswith("Counted twice?") for name in ("Bill", "Summary"))
    alone = replace(small_package, rates=Rates({"MORTAR-M3": Own(rate=100.0)}))
    assert [opened(alone)[name]["A3"].value for name in ("Bill", "Summary")] == [None, None]


def test_own_waste_and_packs_take_the_place_of_those_drawn_which_stand_beside_them(small_package: Package) -> None:
    book = opened(priced(small_package))
    (row,) = (row for row in table(book["Order list"], "Materials") if row["Code"] == "MORTAR-M3")
    assert (row["Waste %"], row["Waste % as drawn"], row["Pack holds"], row["Pack as drawn"]) == (20, 10, 0.5, None)
    assert row["With waste"] == pytest.approx(float(str(row["Needed"])) * 1.2, abs=5e-5)
    assert (row["Packs"], row["Order"], row["Cost"]) == (1, 0.5, 125)
    assert book["Bill"]["A1"].value == "Bill"


def with_order(package: Package, **changes: object) -> Package:
    """The small design ordering one material only."""
    order = replace(package.takeoff.orders[0], unit="nr", step=1.0, **changes)  # type: ignore[arg-type]
    return replace(package, takeoff=replace(package.takeoff, orders=(order,)))


def test_call_offs_by_hand(small_package: Package) -> None:
    """100 bricks, 10 % waste, packs of 12: 110 is 10 packs. By lift 1: 40 + 10 % = 44, 4 packs. By lift 2: 70 + 10 % = 77, 7
    packs. By lift 5: the rest, 3 packs."""
    lifts = (LiftNeed(1, 40.0), LiftNeed(2, 30.0), LiftNeed(5, 30.0))
    package = with_order(small_package, needed=100.0, waste=10.0, packs=(Pack("bundle", 12.0, "made up"),), lifts=lifts)
    book = opened(package)
    (row,) = table(book["Call-off"], "What to call off for each lift")
    assert [row[head] for head in ("Lift 1", "Lift 2", "Lift 5", "All of them", "Order list")] == [48, 36, 36, 120, 120]
    assert "Any lift" not in row
    (needed,) = table(book["Call-off"], "What each lift needs, before waste")
    assert [needed[head] for head in ("Lift 1", "Lift 2", "Lift 5")] == [40, 30, 30]
    (ordered,) = table(book["Order list"], "Materials")
    assert (ordered["Packs"], ordered["Order"], ordered["Left over if none is wasted"]) == (10, 120, 20)


def test_what_is_tied_to_no_lift_is_called_off_first(small_package: Package) -> None:
    """20 for no lift and 9 for lift 2, 5 % waste: 21 first, then 30.45 less 21, rounded up over both."""
    package = with_order(small_package, needed=29.0, waste=5.0, packs=(), lifts=(LiftNeed(None, 20.0), LiftNeed(2, 9.0)))
    (row,) = table(opened(package)["Call-off"], "What to call off for each lift")
    assert list(row)[3:5] == ["Any lift", "Lift 2"]
    assert (row["Any lift"], row["Lift 2"], row["All of them"]) == (21, 10, 31)


def test_weights_and_every_container_of_a_sealant(small_package: Package) -> None:
    """0.036 l and 10 %: 0.0396 l is one tube of 0.31 or one of 0.03 and another."""
    orders = tuple(
        replace(o, packs=(Pack("tube", 0.31, "a"), Pack("sachet", 0.03, "b")), mass=1.4)
        if o.unit == "l"
        else replace(o, mass=None)
        for o in small_package.takeoff.orders
    )
    book = opened(replace(small_package, takeoff=replace(small_package.takeoff, orders=orders)))
    tubes, sachets = table(book["Order list"], "How many of each container would do")
    assert [(c["Container"], c["How many"], c["They hold"]) for c in (tubes, sachets)] == [("tube", 1, 0.31), ("sachet", 2, 0.06)]
    (row,) = (row for row in table(book["Order list"], "Materials") if row["Code"] == "JT-SEAL-L")
    assert (row["Sold in"], row["Packs"], row["Order"], row["kg in all"]) == ("tube", 1, 0.31, 0.4)
    comes = {row["What"]: row for row in table(book["Summary"], "What it comes to")}
    assert comes["Weight of the order kg"]["Amount"] == 0.4
    assert str(comes["Weight of the order kg"]["Of what"]).startswith(f"{len(orders) - 1} of {len(orders)}")


def test_measurement_shows_gross_and_what_openings_take_and_bills_what_the_take_off_does(small_package: Package) -> None:
    first, second, *rest = small_package.takeoff.quantities
    taken = (
        Deduction("A1", 0.03525, True, "all openings"),
        Deduction("V1", 0.02, False, "up to 0.1 m2 left in"),
        Deduction("V2", 0.01, True, "at an edge"),
    )
    as_gross = replace(first, net=2.0, gross=2.04525, deductions=taken)
    rounded = replace(second, unit="m2", net=3.0, gross=3.1, deductions=(Deduction("A2", 0.25, True, "all"),), as_built=2.85)
    package = replace(small_package, takeoff=replace(small_package.takeoff, quantities=(as_gross, rounded, *rest)))
    shown, live = opened(package)["Measurement"], opened(package, formulas=True)["Measurement"]
    one, two = table(shown, "By leaf and wall")[:2]
    assert (one["Gross"], one["Deducted"], one["Quantity"]) == pytest.approx((2.04525, 0.04525, 2.0), abs=1e-12)
    assert (two["Gross"], two["Deducted"], two["Quantity"], two["As really fixed"]) == (3.1, 0.25, 3, 2.85)
    assert str(live["F6"].value).startswith("=ROUND(ROUND((D6-E6)*10000") and live["F7"].value == 3
    refused = [row for row in table(shown, "What openings take, and what the rules leave in") if row["By the rules"] == "left in"]
    assert [(r["What takes it"], r["Amount"], r["Deducted"], r["Which rule"]) for r in refused] == [
        ("V1", 0.02, 0, "up to 0.1 m2 left in"),
    ]
    bill = {row["Code"]: row["Quantity"] for row in table(opened(package)["Bill"], "The whole building")}
    assert bill[first.code] == 2


def test_open_cells_are_rates_waste_packs_prices_notes_and_settings_and_no_others(small_package: Package) -> None:
    book = opened(small_package)
    free: dict[str, set[str]] = {}
    for page in book:
        assert page.protection.sheet and not page.protection.password, page.title
        heads: dict[int, str] = {}
        for row in page.iter_rows():
            if all(cell.font.bold for cell in row if cell.value is not None):
                heads |= {cell.column: str(cell.value) for cell in row if cell.value is not None}
            for cell in row:
                if not cell.protection.locked:
                    free.setdefault(page.title, set()).add(heads[cell.column])
    assert free == {
        "Summary": {"Per cent"},
        "Bill": {"Rate", "Note"},
        "Order list": {"Waste %", "Pack holds", "Price", "Note"},
    }
    items = {q.code for q in small_package.takeoff.quantities}
    assert sum(1 for (cell,) in book["Bill"]["F6:F200"] if not cell.protection.locked) == len(items)


def test_names_lead_to_the_cells_they_say(small_package: Package) -> None:
    unknown = tuple(replace(order, mass=None) for order in small_package.takeoff.orders)
    weightless = replace(small_package, takeoff=replace(small_package.takeoff, orders=unknown))
    book = opened(priced(weightless, TAX_PERCENT=7.5))
    held = {}
    for name, defined in book.defined_names.items():
        sheet, place = defined.attr_text.replace("'", "").replace("$", "").split("!")
        held[name] = book[sheet][place].value
    assert held.pop("BILL_TOTAL") and held.pop("BILL_GRAND_TOTAL") and held.pop("MATERIALS_TOTAL") == 125
    assert held == {"CONTINGENCY_PERCENT": None, "OVERHEADS_PERCENT": None, "TAX_PERCENT": 7.5, "MATERIALS_KG": None}


def test_the_chart_is_drawn_from_the_walls_in_the_table(small_package: Package) -> None:
    (content,) = render(small_package).values()
    with ZipFile(BytesIO(content)) as archive:
        chart = archive.read("xl/charts/chart1.xml").decode()
    page = load_workbook(BytesIO(content), data_only=True)["Summary"]
    names, values = (page[place.replace("$", "")].value for place in re.findall(r"<c:f>Summary!([$A-Z0-9]+)", chart)[-2:])
    (row,) = table(page, "Walling as billed, wall by wall")
    assert (names, values) == (row["Wall"], row["Net m2"]) == ("W1", pytest.approx(small_package.takeoff.total("WALL-M2")))


def test_the_unit_may_stand_before_the_quantity(small_package: Package) -> None:
    quantities = {row["Code"]: row["Quantity"] for row in table(opened(small_package)["Bill"], "The whole building")}
    rules = replace(small_package.takeoff.measured_by, given={"column_order": "unit-qty"})
    package = replace(small_package, takeoff=replace(small_package.takeoff, measured_by=rules))
    rows = table(opened(priced(package))["Bill"], "The whole building")
    assert list(rows[0])[3:6] == ["Unit", "Quantity", "Rate"]
    assert {row["Code"]: row["Quantity"] for row in rows} == quantities


def test_a_note_that_begins_like_a_formula_stays_text(small_package: Package) -> None:
    book = opened(priced(small_package), formulas=True)
    (cell,) = (cell for row in book["Bill"].iter_rows() for cell in row if cell.value == "=SUM(1)")
    assert cell.quotePrefix and cell.data_type != "f" and not cell.protection.locked


def test_a_bill_rounded_to_whole_units_keeps_what_would_vanish(small_package: Package) -> None:
    """0.036 l of sealant stays as it is; 0.3 m of movement joint is 1 where the rules keep one, and nothing where they do not."""
    for keeps, expected in (("yes", 1), ("no", 0)):
        rules = MeasurementRules(given={"qty_round": 1.0, "keep_at_least_one": keeps})
        book = opened(replace(small_package, takeoff=replace(small_package.takeoff, measured_by=rules)))
        bill = {row["Code"]: row["Quantity"] for row in table(book["Bill"], "The whole building") if row["Code"]}
        (joint,) = (code for code in bill if str(code).startswith("JT-MOVE-M"))
        assert small_package.takeoff.total(str(joint)) == pytest.approx(0.3)
        assert (bill[joint], bill["JT-SEAL-L"]) == (expected, 0.036)
        assert bill == pytest.approx({code: replace(small_package.takeoff, measured_by=rules).billed(str(code)) for code in bill})


def test_reinforcement_priced_by_the_metre_and_by_stock_length_is_said(small_package: Package) -> None:
    metre, stock = "BR-M/102.5", "BR-STOCK-NR/2700x102.5"
    fixed = next(q for q in small_package.takeoff.quantities if q.code == metre)
    quantities = (*small_package.takeoff.quantities, replace(fixed, code=stock, unit="nr", net=3))
    small_package = replace(small_package, takeoff=replace(small_package.takeoff, quantities=quantities))
    for rated, said in (((metre,), False), ((stock,), False), ((metre, stock), True)):
        book = opened(replace(small_package, rates=Rates({code: Own(rate=2.0) for code in rated})))
        assert ["by stock length" in str(book[name]["A3"].value) for name in ("Bill", "Summary")] == [said, said]
    both_pairs = replace(small_package, rates=Rates({code: Own(rate=2.0) for code in {q.code for q in quantities}}))
    assert str(opened(both_pairs)["Bill"]["A3"].value).startswith("Counted twice? Walling")
