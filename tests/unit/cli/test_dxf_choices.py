"""`elevgen draw --dxf`, own layers and templates: what is chosen reaches the files, and what is wrong stops all writing."""

import json
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner

from elevgen.cli import main

ROOT = Path(__file__).parents[3]
RUN = CliRunner()


@pytest.fixture
def spec(tmp_path: Path) -> dict:
    held = json.loads((ROOT / "specs" / "kitchen-garden.json").read_text(encoding="utf-8"))
    return held | {"sheet": held.get("sheet", {})}


def draw(folder: Path, spec: dict, *options: str):
    path = folder / "walls.json"
    path.write_text(json.dumps(spec, indent=1), encoding="utf-8")
    return RUN.invoke(main, ["draw", str(path), "-o", str(folder / "out"), "--formats", "dxf", *options])


def content(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in (folder / "out").rglob("*.dxf")}


def test_an_option_overrides_the_spec_and_gives_what_the_spec_would(tmp_path, spec):
    assert draw(tmp_path, spec, "--dxf", "R12").exit_code == 0
    by_option = content(tmp_path)
    assert {ezdxf.readfile(p).dxfversion for p in (tmp_path / "out").rglob("*.dxf")} == {"AC1009"}
    spec["sheet"]["dxf"] = "R12"
    assert draw(tmp_path, spec).exit_code == 0
    assert content(tmp_path) == by_option
    assert draw(tmp_path, spec, "--dxf", "R2013").exit_code == 0
    assert {ezdxf.readfile(p).dxfversion for p in (tmp_path / "out").rglob("*.dxf")} == {"AC1027"}


def test_an_unknown_version_is_refused(tmp_path, spec):
    done = draw(tmp_path, spec, "--dxf", "R14")
    assert done.exit_code == 2
    assert "R2013" in done.output


def test_a_template_is_drawn_into_and_left_as_it_is(tmp_path, spec):
    doc = ezdxf.new("R2010", units=4)
    doc.layers.add("S-GRID", color=6)
    doc.saveas(tmp_path / "office.dxf")
    before = (tmp_path / "office.dxf").read_bytes()
    spec["sheet"]["template"] = "office.dxf"
    assert draw(tmp_path, spec).exit_code == 0
    first = content(tmp_path)
    assert "S-GRID" in ezdxf.readfile(tmp_path / "out" / "walls.dxf").layers
    assert draw(tmp_path, spec).exit_code == 0
    assert content(tmp_path) == first
    assert (tmp_path / "office.dxf").read_bytes() == before


@pytest.mark.parametrize(
    ("sheet", "files", "said"),
    [
        ({"template": "office.dxf"}, {"office.dxf": "no drawing"}, ["walls.json:", "sheet.template", "cannot be read as DXF"]),
        ({"template": "office.dxf", "dxf": "R12"}, {"office.dxf": "no drawing"}, ["walls.json:", "sheet.dxf", "R2013"]),
        ({"template": "metres.dxf"}, {}, ["walls.json:", "sheet.template", "drawn in m", "allowed: mm"]),
        ({"layers": "own.json"}, {"own.json": '{"layers": {"lintle": {}}}'}, ["own.json:1:", "layers.lintle", "nearest: lintel"]),
        ({"layers": "own.json"}, {"own.json": "{"}, ["own.json:1:"]),
    ],
)
def test_what_cannot_be_used_is_told_and_nothing_is_written(tmp_path, spec, sheet, files, said):
    ezdxf.new("R2010", units=6).saveas(tmp_path / "metres.dxf")
    for name, text in files.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    spec["sheet"] |= sheet
    done = draw(tmp_path, spec)
    assert done.exit_code == 2
    assert all(part in done.output for part in said), done.output
    assert "Traceback" not in done.output
    assert not (tmp_path / "out").exists()


def test_r12_by_option_with_a_template_is_refused_with_its_reason(tmp_path, spec):
    ezdxf.new("R2010", units=4).saveas(tmp_path / "office.dxf")
    spec["sheet"]["template"] = "office.dxf"
    done = draw(tmp_path, spec, "--dxf", "R12")
    assert done.exit_code == 2
    assert "R12 cannot hold all that a template may hold" in done.output


def test_own_layers_reach_every_drawing(tmp_path, spec):
    spec["sheet"]["layers"] = "own.json"
    own = {"table": "bs1192", "layers": {"unit": {"name": "MAS-UNITS", "colour": 30}}}
    (tmp_path / "own.json").write_text(json.dumps(own), encoding="utf-8")
    assert draw(tmp_path, spec).exit_code == 0
    for path in (tmp_path / "out").rglob("W*.dxf"):
        layers = ezdxf.readfile(path).layers
        assert layers.get("MAS-UNITS").color == 30
        assert "A-EF_25_10-M_Outline" in layers
