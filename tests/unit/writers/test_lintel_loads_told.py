"""What lintels carry, in the result file and in the workbook: for whom, how much, by which method, why not by others."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from typing import Any

import pytest
from openpyxl import load_workbook

from elevgen import pipeline
from elevgen.core.geometry import Span
from elevgen.result import Design
from elevgen.spec.models import Spec
from elevgen.writers._json_lintel_loads import load_of
from elevgen.writers._xlsx_lintel_loads import load_tables


@pytest.fixture(scope="module")
def design() -> Design:
    """A door in a wall high enough for its triangle, and a window whose triangle is too high."""
    openings = [
        {"id": "D1", "at": 2000, "width": 1010, "sill": 0, "height": 2100},
        {"id": "W1", "at": 5000, "width": 3000, "sill": 900, "height": 1200},
    ]
    wall = {"id": "A", "type": "t", "start": [0, 0], "end": [10000, 0], "top": 3200, "joints": [], "openings": openings}
    spec = {
        "spec": 1,
        "leaves": {"b": {"zones": [{"unit": "brick_65"}]}},
        "wall_types": {"t": {"outer": "b"}},
        "walls": [wall | {"loads": [{"level": 2700, "at": 5000, "length": 2000, "load": 6.0}]}],
    }
    return pipeline.design(Spec.model_validate(spec), "told")


def test_the_result_file_says_what_it_is_for_and_what_is_not_in_it(design: Design) -> None:
    door, window = (load_of(design, lintel) for lintel in design.fittings.lintels)
    assert door is not None and window is not None
    assert (door["method"], window["method"]) == ("load_triangle", "full")
    assert door["purpose"] == "for the engineer or the maker's load table, not an approval"
    assert door["reaction_start"] + door["reaction_end"] == pytest.approx(door["total"], abs=2e-4)
    assert window["loads"] == pytest.approx(12.0) and window["total"] == pytest.approx(window["masonry"] + 12, abs=2e-4)
    assert "the lintel's own weight" in door["not_included"] and "finishes" in door["not_included"]
    assert window["why"]["load_triangle"] == ["the wall is 1100 mm high over it, 1650 mm are asked for"]
    assert door["effective_span"] == {"between_bearing_centres": 1110, "clear_and_depth": None}
    assert door["densities"].keys() == {"brick_65"}
    assert (door["triangle"]["height"], door["triangle"]["level"]) == (pytest.approx(555.5), 2100)


def test_a_lintel_not_reckoned_has_no_load(design: Design) -> None:
    first, *rest = design.fittings.lintel_loads
    bare = replace(design, fittings=replace(design.fittings, lintel_loads=(replace(first, readings=()), *rest)))
    assert load_of(bare, bare.fittings.lintels[0]) is None


def test_several_spans_show_the_hardest_and_all(design: Design) -> None:
    door, window = design.fittings.lintel_loads
    spans = (
        replace(window, part=1, parts=2, clear=Span(5000, 6000), readings=door.readings),
        replace(window, part=2, parts=2, clear=Span(6500, 8000)),
    )
    cut = replace(design, fittings=replace(design.fittings, lintel_loads=(door, *spans)))
    record = load_of(cut, cut.fittings.lintels[1])
    assert record is not None
    assert (record["span"], record["clear"]) == (2, [6500, 8000])
    assert [span["span"] for span in record["spans"]] == [1, 2]


def test_the_workbook_has_a_row_for_each_and_says_why_not(design: Design) -> None:
    carried, compared, why, read = load_tables(design)
    assert carried.heading == "What each lintel carries: for the engineer or the maker's load table, not an approval"
    heads = [column.heading for column in carried.columns]
    rows: list[dict[str, Any]] = [dict(zip(heads, row, strict=True)) for row in carried.rows]
    assert [row["What counts"] for row in rows] == ["load triangle", "all that is above"]
    assert rows[1]["Loads given kN"] == 12.0
    assert [row[2:5] for row in compared.rows] == [
        (rows[0]["Load kN/m"], "does not hold", compared.rows[0][4]),
        ("does not hold", "does not hold", rows[1]["Load kN/m"]),
    ]
    told = [row[2:] for row in why.rows if str(row[0]).endswith("L-W1")]
    assert ("load triangle", "the wall is 1100 mm high over it, 1650 mm are asked for") in told
    assert {method for method, _ in told} == {"load triangle", "arching"}
    assert any("not factored" in str(line[0]) for line in read.rows)
    assert list(load_tables(replace(design, fittings=replace(design.fittings, lintel_loads=())))) == []


def test_they_are_on_the_sheet_lintels(design: Design, tmp_path: Any) -> None:
    import elevgen

    elevgen.write(design, tmp_path, formats=["xlsx"])
    (file,) = tmp_path.glob("*.xlsx")
    page = load_workbook(BytesIO(file.read_bytes()))["Lintels"]
    said = [str(cell.value) for row in page.iter_rows() for cell in row if cell.value is not None]
    assert "What each lintel carries: for the engineer or the maker's load table, not an approval" in said
    assert sum(d.width for d in page.column_dimensions.values()) <= 186
