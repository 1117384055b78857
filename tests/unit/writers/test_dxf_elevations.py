"""A file for each elevation: ready to be inserted, in the wall's own coordinates, with nothing in it that it does not use."""

from collections import Counter
from dataclasses import replace
from io import StringIO
from pathlib import Path

import ezdxf
import pytest
from dxf_boxes import boxes
from ezdxf import xref

from elevgen.core.geometry import Rect
from elevgen.drawing.compose import compose
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Block, BlockUse, Dimension, Fill, Polyline, Role, Scene, Symbol, View
from elevgen.pipeline import design_file
from elevgen.takeoff.measure import measure
from elevgen.writers import dxf
from elevgen.writers._package import Package

ROOT = Path(__file__).parents[3]
FONTS = Fonts()
VERSIONS = ["R2013", "R12"]


def alone(scene: Scene, view: View | None = None, version: str = "R2013"):
    return ezdxf.read(StringIO(dxf.elevation(scene, view or scene.views[0], "x", version).decode()))


@pytest.fixture(scope="module")
def studio() -> Package:
    design = design_file(ROOT / "specs" / "studio.json")
    return Package(design, measure(design), compose(design))


@pytest.fixture(scope="module")
def files(studio: Package) -> dict[str, bytes]:
    return dxf.render(studio)


def test_there_is_one_for_every_leaf_and_the_plan_beside_the_building(studio, files):
    leaves = {f"elevations/{leaf.id.replace('/', '-')}.dxf" for leaf in studio.design.building.leaves}
    views = {f"elevations/{view.id.replace('/', '-')}.dxf" for view in studio.scene.views}
    assert set(files) == {"studio.dxf"} | views
    assert leaves | {"elevations/plan.dxf"} <= views


def test_the_origin_is_the_walls_start_at_datum(scene):
    """The view of the small scene is placed at (1000, 2000) in the building's file; by itself it is not."""
    doc = alone(scene)
    line = next(iter(doc.modelspace().query("LINE")))
    assert tuple(line.dxf.start) == (0, 0, 0)
    assert tuple(line.dxf.end) == (4490, 0, 0)
    assert tuple(doc.header["$INSBASE"]) == (0, 0, 0)
    first = min((e for e in doc.modelspace().query("INSERT")), key=lambda e: (e.dxf.insert.y, e.dxf.insert.x))
    assert tuple(first.dxf.insert)[:2] == (0, 10)


@pytest.mark.parametrize("version", VERSIONS)
def test_it_holds_the_view_entity_for_entity(scene, version):
    doc = alone(scene, version=version)
    old = {"LWPOLYLINE": "POLYLINE", "HATCH": "SOLID"} if version == "R12" else {}
    kinds = {Symbol: "INSERT", BlockUse: "INSERT", Dimension: "DIMENSION", Polyline: "LWPOLYLINE", Fill: "HATCH"}
    wanted = Counter(
        (old.get(k, k), scene.layer(p.role).name)
        for p in scene.views[0].primitives
        for k in [kinds.get(type(p), type(p).__name__.upper())]
    )
    assert Counter((e.dxftype(), e.dxf.layer) for e in doc.modelspace()) == wanted


def test_extents_and_limits_are_the_views(scene):
    doc, box = alone(scene), scene.views[0].extents
    assert tuple(doc.header["$EXTMIN"])[:2] == tuple(doc.header["$LIMMIN"]) == (box.left, box.bottom)
    assert tuple(doc.header["$EXTMAX"])[:2] == tuple(doc.header["$LIMMAX"]) == (box.right, box.top)
    assert tuple(doc.modelspace().dxf.extmax)[:2] == (box.right, box.top)


@pytest.mark.parametrize("version", VERSIONS)
def test_nothing_reaches_outside_the_extents(studio, version):
    for view in studio.scene.views:
        doc = alone(studio.scene, view, version)
        (left, bottom, _), (right, top, _) = doc.header["$EXTMIN"], doc.header["$EXTMAX"]
        slack = 0.02 * view.scale  # hundredths of a millimetre on paper
        out = [
            (e.dxftype(), e.dxf.layer, e.dxf.get("text"), box)
            for e, box in boxes(doc.modelspace(), FONTS)
            if box.left < left - slack or box.bottom < bottom - slack or box.right > right + slack or box.top > top + slack
        ]
        assert not out, (view.id, Rect(left, bottom, right, top))


def test_the_extents_are_no_larger_than_what_is_drawn(studio):
    """A blank margin would set the scale of a picture fitted to the extents. A text or two may be measured with room round it."""
    for view in studio.scene.views:
        found = [box for _, box in boxes(alone(studio.scene, view).modelspace(), FONTS)]
        drawn = Rect(
            min(b.left for b in found), min(b.bottom for b in found), max(b.right for b in found), max(b.top for b in found)
        )
        spare = 12.0 * view.scale
        assert drawn.width >= view.extents.width - spare, view.id
        assert drawn.height >= view.extents.height - spare, view.id


@pytest.mark.parametrize("version", VERSIONS)
def test_only_what_it_uses_is_in_it(studio, version):
    for view in studio.scene.views:
        doc = alone(studio.scene, view, version)
        entities = [*doc.modelspace(), *(e for b in doc.blocks if not b.is_any_layout for e in b)]
        used = {e.dxf.layer for e in entities if e.dxftype() != "POINT"}
        assert {x.dxf.name for x in doc.layers} - {"0", "Defpoints", "DEFPOINTS"} == used - {"0"}, view.id
        laid = {e.dxf.name for e in entities if e.dxftype() == "INSERT"}
        blocks = {b.name for b in doc.blocks if not b.is_any_layout and not b.name.startswith("*")}
        assert blocks == laid, view.id
        assert all(name.startswith("EG-") for name in blocks - {"_OBLIQUE", "_Oblique"}), view.id
        assert {s.dxf.name for s in doc.dimstyles} == {"Standard", f"ELEVGEN-{view.scale}"}
        dims = {e.dxf.dimstyle for e in entities if e.dxftype() == "DIMENSION"}
        assert dims <= {f"ELEVGEN-{view.scale}"}
        broken = {x.dxf.linetype for x in doc.layers} - {"Continuous"}
        assert {t.dxf.name for t in doc.linetypes} - {"ByBlock", "ByLayer", "Continuous"} == broken


@pytest.mark.parametrize("version", VERSIONS)
def test_the_dimension_style_of_its_scale_is_the_current_one(studio, version):
    for view in studio.scene.views:
        header = alone(studio.scene, view, version).header
        assert header["$DIMSTYLE"] == f"ELEVGEN-{view.scale}"
        assert (header["$DIMSCALE"], header["$DIMLFAC"], header["$DIMTXT"]) == (view.scale, 1, 2.5)
        assert header["$LTSCALE"] == view.scale


def test_it_opens_on_the_whole_of_it(scene):
    port = alone(scene).viewports.get("*Active")[0]
    box = scene.views[0].extents
    assert tuple(port.dxf.center)[:2] == pytest.approx(((box.left + box.right) / 2, (box.bottom + box.top) / 2))
    assert port.dxf.height >= box.height


@pytest.mark.parametrize("version", VERSIONS)
def test_nothing_needs_repair(studio, version):
    for view in studio.scene.views:
        audit = alone(studio.scene, view, version).audit()
        assert (audit.errors, audit.fixes) == ([], []), view.id


def test_a_file_does_not_change_with_another_wall(scene):
    """What W2 holds is no business of W1's file."""
    other = replace(scene.views[0], id="W2/outer", place=(9000.0, 0.0))
    more = replace(scene, views=(other, *scene.views), blocks=(Block("p0", scene.blocks[0].primitives[:1]), *scene.blocks))
    assert dxf.elevation(more, scene.views[0], "x") == dxf.elevation(scene, scene.views[0], "x")


def test_blocks_that_differ_never_share_a_name(scene):
    """A drawing keeps the block it has when one of the same name is inserted."""

    def names(made: Scene) -> set[str]:
        return {b.name for b in alone(made).blocks if b.name.startswith("EG-p1")}

    block = scene.blocks[0]
    wider = tuple(replace(p, points=(*p.points[:1], (220.0, 0.0), *p.points[2:])) for p in block.primitives)
    changed = replace(scene, blocks=(Block(block.name, wider),))
    renamed = replace(scene, layers=tuple(replace(x, name="OTHER") if x.role is Role.UNIT else x for x in scene.layers))
    assert len(names(scene) | names(changed) | names(renamed)) == 3
    assert names(scene) == names(replace(scene, title="Another building"))


def test_two_revisions_go_into_one_drawing(scene):
    """As references are bound: blocks of a name that is there are kept as they are. Each revision keeps its own bricks."""
    block = scene.blocks[0]
    wider = Block(block.name, tuple(replace(p, points=tuple((x * 1.1, y) for x, y in p.points)) for p in block.primitives))
    host = ezdxf.new("R2013", units=4)
    host.blocks.new("DOOR")
    found = []
    for revision in (scene, replace(scene, blocks=(wider,))):
        before = len(host.modelspace())
        xref.load_modelspace(alone(revision), host, conflict_policy=xref.ConflictPolicy.KEEP)
        added = host.modelspace()[before:]
        bricks = next(e for e in added if e.dxftype() == "INSERT" and e.dxf.name.startswith("EG-p1"))
        found.append(max(x for x, *_ in next(e for e in host.blocks.get(bricks.dxf.name) if e.dxftype() == "LWPOLYLINE")))
        assert tuple(bricks.dxf.insert)[:2] == (0, 10)
        dims = [e for e in added if e.dxftype() == "DIMENSION"]
        assert dims and all(len(d.get_geometry_block()) > 3 for d in dims)
    assert found == pytest.approx([215.0, 236.5])
    assert not host.audit().errors  # the library itself leaves what it found twice to be mended


def test_every_elevation_carries_the_caution(studio, files):
    for name, data in files.items():
        if name != "studio.dxf":
            assert b"setting-out aid" in data.lower(), name
