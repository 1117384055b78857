"""`elevgen rules`: the table, its filters, the page of each document, two sets side by side, and what is refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from elevgen.cli import main
from elevgen.core.sourced import STATUS_WORDS
from elevgen.rules import documents, loader
from elevgen.rules.keys import KEYS
from elevgen.rules.loader import country_ids, load_book

CLAY = "movement_joint.spacing.normal.clay"
WITHIN = "movement_joint.corner.within"
FEET = f"""
title = "Feetland"
edition = "3"
lengths = "feet"
[rules."{CLAY}"]
value = 25
unit = "ft"
document = "Note 18"
clause = "table 2"
status = "memory"
note = "walls with openings have less"
[rules."lintel.bearing.long"]
value = "7 5/8"
unit = "in"
document = "Note 31"
status = "read"
alternatives = [
  {{ value = 8, unit = "in", document = "Code", clause = "9.1", status = "quoted" }},
  {{ value = "7 5/8", unit = "in", document = "Manual", status = "quoted" }},
]
[rules."{WITHIN}"]
value = 10
unit = "ft"
document = "Note 18"
status = "derived"
[not_covered]
"tie.density" = "given by wire size"
[why]
"lintel.bearing.long" = "of angles, which lie on units this long"
"""
METRIC = f"""
title = "Metria"
edition = "1"
[rules."{CLAY}"]
value = 12
unit = "m"
status = "practice"
[rules."lintel.bearing.long"]
value = 193.675
unit = "mm"
document = "Code"
status = "read"
[rules."tie.density"]
value = 2.5
unit = "per_m2"
document = "Code"
status = "quoted"
"""


@pytest.fixture
def two_sets(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Rule folders of two made-up countries in place of the real ones."""
    for name, text in (("feet", FEET), ("metric", METRIC)):
        (tmp_path / name).mkdir()
        (tmp_path / name / "rules.toml").write_text(text, encoding="utf-8")
    for module in (loader, documents):
        monkeypatch.setattr(module, "countries_folder", lambda: tmp_path)
    return tmp_path


def run(*arguments: str, columns: int = 100) -> Result:
    result = CliRunner(env={"COLUMNS": str(columns)}).invoke(main, ["rules", *arguments])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def told(*arguments: str, columns: int = 100) -> str:
    result = run(*arguments, columns=columns)
    assert (result.exit_code, result.stderr) == (0, "")
    return result.stdout


def test_the_sets_there_are() -> None:
    assert told().splitlines() == [
        f"{b.id}  {b.title}, edition {b.edition}: {len(b.values)} values" for b in map(load_book, country_ids())
    ]
    assert [row["id"] for row in json.loads(told("--json"))] == list(country_ids())


@pytest.mark.usefixtures("two_sets")
def test_a_line_a_value_with_how_it_is_known_and_its_source() -> None:
    lines = told("feet").splitlines()
    assert lines[0] == "Feetland, edition 3: 3 values"
    (clay,) = [line for line in lines if CLAY in line]
    assert clay.split(CLAY)[1].strip() == "25' 0\"  from memory, check: Note 18, table 2"
    (bearing,) = [n for n, line in enumerate(lines) if line.strip().startswith("lintel.bearing.long ")]
    assert [line.strip() for line in lines[bearing : bearing + 3]] == [
        'lintel.bearing.long  7 5/8"  read: Note 31',
        'other figure: 8", Code, 9.1 (quoted)',
        "why this one: of angles, which lie on units this long",
    ]
    assert not any("Manual" in line or "have less" in line for line in lines), "what says the same, and notes, at length only"
    at_length = told("feet", "--long")
    assert "the same in: Manual (quoted)" in at_length
    assert "note: walls with openings have less" in at_length


@pytest.mark.usefixtures("two_sets")
def test_values_stand_under_their_subjects_and_meanings() -> None:
    lines = told("feet").splitlines()
    at = {text: n for n, text in enumerate(lines)}
    assert at["Movement joints: how far apart"] < at["Movement joints: where else, and how wide"] < at["Lintels"]
    (joints,) = [n for n, line in enumerate(lines) if WITHIN in line]
    assert lines[joints - 1].strip() == KEYS[WITHIN].meaning
    assert at["Lintels"] > joints
    assert "Not covered" in at
    assert any("given by wire size" in line for line in lines)
    assert [line.split(maxsplit=1) for line in lines[at["How they are known"] + 1 :]] == [
        ["1", "read: read in the document"],
        ["1", "from memory, check"],
        ["1", "worked out: worked out from the others"],
    ]


@pytest.mark.parametrize("columns", [60, 80, 100, 160])
def test_lines_keep_to_the_width_of_the_terminal(columns: int) -> None:
    lines = told("uk", "--long", columns=columns).splitlines()
    longest_key = max(len(key) for key in KEYS) + 6
    assert max(map(len, lines)) <= max(columns, longest_key)
    words = " ".join(" ".join(lines).split())
    for key, value in load_book("uk").values.items():
        assert key in words
        assert " ".join(value.note.split()) in words, key


def test_every_status_of_the_set_is_in_words() -> None:
    words = told("uk")
    assert "from memory, check" in words
    assert "common practice, no source" in words
    assert " memory:" not in words.replace("from memory", "")


def test_a_key_is_found_by_words_of_its_name_or_its_meaning() -> None:
    assert {row["key"] for row in json.loads(told("uk", "--key", "tie EDGE", "--json"))["values"]} == {
        "tie.edge.distance",
        "tie.edge.vertical",
        "tie.edge.clear",
    }
    by_meaning = json.loads(told("uk", "--key", "props concrete", "--json"))
    assert [row["key"] for row in by_meaning["values"]] == ["lintel.prop.spacing"]
    assert json.loads(told("uk", "--key", "tie nonsense", "--json"))["values"] == []
    assert "No rule with 'tie' and 'nonsense' in its key or meaning." in told("uk", "--key", "tie nonsense")


@pytest.mark.parametrize("status", STATUS_WORDS)
def test_only_what_is_known_one_way(status: str) -> None:
    data = json.loads(told("uk", "--how", status, "--json"))
    held = load_book("uk").values.items()
    assert {row["key"] for row in data["values"]} == {key for key, value in held if value.status == status} != set()
    assert data["not_covered"] == []
    assert "Not covered" not in told("uk", "--how", status)


def test_json_has_every_row_whole_and_in_one_order() -> None:
    data = json.loads(told("uk", "--json"))
    book = load_book("uk")
    assert list(data) == ["id", "title", "edition", "extends", "values", "units", "not_covered"]
    assert (data["id"], data["extends"]) == ("uk", list(book.lineage[1:]))
    assert {row["key"] for row in data["values"]} == set(book.values)
    for row in data["values"]:
        value = book.values[row["key"]]
        assert json.dumps(row["value"]) == json.dumps(value.value)
        assert (row["unit"], row["document"], row["edition"]) == (value.unit, value.document, value.edition)
        assert (row["clause"], row["status"], row["note"]) == (value.clause, value.status, value.note)
        assert row["known"] == STATUS_WORDS[value.status]
        others = book.alternatives[row["key"]]
        assert [(o["document"], o["status"], o["note"]) for o in row["alternatives"]] == [
            (o.document, o.status, o.note) for o in others
        ]
    assert {row["key"]: row["reason"] for row in data["not_covered"]} == dict(book.not_covered)
    assert [row["name"] for row in data["units"]] == sorted(book.units)
    assert told("uk", "--json") == told("uk", "--json")


def test_a_page_for_every_document() -> None:
    words = " ".join(told("uk", "--coverage", columns=160).split())
    assert "NHBC Standards technical standards of a warranty body" in words
    assert "not done: rubble stone brought to course" in words
    assert "left out: aircrete 9 m: uncertain memory" in words
    assert "Without a document (common practice, no source) coded: " in words
    assert ": :" not in words, "names of units have no stem"
    data = json.loads(told("uk", "--coverage", "--json"))
    nhbc = next(each for each in data["documents"] if each["document"] == "NHBC Standards")
    values = [value for value in load_book("uk").values.values() if value.document == "NHBC Standards"]
    assert sorted(nhbc["done"]) == sorted(value.key for value in values)
    assert sum(nhbc["by_status"].values()) == len(values)


@pytest.mark.usefixtures("two_sets")
def test_documents_nobody_wrote_of_are_shown_too() -> None:
    words = told("feet", "--coverage")
    assert words.startswith("Feetland, edition 3: 3 values from 2 documents")
    assert words.count("nothing is written down") == 4


@pytest.mark.usefixtures("two_sets")
def test_two_sets_side_by_side() -> None:
    lines = [line.strip() for line in told("--compare", "metric", "feet").splitlines()]
    assert lines[:2] == ["metric: Metria, edition 1", "feet: Feetland, edition 3"]
    clay = lines.index(f"{CLAY}: {KEYS[CLAY].meaning}")
    assert lines[clay + 1 : clay + 3] == [
        "metric  12 m  (common practice)",
        "feet    25' 0\"  (from memory, check: Note 18, table 2)",
    ]
    density = lines.index(f"tie.density: {KEYS['tie.density'].meaning}")
    assert lines[density + 1 : density + 3] == ["metric  2.5 per m2  (quoted: Code)", "feet    not covered: given by wire size"]
    assert not any("lintel.bearing.long" in line for line in lines), "the same length, whatever its unit"
    assert lines[-1] == "3 keys that differ: 1 with a value in both, 1 in metric only, 1 in feet only."
    whole = told("--compare", "metric", "feet", "--all")
    assert "lintel.bearing.long" in whole
    assert f"{len(KEYS)} keys: 2 with a value in both" in whole
    assert f"{len(KEYS) - 4} in neither." in whole


def test_materials_with_the_same_on_both_sides_are_told_once() -> None:
    """Six materials have 5 m in walls with openings in au and one reason for nothing in uk; limits differ and stand apart."""
    whole = told("--compare", "au", "uk", columns=200)
    lines = [line.strip() for line in whole.splitlines()]
    stem = "movement_joint.spacing.with_openings"
    (openings,) = [n for n, line in enumerate(lines) if line.startswith(stem)]
    materials = "clay, calcium_silicate, dense_concrete, lightweight_concrete, aircrete, stone"
    assert lines[openings].startswith(f"{stem}: {materials}: greatest length of wall")
    assert not lines[openings].endswith("stone")
    sides = [line for line in lines[openings:] if line.startswith(("au  ", "uk  "))]
    assert sides[0].startswith("au  5 m") and sides[1].startswith("uk  not covered")
    assert sum(line.startswith("movement_joint.spacing.limit.") for line in lines) == 4
    counted = json.loads(told("--compare", "au", "uk", "--json"))["rows"]
    assert lines[-1].startswith(f"{len(counted)} keys that differ")


@pytest.mark.usefixtures("two_sets")
def test_a_comparison_is_filtered_and_told_as_data() -> None:
    data = json.loads(told("--compare", "metric", "feet", "--key", "spacing clay", "--json"))
    (row,) = data["rows"]
    assert (row["key"], row["differs"], row["held_by"]) == (CLAY, True, "both")
    assert [row["sets"][name]["told"] for name in ("metric", "feet")] == ["12 m", "25' 0\""]
    assert row["sets"]["feet"]["value"] == 7620.0
    (known,) = json.loads(told("--compare", "metric", "feet", "--how", "derived", "--json"))["rows"]
    assert (known["key"], known["sets"]["metric"]["value"]) == (WITHIN, None)


@pytest.mark.usefixtures("two_sets")
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["metrik"], "no rule set 'metrik'; there is: feet, metric; nearest: metric"),
        (["atlantis"], "no rule set 'atlantis'; there is: feet, metric"),
        (["_common"], "no rule set '_common'"),
        (["--compare", "metric", "feat"], "no rule set 'feat'; there is: feet, metric; nearest: feet"),
        (["--compare", "feet", "feet"], "--compare takes two sets"),
        (["metric", "--compare", "metric", "feet"], "--compare names its two sets"),
        (["--compare", "metric", "feet", "--coverage"], "--coverage is of one set"),
        (["metric", "--all"], "--all goes with --compare"),
        (["metric", "--coverage", "--key", "tie"], "--coverage shows whole documents"),
        (["metric", "--coverage", "--how", "read"], "--coverage shows whole documents"),
        (["--coverage"], "which rule set?"),
        (["--key", "tie"], "which rule set?"),
        (["metric", "--how", "sure"], "'sure' is not one of"),
        (["--compare", "metric"], "requires 2 arguments"),
    ],
)
def test_what_shuts_each_other_out_is_refused(arguments: list[str], said: str) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


def test_a_broken_rule_file_is_bad_input(two_sets: Path) -> None:
    (two_sets / "metric" / "documents.toml").write_text('[[document]]\nname = "Kode"\n', encoding="utf-8")
    result = run("metric", "--coverage")
    assert result.exit_code == 2
    assert "metric/documents.toml: Kode: no value cites it" in result.stderr
    assert run("metric").exit_code == 0
