"""With several specs the sets of the first were written before the template of a later one was refused, and "nothing was
written" was said."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from elevgen.cli import main

SPEC = {
    "spec": 1,
    "leaves": {"o": {"zones": [{"unit": "brick_65"}]}},
    "wall_types": {"t": {"outer": "o"}},
    "walls": [{"id": "W1", "type": "t", "start": [0, 0], "end": [1500, 0], "top": 300, "joints": []}],
}


@pytest.mark.parametrize(
    ("sheet", "more"), [({"template": "bad.dxf"}, ()), ({"template": "bad.dxf", "dxf": "R12"}, ("--dxf", "R12"))]
)
def test_no_set_is_written(tmp_path: Path, sheet: dict[str, str], more: tuple[str, ...]) -> None:
    (tmp_path / "bad.dxf").write_text("no drawing", encoding="utf-8")
    (tmp_path / "a.json").write_text(json.dumps(SPEC), encoding="utf-8")
    (tmp_path / "b.json").write_text(json.dumps({**SPEC, "sheet": sheet}), encoding="utf-8")
    call = ["draw", str(tmp_path / "a.json"), str(tmp_path / "b.json"), "-o", str(tmp_path / "out"), *more]
    done = CliRunner().invoke(main, [*call, "--formats", "dxf,svg"])
    assert done.exit_code == 2
    assert "b.json:1:" in done.output and "nothing was written" in done.output
    assert not (tmp_path / "out").exists()
    assert CliRunner().invoke(main, [*call, "--formats", "svg"]).exit_code == 0, "only DXF files need a template"


@pytest.mark.parametrize("field", ["template", "layers"])
@pytest.mark.parametrize("name", ["é" * 190 + ".json", "folder.json"])
def test_names_no_file_can_have_and_folders_are_told(tmp_path: Path, field: str, name: str) -> None:
    (tmp_path / "folder.json").mkdir()
    (tmp_path / "a.json").write_text(json.dumps({**SPEC, "sheet": {field: name}}), encoding="utf-8")
    done = CliRunner().invoke(main, ["draw", str(tmp_path / "a.json"), "-o", str(tmp_path / "out")])
    assert done.exit_code == 2
    assert f"sheet.{field}: there is no such file beside the spec" in done.output
    assert "nearest: folder.json" not in done.output
