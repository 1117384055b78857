"""What a user typed into an earlier workbook is found again: by sheet, heading and code, whatever saved it since."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName

from elevgen.core.errors import RatesError
from elevgen.takeoff.rates import Own
from elevgen.writers._kept_rates import read_kept_rates

BILL = ("Code", "Item", "Quantity", "Unit", "Rate", "Amount", "Note")
ORDERS = (
    *("Code", "Material", "Order", "Unit", "Waste %", "Waste % as drawn", "Pack holds", "Pack as drawn", "Price", "Cost", "Note"),
)


def made(folder: Path, bill=(), orders=(), settings=(), *, names=True, headed=4, without=()) -> Path:
    """A workbook with the headings of ours; the headings of its tables in row `headed`."""
    book = Workbook()
    summary = book.active
    summary.title = "Summary"
    summary.append(["Summary"])
    summary.append(["Settings"])
    for row, (label, name, value) in enumerate(settings, 3):
        summary.append([label, None, value])
        if names:
            book.defined_names[name] = DefinedName(name, attr_text=f"Summary!$C${row}")
    for title, heads, rows in (("Bill", BILL, bill), ("Order list", ORDERS, orders)):
        page = book.create_sheet(title)
        page.cell(1, 1, title)
        page.cell(headed - 1, 1, "The whole building")
        for row, cells in enumerate([heads, *rows], headed):
            for column, value in enumerate(cells, 1):
                if value is not None:
                    page.cell(row, column, value)
    for title in without:
        del book[title]
    book.save(folder / "old.xlsx")
    return folder / "old.xlsx"


SETTINGS = (
    ("Contingency %", "CONTINGENCY_PERCENT", 2.5),
    ("Overheads and profit %", "OVERHEADS_PERCENT", 0),
    ("Tax %", "TAX_PERCENT", 20),
)
ROWS = (
    ("A/1", "Walling", 12.5, "m2", 96.5, "=ROUND(C5*E5,2)", None),
    ("A/2", "Ties", 61, "nr", None, "=1", "galvanized?"),
    ("A/3", "Mortar", 1.2, "m3", None, "=1", None),
    (None, "Walling in all", None, None, "=SUM(E5:E7)", "=SUM(F5:F7)", None),
)


def refused(path: Path):
    with pytest.raises(RatesError) as caught:
        read_kept_rates(path)
    return caught.value.faults


def test_rates_and_notes_of_the_bill(tmp_path):
    kept = read_kept_rates(made(tmp_path, ROWS))
    assert [(line.code, line.unit, line.own, line.source) for line in kept.bill] == [
        ("A/1", "m2", Own(rate=96.5), "sheet Bill, row 5"),
        ("A/2", "nr", Own(note="galvanized?"), "sheet Bill, row 6"),
    ]


def test_waste_and_pack_only_where_they_were_changed(tmp_path):
    orders = (
        ("A/1", "Bricks", 900, "nr", 5, 5, 500, 500, None, None, None),
        ("A/2", "Blocks", 90, "nr", 7.5, 5, 72, 80, 1.4, "=1", "two drops"),
        ("A/3", "Mortar", 1.2, "m3", 0, 10, 0.5, None, None, None, None),
        ("A/4", "Sealant", 1.2, "l", None, 10, None, 0.31, None, None, None),
    )
    kept = read_kept_rates(made(tmp_path, ROWS, orders))
    assert {line.code: line.own for line in kept.orders} == {
        "A/2": Own(price=1.4, waste=7.5, pack=72, order_note="two drops"),
        "A/3": Own(waste=0.0, pack=0.5),
    }


@pytest.mark.parametrize("names", [True, False], ids=["by name", "by label"])
def test_settings(tmp_path, names):
    kept = read_kept_rates(made(tmp_path, ROWS, settings=SETTINGS, names=names))
    assert kept.settings == {"CONTINGENCY_PERCENT": 2.5, "TAX_PERCENT": 20.0}


def test_columns_and_headings_may_have_moved(tmp_path):
    from openpyxl import load_workbook

    path = made(tmp_path, ROWS, headed=9)
    book = load_workbook(path)
    book["Bill"].move_range("E9:E13", cols=6)
    book["Bill"].insert_cols(1, 2)
    book.save(path)
    assert read_kept_rates(path).bill[0].own.rate == 96.5


def test_a_second_table_has_headings_of_its_own(tmp_path):
    rows = (*ROWS, (), ("Rate", "Code", "Unit"), (3.5, "B/1", "m"))
    assert [line.code for line in read_kept_rates(made(tmp_path, rows)).bill] == ["A/1", "A/2", "B/1"]


@pytest.mark.parametrize("bad", ["dear", -2, True])
def test_a_rate_that_is_no_number_is_refused_with_its_place(tmp_path, bad):
    (fault,) = refused(made(tmp_path, (("A/1", "Walling", 1, "m2", bad),)))
    assert fault.where == "sheet Bill, row 5, column E (Rate)"


def test_a_pack_of_nothing_is_refused(tmp_path):
    (fault,) = refused(made(tmp_path, ROWS, (("A/1", "Bricks", 1, "nr", 5, 5, 0, 500),)))
    assert fault.where == "sheet Order list, row 5, column G (Pack holds)"


def test_a_rate_reckoned_by_a_formula_needs_its_stored_value(tmp_path):
    (fault,) = refused(made(tmp_path, (("A/1", "Walling", 1, "m2", "=2*48"),)))
    assert "has no stored value" in fault.message


def test_a_workbook_of_somebody_elses_is_refused(tmp_path):
    assert "no sheet Bill" in refused(made(tmp_path, ROWS, without=["Bill"]))[0].message
    book = Workbook()
    book.active.title = "Bill"
    book.active.append(["Code", "Quantity", "Unit"])
    book.save(tmp_path / "other.xlsx")
    (fault,) = refused(tmp_path / "other.xlsx")
    assert (fault.message, fault.given) == ("the bill has no column for rates", "Code, Quantity, Unit")
    (tmp_path / "bill.csv").write_text("Code,Unit,Rate\n")
    assert "no workbook" in refused(tmp_path / "bill.csv")[0].message


def test_a_bill_whose_user_has_typed_nothing_yet_is_one(tmp_path):
    kept = read_kept_rates(made(tmp_path, (("A/1", "Walling", 1, "m2"),)))
    assert (kept.bill, kept.orders, kept.settings) == ((), (), {})


@pytest.mark.skipif(not shutil.which("ssconvert"), reason="gnumeric is not installed")
def test_a_workbook_another_program_saved(tmp_path):
    before = made(tmp_path, (*ROWS[:2], ("A/5", "Lintels", 2, "nr", "=2*48.25", None, "'=1+1")), settings=SETTINGS)
    subprocess.run(["ssconvert", "--recalc", str(before), str(tmp_path / "saved.xlsx")], check=True, capture_output=True)
    kept = read_kept_rates(tmp_path / "saved.xlsx")
    assert [(line.code, line.own.rate) for line in kept.bill] == [("A/1", 96.5), ("A/2", None), ("A/5", 96.5)]
    assert kept.settings == {"CONTINGENCY_PERCENT": 2.5, "TAX_PERCENT": 20.0}
