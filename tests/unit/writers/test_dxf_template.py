"""Drawing into a user's template: all of it stays, and it settles how layers, texts, dimensions and title blocks look."""

import os
import subprocess
import sys
from dataclasses import replace
from io import StringIO
from pathlib import Path

import ezdxf
import pytest
from ezdxf.document import Drawing

from elevgen.core.errors import SpecError
from elevgen.core.geometry import Rect
from elevgen.drawing.scene import Scene, Text
from elevgen.writers import dxf
from elevgen.writers._dxf_template import template_of

ROOM = Rect(230.0, 10.0, 410.0, 48.0)
FIELDS = (
    ("APPROVED", "R. Østby"),
    ("CLIENT", "Hollow Lane Potters"),
    ("DATE", "2026-03-02"),
    ("NUMBER", "EX-01 W1/outer"),
    ("PROJECT", "Pottery studio"),
    ("SCALE", "1:20"),
    ("SHEET", "1"),
    ("SHEETS", "2"),
    ("TITLE", "South, outer leaf"),
)


def office(version: str = "R2000") -> Drawing:
    """A template of an office: nothing in it is symmetric or named as we would, and some names have accents."""
    doc = ezdxf.new(version, setup=False, units=4)
    doc.header["$LTSCALE"] = 0.7
    doc.header["$CLAYER"] = "0"
    doc.linetypes.add("STRICHEL", [4.0, 2.5, -1.5], description="- - -")
    doc.layers.add("A-ELEV-JNTM", color=3, linetype="STRICHEL", lineweight=35)
    doc.layers.add("Maße", color=5)
    doc.styles.add("Schräg é", font="isocp.shx", dxfattribs={"width": 0.7, "oblique": 12})
    doc.header["$TEXTSTYLE"] = "Schräg é"
    dot = doc.blocks.new("OFFICE_DOT")
    dot.add_circle((0, 0), 0.5)
    style = doc.dimstyles.add("BÜRO")
    style.dxf.dimscale = 1.0
    style.dxf.dimlfac = 1.0
    style.dxf.dimtxt = 2.2
    style.dxf.dimdec = 0
    style.dxf.dimblk = "OFFICE_DOT"
    style.dxf.dimasz = 1.1
    style.dxf.dimtxsty = "Schräg é"
    doc.header["$DIMSTYLE"] = "BÜRO"
    msp = doc.modelspace()
    msp.add_line((100, 50), (900, 350), dxfattribs={"layer": "Maße"})
    msp.add_text("North point", height=50, dxfattribs={"style": "Schräg é"}).set_placement((120, 60))
    msp.add_point((500, 75))
    title = doc.blocks.new("zz-Schriftfeld", base_point=(3, 4))
    outline = title.add_polyline2d if version == "R12" else title.add_lwpolyline
    outline([(3, 4), (153, 4), (153, 34), (3, 34)], close=True)
    for n, tag in enumerate(("Project", "TITLE", "NUMBER", "scale", "HOUSE_STYLE")):
        title.add_attdef(tag, insert=(5, 7 + 5 * n), text=f"default {tag}", height=2.5, dxfattribs={"style": "Schräg é"})
    other = doc.blocks.new("door")
    other.add_attdef("NUMBER", insert=(0, 0), height=2)
    return doc


def titled(scene: Scene) -> Scene:
    """The small scene with a title block on its sheet: lines and texts in its room, a caution over it."""
    sheet = scene.sheets[0]
    text = replace(next(p for p in sheet.primitives if isinstance(p, Text)), height=2.5, bold=False)
    ours = (
        replace(text, at=(300.0, 20.0), text="our own title"),
        replace(text, at=(232.0, 52.0), text="Caution: not a structural design."),
    )
    return replace(scene, sheets=(replace(sheet, primitives=(*sheet.primitives, *ours), title_room=ROOM, fields=FIELDS),))


def saved(doc: Drawing, folder: Path, name: str = "office.dxf") -> Path:
    path = folder / name
    doc.saveas(path)
    return path


def drawn(scene: Scene, path: Path) -> Drawing:
    return parsed(dxf.drawing(scene, "0" * 64, template=template_of(path)))


def parsed(data: bytes) -> Drawing:
    return ezdxf.read(StringIO(data.decode()))


@pytest.fixture(params=["R2000", "R2018"])
def path(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    return saved(office(request.param), tmp_path)


def test_the_template_file_is_left_as_it_is(scene, path):
    before = path.read_bytes()
    drawn(titled(scene), path)
    assert path.read_bytes() == before


def test_same_template_same_bytes(scene, path):
    one, other = (dxf.drawing(titled(scene), "0" * 64, template=template_of(path)) for _ in range(2))
    assert one == other


def test_same_bytes_in_every_process(path, tmp_path):
    """Whatever order Python keeps its sets in."""
    doc = ezdxf.readfile(path)
    for n, layer in enumerate(("W1", "W2", "W3", "W4", "W5", "W6")):
        doc.linetypes.add(f"LT{n}", [2.0 + n, 1.0 + n, -1.0])
        doc.layers.add(layer, linetype=f"LT{n}")
    doc.saveas(tmp_path / "many.dxf")
    code = f"""
import hashlib, io, ezdxf
from pathlib import Path
from elevgen.writers._dxf_template import template_of
doc = ezdxf.new("R2013")
template_of(Path({str(tmp_path / "many.dxf")!r})).lend(doc, ("W1", "W2", "W3", "W4", "W5", "W6", "A-ELEV-JNTM"))
tables = (doc.layers, doc.linetypes, doc.styles, doc.dimstyles, doc.block_records)
print([(entry.dxf.name, entry.dxf.handle) for table in tables for entry in table])
"""
    told = {
        subprocess.run(
            [sys.executable, "-c", code], env=os.environ | {"PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True
        ).stdout
        for seed in ("0", "1", "2", "77")
    }
    assert len(told) == 1


def test_all_that_was_in_it_is_still_there(scene, path):
    theirs, doc = ezdxf.readfile(path), drawn(titled(scene), path)
    tables = ("layers", "linetypes", "styles", "dimstyles", "appids", "ucs", "views")
    for table in tables:
        for entry in getattr(theirs, table):
            found = getattr(doc, table).get(entry.dxf.name)
            said = {k: v for k, v in entry.dxfattribs().items() if k not in ("handle", "owner") and v != ""}
            assert said.items() <= found.dxfattribs().items(), (table, entry.dxf.name)
    for entity in theirs.modelspace():
        found = doc.entitydb[entity.dxf.handle]
        assert found.dxftype() == entity.dxftype()
        assert found.dxfattribs() == entity.dxfattribs()
    for block in theirs.blocks:
        assert len(doc.blocks.get(block.name)) >= len(block)
    assert doc.header["$LTSCALE"] == 0.7
    assert (doc.header["$TEXTSTYLE"], doc.header["$DIMSTYLE"]) == ("Schräg é", "BÜRO")
    assert set(theirs.layouts.names()) <= set(doc.layouts.names())


def test_nothing_needs_repair(scene, path):
    audit = drawn(titled(scene), path).audit()
    assert (audit.errors, audit.fixes) == ([], [])


def test_a_later_version_stays_and_an_earlier_one_becomes_ours(scene, tmp_path):
    versions = [drawn(scene, saved(office(v), tmp_path)).dxfversion for v in ("R12", "R2000", "R2013", "R2018")]
    assert versions == ["AC1027", "AC1027", "AC1027", "AC1032"]


def test_a_layer_of_our_name_looks_as_the_user_has_it(scene, tmp_path):
    layers = tuple(replace(x, name="A-ELEV-JNTM") if x.role == "movement_joint" else x for x in scene.layers)
    doc = drawn(replace(scene, layers=layers), saved(office(), tmp_path))
    entry = doc.layers.get("A-ELEV-JNTM")
    assert (entry.color, entry.dxf.linetype, entry.dxf.lineweight, entry.rgb) == (3, "STRICHEL", 35, None)


def test_texts_are_written_in_the_users_style(scene, path):
    doc = drawn(scene, path)
    ours = [t for t in doc.modelspace().query("TEXT") if t.dxf.text != "North point"]
    assert {(t.dxf.style, t.dxf.width) for t in ours} == {("Schräg é", 0.7)}


def test_dimensions_are_drawn_in_the_users_style_scaled(scene, path):
    doc = drawn(scene, path)
    assert {d.dxf.dimstyle for d in doc.modelspace().query("DIMENSION")} == {"EG-BÜRO-20"}
    copy, theirs = doc.dimstyles.get("EG-BÜRO-20"), doc.dimstyles.get("BÜRO")
    assert (copy.dxf.dimscale, copy.dxf.dimtxt, theirs.dxf.dimscale) == (20.0, 2.2, 1.0)
    arrows = {p.dxf.name for d in doc.modelspace().query("DIMENSION") for p in d.get_geometry_block().query("INSERT")}
    assert arrows == {"OFFICE_DOT"}


def test_a_figure_the_users_style_would_round_is_written_out(scene, path):
    """1347.5 in a style of whole millimetres."""
    dims = {round(d.dxf.actual_measurement, 1): d.dxf.text for d in drawn(scene, path).modelspace().query("DIMENSION")}
    assert dims == {1347.5: "1347.5", 225.0: "3 courses"}


def test_a_style_drawn_at_the_scale_is_used_itself(scene, tmp_path):
    doc = office()
    doc.dimstyles.get("BÜRO").dxf.dimscale = 20.0
    made = drawn(scene, saved(doc, tmp_path))
    assert {d.dxf.dimstyle for d in made.modelspace().query("DIMENSION")} == {"BÜRO"}
    assert not [s.dxf.name for s in made.dimstyles if s.dxf.name.startswith("EG-")]


def test_a_template_with_standard_styles_gets_ours(scene, tmp_path):
    doc = drawn(scene, saved(ezdxf.new("R2010", units=4), tmp_path))
    assert {d.dxf.dimstyle for d in doc.modelspace().query("DIMENSION")} == {"ELEVGEN-20"}
    assert {t.dxf.style for t in doc.modelspace().query("TEXT")} == {"ELEVGEN", "ELEVGEN-BOLD"}


def test_a_text_style_of_fixed_height_does_not_size_our_dimensions(scene, tmp_path):
    doc = ezdxf.new("R2010", units=4)
    doc.styles.add("Fixed", font="arial.ttf", dxfattribs={"height": 7.0})
    doc.header["$TEXTSTYLE"] = "Fixed"
    made = drawn(scene, saved(doc, tmp_path))
    assert {t.dxf.style for t in made.modelspace().query("TEXT")} == {"Fixed"}
    assert made.dimstyles.get("ELEVGEN-20").dxf.dimtxsty == "ELEVGEN"


def test_ours_stand_clear_of_what_was_drawn_before(scene, path):
    doc = drawn(titled(scene), path)
    view = scene.views[0]
    ours = [e for e in doc.modelspace().query("INSERT") if e.dxf.name.startswith("EG-p1")]
    theirs_right = 900.0
    assert min(e.dxf.insert.x for e in ours) >= theirs_right + view.place[0]
    port = next(p for p in doc.layouts.get("W1 outer 1 2").query("VIEWPORT") if p.dxf.id != 1)
    left = port.dxf.view_center_point.x - port.dxf.view_height * port.dxf.width / port.dxf.height / 2
    outline = next(e for e in doc.modelspace().query("LINE") if e.dxf.layer == "T-OUTLINE")
    assert left == pytest.approx(outline.dxf.start.x + view.extents.left)
    left, bottom, _ = doc.header["$EXTMIN"]
    assert left == 100.0
    assert 50.0 - 50.0 / 2 < bottom <= 50.0  # the text hangs below its base line


def test_the_title_block_is_filled_in_in_place_of_ours(scene, path):
    doc = drawn(titled(scene), path)
    layout = doc.layouts.get("W1 outer 1 2")
    blocks = list(layout.query("INSERT"))
    assert [b.dxf.name for b in blocks] == ["zz-Schriftfeld"]
    assert {a.dxf.tag: a.dxf.text for a in blocks[0].attribs} == {
        "Project": "Pottery studio",
        "TITLE": "South, outer leaf",
        "NUMBER": "EX-01 W1/outer",
        "scale": "1:20",
        "HOUSE_STYLE": "default HOUSE_STYLE",
    }
    texts = {t.dxf.text for t in layout.query("TEXT")}
    assert "our own title" not in texts
    assert "Caution: not a structural design." in texts


@pytest.mark.parametrize(("tags", "said"), [(("DRAWING",), "EX-01 W1/outer"), (("DRAWING", "PROJECT_NUMBER"), "W1-outer")])
def test_the_projects_number_is_said_once_at_least(scene, tmp_path, tags, said):
    doc = office()
    block = doc.blocks.get("zz-Schriftfeld")
    for attdef in list(block.attdefs()):
        if attdef.dxf.tag == "NUMBER":
            block.delete_entity(attdef)
    for tag in tags:
        block.add_attdef(tag, insert=(60, 7), height=2.5)
    sheet = titled(scene).sheets[0]
    sheet = replace(sheet, fields=(*FIELDS, ("DRAWING", "W1-outer"), ("PROJECT_NUMBER", "EX-01")))
    layout = drawn(replace(scene, sheets=(sheet,)), saved(doc, tmp_path)).layouts.get("W1 outer 1 2")
    (title,) = (e for e in layout.query("INSERT") if e.attribs)
    assert title.get_attrib_text("DRAWING") == said


def test_the_title_block_stands_in_the_corner_of_the_frame(scene, path):
    insert = next(iter(drawn(titled(scene), path).layouts.get("W1 outer 1 2").query("INSERT")))
    assert insert.dxf.xscale == 1.0
    assert (insert.dxf.insert.x, insert.dxf.insert.y) == pytest.approx((ROOM.right - 150, ROOM.bottom))
    first = next(a for a in insert.attribs if a.dxf.tag == "Project")
    assert (first.dxf.insert.x, first.dxf.insert.y) == pytest.approx((ROOM.right - 150 + 2, ROOM.bottom + 3))


def test_a_title_block_too_large_for_its_room_is_made_smaller(scene, tmp_path):
    doc = office()
    doc.blocks.get("zz-Schriftfeld").add_line((3, 34), (3, 80))  # 76 high; the room is 38
    insert = next(iter(drawn(titled(scene), saved(doc, tmp_path)).layouts.get("W1 outer 1 2").query("INSERT")))
    assert insert.dxf.xscale == pytest.approx(0.5)
    assert insert.dxf.insert.x == pytest.approx(ROOM.right - 75)


def test_a_border_stands_round_the_sheet_in_place_of_our_frame(scene, tmp_path):
    doc = office()
    border = doc.blocks.new("A3 border")
    border.add_lwpolyline([(15, 5), (415, 5), (415, 292), (15, 292)], close=True)
    for tag in ("PROJECT", "TITLE", "SHEET", "SHEETS"):
        border.add_attdef(tag, insert=(300, 20), height=2.5)
    layout = drawn(titled(scene), saved(doc, tmp_path)).layouts.get("W1 outer 1 2")
    insert = next(iter(layout.query("INSERT")))
    assert (insert.dxf.name, insert.dxf.xscale) == ("A3 border", 1.0)
    assert tuple(insert.dxf.insert) == (0, 0, 0)
    assert {e.dxftype() for e in layout if e.dxf.layer == "T-FRAME"} == {"INSERT", "LINE"}


def test_a_block_of_few_known_attributes_is_no_title_block(scene, tmp_path):
    doc = office()
    doc.blocks.delete_block("zz-Schriftfeld")
    layout = drawn(titled(scene), saved(doc, tmp_path)).layouts.get("W1 outer 1 2")
    assert not layout.query("INSERT")
    assert "our own title" in {t.dxf.text for t in layout.query("TEXT")}


def test_an_elevation_by_itself_looks_the_same_but_holds_nothing_else(scene, path):
    doc = parsed(dxf.elevation(scene, scene.views[0], "x", template=template_of(path)))
    assert {t.dxf.style for t in doc.modelspace().query("TEXT")} == {"Schräg é"}
    assert {d.dxf.dimstyle for d in doc.modelspace().query("DIMENSION")} == {"EG-BÜRO-20"}
    assert "North point" not in {t.dxf.text for t in doc.modelspace().query("TEXT")}
    assert {b.name for b in doc.blocks if not b.name.startswith(("*", "_"))} <= {
        "OFFICE_DOT",
        "EG-TIE",
        "EG-LEVEL",
        *(b.name for b in doc.blocks if b.name.startswith("EG-p1-")),
    }
    assert "Maße" not in doc.layers
    assert (doc.header["$TEXTSTYLE"], doc.header["$DIMSTYLE"]) == ("Schräg é", "EG-BÜRO-20")
    assert (doc.header["$DIMSCALE"], doc.header["$DIMTXT"], doc.header["$DIMLFAC"]) == (20, 2.2, 1)
    audit = doc.audit()
    assert (audit.errors, audit.fixes) == ([], [])


def test_blocks_of_an_earlier_drawing_in_the_template_are_never_taken_for_ours(scene, tmp_path):
    """An elevation inserted once, then drawn anew with other bricks: both are there."""
    doc = office()
    doc.blocks.new("EG-p1").add_circle((0, 0), 1)
    made = drawn(scene, saved(doc, tmp_path))
    assert len(made.blocks.get("EG-p1")) == 1
    used = {e.dxf.name for e in made.modelspace().query("INSERT")}
    assert "EG-p1" not in used
    assert any(name.startswith("EG-p1-") for name in used)


@pytest.mark.parametrize(("unit", "word"), [(1, "inches"), (5, "cm"), (6, "m"), (21, "unit 21")])
def test_another_unit_is_refused(tmp_path, unit, word):
    doc = office()
    doc.header["$INSUNITS"] = unit
    with pytest.raises(SpecError) as told:
        template_of(saved(doc, tmp_path))
    assert told.value.faults[0].path == ("sheet", "template")
    assert told.value.faults[0].given == word


def test_no_unit_is_taken_for_millimetres(scene, tmp_path):
    doc = office()
    doc.header["$INSUNITS"] = 0
    assert drawn(scene, saved(doc, tmp_path)).header["$INSUNITS"] == 4


@pytest.mark.parametrize("content", [b"", b"not a drawing", b"AC1032\0\0\0\0\0", b"  0\nSECTION\n  2\nHEADER\n", b"\xff\xfe\x00"])
def test_what_is_no_dxf_is_refused(tmp_path, content):
    path = tmp_path / "office.dxf"
    path.write_bytes(content)
    saved(office(), tmp_path, "office2.dxf")
    with pytest.raises(SpecError, match="cannot be read as DXF") as told:
        template_of(path)
    assert told.value.faults[0].nearest == "office2.dxf"


def test_a_file_cut_short_is_refused(tmp_path):
    path = saved(office(), tmp_path)
    data = path.read_bytes()
    path.write_bytes(data[: len(data) // 2])
    with pytest.raises(SpecError):
        template_of(path)


def test_a_drawing_that_cannot_be_mended_is_refused(tmp_path):
    doc = office()
    doc.mline_styles.new("EMPTY")
    with pytest.raises(SpecError, match=r"is damaged: No line elements") as told:
        template_of(saved(doc, tmp_path))
    assert told.value.faults[0].given.endswith("errors")


def test_what_can_be_mended_is_mended_in_our_copy(scene, tmp_path):
    """An insert of a block that is not there."""
    doc = office()
    doc.modelspace().add_blockref("not there", (700, 300))
    path = saved(doc, tmp_path)
    before = path.read_bytes()
    audit = drawn(scene, path).audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert path.read_bytes() == before
