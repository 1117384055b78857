"""The workbook worked out anew by two spreadsheet programs, every cell as we store it; and read by others who do not."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from math import ceil, fsum
from pathlib import Path
from random import Random
from zipfile import ZipFile

import pandas
import pytest
from openpyxl import load_workbook
from outside import needs
from recalculated import ENGINES, differences, formulas, priced, typed_in, values, with_everything

from elevgen.drawing.scene import Scene
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.packs import number_of
from elevgen.takeoff.rates import Rates
from elevgen.writers import xlsx
from elevgen.writers._package import Package
from elevgen.writers._xlsx_book import workbook_bytes
from elevgen.writers._xlsx_formula import Own, expr
from elevgen.writers._xlsx_functions import halves_up, whole_steps
from elevgen.writers._xlsx_model import Block, Column, Formula, Sheet

IN_FEET = ("us-workshop", "priced us-workshop")
BUILDINGS = ("studio", "duplex", "priced studio", "priced duplex", "nrm2-like studio", "is1200-like studio", *IN_FEET)
EVERY_ENGINE = [pytest.param(name, marks=needs(name)) for name in ENGINES]


class Made:
    """A workbook in a file, and what it was made of."""

    def __init__(self, path: Path, takeoff: Takeoff, rates: Rates) -> None:
        self.path, self.takeoff, self.rates = path, takeoff, rates

    def rows(self, sheet: str, heading: str) -> list[dict[str, object]]:
        """A table as pandas reads it, which works out nothing; rows up to the first empty one."""
        whole = pandas.read_excel(self.path, sheet_name=sheet, header=None)
        start = next(n for n in range(3, len(whole)) if whole.iat[n, 0] == heading)
        heads = [h for h in whole.iloc[start + 1] if isinstance(h, str)]
        found = []
        for n in range(start + 2, len(whole)):
            if whole.iloc[n].isna().all():
                break
            found.append({h: None if pandas.isna(v) else v for h, v in zip(heads, whole.iloc[n], strict=False)})
        return found


@pytest.fixture(scope="module")
def made_of(design_of, tmp_path_factory: pytest.TempPathFactory):
    """A function: the workbook of a building by name; `priced`: with packs, lifts, weights, deductions, rates and prices."""
    found: dict[str, Made] = {}

    def write(name: str) -> Made:
        if name not in found:
            design = design_of(name.split()[-1])
            if "-like" in name:
                measured = design.spec.measurement.model_copy(update={"rules": name.split()[0]})
                design = replace(design, spec=design.spec.model_copy(update={"measurement": measured}))
            takeoff, rates = measure(design).for_people, Rates()
            if name.startswith("priced"):
                takeoff = with_everything(takeoff)
                rates = priced(takeoff)
            package = Package(design, takeoff, Scene(design.name, "", (), (), (), (), ()), rates)
            path = tmp_path_factory.mktemp("books") / f"{name.replace(' ', '-')}.xlsx"
            path.write_bytes(*xlsx.render(package).values())
            found[name] = Made(path, takeoff, rates)
        return found[name]

    return write


@pytest.mark.parametrize("engine", EVERY_ENGINE)
@pytest.mark.parametrize("building", BUILDINGS)
def test_every_cell_comes_to_what_is_stored_in_it(building: str, engine: str, made_of, tmp_path: Path) -> None:
    made = made_of(building)
    assert len(formulas(made.path)) > 100
    assert not differences(values(made.path), values(ENGINES[engine](made.path, tmp_path)))


@pytest.mark.parametrize("engine", EVERY_ENGINE)
def test_a_wrong_stored_value_is_found(engine: str, made_of, tmp_path: Path) -> None:
    """The comparison can fail: one stored number of the order list changed in the file."""
    made, wrong = made_of("priced studio"), tmp_path / "wrong.xlsx"
    with ZipFile(made.path) as given, ZipFile(wrong, "w") as out:
        for name in given.namelist():
            content = given.read(name)
            if name == "xl/worksheets/sheet4.xml":
                content, changed = re.subn(rb'(<c r="L6"[^>]*><f>[^<]*</f><v>)[^<]*(</v>)', rb"\g<1>999\g<2>", content)
                assert changed == 1
            out.writestr(name, content)
    (found,) = differences(values(wrong), values(ENGINES[engine](wrong, tmp_path)))
    assert "'Order list', 'L6'" in found and "999" in found


@pytest.mark.parametrize("engine", EVERY_ENGINE)
def test_halves_are_rounded_alike_in_every_program(engine: str, tmp_path: Path) -> None:
    """Products that end in a five at the place that is dropped, most of them not exact as floating-point numbers."""
    random = Random(7)
    columns = tuple(Column(name, 12, "value") for name in ("A", "B", "Money", "Share", "Steps", "Halves"))
    rows = []
    for _ in range(400):
        a, b = random.randrange(1, 10**7) / 10**4, (10 * random.randrange(1, 10**4) + 5) / 1000
        money, share = halves_up(Own("A") * Own("B"), 2), halves_up(Own("A") * (expr(100) + Own("B")) / 100, 4)
        steps, halves = whole_steps(Own("A"), 0.1) * 0.1, halves_up(Own("B"), 2)
        rows.append((a if random.random() < 0.5 else round(a, 1), b, *map(Formula, (money, share, steps, halves))))
    book = tmp_path / "halves.xlsx"
    sheet = Sheet("Halves", "Tried.", (Block("Halves", columns, tuple(rows)),))
    book.write_bytes(workbook_bytes([sheet], "Halves", datetime(2026, 1, 1)))
    assert len(values(book)) > 2400
    assert not differences(values(book), values(ENGINES[engine](book, tmp_path)))


@pytest.mark.parametrize("building", BUILDINGS)
def test_every_formula_has_a_value_stored_with_it(building: str, made_of) -> None:
    """A number, text or truth; empty only where the formula has a side that shows nothing."""
    made = made_of(building)
    stored = values(made.path)
    for at, formula in formulas(made.path).items():
        refers = re.fullmatch(r"=(BILL_TOTAL|MATERIALS_\w+|Bill!\$?G\$?\d+)", formula)
        assert at in stored or '""' in formula or refers, (at, formula)
    assert not [at for at, value in stored.items() if isinstance(value, str) and value.startswith("#")]


@pytest.mark.parametrize("building", BUILDINGS)
def test_formulas_use_nothing_that_is_not_everywhere(building: str, made_of) -> None:
    known = {"SUM", "COUNT", "SUMIF", "ROUND", "ROUNDUP", "IF", "AND"}
    for at, formula in formulas(made_of(building).path).items():
        bare = re.sub(r'"[^"]*"', "", formula)
        assert {*re.findall(r"([A-Z]+)\(", bare)} <= known, (at, formula)
        assert "[" not in bare and "{" not in bare, (at, formula)


def test_read_without_working_anything_out_the_bill_is_numbers(made_of) -> None:
    for building in BUILDINGS:
        made = made_of(building)
        rows = [row for row in made.rows("Bill", "The whole building") if row["Code"]]
        billed = {q.code: made.takeoff.billed(q.code) for q in made.takeoff.quantities}
        assert {row["Code"]: row["Quantity"] for row in rows} == pytest.approx(billed, abs=1e-6)


def test_amounts_totals_and_percentages_of_a_priced_bill(made_of) -> None:
    """Worked out here anew from quantities and rates."""
    made = made_of("priced duplex")
    rows = made.rows("Bill", "The whole building")
    amounts = [row["Amount"] for row in rows if row["Code"]]
    assert None in amounts and len([a for a in amounts if a is not None]) > 10
    for row in rows:
        rate = made.rates.of(str(row["Code"])).rate if row["Code"] else None
        if rate is not None:
            assert row["Amount"] == pytest.approx(float(row["Quantity"]) * rate, abs=0.00501)
    by_section: dict[str, float] = {}
    for row in rows:
        if row["Code"] and row["Amount"] is not None:
            by_section[row["Section"]] = by_section.get(row["Section"], 0.0) + row["Amount"]
    comes = {row["What"]: row["Amount"] for row in made.rows("Summary", "What it comes to")}
    assert {name: comes[name] for name in by_section} == pytest.approx(by_section)
    bill = fsum(by_section.values())
    assert comes["Bill"] == pytest.approx(bill)
    assert (comes["Contingency"], comes["Overheads and profit"]) == (pytest.approx(bill * 0.05, abs=0.006), 0)
    assert comes["Bill with all of these"] == pytest.approx(bill * 1.05 * 1.2, abs=0.02)
    assert comes["Items without a rate"] == len([a for a in amounts if a is None])


def test_nothing_is_a_total_of_nothing(made_of) -> None:
    made = made_of("studio")
    comes = {row["What"]: row["Amount"] for row in made.rows("Summary", "What it comes to")}
    for blank in ("Walling", "Bill", "Contingency", "Tax", "Bill with all of these", "Materials of the order list"):
        assert comes[blank] is None
    assert all(row["Amount"] is None for row in made.rows("Bill", "The whole building"))


@pytest.mark.parametrize("building", BUILDINGS)
def test_orders_are_whole_packs_or_steps_and_what_is_called_off_adds_up_to_them(building: str, made_of) -> None:
    made = made_of(building)
    rows = {row["Code"]: row for row in made.rows("Order list", "Materials")}
    calls = {row["Code"]: row for row in made.rows("Call-off", "What to call off for each lift")}
    for order in made.takeoff.orders:
        row, own = rows[order.code], made.rates.of(order.code)
        waste = order.waste if own.waste is None else own.waste
        pack = own.pack or (order.packs[0].holds if order.packs else None)
        step = pack or order.step
        wanted = order.needed * (100 + waste) / 100
        assert row["Order"] == pytest.approx(ceil(round(round(wanted, 4) / step, 6)) * step), order.code
        assert row["Packs"] == (pytest.approx(row["Order"] / pack) if pack else None)
        called = calls[order.code]
        each = {head: n or 0 for head, n in called.items() if str(head).startswith(("Any lift", "Lift"))}
        assert fsum(each.values()) == pytest.approx(row["Order"]) == called["All of them"] == called["Order list"]
        assert all(abs(n / step - round(n / step)) < 1e-6 and n >= 0 for n in each.values()), (order.code, each)
        upto = had = 0.0
        for need in order.lifts:
            upto, had = upto + need.needed, had + each["Any lift" if need.lift is None else f"Lift {need.lift}"]
            assert had >= round(upto * (100 + waste) / 100, 4) - 1e-6, "each lift has what it needs"


def test_as_designed_the_order_list_orders_what_the_take_off_does(made_of) -> None:
    """In whole packs of the usual kind where one is known."""
    for building in ("studio", "duplex"):
        made = made_of(building)
        orders = {row["Code"]: row["Order"] for row in made.rows("Order list", "Materials")}
        packed = {o.code: number_of(o.packs[0], o.with_waste) * o.packs[0].holds for o in made.takeoff.orders if o.packs}
        assert orders == pytest.approx({o.code: o.order for o in made.takeoff.orders} | packed)


@needs("soffice")
def test_a_rate_typed_in_shows_in_the_total(made_of, tmp_path: Path) -> None:
    made = made_of("studio")
    typed = typed_in(made.path, tmp_path / "typed.xlsx", {("Bill", "F6"): 41.25, ("Summary", _of_setting(made.path)): 10})
    found = values(ENGINES["soffice"](typed, tmp_path))
    amount = found["Bill", "G6"]
    assert amount == pytest.approx(round(found["Bill", "D6"] * 41.25, 2))
    names = load_workbook(made.path).defined_names
    at = {name: tuple(names[name].attr_text.replace("$", "").split("!")) for name in ("BILL_TOTAL", "BILL_GRAND_TOTAL")}
    assert found[at["BILL_TOTAL"]] == amount
    assert found[at["BILL_GRAND_TOTAL"]] == pytest.approx(amount * 1.1, abs=0.006)


@needs("ssconvert")
def test_walling_and_its_units_both_priced_is_said_at_once(made_of, tmp_path: Path) -> None:
    made = made_of("studio")
    rows = [row["Code"] for row in made.rows("Bill", "The whole building")]
    walling = next(6 + n for n, code in enumerate(rows) if code and code.startswith("WALL-"))
    unit = next(6 + n for n, code in enumerate(rows) if code and code.startswith("UNIT-"))
    for typed, said in (({walling: 40}, False), ({unit: 0.8}, False), ({walling: 40, unit: 0.8}, True)):
        book = typed_in(made.path, tmp_path / "t.xlsx", {("Bill", f"F{row}"): rate for row, rate in typed.items()})
        found = values(ENGINES["ssconvert"](book, tmp_path))
        assert [("Counted twice" in str(found.get((sheet, "A3")))) for sheet in ("Bill", "Summary")] == [said, said]


def _of_setting(book: Path) -> str:
    (name,) = (n.attr_text for key, n in load_workbook(book).defined_names.items() if key == "CONTINGENCY_PERCENT")
    return name.split("!")[1].replace("$", "")


def test_a_take_off_of_nothing_makes_a_workbook_too(design_of) -> None:
    design = design_of("studio")
    empty = replace(measure(design), quantities=(), orders=(), areas=(), not_measured=())
    (content,) = xlsx.render(Package(design, empty, Scene("", "", (), (), (), (), ()))).values()
    assert content[:2] == b"PK"
