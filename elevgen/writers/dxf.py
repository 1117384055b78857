"""DXF: every view in model space at full size in millimetres, every sheet in paper space, real text, dimensions and blocks.

What other programs need of a file (extents on the layout, dimension style in the header, dimension parts on the
dimension layer, plain ASCII layer names) is written always.
"""

from __future__ import annotations

from io import StringIO

from ezdxf import filemanagement
from ezdxf.document import Drawing
from ezdxf.layouts.layout import Paperspace

from elevgen.core.geometry import Rect
from elevgen.drawing.scene import BlockUse, Role, Scene, Sheet, View
from elevgen.writers._dxf_entities import Entities
from elevgen.writers._dxf_identity import keep_identity
from elevgen.writers._dxf_tables import add_dimension_style, add_layers, add_symbols, add_text_style
from elevgen.writers._package import Package

FORMAT = "dxf"
VERSION = "R2013"


def render(package: Package) -> dict[str, bytes]:
    """One drawing of the whole building."""
    return {f"{package.design.name}.dxf": drawing(package.scene, package.design.spec_sha256)}


def drawing(scene: Scene, identity: str) -> bytes:
    """A scene as DXF. `identity` names what it was made from; the same scene and identity give the same bytes."""
    doc, entities = _document(scene)
    keep_identity(doc, scene.date, identity)
    stream = StringIO()
    doc.write(stream)
    return doc.encode(entities.with_tags(stream.getvalue()))


def _document(scene: Scene) -> tuple[Drawing, Entities]:
    doc = filemanagement.new(VERSION, setup=["linetypes"], units=4)
    doc.header["$MEASUREMENT"] = 1
    doc.header["$LWDISPLAY"] = 1
    doc.header["$PSLTSCALE"] = 1
    add_layers(doc, scene.layers)
    add_text_style(doc)
    add_symbols(doc, scene)
    for scale in sorted({view.scale for view in scene.views}, reverse=True):
        add_dimension_style(doc, scale).copy_to_header(doc)
    entities = Entities(doc, scene)
    used = {p.block for view in scene.views for p in view.primitives if isinstance(p, BlockUse)}
    for block in scene.blocks:
        if block.name in used:
            entities.add_block(block)
    msp = doc.modelspace()
    for view in scene.views:
        entities.add_all(msp, view.primitives, scale=view.scale, shift=view.place)
    for sheet in scene.sheets:
        _add_sheet(doc, scene, sheet, entities)
    if scene.sheets:
        doc.layouts.delete("Layout1")
    bounds = _bounds(scene.views)
    msp.reset_extents((bounds.left, bounds.bottom, 0), (bounds.right, bounds.top, 0))
    msp.reset_limits((bounds.left, bounds.bottom), (bounds.right, bounds.top))
    centre = ((bounds.left + bounds.right) / 2, (bounds.bottom + bounds.top) / 2)
    doc.set_modelspace_vport(height=max(bounds.height, bounds.width / 2, 1.0) * 1.05, center=centre)
    return doc, entities


def _add_sheet(doc: Drawing, scene: Scene, sheet: Sheet, entities: Entities) -> None:
    layout = doc.layouts.new(_layout_name(doc, sheet.title))
    assert isinstance(layout, Paperspace)
    layout.page_setup(size=(sheet.width, sheet.height), margins=(0, 0, 0, 0), units="mm")
    layer = scene.layer(Role.VIEWPORT).name
    for window in sheet.windows:
        view = scene.view(window.view)
        paper = window.paper
        width, height = paper.width * window.scale, paper.height * window.scale
        layout.add_viewport(
            center=((paper.left + paper.right) / 2, (paper.bottom + paper.top) / 2),
            size=(paper.width, paper.height),
            view_center_point=(
                view.place[0] + window.corner[0] + width / 2,
                view.place[1] + window.corner[1] + height / 2,
            ),
            view_height=height,
            dxfattribs={"layer": layer},
        )
    entities.add_all(layout, sheet.primitives, paper=True)
    layout.reset_extents((0, 0, 0), (sheet.width, sheet.height, 0))
    layout.reset_limits((0, 0), (sheet.width, sheet.height))


def _layout_name(doc: Drawing, title: str) -> str:
    """A legal layout name not yet taken, made of the sheet's title."""
    plain = title.encode("ascii", "ignore").decode()
    legal = " ".join("".join(c if c.isalnum() or c in "-_." else " " for c in plain).split()) or "Sheet"
    taken = {name.lower() for name in doc.layouts.names()}
    name, n = legal[:60], 2
    while name.lower() in taken:
        name, n = f"{legal[:56]} {n}", n + 1
    return name


def _bounds(views: tuple[View, ...]) -> Rect:
    """What every view fills in model space."""
    if not views:
        return Rect(0, 0, 1, 1)
    return Rect(
        min(v.place[0] + v.extents.left for v in views),
        min(v.place[1] + v.extents.bottom for v in views),
        max(v.place[0] + v.extents.right for v in views),
        max(v.place[1] + v.extents.top for v in views),
    )
