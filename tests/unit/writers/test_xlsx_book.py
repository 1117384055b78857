"""The writer of workbooks tried on sheets made up here, read back with openpyxl and as text."""

import re
from datetime import datetime
from io import BytesIO
from zipfile import ZipFile

import pytest
from openpyxl import load_workbook

from elevgen.writers._xlsx_book import workbook_bytes
from elevgen.writers._xlsx_cells import Table
from elevgen.writers._xlsx_formula import Across, Down, Named, Own, There, expr
from elevgen.writers._xlsx_functions import SumIf, rounded, total, unless_blank
from elevgen.writers._xlsx_model import Block, Column, Formula, Open, Sheet

MADE = datetime(2026, 2, 3)
NUMBERS = (Column("No", 8, "value"),)


def written(*blocks: Block, **more) -> bytes:
    return workbook_bytes([Sheet("Tried", "What it is for.", blocks, **more)], "Title", MADE)


def reopened(content: bytes, values: bool = False):
    return load_workbook(BytesIO(content), data_only=values)["Tried"]


def test_every_kind_of_value_comes_back_where_it_was_put() -> None:
    given = [True, False, 0, -17, 12_345_678_901, 0.1 + 0.2, -2.5e-9, 1e21]
    given += ["a & <b>", "]]>", " indented", "two  spaces", "=1+1", "{=1+1}", "http://x.example", "é ±", "_x0041_", "12"]
    page = reopened(written(Block("Values", NUMBERS, tuple((value,) for value in (*given, None, "")))))
    found = [page.cell(6 + n, 1).value for n in range(len(given))]
    numbers = [type(value) in (int, float) for value in given]
    assert [type(value) in (int, float) for value in found] == numbers
    for a, b, is_number in zip(found, given, numbers, strict=True):
        if isinstance(a, str):
            a = a.replace("_x005F_", "_")
        assert a == (pytest.approx(b, rel=1e-11, abs=0) if is_number else b)
    assert [page.cell(6 + len(given) + n, 1).value for n in (0, 1)] == [None, None]
    assert all(cell.data_type != "f" and cell.hyperlink is None for row in page.iter_rows() for cell in row)


def test_sums_that_differ_in_their_last_place_are_written_alike() -> None:
    """Python 3.12 adds floats up more exactly than 3.11: the same workbook must come of both."""
    one, two = (
        written(Block("Sums", (*NUMBERS, Column("Twice", 8)), ((value, Formula(Own("No") + Own("No"))),)))
        for value in (18.55164717465753, 18.551647174657543)
    )
    assert one == two


@pytest.mark.parametrize("wrong", [float("nan"), float("inf")])
def test_a_number_that_is_none_is_refused(wrong: float) -> None:
    with pytest.raises((TypeError, ValueError)):
        written(Block("Values", NUMBERS, ((wrong,),)))


def test_a_headed_block_with_rows_is_a_table_and_an_empty_one_says_none() -> None:
    two = (Column("Name", 10), Column("No", 10, "nr"))
    page = reopened(
        written(Block("First", two, (("a", 1), ("b", 2))), Block("Second", two, ()), Block("Third", two, (("c", 3),)))
    )
    assert dict(page.tables.items()) == {"Tried_table_1": "A5:B7", "Tried_table_3": "A14:B15"}
    assert [c.name for c in page.tables["Tried_table_1"].tableColumns] == ["Name", "No"]
    assert page.tables["Tried_table_1"].autoFilter.ref == "A5:B7"
    assert page["A11"].value == "none"
    with pytest.raises(ValueError, match="headed alike"):
        written(Block("First", (Column("Name", 10), Column("name", 10)), ()))


def test_formulas_refer_across_tables_and_sheets_and_are_stored_with_what_they_come_to() -> None:
    prices = Block("Prices", (Column("Code", 9), Column("No", 9, "amount")), (("A", 2.5), ("B", 0.25), ("a", 4), ("B", None)))
    table = Table("Prices here", "Prices")
    rows = tuple(
        (code, Formula(SumIf(Down(table, "Code"), Own("Code"), Down(table, "No"))), Formula(unless_blank(Own("Sum"), "seen")))
        for code in ("A", "B", "C")
    )
    sums = Block("Sums", (Column("Code", 9), Column("Sum", 9, "amount"), Column("Seen", 9)), rows)
    whole = Block(
        "Whole",
        (Column("", 9), Column("", 9)),
        ((Formula(total(Down(Table("Tried", "Sums"), "Sum")), name="ALL_OF_IT"), Formula(Named("ALL_OF_IT") * 2)),),
    )
    content = workbook_bytes(
        [Sheet("Tried", "x", (sums, whole)), Sheet("Prices here", "x", (prices,))],
        "Title",
        MADE,
    )
    page, shown = reopened(content), reopened(content, values=True)
    assert page["B6"].value == "=SUMIF('Prices here'!$A$6:$A$9,A6,'Prices here'!$B$6:$B$9)"
    assert [shown[f"B{n}"].value for n in (6, 7, 8)] == [6.5, 0.25, 0]
    assert (page["A11"].value, shown["A11"].value) == ("=SUM($B$6:$B$8)", 6.75)
    assert (page["B11"].value, shown["B11"].value) == ("=ALL_OF_IT*2", 13.5)
    assert shown["C6"].value == "seen"
    assert load_workbook(BytesIO(content)).defined_names["ALL_OF_IT"].attr_text == "Tried!$A$11"


def test_a_formula_finds_its_cells_by_row_and_column() -> None:
    columns = (Column("A", 9, "nr"), Column("B", 9, "nr"), Column("C", 9, "nr"))
    table = Table("Tried", "T")
    rows = (
        (1, 2, Formula(total(Across("A", "B")))),
        (3, 4, Formula(There(table, "C", 0) + rounded(Own("B") / (Own("A") + 1), 2) - (Own("A") - Own("B")))),
    )
    page, shown = (reopened(written(Block("T", columns, rows)), values) for values in (False, True))
    assert (page["C6"].value, page["C7"].value) == ("=SUM($A$6:$B$6)", "=C6+ROUND(B7/(A7+1),2)-(A7-B7)")
    assert (shown["C6"].value, shown["C7"].value) == (3, 5)


def test_only_open_cells_may_be_typed_into_and_only_numbers_from_nothing_up() -> None:
    columns = (Column("Code", 9), Column("Rate", 9, "money"), Column("Note", 9))
    rows = (("A", Open("rate"), Open("note")), ("B", Open("rate", 2.5), None), ("", None, None), ("C", Open("rate"), None))
    page = reopened(written(Block("T", columns, rows)))
    assert page.protection.sheet and not page.protection.password
    assert not page.protection.autoFilter and not page.protection.sort and not page.protection.formatColumns  # False: allowed
    free = {cell.coordinate for row in page.iter_rows() for cell in row if not cell.protection.locked}
    assert free == {"B6", "B7", "B9", "C6"}
    assert {cell.fill.fgColor.rgb for cell in (page["B6"], page["C6"])} == {"FFFFF6D6"}
    numbers, notes = page.data_validations.dataValidation
    assert (str(numbers.sqref), numbers.type, numbers.operator, numbers.formula1) == (
        *("B6:B7 B9", "decimal", "greaterThanOrEqual", "0"),
    )
    assert numbers.prompt and notes.prompt and notes.type is None


def test_a_formula_of_text_in_arithmetic_is_refused_and_so_is_one_that_comes_to_no_number() -> None:
    columns = (Column("A", 9), Column("B", 9))
    with pytest.raises(ValueError, match="text in arithmetic"):
        written(Block("T", columns, (("x", Formula(Own("A") + 1)),)))
    with pytest.raises(ZeroDivisionError):
        written(Block("T", columns, ((0, Formula(expr(1) / Own("A"))),)))


def test_text_that_begins_like_a_formula_is_quoted_and_no_formula_is_made_of_it() -> None:
    content = written(Block("T", NUMBERS, (("=1+1",), ("plain",))))
    page = reopened(content)
    assert page["A6"].quotePrefix and not page["A7"].quotePrefix
    with ZipFile(BytesIO(content)) as archive:
        assert not any(re.search(rb"<f[ >]", archive.read(n)) for n in archive.namelist())


def test_capitals_are_given_the_room_they_take() -> None:
    """A code as long as fits in small letters takes a second line in capitals."""
    code = "unit-cut-nr/aircrete_block_100/slope"
    rows = reopened(written(Block("Codes", (Column("Code", 30),), ((code,), (code.upper(),))))).row_dimensions
    assert (rows[6].height, rows[7].height) == (None, 27)
