"""A user's own layers: what is given changes, all else stays; what is wrong is told with its place, all of it at once."""

import json
from pathlib import Path

import pytest

from elevgen.core.errors import SpecError
from elevgen.drawing.indexed import nearest_index
from elevgen.drawing.layers import load_table
from elevgen.drawing.own_layers import layers_of, own_layers
from elevgen.drawing.scene import Layer, Role
from elevgen.pipeline import load

ROOT = Path(__file__).parents[3]


def read(folder: Path, content: object) -> dict[Role, Layer]:
    path = folder / "office.json"
    path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
    return {layer.role: layer for layer in own_layers(path)}


def refused(folder: Path, content: object) -> list[tuple[str, str, str]]:
    """Where, what is allowed, and the nearest, of each fault."""
    with pytest.raises(SpecError) as told:
        read(folder, content)
    assert told.value.source == str(folder / "office.json")
    return [(fault.where, fault.allowed, fault.nearest) for fault in told.value.faults]


def test_an_empty_file_is_the_usual_table(tmp_path):
    assert tuple(read(tmp_path, {}).values()) == load_table("ncs")


def test_what_is_given_changes_and_all_else_stays(tmp_path):
    given = {"name": "MAS-JOINT", "colour": "#C03010", "width": 0.7, "line_type": "CENTER", "plot": False}
    made = read(tmp_path, {"table": "bs1192", "layers": {"movement_joint": given, "tie": {"name": "MAS-TIES"}}})
    base = {layer.role: layer for layer in load_table("bs1192")}
    joint = made.pop(Role.MOVEMENT_JOINT)
    rgb = (0xC0, 0x30, 0x10)
    assert joint == Layer(Role.MOVEMENT_JOINT, "MAS-JOINT", nearest_index(rgb), rgb, 0.7, "CENTER", False, rgb)
    tie = made.pop(Role.TIE)
    assert (tie.name, tie.rgb, tie.screen) == ("MAS-TIES", base[Role.TIE].rgb, base[Role.TIE].screen)
    assert all(base[role] == layer for role, layer in made.items())


@pytest.mark.parametrize(("index", "paper"), [(1, (255, 0, 0)), (7, (0, 0, 0)), (54, (127, 127, 0))])
def test_an_indexed_colour_stands_alone_so_that_plot_styles_can_go_by_it(tmp_path, index, paper):
    layer = read(tmp_path, {"layers": {"dpc": {"colour": index}}})[Role.DPC]
    assert (layer.index, layer.rgb, layer.screen) == (index, paper, None)


def test_roles_may_share_a_layer(tmp_path):
    made = read(tmp_path, {"layers": {"text": {"name": "NOTES"}, "mark": {"name": "NOTES"}}})
    assert made[Role.TEXT].name == made[Role.MARK].name == "NOTES"


@pytest.mark.parametrize(
    ("content", "where", "allowed", "nearest"),
    [
        ({"table": "ncz"}, "table", "bs1192, iso13567, ncs", "ncs"),
        ({"tabel": "ncs"}, "tabel", "layers, table", "table"),
        ({"layers": {"movment_joint": {}}}, "layers.movment_joint", "bed_reinforcement", "movement_joint"),
        ({"layers": {"tie": {"colr": 1}}}, "layers.tie.colr", "colour", "colour"),
        ({"layers": {"tie": {"name": "A|B"}}}, "layers.tie.name", "ASCII", ""),
        ({"layers": {"tie": {"name": "Maß"}}}, "layers.tie.name", "ASCII", ""),
        ({"layers": {"tie": {"name": 7}}}, "layers.tie.name", "text", ""),
        ({"layers": {"tie": {"name": "DefPoints"}}}, "layers.tie.name", "", ""),
        ({"layers": {"tie": {"colour": "red"}}}, "layers.tie.colour", "255", ""),
        ({"layers": {"tie": {"colour": 0}}}, "layers.tie.colour", "255", ""),
        ({"layers": {"tie": {"colour": 256}}}, "layers.tie.colour", "255", ""),
        ({"layers": {"tie": {"colour": True}}}, "layers.tie.colour", "255", ""),
        ({"layers": {"tie": {"colour": "#12345"}}}, "layers.tie.colour", "255", ""),
        ({"layers": {"tie": {"width": 0.3}}}, "layers.tie.width", "0.13, 0.18, 0.25", "0.25"),
        ({"layers": {"tie": {"width": "0.25"}}}, "layers.tie.width", "0.25", ""),
        ({"layers": {"tie": {"width": True}}}, "layers.tie.width", "0.25", ""),
        ({"layers": {"tie": {"line_type": "dashed"}}}, "layers.tie.line_type", "CENTER, CONTINUOUS, DASHED", "DASHED"),
        ({"layers": {"tie": {"plot": 1}}}, "layers.tie.plot", "true or false", ""),
        ({"layers": {"tie": "TIES"}}, "layers.tie", "{ }", ""),
        ({"layers": []}, "layers", "{ }", ""),
        ([], "(the whole file)", "{ }", ""),
        ({"layers": {"tie": {"name": "NOTES"}, "text": {"name": "Notes"}}}, "layers.text", "one way", ""),
    ],
)
def test_what_is_wrong_is_told_with_its_place(tmp_path, content, where, allowed, nearest):
    ((found, said, near),) = refused(tmp_path, content)
    assert (found, near) == (where, nearest)
    assert allowed in said


def test_every_fault_is_told_in_one_pass_in_the_order_of_the_file(tmp_path):
    text = '{\n "layers": {\n  "tie": {"width": 3},\n  "lintl": {},\n  "dpc": {"name": ""}\n }\n}'
    with pytest.raises(SpecError) as told:
        read(tmp_path, text)
    assert [(f.where, f.line) for f in told.value.faults] == [
        ("layers.tie.width", 3),
        ("layers.lintl", 4),
        ("layers.dpc.name", 5),
    ]


@pytest.mark.parametrize("text", ["", "{", '{"layers": {"tie": {}, "tie": {}}}', "\x00"])
def test_what_is_no_json_is_refused(tmp_path, text):
    with pytest.raises(SpecError):
        read(tmp_path, text)


def test_a_spec_finds_the_file_beside_it_and_is_refused_as_it_is_loaded(tmp_path):
    spec = json.loads((ROOT / "specs" / "studio.json").read_text(encoding="utf-8"))
    spec["sheet"] = spec.get("sheet", {}) | {"layers": "office.json"}
    path = tmp_path / "studio.json"
    path.write_text(json.dumps(spec), encoding="utf-8")
    read(tmp_path, {"layers": {"unit": {"name": "MAS-UNITS"}}})
    assert next(x for x in layers_of(load(path)) if x.role is Role.UNIT).name == "MAS-UNITS"
    (tmp_path / "office.json").write_text('{"layers": {"unit": {"name": ""}}}', encoding="utf-8")
    with pytest.raises(SpecError) as told:
        load(path)
    assert told.value.source.endswith("office.json")
