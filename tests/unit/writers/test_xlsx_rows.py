"""Rows written as text, read back by the library whose sheet they are put into."""

from io import BytesIO
from zipfile import ZipFile

import pytest
from openpyxl import Workbook, load_workbook

from elevgen.writers._xlsx_rows import Rows
from elevgen.writers._xlsx_zip import repacked

SHEET = "xl/worksheets/sheet1.xml"


def saved() -> bytes:
    out = BytesIO()
    Workbook().save(out)
    return out.getvalue()


def test_every_kind_of_value_comes_back_where_it_was_put():
    given = [True, False, 0, -17, 12_345_678_901, 0.1 + 0.2, -2.5e-9, 1e21]
    given += ["a & <b>", "]]>", " indented", "two  spaces", "=1+1", "é ±"]
    rows = Rows()
    for n, value in enumerate(given):
        rows.put(2 + n // 5, 3 + n % 5, value, 0)
    rows.put(9, 28, None, 0)
    rows.put(9, 29, "", 0)
    rows.set_height(3, 40.5)
    page = load_workbook(BytesIO(repacked(saved(), {SHEET: rows.into}))).active
    found = [page.cell(2 + n // 5, 3 + n % 5).value for n in range(len(given))]
    numbers = [type(value) in (int, float) for value in given]
    assert [type(value) in (int, float) for value in found] == numbers
    for a, b, number in zip(found, given, numbers, strict=True):
        assert a == (pytest.approx(b, rel=1e-11, abs=0) if number else b)
    assert page.calculate_dimension() == "C2:AC9"
    assert (page["AB9"].value, page["AC9"].value) == (None, None)
    assert (page.row_dimensions[3].height, page.row_dimensions[2].height) == (40.5, None)
    assert all(cell.data_type != "f" for row in page.iter_rows() for cell in row)


def test_sums_that_differ_in_their_last_place_are_written_alike():
    """Python 3.12 adds floats up more exactly than 3.11: the same workbook must come of both."""
    one, two = Rows(), Rows()
    one.put(1, 1, 18.55164717465753, 0)
    two.put(1, 1, 18.551647174657543, 0)
    assert repacked(saved(), {SHEET: one.into}) == repacked(saved(), {SHEET: two.into})


def test_a_sheet_the_library_spells_otherwise_is_refused():
    with ZipFile(BytesIO(saved())) as archive:
        sheet = archive.read(SHEET)
    rows = Rows()
    rows.put(1, 1, "x", 0)
    with pytest.raises(ValueError, match="no longer"):
        rows.into(sheet.replace(b"<sheetData></sheetData>", b"<sheetData/>"))
