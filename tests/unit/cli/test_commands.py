"""Every command by its exit code and what it says; run in this process, `python -m elevgen` once in its own."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from elevgen.cli import main
from elevgen.core.version import VERSION

ROOT = Path(__file__).parents[3]
DUPLEX = ROOT / "tests" / "data" / "duplex.json"
CAUTION = "Setting-out aid, not a structural design."
PLAIN: dict[str, Any] = {
    "spec": 1,
    "project": {"title": "Garden wall", "date": "2026-03-02"},
    "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
    "wall_types": {"half": {"outer": "brick"}},
    "walls": [{"id": "W1", "type": "half", "start": [0, 0], "end": [3365, 0], "base": 0, "top": 1050}],
}


def run(*arguments: str | Path) -> Result:
    """One command; a traceback is a failed test, never an exit code."""
    result = CliRunner().invoke(main, [str(a) for a in arguments])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def written(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    """A spec in which nothing fails."""
    path = tmp_path / "garden.json"
    path.write_text(json.dumps(PLAIN, indent=2), encoding="utf-8")
    return path


BAD = """{
  "spec": 1,
  "leaves": {"brick": {"zones": [{"unit": "brik_65"}]}},
  "wall_types": {"half": {"outer": "brick"}},
  "walls": [
    {"id": "W1", "type": "halve", "start": [0, 0], "end": [3365, 0], "top": "ten",
     "openings": [{"id": "D1", "kind": "dor", "at": 100, "width": 900, "sill": 0, "height": 2000}]},
    {"id": "W2", "type": "half", "start": [3365, 0], "end": [3365, 2000], "top": 1050, "hieght": 3}
  ]
}
"""
FAULTS = {
    (3, "leaves.brick.zones[0].unit"): ("brik_65", "brick_65"),
    (6, "walls[0].type"): ("halve", "half"),
    (6, "walls[0].top"): ("ten", ""),
    (7, "walls[0].openings[0].kind"): ("dor", "door"),
    (8, "walls[1].hieght"): ("", ""),
}
"""Line and JSON path of every fault; the value given, the nearest valid name."""


@pytest.fixture
def bad(tmp_path: Path) -> Path:
    path = tmp_path / "bad.json"
    path.write_text(BAD, encoding="utf-8")
    return path


# --- draw ------------------------------------------------------------------------------------------------------------


def test_draw_writes_the_set_and_says_what_and_where(plain: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run("draw", plain, "-o", out)
    assert result.exit_code == 0
    names = set(written(out))
    assert {"garden.dxf", "garden.pdf", "garden.xlsx", "design.json", "elevations/W1-outer.svg"} <= names
    assert str(out) in result.stdout
    assert CAUTION in result.stdout


def test_draw_goes_to_dist_by_default(plain: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run("draw", plain.name, "--formats", "json").exit_code == 0
    assert (tmp_path / "dist" / "garden" / "design.json").is_file()


def test_draw_writes_only_the_formats_asked_for(plain: Path, tmp_path: Path) -> None:
    assert run("draw", plain, "-o", tmp_path / "out", "--formats", "xlsx, JSON").exit_code == 0
    assert {p for p in written(tmp_path / "out") if p[0] != "."} == {"garden.xlsx", "design.json"}


def test_draw_exits_0_though_a_check_fails(tmp_path: Path) -> None:
    result = run("draw", DUPLEX, "-o", tmp_path / "out", "--formats", "json")
    assert result.exit_code == 0
    assert re.search(r"\b\d+ fail\b", result.stdout)


def test_draw_several_specs_gives_each_its_folder(plain: Path, tmp_path: Path) -> None:
    other = tmp_path / "shed.json"
    other.write_text(json.dumps({**PLAIN, "project": {"title": "Shed"}}), encoding="utf-8")
    assert run("draw", plain, other, "-o", tmp_path / "out", "--formats", "json").exit_code == 0
    assert {p for p in written(tmp_path / "out") if "/." not in p} == {"garden/design.json", "shed/design.json"}


def test_draw_several_specs_of_one_name_loses_neither(plain: Path, tmp_path: Path) -> None:
    """Two specs whose sets would go to the same folder: refused, or both kept; never one over the other in silence."""
    (tmp_path / "b").mkdir()
    twin = tmp_path / "b" / plain.name
    twin.write_text(json.dumps({**PLAIN, "project": {"title": "Another"}}), encoding="utf-8")
    result = run("draw", plain, twin, "-o", tmp_path / "out", "--formats", "json")
    sets = [p for p in written(tmp_path / "out") if p.endswith("design.json")] if (tmp_path / "out").exists() else []
    assert (result.exit_code, len(sets)) in ((2, 0), (0, 2))


def test_one_bad_spec_of_several_writes_nothing(plain: Path, bad: Path, tmp_path: Path) -> None:
    assert run("draw", plain, bad, "-o", tmp_path / "out").exit_code == 2
    assert not (tmp_path / "out").exists()


def test_an_unknown_format_is_bad_input(plain: Path, tmp_path: Path) -> None:
    result = run("draw", plain, "-o", tmp_path / "out", "--formats", "dxf,dwf")
    assert result.exit_code == 2
    assert "'dwf'" in result.stderr
    assert "dxf, json, pdf, svg, xlsx" in result.stderr
    assert not (tmp_path / "out").exists()


def test_a_folder_that_cannot_be_made_is_exit_3(plain: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    result = run("draw", plain, "-o", tmp_path / "file" / "out")
    assert result.exit_code == 3
    assert "could not write" in result.stderr
    assert (tmp_path / "file").read_text(encoding="utf-8") == "in the way"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="nothing is forbidden to the superuser")
def test_a_folder_that_may_not_be_written_is_exit_3(plain: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    out.chmod(0o500)
    assert run("draw", plain, "-o", out).exit_code == 3
    assert written(out) == {}


def test_a_failed_write_leaves_the_old_set_whole(plain: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("draw", plain, "-o", out, "--formats", "dxf,json").exit_code == 0
    (out / "garden.xlsx").mkdir()
    before = written(out)
    plain.write_text(json.dumps({**PLAIN, "project": {"title": "Changed"}}), encoding="utf-8")
    assert run("draw", plain, "-o", out, "--formats", "dxf,json,xlsx").exit_code == 3
    assert written(out) == before


# --- bad input -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("command", ["draw", "check"])
def test_every_fault_is_told_with_its_place(command: str, bad: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    result = run(command, bad)
    assert result.exit_code == 2
    assert result.stdout == ""
    blocks = re.split(rf"^(?={re.escape(str(bad))}:)", result.stderr, flags=re.MULTILINE)[1:]
    told = {}
    for block in blocks:
        line, column, path = re.match(r".*?:(\d+):(\d+): ([^:]+): \S", block).groups()  # type: ignore[union-attr]
        assert int(column) > 1
        told[int(line), path] = block
    assert set(told) == set(FAULTS)
    for place, (given, nearest) in FAULTS.items():
        assert given in told[place]
        assert "allowed:" in told[place]
        if nearest:
            assert re.search(rf"nearest:\s+\S*{nearest}\b", told[place]), told[place]
    assert f"{len(FAULTS)} faults; nothing was written." in result.stderr
    assert {p.name for p in tmp_path.iterdir()} == {"bad.json"}


def test_a_fault_points_at_the_very_character(bad: Path) -> None:
    """Line and column, counted from 1, land on the value in the user's file."""
    stderr = run("check", bad).stderr
    line, column = map(int, re.search(r":(\d+):(\d+): walls\[0\]\.openings\[0\]\.kind:", stderr).groups())  # type: ignore[union-attr]
    assert BAD.splitlines()[line - 1][column - 1 :].startswith('"dor"')


def test_bad_input_leaves_an_old_set_untouched(plain: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("draw", plain, "-o", out, "--formats", "json,svg").exit_code == 0
    before = written(out)
    plain.write_text(BAD, encoding="utf-8")
    assert run("draw", plain, "-o", out).exit_code == 2
    assert written(out) == before


@pytest.mark.parametrize("command", ["draw", "check"])
@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("empty.json", b""),
        ("cut short.json", json.dumps(PLAIN).encode()[:-20]),
        ("not text.json", b"\xff\xfe\x00\x01{"),
        ("a list.json", b"[1, 2]"),
        ("nan.json", json.dumps({**PLAIN, "walls": [{**PLAIN["walls"][0], "top": float("nan")}]}).encode()),
        ("deep.json", b"[" * 5000),
    ],
)
def test_what_is_no_spec_is_bad_input(command: str, name: str, data: bytes, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(data)
    result = run(command, tmp_path / name, *(("-o", tmp_path / "out") if command == "draw" else ()))
    assert result.exit_code == 2
    assert name in result.stderr
    assert "Traceback" not in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("command", ["draw", "check"])
def test_a_file_that_is_not_there_is_bad_input(command: str, tmp_path: Path) -> None:
    for missing in (tmp_path / "none.json", tmp_path):
        result = run(command, missing)
        assert result.exit_code == 2
        assert str(missing) in result.stderr


@pytest.mark.parametrize("arguments", [["draw"], ["check"], ["sing"], ["draw", "--louder", "x.json"], ["new", "--plan", "round"]])
def test_a_wrong_command_line_is_bad_input(arguments: list[str]) -> None:
    assert run(*arguments).exit_code == 2


# --- check -----------------------------------------------------------------------------------------------------------


def test_check_exits_0_when_nothing_fails_and_1_when_something_does(plain: Path) -> None:
    assert run("check", plain).exit_code == 0
    result = run("check", DUPLEX)
    assert result.exit_code == 1
    assert CAUTION in result.stdout


def test_one_failing_spec_of_several_is_exit_1(plain: Path) -> None:
    assert run("check", DUPLEX, plain).exit_code == 1
    assert run("check", plain, plain).exit_code == 0


def test_check_says_the_worst_first_and_passes_only_when_asked() -> None:
    order = ["fail", "warn", "not checked", "note", "pass"]
    for option, passes in ((), False), (("--all",), True):
        lines = run("check", DUPLEX, *option).stdout.splitlines()
        kinds = [
            next(k for k in order if line.startswith(f"  {k} ")) for line in lines if re.match(rf"  ({'|'.join(order)})  ", line)
        ]
        assert kinds == sorted(kinds, key=order.index)
        assert ("pass" in kinds) is passes


def test_check_json_parses_and_holds_what_the_words_say(plain: Path) -> None:
    result = run("check", DUPLEX, plain, "--json", "--all")
    assert result.exit_code == 1
    told = json.loads(result.stdout)
    assert list(told) == [str(DUPLEX), str(plain)]
    fields = ["id", "code", "severity", "where", "measured", "operator", "limit", "unit", "document", "clause", "text", "waiver"]
    assert all(list(f)[: len(fields)] == fields for rows in told.values() for f in rows)
    severities = [f["severity"] for f in told[str(DUPLEX)]]
    words = run("check", DUPLEX).stdout
    assert f"{severities.count('fail')} fail" in words
    assert "pass" in severities
    fewer = json.loads(run("check", DUPLEX, "--json").stdout)[str(DUPLEX)]
    assert fewer == [f for f in told[str(DUPLEX)] if f["severity"] != "pass"]


def test_a_waiver_lets_check_pass_and_stays_visible(tmp_path: Path) -> None:
    spec = {**PLAIN, "walls": [{**PLAIN["walls"][0], "end": [9000, 0], "joints": [{"at": 5000}]}]}
    wide = {"id": "A", "kind": "opening", "at": 4000, "width": 2000, "sill": 0, "height": 600}
    spec["walls"][0]["openings"] = [wide]
    path = tmp_path / "waived.json"
    path.write_text(json.dumps(spec), encoding="utf-8")
    failing = [f for f in json.loads(run("check", path, "--json").stdout)[str(path)] if f["severity"] == "fail"]
    assert failing, "a joint given through an opening fails"
    spec["waivers"] = [
        {"finding": code, "where": "", "reason": "stands already", "by": "owner"} for code in sorted({f["code"] for f in failing})
    ]
    path.write_text(json.dumps(spec), encoding="utf-8")
    result = run("check", path)
    assert result.exit_code == 0
    assert result.stdout.count("accepted: stands already") >= len(failing)


def test_check_writes_nothing(plain: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    before = written(tmp_path)
    run("check", plain, "--json")
    assert written(tmp_path) == before


# --- schema, new; rules are in test_rules_command.py ------------------------------------------------------------------


def test_schema_is_the_one_in_specs() -> None:
    result = run("schema")
    assert result.exit_code == 0
    schema = json.loads(result.stdout)
    assert schema["properties"]["walls"]
    assert result.stdout == (ROOT / "specs" / "elevgen-spec-1.schema.json").read_text(encoding="utf-8")


@pytest.mark.parametrize("plan", ["straight", "l", "rectangle"])
def test_a_new_spec_draws(plan: str, tmp_path: Path) -> None:
    path = tmp_path / f"{plan}.json"
    assert (
        run("new", "--plan", plan, "--length", "7.35 m", "--width", "16' 5\"", "--height", "2550 mm", "-o", path).exit_code == 0
    )
    result = run("draw", path, "-o", tmp_path / "out", "--formats", "json,svg")
    assert result.exit_code == 0, result.stderr
    walls = {"straight": 1, "rectangle": 4, "l": 6}[plan]
    design = json.loads((tmp_path / "out" / "design.json").read_text(encoding="utf-8"))
    assert len({leaf["wall"] for leaf in design["leaves"]}) == walls
    assert max(leaf["length"] for leaf in design["leaves"]) == pytest.approx(7350)


def test_new_prints_without_a_file(tmp_path: Path) -> None:
    told = run("new", "--title", "Coop").stdout
    assert json.loads(told)["project"]["title"] == "Coop"


def test_new_never_overwrites(plain: Path) -> None:
    before = plain.read_bytes()
    result = run("new", "-o", plain)
    assert result.exit_code == 2
    assert plain.read_bytes() == before


def test_new_into_no_folder_is_exit_3(tmp_path: Path) -> None:
    result = run("new", "-o", tmp_path / "none" / "spec.json")
    assert result.exit_code == 3
    assert "could not write" in result.stderr


@pytest.mark.parametrize(("option", "given"), [("--length", "ten"), ("--height", "-3 m"), ("--width", "nan")])
def test_new_refuses_what_is_no_length(option: str, given: str) -> None:
    result = run("new", option, given)
    assert result.exit_code == 2
    assert given in result.stderr


# --- the program -----------------------------------------------------------------------------------------------------


def test_the_module_is_the_command(plain: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "elevgen", "draw", str(plain), "-o", str(tmp_path / "out"), "--formats", "json"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, encoding="utf-8", check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert CAUTION in done.stdout


def test_the_module_tells_faults_without_a_traceback(bad: Path, tmp_path: Path) -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "ascii", "LC_ALL": "C"}
    command = [sys.executable, "-m", "elevgen", "check", str(bad)]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, env=environment, check=False)
    assert done.returncode == 2
    assert b"Traceback" not in done.stderr
    assert done.stdout == b""


def test_version_and_help_name_every_command() -> None:
    assert VERSION in run("--version").stdout
    told = run("--help").stdout
    for command in ("draw", "check", "rules", "schema", "new"):
        assert re.search(rf"^  {command}\s", told, re.MULTILINE)
