"""DXF, PDF and SVG hold as many strokes, surfaces, texts, courses and dashes as the scene they are drawn from."""

from __future__ import annotations

from collections import Counter
from typing import Any
from xml.etree import ElementTree

import pytest
from finished_set import Set, through
from pypdf import PdfReader
from pypdf.generic import ContentStream

from elevgen.drawing.scene import (
    BlockUse,
    Dimension,
    Fill,
    Line,
    Polyline,
    Primitive,
    Scene,
    Sheet,
    Symbol,
    Text,
)
from elevgen.drawing.symbols import outlines
from elevgen.writers._flatten import DASHES

SVG = "{http://www.w3.org/2000/svg}"


def test_as_many_of_everything_in_the_pdf(made: Set) -> None:
    """Strokes, surfaces, texts and courses of each page: what the sheet and the views on it hold."""
    read = PdfReader(made.file("pdf"))
    for page, sheet in zip(read.pages, made.scene.sheets, strict=True):
        seen = painted(page["/Contents"].get_object(), read)
        wanted = Counter[str]()
        for primitives, scale in shown_on(made.scene, sheet):
            for primitive in primitives:
                wanted.update(parts(primitive, scale))
        assert seen == wanted, sheet.id


def test_as_many_of_everything_in_each_pattern_of_the_pdf(made: Set) -> None:
    read = PdfReader(made.file("pdf"))
    forms = {}
    for page in read.pages:
        for name, form in (page["/Resources"].get("/XObject") or {}).items():
            forms[name.removeprefix("/FormXob.").split("@")[0]] = form.get_object()
    used = {p.block for view in made.scene.views for p in view.primitives if isinstance(p, BlockUse)}
    blocks = {block.name: block for block in made.scene.blocks if block.name in used}
    assert len(forms) >= len(blocks) > 0
    counts = Counter(frozenset(painted(form, read).items()) for form in forms.values())
    wanted = {frozenset(sum((parts(p, 1.0) for p in block.primitives), Counter()).items()) for block in blocks.values()}
    assert set(counts) == wanted


def painted(stream: Any, read: PdfReader) -> Counter[str]:
    names = {b"S": "stroke", b"s": "stroke", b"f": "fill", b"f*": "fill", b"BT": "text", b"Do": "block"}
    found = Counter(names[operator] for _, operator in ContentStream(stream, read).operations if operator in names)
    return +found


def shown_on(scene: Scene, sheet: Sheet) -> list[tuple[tuple[Primitive, ...], float]]:
    return [(sheet.primitives, 1.0), *((through(scene, window), float(window.scale)) for window in sheet.windows)]


def parts(primitive: Primitive, scale: float) -> Counter[str]:
    """What a primitive is made of where there are only strokes, surfaces and texts."""
    match primitive:
        case Line() | Polyline():
            return Counter(stroke=1)
        case Fill():
            return Counter(fill=1)
        case Symbol():
            return Counter(stroke=len(outlines(primitive.name)))
        case BlockUse():
            return Counter(block=1)
        case Dimension():
            across = 1 if primitive.axis == "x" else 0
            away = sum(abs(primitive.line_at - end[across]) > 1.5 * scale for end in (primitive.a, primitive.b))
            return Counter(stroke=3 + away, text=1)
        case Text():
            return Counter(text=1)
    return Counter(text=len(primitive.lines))


def test_as_many_of_everything_in_the_svg(made: Set) -> None:
    """Room for a pointer is not counted; nor is a mark's, which is drawn in the definitions."""
    for view in made.scene.views:
        root = ElementTree.parse(made.folder / "elevations" / f"{view.id.replace('/', '-')}.svg").getroot()
        defined = {id(e) for defs in root.iter(f"{SVG}defs") for e in defs.iter()}
        elements = [e for e in root.iter() if id(e) not in defined and e.get("class") not in ("hit", "paper")]
        tags = Counter(e.tag.removeprefix(SVG) for e in elements)
        tints = sum(str(e.get("class")).startswith("t-") for e in elements)
        wanted = sum((parts(p, view.scale) for p in view.primitives if not isinstance(p, Symbol)), Counter[str]())
        symbols = sum(isinstance(p, Symbol) for p in view.primitives)
        assert tags["line"] + tags["polyline"] + tags["polygon"] - tints == wanted["stroke"], view.id
        assert (tints, tags["text"], tags["use"]) == (wanted["fill"], wanted["text"], wanted["block"] + symbols), view.id


def test_as_many_pieces_in_every_pattern_of_the_svg(made: Set) -> None:
    for view in made.scene.views:
        root = ElementTree.parse(made.folder / "elevations" / f"{view.id.replace('/', '-')}.svg").getroot()
        drawn = sorted(
            sum(str(e.get("d")).count("M") for e in group.iter(f"{SVG}path"))
            + sum(not str(e.get("class")).startswith("t-") for e in group.iter(f"{SVG}polygon"))
            for group in root.iter(f"{SVG}g")
            if str(group.get("id")).startswith("b-")
        )
        used = {p.block for p in view.primitives if isinstance(p, BlockUse)}
        assert drawn == sorted(sum(isinstance(p, Polyline) for p in made.scene.block(name).primitives) for name in used), view.id


def test_dashes_are_as_long_in_the_dxf(made: Set) -> None:
    """Strokes and gaps of the line types in use, times what an entity in a view says of its scale, are those of the PDF."""
    document = made.dxf
    roles = {p.role for view in made.scene.views for p in view.primitives}
    for layer in (layer for layer in made.scene.layers if layer.role in roles and DASHES[layer.line_type]):
        name = document.layers.get(layer.name).dxf.linetype
        pattern = [abs(tag.value) for tag in document.linetypes.get(name).pattern_tags.tags if tag.code == 49]
        for view in made.scene.views:
            space = [e for e in document.modelspace() if e.dxf.layer == layer.name and e.dxftype() in ("LINE", "LWPOLYLINE")]
            for scale in {e.dxf.get("ltscale", 1.0) for e in space}:
                assert scale in {v.scale for v in made.scene.views}, view.id
        assert pattern == pytest.approx(DASHES[layer.line_type]), layer.name
    assert document.header["$PSLTSCALE"] == 0
