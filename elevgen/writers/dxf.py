"""DXF: the whole building in one file, and a file for each elevation and the plan, ready to be inserted into other drawings.

The building's file has every view in model space at full size in millimetres and every sheet in paper space. An elevation's
has its own coordinates (along the wall from its start, levels from datum), its base point in their origin, and no more layers,
blocks and styles than it uses. R12 files have model space only.

What other programs need of a file (extents on the layout, dimension style in the header, dimension parts on the
dimension layer, plain ASCII layer names) is written always.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from io import StringIO
from typing import TYPE_CHECKING

from ezdxf import filemanagement
from ezdxf.document import Drawing

from elevgen.core.errors import Fault, SpecError
from elevgen.core.geometry import Point, Rect
from elevgen.drawing.compose import VIEW_GAP
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import BlockUse, Dimension, Scene, View
from elevgen.spec.models import Spec
from elevgen.writers._dxf_entities import Entities
from elevgen.writers._dxf_identity import keep_identity
from elevgen.writers._dxf_names import Names, names_of
from elevgen.writers._dxf_sheets import add_sheet
from elevgen.writers._dxf_tables import (
    Look,
    add_dimension_style,
    add_layers,
    add_symbols,
    add_text_styles,
    own_dimension_style,
)
from elevgen.writers._dxf_tags import plain
from elevgen.writers._names import view_stems
from elevgen.writers._package import Package

if TYPE_CHECKING:
    from elevgen.writers._dxf_template import Template

FORMAT = "dxf"
VERSION, OLD = "R2013", "R12"
USUAL_WIDTH = 25
"""What a layer without a line width is drawn with, in hundredths of a mm."""


def render(package: Package) -> dict[str, bytes]:
    """One drawing of the whole building, and one of each view. Raises SpecError when the user's template cannot be used."""
    spec, scene, sha = package.design.spec, package.scene, package.design.spec_sha256
    template = template_asked_for(spec)
    fonts = Fonts()
    files = {f"{package.design.name}.dxf": drawing(scene, sha, spec.sheet.dxf, template, fonts)}
    stems = view_stems(view.id for view in scene.views)
    for view in scene.views:
        name = f"elevations/{stems[view.id]}.dxf"
        files[name] = elevation(scene, view, f"{sha}:{view.id}", spec.sheet.dxf, template, fonts)
    return files


def drawing(
    scene: Scene, identity: str, version: str = VERSION, template: Template | None = None, fonts: Fonts | None = None
) -> bytes:
    """A scene as DXF. `identity` names what it was made from; the same scene, identity and template give the same bytes."""
    if version == OLD:
        scene = replace(scene, sheets=())
    doc = template.fresh() if template else _new(version)
    if not template:
        doc.header["$PSLTSCALE"] = 0  # dashes are told their length one by one: right in model space and through viewports
        doc.header["$LTSCALE"] = float(min((v.scale for v in scene.views), default=1)) if version == OLD else 1.0
    theirs = template.filled() if template else None
    shift = (theirs.right + VIEW_GAP, 0.0) if theirs else (0.0, 0.0)
    names = names_of(scene, telling=template is not None, old=version == OLD)
    entities = _filled(doc, scene, names, template, fonts or Fonts(), shift)
    if not template:
        _settle(doc, scene, entities.look)
    fields = frozenset(name for sheet in scene.sheets for name, _ in sheet.fields)
    title_block = template.title_block(fields) if template else ""
    for sheet in scene.sheets:
        add_sheet(doc, scene, sheet, entities, shift, title_block)
    if scene.sheets and not template:
        doc.layouts.delete("Layout1")
    _set_extents(doc, _bounds(scene.views, shift, theirs))
    return _written(doc, entities, scene.date, identity)


def elevation(
    scene: Scene,
    view: View,
    identity: str,
    version: str = VERSION,
    template: Template | None = None,
    fonts: Fonts | None = None,
) -> bytes:
    """One view of a scene as DXF by itself, in its own coordinates."""
    alone = _alone(scene, view)
    names = names_of(alone, telling=True, old=version == OLD)
    doc = _new(version)
    if template:
        template.lend(doc, tuple(dict.fromkeys(names.layers.values())))
    doc.header["$LTSCALE"] = float(view.scale)  # opened by itself; in another drawing that drawing says how long dashes are
    entities = _filled(doc, alone, names, template, fonts or Fonts(), (0.0, 0.0))
    _settle(doc, alone, entities.look)
    _set_extents(doc, view.extents)
    return _written(doc, entities, scene.date, identity)


def template_asked_for(spec: Spec) -> Template | None:
    """The template a spec names, if it does. Raises SpecError when it cannot be used."""
    from elevgen.writers._dxf_template import template_of

    if not spec.sheet.template:
        return None
    if spec.sheet.dxf == OLD:
        message = "R12 cannot hold all that a template may hold"
        raise SpecError((Fault(("sheet", "dxf"), message, OLD, f"{VERSION} with a template, or {OLD} without one"),))
    return template_of(spec.folder / spec.sheet.template)


def _new(version: str) -> Drawing:
    with _without_warnings():  # that R12 has no place for units
        doc = filemanagement.new(version, units=4)
    doc.header["$MEASUREMENT"] = 1
    doc.header["$LWDISPLAY"] = 1
    doc.header["$PSLTSCALE"] = 1
    return doc


@contextmanager
def _without_warnings() -> Iterator[None]:
    logger = logging.getLogger("ezdxf")
    level = logger.level
    logger.setLevel(logging.ERROR)
    try:
        yield
    finally:
        logger.setLevel(level)


def _alone(scene: Scene, view: View) -> Scene:
    """A scene of one view where it is, with the blocks and layers it uses."""
    used = {p.block for p in view.primitives if isinstance(p, BlockUse)}
    blocks = tuple(block for block in scene.blocks if block.name in used)
    roles = {p.role for held in (view.primitives, *(b.primitives for b in blocks)) for p in held}
    layers = tuple(layer for layer in scene.layers if layer.role in roles)
    return replace(scene, views=(replace(view, place=(0.0, 0.0)),), sheets=(), blocks=blocks, layers=layers)


def _filled(doc: Drawing, scene: Scene, names: Names, template: Template | None, fonts: Fonts, shift: Point) -> Entities:
    """Tables, blocks and model space of a document. `shift` moves model space as a whole."""
    add_layers(doc, scene.layers, names)
    add_symbols(doc, scene, names)
    entities = Entities(doc, names, _look(doc, scene, names, template), fonts)
    used = {p.block for view in scene.views for p in view.primitives if isinstance(p, BlockUse)}
    for block in scene.blocks:
        if block.name in used:
            entities.add_block(block)
    for view in scene.views:
        place = (view.place[0] + shift[0], view.place[1] + shift[1])
        entities.add_all(doc.modelspace(), view.primitives, scale=view.scale, shift=place)
    return entities


def _look(doc: Drawing, scene: Scene, names: Names, template: Template | None) -> Look:
    """The text styles, and a dimension style for each scale."""
    regular, bold = add_text_styles(doc, template.text_style if template else "")
    on_paper = [1] if any(isinstance(p, Dimension) for sheet in scene.sheets for p in sheet.primitives) else []
    own = template.dimension_style if template else ""
    styles = {}
    for scale in on_paper + sorted({view.scale for view in scene.views}, reverse=True):
        style = own_dimension_style(doc, own, scale) if own else add_dimension_style(doc, scale, regular)
        styles[scale] = style.dxf.name
    layers = {name: doc.layers.get(name).dxf for name in names.layers.values()}
    widths = {name: layer.get("lineweight", USUAL_WIDTH) for name, layer in layers.items()}
    dashed = frozenset(name for name, layer in layers.items() if layer.linetype.lower() != "continuous")
    dashes = 0.0 if doc.header.get("$PSLTSCALE", 1) else 1.0 / (doc.header.get("$LTSCALE", 1.0) or 1.0)
    return Look(regular, bold, styles, bool(own), widths, dashes, dashed)


def _settle(doc: Drawing, scene: Scene, look: Look) -> None:
    """Make the text style current, and the dimension style of the scale most views with dimensions have.

    Some programs draw every dimension by the header alone, so the header goes by what would be wrong least often.
    """
    scales = [view.scale for view in scene.views]
    dimensioned = [view.scale for view in scene.views if any(isinstance(p, Dimension) for p in view.primitives)]
    usual = max(look.dimensions, key=lambda scale: (dimensioned.count(scale), scales.count(scale), scale), default=None)
    if usual is not None:
        doc.dimstyles.get(look.dimensions[usual]).copy_to_header(doc)
    doc.header["$TEXTSTYLE"] = look.regular.style


def _set_extents(doc: Drawing, bounds: Rect) -> None:
    """Extents and limits of model space, and the first look at it."""
    msp, bounds = doc.modelspace(), Rect(*map(plain, (bounds.left, bounds.bottom, bounds.right, bounds.top)))
    msp.reset_extents((bounds.left, bounds.bottom, 0), (bounds.right, bounds.top, 0))
    msp.reset_limits((bounds.left, bounds.bottom), (bounds.right, bounds.top))
    centre = (plain((bounds.left + bounds.right) / 2), plain((bounds.bottom + bounds.top) / 2))
    doc.set_modelspace_vport(height=plain(max(bounds.height, bounds.width / 2, 1.0) * 1.05), center=centre)


def _written(doc: Drawing, entities: Entities, date: str, identity: str) -> bytes:
    keep_identity(doc, date, identity)
    stream = StringIO()
    doc.write(stream)
    return doc.encode(entities.with_tags(stream.getvalue()))


def _bounds(views: tuple[View, ...], shift: Point, theirs: Rect | None) -> Rect:
    """What every view fills in model space, and what was there before."""
    boxes = [theirs] if theirs else []
    for view in views:
        (x, y), box = view.place, view.extents
        x, y = x + shift[0], y + shift[1]
        boxes.append(Rect(box.left + x, box.bottom + y, box.right + x, box.top + y))
    if not boxes:
        return Rect(0, 0, 1, 1)
    return Rect(min(b.left for b in boxes), min(b.bottom for b in boxes), max(b.right for b in boxes), max(b.top for b in boxes))
