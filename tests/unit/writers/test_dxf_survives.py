"""What other programs need of a DXF file, row by row of the list "Writing DXF that survives" in the drawing conventions (8.2).

Each row was seen to break some reader (status `read` there): the test says which fault it keeps away.
"""

from io import StringIO
from pathlib import Path

import ezdxf
import pytest

from elevgen.drawing.board import written
from elevgen.drawing.compose import compose
from elevgen.drawing.scene import Line, Text
from elevgen.pipeline import design_file
from elevgen.takeoff.measure import measure
from elevgen.writers import dxf
from elevgen.writers._package import Package

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def package() -> Package:
    design = design_file(ROOT / "specs" / "kitchen-garden.json")
    return Package(design, measure(design), compose(design))


@pytest.fixture(scope="module")
def files(package: Package) -> dict:
    return {name: ezdxf.read(StringIO(data.decode())) for name, data in dxf.render(package).items()}


@pytest.fixture(scope="module")
def building(files: dict):
    return files["kitchen-garden.dxf"]


def entities(doc):
    """Everything drawn: model space and paper, blocks and dimensions opened."""
    for layout in doc.layouts:
        yield from layout
    for block in doc.blocks:
        if not block.is_any_layout:
            yield from block


def test_extents_and_limits_are_set_on_every_layout(files):
    """Else one program shows a blank page: the header's are overwritten from the layout's on saving."""
    for name, doc in files.items():
        for layout in doc.layouts:
            if layout.name == "Model" or name == "kitchen-garden.dxf":
                assert all(0 < layout.dxf.extmax[i] - layout.dxf.extmin[i] < 1e6 for i in (0, 1)), (name, layout.name)
                assert tuple(layout.dxf.limmin)[:2] == tuple(layout.dxf.extmin)[:2], (name, layout.name)
                assert tuple(layout.dxf.limmax)[:2] == tuple(layout.dxf.extmax)[:2], (name, layout.name)
        assert tuple(doc.header["$EXTMAX"]) == tuple(doc.modelspace().dxf.extmax)


def test_the_header_has_the_dimension_style(files):
    """One program draws dimensions from the header alone, a hundred times as long and a quarter of a millimetre high."""
    for name, doc in files.items():
        style = doc.dimstyles.get(doc.header["$DIMSTYLE"])
        assert style.dxf.name.startswith("ELEVGEN-")
        assert doc.header["$TEXTSTYLE"] in doc.styles
        for variable in ("dimscale", "dimlfac", "dimtxt", "dimtsz", "dimdec", "dimzin", "dimexe", "dimexo", "dimgap", "dimtad"):
            assert doc.header[f"${variable.upper()}"] == style.dxf.get(variable), (name, variable)
        assert style.dxf.dimlfac == 1


def test_every_dimension_has_its_block_on_its_own_layer(files):
    """Without one, programs refuse the file; on layer 0, its parts are drawn in another colour."""
    for name, doc in files.items():
        for dim in doc.modelspace().query("DIMENSION"):
            parts = list(dim.get_geometry_block())
            assert parts, name
            assert {e.dxf.layer for e in parts} <= {dim.dxf.layer, "Defpoints", "DEFPOINTS"}


def test_units_are_millimetres(files):
    """The library's usual unit is metres."""
    assert {(doc.header["$INSUNITS"], doc.header["$MEASUREMENT"]) for doc in files.values()} == {(4, 1)}


def test_a_viewer_opens_on_the_drawing(files):
    for name, doc in files.items():
        port, msp = doc.viewports.get("*Active")[0], doc.modelspace()
        x, y, _ = port.dxf.center
        assert msp.dxf.extmin.x < x < msp.dxf.extmax.x, name
        assert msp.dxf.extmin.y < y < msp.dxf.extmax.y, name
        assert port.dxf.height >= msp.dxf.extmax.y - msp.dxf.extmin.y, name


def test_courses_are_inserts_of_blocks_and_no_text_is_an_attribute(files):
    """Attributes are not shown by two programs."""
    for doc in files.values():
        assert not [e for e in entities(doc) if e.dxftype() in ("ATTRIB", "ATTDEF")]
        assert not [e for e in entities(doc) if e.dxftype() == "INSERT" and e.attribs]


def test_every_text_of_a_view_is_plain_text_in_model_space(package, building):
    """One program drops paragraphs, and one has no paper space. Texts of dimensions are in their blocks."""
    wanted = sorted(t.text for v in package.scene.views for t in written(v.primitives, v.scale))
    found = [t.dxf.text for t in building.modelspace().query("TEXT")]
    found += [t.dxf.text for d in building.modelspace().query("DIMENSION") for t in d.get_geometry_block().query("TEXT")]
    assert sorted(found) == wanted
    assert not building.modelspace().query("MTEXT")


def test_no_hatch_has_a_pattern(files):
    """Patterns are drawn solid black, or not at all."""
    for doc in files.values():
        assert not [e for e in entities(doc) if e.dxftype() == "HATCH" and not e.has_solid_fill]


def test_no_colour_is_true_colour_alone(files):
    """Programs that know only indexed colours show the index; 7 and 255 are black or white, as the background is not."""
    for name, doc in files.items():
        for layer in doc.layers:
            assert 1 <= layer.color <= 255
            if layer.dxf.name not in ("0", "Defpoints"):
                assert layer.color not in (7, 255), (name, layer.dxf.name)
        for e in entities(doc):
            if e.rgb is not None:
                assert e.dxf.color not in (0, 7, 255, 256), (name, e.dxftype())


def test_model_space_has_all_there_is_to_build_from(package, building):
    """A program without paper space still has every view, at full size, its scale and its caution."""
    lines = [p for v in package.scene.views for p in v.primitives if isinstance(p, Line)]
    assert len(building.modelspace().query("LINE")) == len(lines)
    cautions = [t for t in building.modelspace().query("TEXT") if "setting-out aid" in t.dxf.text.lower()]
    assert len(cautions) == len(package.scene.views)


def test_names_are_ascii(files):
    for doc in files.values():
        for table in (doc.layers, doc.styles, doc.dimstyles, doc.linetypes, doc.block_records):
            assert all(entry.dxf.name.isascii() for entry in table)
        assert all(name.isascii() for name in doc.layouts.names())


def test_nothing_needs_repair(files):
    for name, doc in files.items():
        audit = doc.audit()
        assert (audit.errors, audit.fixes) == ([], []), name


def test_paper_space_says_what_the_sheets_say(package, building):
    for layout, sheet in zip([x for x in building.layouts if x.name != "Model"], package.scene.sheets, strict=True):
        texts = [t.text for t in sheet.primitives if isinstance(t, Text)]
        assert [t.dxf.text for t in layout.query("TEXT")] == texts
