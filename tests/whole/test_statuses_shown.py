"""How each rule is known goes with it: from the rule file to findings, Basis, drawing and terminal; never better than it is."""

from __future__ import annotations

import json
from itertools import takewhile
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from elevgen import pipeline
from elevgen.cli import main
from elevgen.core.sourced import STATUS_WORDS
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.schedule_findings import finding_table
from elevgen.drawing.schedule_memory import given_table, memory_table
from elevgen.result import Design

ROOT = Path(__file__).parents[2]
SPECS = {
    "studio": ROOT / "specs" / "studio.json",
    "duplex": ROOT / "tests" / "data" / "duplex.json",
    "kitchen-garden": ROOT / "specs" / "kitchen-garden.json",
}
DOUBT = STATUS_WORDS["memory"]


@pytest.fixture(scope="module", params=SPECS)
def named(request: pytest.FixtureRequest) -> tuple[str, Design]:
    return request.param, pipeline.design_file(SPECS[request.param])


@pytest.fixture(scope="module")
def drawn(named: tuple[str, Design], tmp_path_factory: pytest.TempPathFactory) -> tuple[Design, Path]:
    name, design = named
    folder = tmp_path_factory.mktemp(name)
    pipeline.write(design, folder, ("xlsx", "json"))
    return design, folder


def test_every_finding_from_memory_says_so(named: tuple[str, Design]) -> None:
    name, design = named
    doubtful = [f for f in design.findings if f.source and f.source.status == "memory"]
    assert doubtful, "there is no such finding to walk"
    for finding in doubtful:
        held = design.rules.values[finding.source.key] if finding.source else None
        assert held is not None and held.status == "memory", f"{finding.code} says worse than the set"
        assert (finding.record()["status"], finding.record()["known"]) == ("memory", DOUBT)
        assert DOUBT in f"{finding.text} {finding.doubt}"
    lines = CliRunner().invoke(main, ["check", str(SPECS[name]), "--all"]).stdout.splitlines()
    for finding in doubtful:
        told = [line for line in lines if f" {finding.code} " in line and f"{finding.where}: {finding.text}" in line]
        assert told and all(DOUBT in line for line in told), finding.id


def test_no_finding_is_known_better_than_its_rule(named: tuple[str, Design]) -> None:
    _, design = named
    order = ("read", "quoted", "derived", "practice", "memory")
    sure = 0
    for finding in design.findings:
        if finding.source and finding.source.key in design.rules.values:
            held = design.rules.values[finding.source.key].status
            assert order.index(finding.source.status) >= order.index(held), finding.id
            sure += finding.source.status == "read"
        remembered = any(rule.status == "memory" for rule in finding.rests_on)
        assert remembered == (DOUBT in f"{finding.text} {finding.doubt}"), finding.id
    assert sure


def rows_used(book: Path) -> dict[str, tuple[Any, ...]]:
    """The rows of Basis by rule, without the figures of other documents below them."""
    page = load_workbook(book)["Basis"].iter_rows(values_only=True)
    rows = takewhile(lambda row: not str(row[0]).startswith("Other figures"), page)
    return {row[0]: row for row in rows if isinstance(row[0], str)}


def test_basis_has_every_rule_behind_a_finding_with_its_status(drawn: tuple[Design, Path]) -> None:
    design, folder = drawn
    (book,) = folder.glob("*.xlsx")
    known = {key: row[6] for key, row in rows_used(book).items()}
    behind = {value.key: value for value in design.rules_behind}
    assert {rule.key for f in design.findings for rule in f.rests_on} <= set(behind)
    assert {key: value.known for key, value in behind.items()}.items() <= known.items()
    assert {"memory", "practice", "quoted", "read"} <= {value.status for value in behind.values()}
    data = json.loads((folder / "design.json").read_text(encoding="utf-8"))
    used = {value["key"]: value["status"] for value in data["rules"]["values_used"]}
    assert {key: value.status for key, value in behind.items()}.items() <= used.items()
    sources = {f["id"]: f["status"] for f in data["findings"]}
    assert sources == {f.id: f.source.status if f.source else None for f in design.findings}


def test_findings_sheet_says_how_the_rule_is_known(drawn: tuple[Design, Path]) -> None:
    design, folder = drawn
    (book,) = folder.glob("*.xlsx")
    words = {str(row[8]): str(row[6]) for row in load_workbook(book)["Findings"].iter_rows(values_only=True) if len(row) > 8}
    for finding in design.findings:
        if finding.source and finding.severity != "pass":
            assert all(rule.citation in words[finding.id] for rule in finding.rests_on)


def test_sheets_name_the_rules_from_memory_that_bear_on_them(named: tuple[str, Design]) -> None:
    _, design = named
    for facts in leaf_facts(design):
        (row,) = memory_table(facts).rows
        words = row.cells[0].casefold()
        assert "greatest width of a perpend: 15 mm" in words
        assert ("backer rod" in words) is bool(facts.joints)
        assert ("weep holes" in words) is bool(facts.trays)
        assert ("damp-proof course" in words) is bool(facts.damp_courses)
        for severity in ("fail", "warn"):
            told = " ".join(cell for row in finding_table(facts, severity, "").rows for cell in row.cells)  # type: ignore[arg-type]
            for finding in facts.findings:
                if finding.severity == severity and finding.doubt:
                    assert f"{finding.text} [{finding.doubt}]" in told
        assert not memory_table(facts._replace(remembered={})).rows


def test_an_override_is_shown_with_its_reason_and_by_whom(tmp_path: Path) -> None:
    spec = json.loads(SPECS["kitchen-garden"].read_text(encoding="utf-8"))
    given = {"rule": "dpc.lap", "value": 150, "unit": "mm", "reason": "sheet of the maker", "by": "site manager"}
    path = tmp_path / "own.json"
    path.write_text(json.dumps(spec | {"overrides": [*spec.get("overrides", []), given]}), encoding="utf-8")
    design = pipeline.design_file(path)
    assert "dpc.lap" not in design.remembered(), "a figure somebody answers for is no longer remembered"
    pipeline.write(design, tmp_path / "out", ("xlsx",))
    (book,) = (tmp_path / "out").glob("*.xlsx")
    row = rows_used(book)["dpc.lap"]
    assert row[1] == 150
    assert row[3] == "override by site manager"
    assert "sheet of the maker; in place of 100 mm, damp-proof course practice" in str(row[7])
    assert DOUBT in str(row[7]), "what it stands in place of keeps its status"
    for facts in leaf_facts(design):
        said = " ".join(cell for row in given_table(facts).rows for cell in row.cells)
        own = "damp-proof course: 150 mm (site manager: sheet of the maker; in place of 100 mm, damp-proof course practice"
        assert (own in said) is bool(facts.damp_courses)
        assert not given_table(facts._replace(given={})).rows
