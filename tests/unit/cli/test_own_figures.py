"""`elevgen draw --prices`, `--keep-rates`, `--csv`: packs: what reaches the files, what is said, and what
stops all writing."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from openpyxl import Workbook

from elevgen.cli import main

PLAIN = {
    "spec": 1,
    "project": {"title": "Garden wall", "date": "2026-03-02"},
    "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
    "wall_types": {"half": {"outer": "brick"}},
    "walls": [{"id": "W1", "type": "half", "start": [0, 0], "end": [3365, 0], "base": 0, "top": 1050}],
}
WALLING = "WALL-M2/BRICK_65/STRETCHER/102.5"
UNITS = "UNIT-NR/BRICK_65"


def run(*arguments: str | Path) -> Result:
    result = CliRunner().invoke(main, [str(a) for a in arguments])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


@pytest.fixture
def spec(tmp_path: Path) -> Path:
    (tmp_path / "garden.json").write_text(json.dumps(PLAIN), encoding="utf-8")
    return tmp_path / "garden.json"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    content = (
        f"Code,Description,Unit,Rate,Price\n{WALLING},,m2,96.50,\n{UNITS},,nr,,0.85\nNO-SUCH,Gravel,t,30,\n{WALLING}X,,m2,1,\n"
    )
    (tmp_path / "book.csv").write_text(content, encoding="utf-8")
    return tmp_path / "book.csv"


def bill(folder: Path) -> dict[str, dict[str, str]]:
    (path,) = folder.glob("*-bill.csv")
    return {row["Code"]: row for row in csv.DictReader(io.StringIO(path.read_text("utf-8-sig"), newline=""))}


def names(folder: Path) -> set[str]:
    return {p.name for p in folder.iterdir()} if folder.exists() else set()


def test_rates_land_and_what_did_not_match_is_said(tmp_path, spec, book):
    out = tmp_path / "out"
    done = run("draw", spec, "-o", out, "--formats", "xlsx", "--csv", "--prices", book)
    assert done.exit_code == 0
    row = bill(out)[WALLING]
    assert row["Rate"] == "96.5"
    assert float(row["Amount"]) == round(float(row["Quantity"]) * 96.5, 2)
    said = done.output
    assert "  1 of " in said
    assert "2 lines of the price book not in the bill: NO-SUCH, " in said
    assert f"total of the bill: {float(row['Amount']):,.2f}" in said
    assert f"read on: sheet Rates of {out / 'garden.xlsx'}" in said


def test_csv_is_written_only_when_it_is_asked_for_and_does_not_go_stale(tmp_path, spec):
    out = tmp_path / "out"
    assert run("draw", spec, "-o", out, "--csv").exit_code == 0
    assert {"garden-bill.csv", "garden.xlsx", "garden.pdf"} <= names(out)
    assert "garden-bill.csv" in run("draw", spec, "-o", out, "--formats", "json").output
    assert run("draw", spec, "-o", out).exit_code == 0
    assert "garden-bill.csv" not in names(out)
    assert run("draw", spec, "-o", out, "--formats", "csv").exit_code == 0
    assert "garden-bill.csv" in names(out)
    (out / "garden-bill.csv").write_text("mine")
    assert f"{out / 'garden-bill.csv'} is of an earlier draw" in run("draw", spec, "-o", out).output
    assert (out / "garden-bill.csv").read_text() == "mine"


def test_each_of_several_specs_is_matched_by_itself(tmp_path, spec, book):
    other = json.loads(spec.read_text())
    other["leaves"]["brick"]["zones"] = [{"unit": "dense_block_100"}]
    (tmp_path / "store.json").write_text(json.dumps(other))
    done = run("draw", spec, tmp_path / "store.json", "-o", tmp_path / "out", "--formats", "csv", "--prices", book)
    assert done.exit_code == 0
    assert bill(tmp_path / "out" / "garden")[WALLING]["Rate"] == "96.5"
    assert not any(row["Rate"] for row in bill(tmp_path / "out" / "store").values())
    assert "4 lines of the price book not in the bill" in done.output


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (
            "Code,Unit,Rate\nA,nr,dear\n",
            "book.csv: row 2, column 3 (rate): not a number\n    given:   dear\n    allowed: a number from 0",
        ),
        ("Code,Rate\nA,1\n", "book.csv: row 1: the column unit is missing"),
    ],
)
def test_a_bad_book_stops_all_writing(tmp_path, spec, book, content, said):
    book.write_text(content)
    done = run("draw", spec, "-o", tmp_path / "out", "--prices", book)
    assert done.exit_code == 2
    assert said in done.output
    assert "1 fault; nothing was written." in done.output
    assert not (tmp_path / "out").exists()


def test_a_description_of_several_items_stops_all_writing(tmp_path, spec, book, monkeypatch):
    from elevgen.takeoff import pricing

    monkeypatch.setattr(
        pricing, "items_of", lambda takeoff: {c: pricing.Item(c, "Bricks", "nr", True, False) for c in ("A", "B")}
    )
    book.write_text("Description,Unit,Rate\nBricks,nr,1\n")
    done = run("draw", spec, "-o", tmp_path / "out", "--prices", book)
    assert done.exit_code == 2
    assert f"book.csv, for {spec}: row 2: the description fits several items" in done.output
    assert not (tmp_path / "out").exists()


def test_a_missing_book_and_one_that_no_file_would_show(tmp_path, spec, book):
    assert "cannot read" in run("draw", spec, "--prices", tmp_path / "none.csv").output
    done = run("draw", spec, "-o", tmp_path / "out", "--formats", "dxf,json", "--prices", book)
    assert (done.exit_code, names(tmp_path / "out")) == (2, set())
    assert "--formats must have xlsx or csv" in done.output


def earlier(folder: Path) -> Path:
    made = Workbook()
    page = made.active
    page.title = "Bill"
    page.append(["Bill"])
    page.append(["Code", "Item", "Quantity", "Unit", "Rate", "Amount", "Note"])
    page.append([WALLING, "Walling", 3.5, "m2", 88, None, "=dearer last year"])
    page.cell(3, 7).data_type = "s"
    page.append(["WALL-M2/GONE", "Walling", 3.5, "m2", 70, None, None])
    made.save(folder / "old.xlsx")
    return folder / "old.xlsx"


def test_kept_rates_win_over_the_book_and_what_is_gone_is_said(tmp_path, spec, book):
    done = run("draw", spec, "-o", tmp_path / "out", "--formats", "csv", "--prices", book, "--keep-rates", earlier(tmp_path))
    assert done.exit_code == 0
    row = bill(tmp_path / "out")[WALLING]
    assert (row["Rate"], row["Note"]) == ("88", "'=dearer last year")
    assert "1 line kept though the price book has another figure" in done.output
    assert "1 line of the earlier workbook no longer there: WALL-M2/GONE" in done.output


def test_an_earlier_workbook_is_of_one_building(tmp_path, spec):
    (tmp_path / "b.json").write_bytes(spec.read_bytes())
    assert run("draw", spec, tmp_path / "b.json", "--keep-rates", earlier(tmp_path)).exit_code == 2


def test_no_such_workbook_stops_all_writing(tmp_path, spec, book):
    done = run("draw", spec, "-o", tmp_path / "out", "--keep-rates", book)
    assert done.exit_code == 2
    assert "a workbook made by elevgen draw" in done.output
    assert not (tmp_path / "out").exists()


def test_from_python(tmp_path, spec, book):
    import elevgen

    design = elevgen.design(elevgen.load(spec), "garden")
    elevgen.write(design, tmp_path / "out", formats=("csv",), prices=book, keep_rates=earlier(tmp_path))
    assert bill(tmp_path / "out")[WALLING]["Rate"] == "88"


def test_the_help_says_what_a_price_book_is():
    said = " ".join(run("draw", "--help").output.split())
    for words in ("columns code or description (or both), unit, rate", "Nothing is guessed", "carried across by item code"):
        assert words in said


def test_hostile_codes_cannot_move_the_terminal(tmp_path, spec, book):
    book.write_text("Code,Unit,Rate\n\x1b[2JX,nr,1\n")
    assert "\x1b" not in run("draw", spec, "-o", tmp_path / "out", "--formats", "csv", "--prices", book).output


def test_packs_of_nothing_in_the_building_stop_every_set(spec, tmp_path):
    """The codes are only known when the walls are measured: the first set is not written for all that."""
    other = tmp_path / "other.json"
    asked = PLAIN | {"measurement": {"packs": {"UNIT-NR/BRICK_56": 452, "UNIT-NR": 500, "units": 0.5}}}
    other.write_text(json.dumps(asked, indent=2), encoding="utf-8")
    out = tmp_path / "out"
    result = run("draw", spec, other, "-o", out, "--formats", "json")
    assert result.exit_code == 2 and names(out) == set()
    assert "measurement.packs.UNIT-NR/BRICK_56: the building has no material" in result.stderr
    assert "nearest: UNIT-NR/BRICK_65" in result.stderr
    assert "measurement.packs.units: holds part of a thing that is counted" in result.stderr
    assert re.search(r"other\.json:\d+:\d+: ", result.stderr) and "2 faults; nothing was written." in result.stderr


def test_a_pack_of_nothing_in_the_building_is_pointed_at_in_a_spec_drawn_alone(tmp_path):
    alone = tmp_path / "alone.json"
    alone.write_text(json.dumps(PLAIN | {"measurement": {"packs": {"UNIT-NR/BRICK_56": 452}}}, indent=2), encoding="utf-8")
    result = run("draw", alone, "-o", tmp_path / "out", "--formats", "json")
    assert result.exit_code == 2
    assert re.search(r"alone\.json:\d+:\d+: measurement\.packs\.UNIT-NR/BRICK_56: ", result.stderr)
