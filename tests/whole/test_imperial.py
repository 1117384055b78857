"""A building in feet: nothing anybody reads is metric, but for what a document says of itself; a metric one knows no feet.

Bill, order list and `design.json` are held against one another by `test_reconciled`, which reads every spec; here what it does
not look at: sentences, the order list in the workbook, rates, and the shares that must add up to the last digit.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from csv import reader
from io import BytesIO, StringIO
from math import fsum
from pathlib import Path
from typing import Any

import pint
import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from elevgen import pipeline
from elevgen.cli import main
from elevgen.drawing.board import written
from elevgen.drawing.compose import compose
from elevgen.result import Design
from elevgen.spec.load import parse_text
from elevgen.takeoff.measure import measure
from elevgen.takeoff.pricing import PriceBook, PriceLine, bill_total, rates_for
from elevgen.writers import csv, xlsx
from elevgen.writers._package import Package
from elevgen.writers.json import document

DATA = Path(__file__).parent.parent / "data"
METRIC = re.compile(r"(?<![\w'\"/.])[0-9][0-9.,]* ?(mm2/m|mm2|mm|m2|m3|m|kg/m3|kg|kN/m|kNm|kN|MPa|N/mm2|ml|l)\b")
METRIC_WORDS = re.compile(r"\b(kg|mm|m2|m3|kN|kN/m|square metre|cubic metre|per_MPa|a metre)\b")
"""Units without a number, as headings have them."""
IMPERIAL = re.compile(r"[0-9] ?(ft|lb|plf|psi|sq ft|cu ft|fl oz)\b|[0-9]' [0-9]|[0-9]\"")
OF_DOCUMENTS = frozenset(("Basis", column) for column in "DEFH")
"""Columns of the workbook with documents, editions, clauses and notes as they are printed."""
LEFT_OUT = ("rules-not-covered", "not_covered")
"""Why a rule has no value is said in its document's words."""
REGISTRY = pint.UnitRegistry()


def designed(path: Path, **sheet: str) -> Design:
    spec: dict[str, Any] = json.loads(path.read_text())
    spec["sheet"] = {**spec.get("sheet", {}), **sheet}
    return pipeline.design(parse_text(json.dumps(spec), path.stem, pipeline.vocabulary()), path.stem)


@pytest.fixture(scope="module", params=["us-workshop", "duplex"])
def in_feet(request: pytest.FixtureRequest) -> Design:
    """A building of the rule set us, and one with many findings whose sheet asks for feet."""
    return designed(DATA / f"{request.param}.json", lengths="feet")


def sentences(design: Design) -> Iterator[tuple[str, str]]:
    """Everything written for people, with where it stands."""
    for finding in design.findings:
        if finding.code not in LEFT_OUT:
            yield finding.code, f"{finding.where}: {finding.text}"
    takeoff = measure(design)
    for record in document(design, takeoff)["movement_joints"]:
        yield "joint", f"{record['reason']}; {record['width_words']}; {'; '.join(other['why'] for other in record['rejected'])}"
    for placement in design.plan.placements:
        for relaxed in placement.relaxed:
            yield "relaxed", f"{relaxed.where} {[remedy.words for remedy in relaxed.remedies or ()]}"
    for quantity in takeoff.quantities:
        yield "bill", f"{quantity.item}; {quantity.derivation}"
        yield from (("deduction", taken.rule) for taken in quantity.deductions)
    for order in takeoff.for_people.orders:
        yield "order", f"{order.item}; {order.handling}"
    scene = compose(design)
    package = Package(design, takeoff, scene)
    lines = reader(StringIO(next(iter(csv.render(package).values())).decode("utf-8-sig")))
    yield from (("csv", " ".join(field for field in (line[2], line[4]))) for line in lines)
    for sheet in load_workbook(BytesIO(next(iter(xlsx.render(package).values())))):
        for row in sheet.iter_rows():
            for cell in row:
                said = isinstance(cell.value, str) and not cell.value.startswith("=")
                if said and (sheet.title, cell.column_letter) not in OF_DOCUMENTS and not _of_a_document(row):
                    yield f"{sheet.title} {cell.coordinate}", cell.value
    for view in scene.views:
        yield from ((view.id, text.text) for text in written(view.primitives, view.scale))
    for page in scene.sheets:
        yield from ((page.id, text.text) for text in written(page.primitives, 1.0))
    yield from (("caution", text) for text in scene.cautions)


def _of_a_document(row: tuple[Any, ...]) -> bool:
    """A row that says what the rule set does not cover, and why; on the sheet Basis its second column."""
    return any(isinstance(cell.value, str) and cell.value.startswith(("no value for", "rules-not-covered")) for cell in row) or (
        row[0].parent.title == "Basis" and all(cell.value is None for cell in row[2:])
    )


def test_nothing_read_is_metric(in_feet: Design) -> None:
    said = list(sentences(in_feet))
    assert len(said) > 2000
    assert [(where, text) for where, text in said if METRIC.search(text) or METRIC_WORDS.search(text)] == []


def test_a_metric_building_knows_no_feet() -> None:
    said = sentences(designed(DATA / "duplex.json"))
    assert [(where, text) for where, text in said if IMPERIAL.search(text)] == []


def test_there_is_something_to_find() -> None:
    """The look-out sees metric lengths where they are."""
    said = sentences(designed(DATA / "duplex.json"))
    assert sum(bool(METRIC.search(text)) for _, text in said) > 300


def test_the_terminal_is_in_feet(tmp_path: Path) -> None:
    spec = str(DATA / "us-workshop.json")
    checked = CliRunner().invoke(main, ["check", spec, "--all"]).output
    drawn = CliRunner().invoke(main, ["draw", spec, "-o", str(tmp_path), "--formats", "json"]).output
    lines = [line for line in (checked + drawn).splitlines() if "no value" not in line]
    assert len(lines) > 300
    assert [line for line in lines if METRIC.search(line)] == []


def test_the_result_stays_in_millimetres(in_feet: Design) -> None:
    """`design.json` and `check --json` are for programs: their numbers are metric, their unit says so."""
    lengths = [finding.record() for finding in in_feet.findings if finding.unit == "mm"]
    assert lengths
    doc = document(in_feet, measure(in_feet))
    assert {q["unit"] for q in doc["quantities"]} <= {"m", "m2", "m3", "l", "nr"}
    assert {unit: each["unit"] for unit, each in doc["shown_in"].items()} == {
        "m2": "sq ft", "m3": "cu ft", "m": "ft", "l": "fl oz", "nr": "nr",
    }  # fmt: skip


PINT = {"ft": ("foot", "m"), "sq ft": ("foot ** 2", "m ** 2"), "cu ft": ("foot ** 3", "m ** 3"), "fl oz": ("US_fluid_ounce", "l")}


def metric_of(amount: float, unit: str) -> float:
    return amount if unit == "nr" else REGISTRY.Quantity(amount, PINT[unit][0]).to(PINT[unit][1]).magnitude


def test_one_order_whatever_it_is_shown_in(in_feet: Design) -> None:
    """Rounded up to whole feet, square feet and fluid ounces once; pint turns it into the metres of the result."""
    takeoff = measure(in_feet)
    assert takeoff.shown is not None
    for ours, theirs in zip(takeoff.orders, takeoff.shown.orders, strict=True):
        assert metric_of(theirs.order, theirs.unit) == pytest.approx(ours.order, abs=2e-6), ours.code
        assert metric_of(theirs.needed, theirs.unit) == pytest.approx(ours.needed, abs=1e-4), ours.code
        assert round(theirs.order / theirs.step, 6).is_integer(), ours.code
        assert theirs.order >= theirs.with_waste - 1e-4
        assert fsum(need.needed for need in theirs.lifts) == pytest.approx(theirs.needed, abs=1e-9)
        if ours.weight is not None and theirs.weight is not None:
            assert REGISTRY.Quantity(theirs.weight, "pound").to("kg").magnitude == pytest.approx(ours.weight, rel=1e-6), ours.code


def test_shares_add_up_in_the_units_shown(in_feet: Design) -> None:
    takeoff = measure(in_feet).for_people
    shared = [q for q in takeoff.quantities if q.parts]
    assert shared
    for quantity in shared:
        assert fsum(part.net for part in quantity.parts) == pytest.approx(quantity.fixed, abs=1e-9), quantity.code


def test_rates_are_for_the_foot(in_feet: Design) -> None:
    """A price book by LF and SF lands; one by the metre is refused, and told what is taken."""
    takeoff = measure(in_feet).for_people
    walling = next(q for q in takeoff.quantities if q.code.startswith("WALL-"))
    joint = next(q for q in takeoff.quantities if q.code.startswith("JT-MOVE"))
    lines = (
        PriceLine(walling.code, "", "SF", 12.5, None, "row 2"),
        PriceLine(joint.code, "", "m", 3.0, None, "row 3"),
    )
    rates = rates_for(takeoff, PriceBook("book.csv", lines))
    assert rates.of(walling.code).rate == 12.5
    assert rates.of(joint.code).rate is None
    told = next(t for t in rates.told if t.told == "unit differs")
    assert "measured in ft, the line has m" in told.words
    assert "LF, SF" in told.words
    assert bill_total(takeoff, rates) == pytest.approx(12.5 * round(takeoff.billed(walling.code), 4), abs=0.006)


def test_presets_round_to_a_hundredth_of_what_is_shown() -> None:
    """A preset says nothing of feet: where it rounds metres to whole ones, feet are rounded to hundredths; a decision of ours."""
    spec = json.loads((DATA / "us-workshop.json").read_text())
    spec["measurement"] = {"rules": "nrm2-like"}
    design = pipeline.design(parse_text(json.dumps(spec), "us", pipeline.vocabulary()), "us")
    takeoff = measure(design).for_people
    for quantity in takeoff.quantities:
        billed = takeoff.billed(quantity.code)
        if quantity.kind == "work" and quantity.unit != "nr":
            assert takeoff.bill_step(quantity.code) == 0.01
            assert billed == pytest.approx(round(billed, 2), abs=1e-9)


def test_stock_of_reinforcement_is_bought_by_the_foot(in_feet: Design) -> None:
    said = [q.derivation for q in measure(in_feet).quantities if q.code.startswith("BR-STOCK")]
    assert said
    assert all("in the order by the foot" in words for words in said)
