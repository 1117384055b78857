"""A user's figures from draw to draw: a price book into the bill, the workbook filled in, saved by another program, kept.

The workbook that is read back is one that elevgen made; the CSV, the terminal and the workbook say the same sums.
"""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
import subprocess
from itertools import takewhile
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from elevgen.cli import main

PLAIN: dict[str, Any] = {
    "spec": 1,
    "project": {"title": "Garden wall", "date": "2026-03-02"},
    "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
    "wall_types": {"half": {"outer": "brick"}},
    "walls": [
        {"id": "W1", "type": "half", "start": [0, 0], "end": [7365, 0], "base": 0, "top": 1050},
        {"id": "W2", "type": "half", "start": [7365, 0], "end": [7365, 2215], "base": 0, "top": 975},
    ],
}
SETTINGS = {"CONTINGENCY_PERCENT": 2.5, "OVERHEADS_PERCENT": 12.0, "TAX_PERCENT": 17.5}
NOTE = "=not a formula, a note"


def draw(spec: Path, out: Path, *options: str | Path) -> str:
    done = CliRunner().invoke(main, ["draw", str(spec), "-o", str(out), *map(str, options)], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.output


def table(path: Path, sheet: str) -> dict[str, dict[str, object]]:
    """Rows of the first table, by code, as the headings name their cells; stored values."""
    rows = load_workbook(path, data_only=True)[sheet].iter_rows(values_only=True)
    heads = next(row for row in rows if "Code" in row)
    named = (dict(zip(heads, row, strict=True)) for row in takewhile(any, rows))
    return {str(row["Code"]): row for row in named if row["Code"]}


def flat(out: Path) -> dict[str, dict[str, str]]:
    (path,) = out.glob("*-bill.csv")
    return {row["Code"]: row for row in csv.DictReader(io.StringIO(path.read_text("utf-8-sig"), newline=""))}


def fill(path: Path) -> None:
    """What an estimator types: into the open cells and nowhere else."""
    book = load_workbook(path)
    for sheet, typed in (
        ("Bill", {"Rate": 7.25, "Note": NOTE}),
        ("Order list", {"Waste %": 8.5, "Pack holds": 250, "Price": 0.75}),
    ):
        page = book[sheet]
        top = next(row for row in page.iter_rows() if any(cell.value == "Code" for cell in row))
        columns = {cell.value: cell.column for cell in top}
        row = next(r for r in range(top[0].row + 1, page.max_row) if page.cell(r, columns["Code"]).value == "UNIT-NR/BRICK_65")
        for heading, value in typed.items():
            cell = page.cell(row, columns[heading])
            assert not cell.protection.locked, heading
            cell.value = value
            if isinstance(value, str):
                cell.data_type = "s"
    for name, value in SETTINGS.items():
        ((title, place),) = book.defined_names[name].destinations
        book[title][place] = value
    book.save(path)


@pytest.fixture
def spec(tmp_path: Path) -> Path:
    path = tmp_path / "garden.json"
    path.write_text(json.dumps(PLAIN), encoding="utf-8")
    return path


@pytest.mark.parametrize("rules", ["net", "nrm2-like", "is1200-like"])
def test_workbook_csv_and_terminal_say_the_same(tmp_path, spec, rules):
    spec.write_text(json.dumps(PLAIN | {"measurement": {"rules": rules}}))
    out = tmp_path / "out"
    draw(spec, out, "--formats", "xlsx,csv")
    lines = [f'"{code}",{row["Unit"]},{number}.375\n' for number, (code, row) in enumerate(flat(out).items(), 3)]
    (tmp_path / "book.csv").write_text("code,unit,rate\n" + "".join(lines))
    said = draw(spec, out, "--formats", "xlsx,csv", "--prices", tmp_path / "book.csv")
    bill, rows = table(out / "garden.xlsx", "Bill"), flat(out)
    assert list(bill) == list(rows)
    for code, row in bill.items():
        assert float(rows[code]["Quantity"]) == pytest.approx(row["Quantity"], abs=1e-9), code
        assert float(rows[code]["Rate"]) == row["Rate"], code
        assert float(rows[code]["Amount"]) == pytest.approx(row["Amount"], abs=1e-9), code
    book = load_workbook(out / "garden.xlsx", data_only=True)
    ((title, place),) = book.defined_names["BILL_TOTAL"].destinations
    total = book[title][place].value
    assert total == pytest.approx(sum(float(row["Amount"]) for row in rows.values()), abs=1e-6)
    assert f"total of the bill: {total:,.2f}" in said
    assert f"  {len(bill)} of {len(bill)} lines of the bill have a rate" in said


def libre_office(path: Path, folder: Path) -> Path:
    home = f"-env:UserInstallation=file://{folder / 'lo'}"
    command = ["soffice", home, "--headless", "--convert-to", "xlsx", "--outdir", str(folder), str(path)]
    subprocess.run(command, check=True, capture_output=True, timeout=180)
    return folder / path.name


def gnumeric(path: Path, folder: Path) -> Path:
    subprocess.run(["ssconvert", "--recalc", str(path), str(folder / path.name)], check=True, capture_output=True, timeout=180)
    return folder / path.name


SAVED_BY = {
    "openpyxl": lambda path, _: path,
    "soffice": libre_office,
    "ssconvert": gnumeric,
}


@pytest.mark.parametrize("program", SAVED_BY)
def test_what_was_typed_comes_back_whatever_saved_it(tmp_path, spec, program):
    if program != "openpyxl" and not shutil.which(program):
        pytest.skip(f"{program} is not installed")
    draw(spec, tmp_path / "first", "--formats", "xlsx")
    old = tmp_path / "first" / "garden.xlsx"
    before = table(old, "Order list")["UNIT-NR/BRICK_65"]
    fill(old)
    (tmp_path / "saved").mkdir()
    saved = SAVED_BY[program](old, tmp_path / "saved")
    said = draw(spec, tmp_path / "second", "--formats", "xlsx,csv", "--keep-rates", saved)
    new = tmp_path / "second" / "garden.xlsx"
    billed, ordered = table(new, "Bill")["UNIT-NR/BRICK_65"], table(new, "Order list")["UNIT-NR/BRICK_65"]
    assert (billed["Rate"], billed["Note"]) == (7.25, NOTE)
    assert (ordered["Waste %"], ordered["Pack holds"], ordered["Price"]) == (8.5, 250, 0.75)
    assert (ordered["Waste % as drawn"], ordered["Pack as drawn"]) == (before["Waste % as drawn"], before["Pack as drawn"])
    others = {code: row for code, row in table(new, "Bill").items() if code != "UNIT-NR/BRICK_65"}
    assert not any(row["Rate"] or row["Note"] for row in others.values())
    book = load_workbook(new)
    for name, value in SETTINGS.items():
        ((title, place),) = book.defined_names[name].destinations
        assert book[title][place].value == value
    assert "1 of " in said
    assert re.search(r"no longer there", said) is None


def test_kept_twice_is_kept_once_more(tmp_path, spec):
    """The second workbook is as good a source as the first: same bytes, whichever of the two is kept from."""
    draw(spec, tmp_path / "first", "--formats", "xlsx")
    fill(tmp_path / "first" / "garden.xlsx")
    draw(spec, tmp_path / "second", "--formats", "xlsx", "--keep-rates", tmp_path / "first" / "garden.xlsx")
    draw(spec, tmp_path / "third", "--formats", "xlsx", "--keep-rates", tmp_path / "second" / "garden.xlsx")
    second, third = (table(tmp_path / n / "garden.xlsx", "Bill") for n in ("second", "third"))
    assert second == third
    assert table(tmp_path / "second" / "garden.xlsx", "Order list") == table(tmp_path / "third" / "garden.xlsx", "Order list")


def test_a_workbook_may_be_kept_from_where_the_new_one_goes(tmp_path, spec):
    out = tmp_path / "out"
    draw(spec, out, "--formats", "xlsx")
    fill(out / "garden.xlsx")
    draw(spec, out, "--formats", "xlsx", "--keep-rates", out / "garden.xlsx")
    assert table(out / "garden.xlsx", "Bill")["UNIT-NR/BRICK_65"]["Rate"] == 7.25


def test_what_left_the_building_is_listed(tmp_path, spec):
    draw(spec, tmp_path / "first", "--formats", "xlsx")
    fill(tmp_path / "first" / "garden.xlsx")
    spec.write_text(spec.read_text().replace("brick_65", "calcium_silicate_brick_65"))
    said = draw(spec, tmp_path / "second", "--formats", "xlsx", "--keep-rates", tmp_path / "first" / "garden.xlsx")
    assert "2 lines of the earlier workbook no longer there: UNIT-NR/BRICK_65, UNIT-NR/BRICK_65" in said
    page = load_workbook(tmp_path / "second" / "garden.xlsx")["Rates"]
    texts = [cell.value for row in page.iter_rows() for cell in row if isinstance(cell.value, str)]
    assert any("rate 7.25, note '=not a formula" in text for text in texts)
    assert any("price 0.75, waste % 8.5, pack 250" in text for text in texts)
