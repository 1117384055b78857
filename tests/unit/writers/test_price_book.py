"""Price books as people have them: xlsx and CSV, headings anywhere, numbers that can be read in one way only."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook

from elevgen.core.errors import RatesError
from elevgen.takeoff.pricing import PriceLine
from elevgen.writers._price_book import read_price_book
from elevgen.writers._user_figures import NotAFigureError, figure

HEADS = ("Code", "Description", "Unit", "Rate")


def book(tmp_path: Path, *rows, sheets=("Prices",), name="book.xlsx") -> Path:
    """A workbook with the rows on its last sheet."""
    made = Workbook()
    made.remove(made.active)
    for title in sheets:
        page = made.create_sheet(title)
    for row in rows:
        page.append(row)
    made.save(tmp_path / name)
    return tmp_path / name


def text(tmp_path: Path, content: str | bytes, name="book.csv") -> Path:
    (tmp_path / name).write_bytes(content if isinstance(content, bytes) else content.encode())
    return tmp_path / name


def refused(path: Path):
    with pytest.raises(RatesError) as caught:
        read_price_book(path)
    return caught.value.faults


def test_a_workbook_is_read_by_its_headings(tmp_path):
    path = book(
        tmp_path,
        ("Rates of the year", None),
        (),
        (" RATE ", "Remark", "unit", "Price", "description", "CODE"),
        (96.5, "x", "m²", None, " Brick walling ", "WALL-M2/A"),
        (None, None, None, None, "Sundries", None),
        (1, None, "nr", 0.45, None, 4711),
        sheets=("Notes", "Prices"),
    )
    assert read_price_book(path).lines == (
        PriceLine("WALL-M2/A", "Brick walling", "m²", 96.5, None, "sheet Prices, row 4"),
        PriceLine("4711", "", "nr", 1.0, 0.45, "sheet Prices, row 6"),
    )


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_csv_with_commas(tmp_path, mark, end):
    content = mark + f'Code,Description,Unit,Rate{end}A-1,"Ties, 225 mm",nr,0.5{end}{end}B-1,,m,12{end}'.encode()
    assert read_price_book(text(tmp_path, content)).lines == (
        PriceLine("A-1", "Ties, 225 mm", "nr", 0.5, None, "row 2"),
        PriceLine("B-1", "", "m", 12.0, None, "row 4"),
    )


def test_csv_with_semicolons_may_have_decimal_commas(tmp_path):
    lines = read_price_book(text(tmp_path, "code;unit;rate\nA;nr;0,45\nB;m;12\nC;m;7.5\n")).lines
    assert [line.rate for line in lines] == [0.45, 12.0, 7.5]


def test_a_decimal_comma_between_commas_is_refused_with_what_to_do(tmp_path):
    (fault,) = refused(text(tmp_path, 'code,unit,rate\nA,nr,"0,45"\n'))
    assert (fault.where, fault.message, fault.given) == ("row 2, column 3 (rate)", "a decimal comma", "0,45")
    assert "semicolons" in fault.allowed


def test_a_decimal_comma_that_became_two_cells_is_found(tmp_path):
    (fault,) = refused(text(tmp_path, "code,unit,rate\nA,nr,12,50\n"))
    assert (fault.where, fault.message) == ("row 2", "more cells than there are headings")


@pytest.mark.parametrize("given", ["1.234", "1,234", "12.000"])
def test_what_may_be_a_thousand_or_a_fraction_is_refused(tmp_path, given):
    (fault,) = refused(text(tmp_path, f"code;unit;rate\nA;nr;{given}\n"))
    assert fault.message == "a number that can be read in two ways"


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ("twelve", "not a number"),
        ("12 pounds", "not a number"),
        ("1e5", "not a number"),
        ("nan", "not a number"),
        ("inf", "not a number"),
        ("-3", "a negative number"),
        ("\u22123", "a negative number"),
        ("1 000", "not a number"),
        ("1_000", "not a number"),
        ("99999999999", "a number out of range"),
        ("0x10", "not a number"),
    ],
)
def test_a_rate_that_is_none_says_row_column_given_and_allowed(tmp_path, given, message):
    (fault,) = refused(text(tmp_path, f"code,unit,rate\nX,nr,1\nA,nr,{given}\n"))
    assert (fault.where, fault.message, fault.given) == ("row 3, column 3 (rate)", message, given)
    assert fault.allowed.startswith("a number from 0 to 1 000 000 000")


@pytest.mark.parametrize("value", [-1, -0.001, True, "call us", 1e12])
def test_a_rate_of_a_workbook_that_is_none(tmp_path, value):
    (fault,) = refused(book(tmp_path, HEADS, ("A", "", "nr", value)))
    assert fault.where == "sheet Prices, row 2, column D (rate)"


@pytest.mark.parametrize("value", [10**400, float("inf"), float("nan"), "9" * 400])
def test_a_number_no_computer_holds_is_none(value):
    with pytest.raises(NotAFigureError, match="not a number"):
        figure(value)


def test_all_faults_come_in_one_pass(tmp_path):
    assert len(refused(text(tmp_path, "code,unit,rate,price\nA,nr,x,y\nB,nr,1,z\n"))) == 3


@pytest.mark.parametrize(
    ("heads", "missing"),
    [
        ("code,rate", "the column unit is missing"),
        ("code,description,unit", "the column rate is missing"),
        ("unit,rate", "the column code or description is missing"),
        ("rate,price", "the column code or description and the column unit is missing"),
    ],
)
def test_a_missing_column_is_named(tmp_path, heads, missing):
    (fault,) = refused(text(tmp_path, f"{heads}\n1,2\n"))
    assert (fault.where, fault.message, fault.given) == ("row 1", missing, heads.replace(",", ", "))
    (fault,) = refused(book(tmp_path, tuple(heads.split(","))))
    assert (fault.where, fault.message) == ("sheet Prices, row 1", missing)


@pytest.mark.parametrize("content", ["", "\n\n", "hello", "\ta\tb\n", '"code,unit,rate"\n"A,nr,1"\n'])
def test_no_headings_at_all(tmp_path, content):
    assert "no row has the headings" in refused(text(tmp_path, content))[0].message


def test_two_columns_of_one_name_are_refused(tmp_path):
    (fault,) = refused(text(tmp_path, "code,unit,rate,Rate\nA,nr,1,2\n"))
    assert (fault.where, fault.message) == ("row 1, column 4 (rate)", "a second column rate")


@pytest.mark.parametrize(("second", "what"), [("A,nr,2,", "rate"), ("A,m,1,", "unit"), ("A,nr,1,9", "price")])
def test_a_code_twice_with_different_figures(tmp_path, second, what):
    (fault,) = refused(text(tmp_path, f"code,unit,rate,price\nA,nr,1,8\nB,nr,5,\n{second}\n"))
    assert fault.where == "row 4"
    assert fault.message == f"the code A again, with another {what}"
    assert "row 2" in fault.allowed


def test_a_code_twice_with_the_same_figures_is_no_fault(tmp_path):
    assert len(read_price_book(text(tmp_path, "code,unit,rate\nA,m²,1\nA,m2,1.0\n")).lines) == 2


def test_a_formula_needs_its_stored_value(tmp_path):
    """openpyxl stores none; a spreadsheet that opens and saves the file does."""
    (fault,) = refused(book(tmp_path, HEADS, ("A", "", "nr", "=2*3")))
    assert fault.where == "sheet Prices, row 2, column D (rate)"
    assert "has no stored value, open and save it in a spreadsheet" in fault.message


def test_a_formula_with_its_stored_value_is_read(tmp_path):
    from xlsxwriter import Workbook as Written

    made = Written(str(tmp_path / "book.xlsx"))
    page = made.add_worksheet("Prices")
    page.write_row(0, 0, HEADS)
    page.write_row(1, 0, ("A", "", "nr"))
    page.write_formula(1, 3, "=2*3.25", None, 6.5)
    made.close()
    assert read_price_book(tmp_path / "book.xlsx").lines[0].rate == 6.5


def test_formulas_in_other_columns_do_not_matter(tmp_path):
    assert read_price_book(book(tmp_path, (*HEADS, "Twice"), ("A", "", "nr", 2, "=D2*2"))).lines[0].rate == 2


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"PK\x03\x04 no archive", "this workbook cannot be read"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "an old binary workbook"),
        ("code,unit,rate\nA,nr,1\n".encode("utf-16"), "not UTF-8"),
        ("code,description,unit,rate\nA,Stra\xdfe,nr,1\n".encode("latin-1"), "not UTF-8"),
        (b'code,unit,rate\nA,"nr,1\nB,nr,2\n', "not to be read as CSV"),
    ],
)
def test_files_that_are_no_price_book(tmp_path, content, said):
    (fault,) = refused(text(tmp_path, content))
    assert said in fault.message


def test_an_archive_that_unpacks_to_a_mountain_is_refused(tmp_path):
    from zipfile import ZIP_DEFLATED, ZipFile

    out = io.BytesIO()
    with ZipFile(out, "w", ZIP_DEFLATED) as archive, archive.open("xl/big.xml", "w", force_zip64=True) as member:
        for _ in range(401):
            member.write(b" " * 1_000_000)
    assert "too large" in refused(text(tmp_path, out.getvalue()))[0].message


def test_no_file_is_said_as_such(tmp_path):
    with pytest.raises(OSError, match="nowhere"):
        read_price_book(tmp_path / "nowhere.csv")
    assert "folder" in refused(tmp_path)[0].message


def test_hostile_text_cannot_move_the_terminal(tmp_path):
    (fault,) = refused(text(tmp_path, "code,unit,rate\nA,nr,\x1b[2J\x07\n"))
    assert fault.given.isprintable()


@given(st.integers(0, 10**9), st.integers(0, 6))
def test_a_plain_number_is_read_to_its_last_figure(digits, places):
    written = f"{digits / 10**places:.{places}f}"
    if digits / 10**places <= 1e9:
        assert figure(written) == float(written)
        assert figure(f" {written} ") == float(written)
        assert figure(float(written)) == float(written)


@given(st.text(max_size=12))
def test_any_text_is_a_number_from_nought_or_refused(given):
    for either in (False, True):
        try:
            number = figure(given, either_mark=either)
        except NotAFigureError:
            continue
        assert number is None or 0 <= number <= 1e9
