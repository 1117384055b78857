"""The DXF read back: everything in the scene is there, once, on its layer, and nothing needs repair."""

from collections import Counter
from dataclasses import replace
from datetime import datetime
from io import StringIO

import ezdxf
import pytest
from ezdxf.tools.juliandate import calendardate

from elevgen.drawing.scene import Dimension, Scene
from elevgen.writers import dxf

KINDS = {
    "Line": "LINE",
    "Polyline": "LWPOLYLINE",
    "Fill": "HATCH",
    "Text": "TEXT",
    "Paragraph": "MTEXT",
    "Dimension": "DIMENSION",
    "Symbol": "INSERT",
    "BlockUse": "INSERT",
}


@pytest.fixture
def read_back(scene: Scene):
    return ezdxf.read(StringIO(dxf.drawing(scene, "0" * 64).decode()))


def counted(scene: Scene, primitives) -> Counter:
    return Counter((KINDS[type(p).__name__], scene.layer(p.role).name) for p in primitives)


def test_audit_finds_nothing_and_fixes_nothing(read_back):
    audit = read_back.audit()
    assert (audit.errors, audit.fixes) == ([], [])


def test_model_space_holds_the_scene_layer_for_layer(scene, read_back):
    entities = Counter((e.dxftype(), e.dxf.layer) for e in read_back.modelspace())
    assert entities == counted(scene, [p for v in scene.views for p in v.primitives])


def test_blocks_hold_what_the_scene_draws_once(scene, read_back):
    block = scene.blocks[0]
    entities = Counter((e.dxftype(), e.dxf.layer) for e in read_back.blocks.get(f"EG-{block.name}"))
    assert entities == counted(scene, block.primitives)


def test_paper_space_holds_the_sheet_and_one_viewport_per_window(scene, read_back):
    sheet = scene.sheets[0]
    layout = read_back.layouts.get("W1 outer 1 2")
    drawn = [e for e in layout if e.dxftype() != "VIEWPORT"]
    assert Counter((e.dxftype(), e.dxf.layer) for e in drawn) == counted(scene, sheet.primitives)
    ports = [e for e in layout if e.dxftype() == "VIEWPORT" and e.dxf.id != 1]
    assert len(ports) == 1
    assert ports[0].dxf.view_height / ports[0].dxf.height == pytest.approx(20)


def test_extents_and_limits_are_those_of_the_placed_views(read_back):
    msp = read_back.modelspace()
    assert tuple(msp.dxf.extmin)[:2] == (400, 1400)
    assert tuple(msp.dxf.extmax)[:2] == (5600, 2700)
    assert tuple(read_back.header["$EXTMAX"])[:2] == (5600, 2700)


def test_units_are_millimetres_and_widths_show(read_back):
    assert read_back.header["$INSUNITS"] == 4
    assert read_back.header["$MEASUREMENT"] == 1
    assert read_back.header["$LWDISPLAY"] == 1


def test_dimensions_measure_true_and_say_so(read_back):
    dims = {round(d.dxf.actual_measurement, 3): d for d in read_back.modelspace().query("DIMENSION")}
    assert set(dims) == {1347.5, 225.0}
    assert dims[1347.5].dxf.text in ("", "<>")
    assert dims[225.0].dxf.text == "3 courses"
    parts = [e for d in dims.values() for e in d.get_geometry_block()]
    assert {e.dxf.text for e in parts if e.dxftype() == "TEXT"} == {"1347.5", "3 courses"}
    assert not [e for e in parts if e.dxftype() == "MTEXT"]  # some programs show none


def test_dimension_parts_lie_on_the_dimension_layer(scene, read_back):
    for dim in read_back.modelspace().query("DIMENSION"):
        assert {e.dxf.layer for e in dim.get_geometry_block()} <= {"T-DIMENSION", "Defpoints", "DEFPOINTS"}


def test_dimension_style_reaches_the_header(read_back):
    assert read_back.header["$DIMSCALE"] == 20
    assert read_back.header["$DIMLFAC"] == 1
    assert read_back.header["$DIMTXT"] == 2.5


@pytest.mark.parametrize(("scales", "usual"), [((20, 50, 50), 50), ((20, 20, 100), 20), ((20, 50), 50)])
def test_the_header_has_the_dimension_scale_of_most_views(scene, scales, usual):
    """Some programs draw all dimensions of a file by the header. Views without dimensions have no say; of as many, the larger."""
    view = scene.views[0]
    bare = tuple(p for p in view.primitives if not isinstance(p, Dimension))
    views = [replace(view, id=f"W{n}/outer", scale=scale, place=(9000.0 * n, 0.0)) for n, scale in enumerate(scales)]
    views += [replace(view, id=f"C{n}", scale=10, place=(9000.0 * n, 9000.0), primitives=bare) for n in range(3)]
    header = ezdxf.read(StringIO(dxf.drawing(replace(scene, views=tuple(views), sheets=()), "x").decode())).header
    assert (header["$DIMSTYLE"], header["$DIMSCALE"]) == (f"ELEVGEN-{usual}", usual)


def test_text_is_sized_for_the_scale_and_kept_whole(read_back):
    texts = {t.dxf.text: t for t in read_back.modelspace().query("TEXT")}
    assert texts["<b>&\"' ± ² é =1+1"].dxf.height == 50
    assert texts["turned"].dxf.rotation == 90


def test_layers_carry_width_and_line_type(scene, read_back):
    for layer in scene.layers:
        entry = read_back.layers.get(layer.name)
        assert entry.dxf.lineweight == 25
        assert entry.dxf.linetype.upper() == layer.line_type
        assert bool(entry.dxf.plot) is layer.plot


def test_same_scene_same_bytes(scene):
    assert dxf.drawing(scene, "0" * 64) == dxf.drawing(scene, "0" * 64)


@pytest.mark.parametrize("name", ["$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"])
def test_the_only_date_is_the_projects(scene, name):
    lines = dxf.drawing(scene, "0" * 64).decode().splitlines()
    assert calendardate(float(lines[lines.index(name) + 2])) == datetime(2026, 3, 2)


def test_another_source_gives_another_identity(scene):
    one, other = (ezdxf.read(StringIO(dxf.drawing(scene, c * 64).decode())) for c in "ab")
    assert one.header["$VERSIONGUID"] != other.header["$VERSIONGUID"]
