"""A set is put in place whole or not at all, and a user's own files are left alone."""

import json
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen import writers
from elevgen.core.errors import OutputError
from elevgen.writers import formats, renderer, write_set
from elevgen.writers._folder import LIST_NAME, replace_set
from elevgen.writers._names import file_stem, is_safe
from elevgen.writers._package import Package

OLD = {"svg": {"elevations/W1-outer.svg": b"old 1", "elevations/W9-outer.svg": b"old 9"}, "json": {"design.json": b"old"}}
NEW = {"svg": {"elevations/W1-outer.svg": b"new 1", "plan.svg": b"new plan"}, "json": {"design.json": b"new"}}


def content(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != LIST_NAME
    }


def test_a_set_is_written_and_nothing_else_left_behind(tmp_path: Path) -> None:
    folder = tmp_path / "not" / "yet" / "there"
    written = replace_set(folder, "shed", OLD)
    assert content(folder) == {**OLD["svg"], **OLD["json"]}
    assert written == sorted(folder / path for path in content(folder))
    assert sorted(p.name for p in folder.iterdir()) == [LIST_NAME, "design.json", "elevations"]


def test_stale_files_go_and_a_users_files_stay(tmp_path: Path) -> None:
    replace_set(tmp_path, "shed", OLD)
    (tmp_path / "elevations" / "mine.svg").write_bytes(b"mine")
    (tmp_path / "notes.txt").write_bytes(b"mine too")
    replace_set(tmp_path, "shed", NEW)
    mine = {"elevations/mine.svg": b"mine", "notes.txt": b"mine too"}
    assert content(tmp_path) == {**NEW["svg"], **NEW["json"], **mine}


def test_a_stale_file_somebody_changed_stays(tmp_path: Path) -> None:
    replace_set(tmp_path, "shed", OLD)
    (tmp_path / "elevations" / "W9-outer.svg").write_bytes(b"with my notes on it")
    replace_set(tmp_path, "shed", NEW)
    assert content(tmp_path)["elevations/W9-outer.svg"] == b"with my notes on it"


def test_a_file_somebody_changed_is_kept_under_another_name_when_its_place_is_needed(tmp_path: Path) -> None:
    """Its figures are not lost; the same file twice is kept once, and what nobody changed is not kept."""
    replace_set(tmp_path, "a", {"one": {"a.txt": b"1", "sub/b.txt": b"2"}})
    for change, kept in ((b"mine", "-yours"), (b"mine too", "-yours-2"), (b"mine", "-yours")):
        (tmp_path / "sub/b.txt").write_bytes(change)
        written = replace_set(tmp_path, "a", {"one": {"a.txt": b"1", "sub/b.txt": b"3"}})
        assert tmp_path / f"sub/b{kept}.txt" in written
        assert (tmp_path / f"sub/b{kept}.txt").read_bytes() == change
        assert (tmp_path / "sub/b.txt").read_bytes() == b"3"
    replace_set(tmp_path, "a", {"one": {"a.txt": b"1"}})
    assert sorted(p.name for p in tmp_path.rglob("*.txt")) == ["a.txt", "b-yours-2.txt", "b-yours.txt"]


def test_a_folder_emptied_of_stale_files_goes_too(tmp_path: Path) -> None:
    replace_set(tmp_path, "shed", OLD)
    replace_set(tmp_path, "shed", {"svg": {"plan.svg": b"plan"}})
    assert not (tmp_path / "elevations").exists()


def test_formats_not_asked_for_and_other_buildings_are_left(tmp_path: Path) -> None:
    replace_set(tmp_path, "shed", OLD)
    replace_set(tmp_path, "shed", {"json": {"design.json": b"new"}})
    assert content(tmp_path) == {**OLD["svg"], "design.json": b"new"}
    replace_set(tmp_path, "barn", {"svg": {"plan.svg": b"barn"}})
    assert content(tmp_path) == {**OLD["svg"], "design.json": b"new", "plan.svg": b"barn"}


@pytest.mark.parametrize("fails_at", range(4))
def test_a_failed_move_leaves_the_old_set_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails_at: int) -> None:
    replace_set(tmp_path, "shed", OLD)
    before, listed = content(tmp_path), (tmp_path / LIST_NAME).read_bytes()
    move, calls = Path.replace, []

    def failing(self: Path, target: Path) -> Path:
        if "new" in self.parts:
            calls.append(self)
            if len(calls) > fails_at:
                monkeypatch.setattr(Path, "replace", move)
                raise OSError(28, "No space left on device")
        return move(self, target)

    monkeypatch.setattr(Path, "replace", failing)
    with pytest.raises(OutputError, match="No space left"):
        replace_set(tmp_path, "shed", NEW)
    assert content(tmp_path) == before
    assert (tmp_path / LIST_NAME).read_bytes() == listed
    assert sorted(p.name for p in tmp_path.iterdir()) == [LIST_NAME, "design.json", "elevations"]


@pytest.mark.parametrize("links", [True, False])
def test_a_stale_file_that_will_not_go_brings_everything_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool
) -> None:
    replace_set(tmp_path, "shed", OLD)
    before, unlink = content(tmp_path), Path.unlink

    def failing(self: Path, missing_ok: bool = False) -> None:
        if self.name == "W9-outer.svg":
            raise PermissionError(13, "Permission denied")
        unlink(self, missing_ok)

    monkeypatch.setattr(Path, "unlink", failing)
    if not links:
        monkeypatch.setattr(os, "link", lambda *_args, **_kw: (_ for _ in ()).throw(OSError(95, "no links here")))
    with pytest.raises(OutputError, match="Permission denied"):
        replace_set(tmp_path, "shed", NEW)
    assert content(tmp_path) == before


def test_an_interrupted_run_puts_the_old_set_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    replace_set(tmp_path, "shed", OLD)
    before, move = content(tmp_path), Path.replace

    def interrupted(self: Path, target: Path) -> Path:
        moved = move(self, target)
        if "new" in self.parts and self.name == "plan.svg":
            raise KeyboardInterrupt
        return moved

    monkeypatch.setattr(Path, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        replace_set(tmp_path, "shed", NEW)
    assert content(tmp_path) == before


def test_a_first_set_that_fails_leaves_no_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(_self: Path, _target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", failing)
    with pytest.raises(OutputError):
        replace_set(tmp_path / "a" / "b", "shed", NEW)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_in_the_way_of_a_file_is_refused_and_kept(tmp_path: Path) -> None:
    replace_set(tmp_path, "shed", OLD)
    (tmp_path / "plan.svg").mkdir()
    before = content(tmp_path)
    with pytest.raises(OutputError, match=r"plan\.svg"):
        replace_set(tmp_path, "shed", NEW)
    assert content(tmp_path) == before
    assert (tmp_path / "plan.svg").is_dir()


def test_a_file_where_the_folder_should_be_is_an_output_error(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"a file")
    for folder in (tmp_path / "out", tmp_path / "out" / "deeper"):
        with pytest.raises(OutputError):
            replace_set(folder, "shed", NEW)
    assert (tmp_path / "out").read_bytes() == b"a file"


@pytest.mark.parametrize("bad", ["../out.svg", "/etc/passwd", "a//b", "a\\b.svg", ".hidden", "a/..", "", "a.", "x\n"])
def test_a_path_that_is_not_plain_is_refused(tmp_path: Path, bad: str) -> None:
    with pytest.raises(OutputError, match="not a plain file name"):
        replace_set(tmp_path / "set", "shed", {"svg": {bad: b""}})
    assert not (tmp_path / "set").exists()


def test_two_formats_may_not_write_one_file(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="two formats"):
        replace_set(tmp_path, "shed", {"a": {"x.txt": b"1"}, "b": {"x.txt": b"2"}})


@pytest.mark.parametrize(
    "tampered",
    [
        '{"name": "shed", "files": {"svg": {"../victim": "HASH"}}}',
        '{"name": "shed", "files": {"svg": 7}}',
        '["shed"]',
        "not json",
        '{"name": "shed"}',
    ],
)
def test_a_tampered_list_removes_nothing(tmp_path: Path, tampered: str) -> None:
    from hashlib import sha256

    folder, victim = tmp_path / "set", tmp_path / "victim"
    victim.write_bytes(b"precious")
    replace_set(folder, "shed", OLD)
    (folder / LIST_NAME).write_text(tampered.replace("HASH", sha256(b"precious").hexdigest()))
    replace_set(folder, "shed", NEW)
    assert victim.read_bytes() == b"precious"
    assert content(folder) == {**OLD["svg"], **NEW["svg"], **NEW["json"]}


def test_the_list_has_no_clock_in_it(tmp_path: Path) -> None:
    for name in ("a", "b"):
        replace_set(tmp_path / name, "shed", OLD)
    assert (tmp_path / "a" / LIST_NAME).read_bytes() == (tmp_path / "b" / LIST_NAME).read_bytes()


@given(st.text(max_size=100))
def test_any_name_becomes_a_safe_file_name(name: str) -> None:
    stem = file_stem(name)
    assert is_safe(f"{stem}.xlsx")
    assert file_stem(stem) == stem


def test_a_plain_name_stays_as_it_is() -> None:
    assert file_stem("studio-2_b.v1") == "studio-2_b.v1"
    assert file_stem("../../etc/pass wd") == "etc-pass-wd"
    assert file_stem("…") == "building"


def test_formats_are_the_files_of_the_folder_and_each_keeps_the_contract() -> None:
    here = Path(writers.__file__).parent
    assert formats() == tuple(sorted(p.stem for p in here.glob("*.py") if not p.stem.startswith("_")))
    assert {"json", "xlsx"} <= set(formats())
    for name in formats():
        assert callable(renderer(name))


def test_an_unknown_format_is_refused_before_anything_is_written(tmp_path: Path, small_package: Package) -> None:
    with pytest.raises(ValueError, match=r"'docx'.*json.*xlsx"):
        write_set(small_package, tmp_path / "set", ("json", "docx"))
    assert not (tmp_path / "set").exists()


def test_a_writer_that_fails_leaves_the_old_set_whole(
    tmp_path: Path, small_package: Package, monkeypatch: pytest.MonkeyPatch
) -> None:
    from dataclasses import replace

    write_set(small_package, tmp_path, ("json", "xlsx"))
    before = content(tmp_path)
    spec = small_package.design.spec
    too_long = spec.model_copy(update={"project": spec.project.model_copy(update={"client": "x" * 40000})})
    with pytest.raises(OutputError, match="40000"):
        write_set(replace(small_package, design=replace(small_package.design, spec=too_long)), tmp_path, ("json", "xlsx"))
    assert content(tmp_path) == before


def test_files_are_named_after_the_design_made_safe(tmp_path: Path, small_package: Package) -> None:
    from dataclasses import replace

    odd = replace(small_package, design=replace(small_package.design, name="../Hen house: no. 7"))
    written = write_set(odd, tmp_path, ("xlsx", "json"))
    assert [p.name for p in written] == ["Hen-house-no.-7.xlsx", "design.json"]
    assert json.loads((tmp_path / "design.json").read_text())["name"] == "Hen-house-no.-7"


def test_a_whole_set_leaves_nothing_of_formats_no_longer_asked_for(tmp_path: Path) -> None:
    replace_set(tmp_path, "shed", {**OLD, "csv": {"shed-bill.csv": b"1"}}, whole=True)
    replace_set(tmp_path, "shed", {"json": {"design.json": b"new"}})
    assert "shed-bill.csv" in content(tmp_path)
    replace_set(tmp_path, "shed", NEW, whole=True)
    assert content(tmp_path) == {**NEW["svg"], **NEW["json"]}
    assert json.loads((tmp_path / LIST_NAME).read_bytes())["files"].keys() == NEW.keys()


def test_a_file_of_such_a_format_that_somebody_changed_stays(tmp_path: Path) -> None:
    replace_set(tmp_path, "shed", {**OLD, "csv": {"shed-bill.csv": b"1"}}, whole=True)
    (tmp_path / "shed-bill.csv").write_bytes(b"with my rates")
    replace_set(tmp_path, "shed", NEW, whole=True)
    assert content(tmp_path)["shed-bill.csv"] == b"with my rates"
