"""Files a spec names: a table of layers, a template. They are looked for beside the spec, and missed with a clear word."""

from pathlib import Path

import pytest

from elevgen.core.errors import SpecError
from elevgen.spec.load import load_file


def written(folder: Path, good: str, sheet: str) -> Path:
    path = folder / "kiln.json"
    path.write_text(good.replace('"layers": "ncs"', sheet), encoding="utf-8")
    return path


def test_a_file_that_is_there_is_found_beside_the_spec_wherever_one_stands(tmp_path, good, vocabulary, monkeypatch):
    (tmp_path / "office.json").write_text("{}")
    (tmp_path / "office.dxf").write_text("")
    path = written(tmp_path, good, '"layers": "office.json", "template": "office.dxf"')
    monkeypatch.chdir("/")
    spec = load_file(path, vocabulary)
    assert spec.folder == tmp_path
    assert (spec.folder / spec.sheet.template).is_file()


def test_where_a_spec_lies_is_no_part_of_what_it_says(tmp_path, good, vocabulary):
    here, there = tmp_path / "a", tmp_path / "b"
    for folder in (here, there):
        folder.mkdir()
        written(folder, good, '"layers": "ncs"')
    dumps = {load_file(folder / "kiln.json", vocabulary).model_dump_json() for folder in (here, there)}
    assert len(dumps) == 1


@pytest.mark.parametrize(
    ("field", "given", "near"), [("layers", "ofice.json", "office.json"), ("template", "offise.dxf", "office.dxf")]
)
def test_a_missing_file_is_told_with_its_place_and_the_nearest_name(tmp_path, good, vocabulary, field, given, near):
    (tmp_path / near).write_text("")
    sheet = f'"{field}": "{given}"'
    path = written(tmp_path, good, sheet)
    with pytest.raises(SpecError) as caught:
        load_file(path, vocabulary)
    (fault,) = caught.value.faults
    assert (fault.where, fault.nearest) == (f"sheet.{field}", near)
    assert given in fault.given
    line = path.read_text().splitlines()[fault.line - 1]
    assert line[fault.column - 1 :].startswith(f'"{given}"')
