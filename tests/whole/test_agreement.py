"""DXF, PDF and SVG show the same picture: each drawn by another program, view by view, and compared ink by ink.

The DXF by ezdxf's drawing add-on, the PDF by poppler, the SVG by librsvg. Where text stands the DXF has a font of the reader's,
so there only whether something is written is compared; everything else must have ink of the others within two pixels
(0.25 mm). What does not is summed over squares of 4 mm: a line too few or too many fills one of them.

Drawing and comparing a view takes seconds, so every view of one building is, and of others those that show what none before
them did. Each way of going wrong is tried on one view.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from ezdxf.addons.drawing import Frontend, RenderContext, config, layout
from ezdxf.addons.drawing import svg as ezdxf_svg
from ezdxf.math import BoundingBox2d
from finished_set import Drawing, Set, through
from outside import Colours, Ink, luminance, needs, pixels_in, pixels_of_page, run
from pypdf import PdfReader
from pypdf.generic import ContentStream

from elevgen.core.geometry import Rect
from elevgen.drawing.board import text_box, written
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import (
    BlockUse,
    Dimension,
    Fill,
    Line,
    Polyline,
    Primitive,
    Role,
    Scene,
    Sheet,
    Symbol,
    Text,
    View,
)
from elevgen.drawing.symbols import outlines
from elevgen.writers import pdf, svg
from elevgen.writers._flatten import DASHES

DPI = 200
PER_MM = DPI / 25.4
REACH = 2
SQUARE = 4.0
STRAY, STRAY_DXF = 0.15, 1.5
"""Square millimetres of ink in a square of 4 mm that the other picture has not. A DXF's dashes begin where its reader likes."""
FIRM, FAINT = 185, 214
"""Luminance of what is surely ink, and of what may be a thin line that falls between pixels; every tint is lighter."""
SURELY, PERHAPS = 0.25, 0.45
"""How far from a pen's colour, as a part of the way to white, a pixel is its ink, and may be where a line falls between two."""
SVG = "{http://www.w3.org/2000/svg}"


Place = tuple[slice, slice]
"""Rows and columns."""


@dataclass(frozen=True)
class Pictures:
    """One view as three programs draw it, all of one size, where text stands (and might in a wider font), and pens not grey."""

    dxf: Colours
    pdf: Colours
    svg: Colours
    texts: tuple[Place, ...]
    around: tuple[Place, ...]
    pens: tuple[tuple[int, int, int], ...]

    def apart(self, one: Colours, two: Colours) -> float:
        """The most ink in any square that only one of two pictures has, of any one pen, in square mm; texts left out."""
        written = np.zeros(one.shape[:2], dtype=bool)
        for rows, columns in self.around:
            written[rows, columns] = True
        return max(
            _most(firm(a) & ~_near(faint(b)) & ~written)
            for firm, faint in ((_dark(FIRM), _dark(FAINT)), *((_of(pen, SURELY), _of(pen, PERHAPS)) for pen in self.pens))
            for a, b in ((one, two), (two, one))
        )

    def unwritten(self, drawn: Colours) -> int:
        """Texts with no ink where they stand."""
        dark = luminance(drawn) < 150
        return sum(not dark[place].any() for place in self.texts)


def _dark(limit: float) -> Callable[[Colours], Ink]:
    return lambda pixels: luminance(pixels) < limit


def _of(pen: tuple[int, int, int], how: float) -> Callable[[Colours], Ink]:
    """Where a picture has a pen's colour: off it by less than this part of its way to white."""
    limit = how * (765 - sum(pen))
    return lambda pixels: sum(np.abs(pixels[..., n] - np.int16(value)) for n, value in enumerate(pen)) < limit


def _near(ink: Ink) -> Ink:
    """Ink and what lies within reach of it, up or down and left or right."""
    grown = ink
    for axis in (0, 1):
        spread = grown.copy()
        for step in range(1, REACH + 1):
            ahead, behind = (np.s_[step:, :], np.s_[:-step, :]) if axis == 0 else (np.s_[:, step:], np.s_[:, :-step])
            spread[ahead] |= grown[behind]
            spread[behind] |= grown[ahead]
        grown = spread
    return grown


def _most(stray: Ink) -> float:
    """The most in any square of a grid, and of one half a square off it, in square millimetres."""
    side = round(SQUARE * PER_MM)
    found = 0
    for off in (0, side // 2):
        part = stray[off:, off:].astype(np.int32)
        sums = np.add.reduceat(np.add.reduceat(part, range(0, part.shape[0], side), 0), range(0, part.shape[1], side), 1)
        found = max(found, int(sums.max()))
    return found / PER_MM**2


def pictures(scene: Scene, view: View, document: Any, place: tuple[float, float], pdf: Path, folder: Path) -> Pictures:
    """A view of a DXF, of the page of a PDF it is on and as SVG, each cut to the view's extents."""
    from_dxf = dxf_as_pixels(document, scene, view, place, folder)
    from_pdf = page_as_pixels(scene, view, pdf, page_of(scene, view), folder)
    drawn = same_size(from_dxf, from_pdf, svg_as_pixels(scene, view, folder))
    wide, high = size(scene, view)
    pens = {scene.layer(p.role).rgb for p in view.primitives if not isinstance(p, Text | Fill)}
    coloured = tuple(sorted(pen for pen in pens if max(pen) - min(pen) > 80))
    return Pictures(*drawn, *text_places(scene, view, wide, high), coloured)


def seen(scene: Scene, view: View) -> Rect:
    """What a sheet shows of a view: all of it, or all but the words that stand once on the sheet."""
    sheet = scene.sheets[page_of(scene, view)]
    (window,) = [w for w in sheet.windows if w.view == view.id]
    x, y = window.corner
    return Rect(x, y, x + window.paper.width * window.scale, y + window.paper.height * window.scale)


def size(scene: Scene, view: View) -> tuple[int, int]:
    """How many pixels what is seen of a view is wide and high."""
    box = seen(scene, view)
    return round(box.width / view.scale * PER_MM), round(box.height / view.scale * PER_MM)


def svg_as_pixels(scene: Scene, view: View, folder: Path) -> Colours:
    wide, high = size(scene, view)
    box = seen(scene, view)
    left = round((svg.MARGIN + (box.left - view.extents.left) / view.scale) * PER_MM)
    top = round((svg.MARGIN + (view.extents.top - box.top) / view.scale) * PER_MM)
    (folder / "view.svg").write_text(svg.picture(scene, view, Fonts()), encoding="utf-8")
    run("rsvg-convert", "-d", str(DPI), "-p", str(DPI), folder / "view.svg", "-o", folder / "view.png")
    return pixels_in(folder / "view.png")[top : top + high, left : left + wide]


def page_as_pixels(scene: Scene, view: View, page: Path, number: int, folder: Path) -> Colours:
    """A view on a page of a PDF that holds the sheets of a scene, cut to it."""
    sheet, box = scene.sheets[number], seen(scene, view)
    window = next(w for w in sheet.windows if w.view == view.id)
    left = window.paper.left + (box.left - window.corner[0]) / view.scale
    top = sheet.height - (window.paper.bottom + (box.top - window.corner[1]) / view.scale)
    return pixels_of_page(page, folder, DPI, number + 1, (round(left * PER_MM), round(top * PER_MM), *size(scene, view)))


def same_size(*drawn: Colours) -> tuple[Colours, Colours, Colours]:
    high, wide = (min(ink.shape[axis] for ink in drawn) for axis in (0, 1))
    one, two, three = (ink[:high, :wide] for ink in drawn)
    return one, two, three


def dxf_as_pixels(document: Any, scene: Scene, view: View, place: tuple[float, float], folder: Path) -> Colours:
    """The part of model space that is seen of a view, at the view's scale."""
    box = seen(scene, view)
    low = (box.left + place[0], box.bottom + place[1])
    high = (box.right + place[0], box.top + place[1])
    inside = BoundingBox2d([low, high])

    def in_view(entity: Any) -> bool:
        return bool(inside.inside(_somewhere(entity)))

    settings = config.Configuration(
        background_policy=config.BackgroundPolicy.WHITE,
        color_policy=config.ColorPolicy.COLOR,
        lineweight_policy=config.LineweightPolicy.ABSOLUTE,
    )
    backend = ezdxf_svg.SVGBackend()
    context = RenderContext(document)
    Frontend(context, backend, config=settings).draw_layout(document.modelspace(), filter_func=in_view)
    page = layout.Page(box.width / view.scale, box.height / view.scale, layout.Units.mm)
    text = backend.get_string(
        page, settings=layout.Settings(fit_page=False, scale=1 / view.scale), render_box=BoundingBox2d([low, high])
    )
    (folder / "dxf.svg").write_text(text, encoding="utf-8")
    run("rsvg-convert", "-d", str(DPI), "-p", str(DPI), folder / "dxf.svg", "-o", folder / "dxf.png")
    return pixels_in(folder / "dxf.png")


def _somewhere(entity: Any) -> tuple[float, float]:
    """A point of an entity."""
    match entity.dxftype():
        case "LWPOLYLINE":
            x, y, *_ = entity[0]
            return x, y
        case "POLYLINE":
            return tuple(entity.vertices[0].dxf.location)[:2]
        case "LINE":
            return tuple(entity.dxf.start)[:2]
        case "HATCH":
            return tuple(entity.paths[0].vertices[0])[:2]
        case "SOLID":
            return tuple(entity.dxf.vtx0)[:2]
        case "DIMENSION":
            return tuple(entity.dxf.defpoint2)[:2]
    return tuple(entity.dxf.insert)[:2]


def text_places(scene: Scene, view: View, wide: int, high: int) -> tuple[tuple[Place, ...], tuple[Place, ...]]:
    """Where every text stands, and the same with room for a wider font."""
    box, scale, fonts = seen(scene, view), view.scale, Fonts()

    def inside(rect: Rect) -> bool:
        return box.left <= rect.left and rect.right <= box.right and box.bottom <= rect.bottom and rect.top <= box.top

    def place(rect: Rect) -> Place:
        columns = (min(wide, max(0, round((x - box.left) / scale * PER_MM))) for x in (rect.left, rect.right))
        rows = (min(high, max(0, round((box.top - y) / scale * PER_MM))) for y in (rect.top, rect.bottom))
        return slice(*rows), slice(*columns)

    def roomy(rect: Rect, upright: bool) -> Rect:
        x, y = (0.8 * scale + 0.15 * side for side in ((0.0, rect.height) if upright else (rect.width, 0.0)))
        return Rect(rect.left - x, rect.bottom - y, rect.right + x, rect.top + y)

    boxes = [(text_box(text, fonts, scale), bool(text.rotation)) for text in written(view.primitives, scale) if text.text.strip()]
    return tuple(place(rect) for rect, _ in boxes if inside(rect)), tuple(place(roomy(*each)) for each in boxes)


@pytest.fixture(scope="module")
def drawn_by_others(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Set, View], Pictures]:
    """A function: a view as three programs show it; its DXF is the one of that elevation where there is one."""

    @cache
    def draw(made: Set, view_id: str) -> Pictures:
        where = {view.id: (drawing, place) for drawing in by_size(made.drawings) for view, place in drawing.views}
        drawing, place = where[view_id]
        folder = tmp_path_factory.mktemp("agreement")
        document = ezdxf.readfile(drawing.path)
        return pictures(made.scene, made.scene.view(view_id), document, place, made.file("pdf"), folder)

    return lambda made, view: draw(made, view.id)


EVERY_VIEW_OF = "kitchen-garden"


def compared(made: Set) -> list[View]:
    """Every view of one building that stands on one sheet; of the others, those with something new, a role drawn as a kind of
    primitive at a scale, in order of how much they show."""
    views = [view for view in made.scene.views if not view.cuts]
    if made.design.name == EVERY_VIEW_OF:
        return list(views)
    seen: set[tuple[int, Role, type]] = set()
    found = []
    shows = {view.id: {(view.scale, p.role, type(p)) for p in view.primitives} for view in views}
    for view in sorted(views, key=lambda v: (-len(shows[v.id]), len(v.primitives))):
        if shows[view.id] - seen:
            found.append(view)
            seen |= shows[view.id]
    return found


def by_size(drawings: tuple[Drawing, ...]) -> list[Drawing]:
    """Those with most views first."""
    return sorted(drawings, key=lambda drawing: -len(drawing.views))


def page_of(scene: Scene, view: View) -> int:
    return next(n for n, sheet in enumerate(scene.sheets) if any(window.view == view.id for window in sheet.windows))


Drawn = Callable[[Set, View], Pictures]
compares = needs("pdftoppm", "rsvg-convert")
on_one_building = pytest.mark.parametrize("package", ["studio"], indirect=True)


@compares
def test_all_three_show_the_same_picture(made: Set, drawn_by_others: Drawn) -> None:
    for view in compared(made):
        shown = drawn_by_others(made, view)
        assert shown.apart(shown.dxf, shown.pdf) < STRAY_DXF, (view.id, "DXF and PDF")
        assert shown.apart(shown.svg, shown.pdf) < STRAY, (view.id, "SVG and PDF")


@compares
def test_wherever_text_stands_all_three_have_written(made: Set, drawn_by_others: Drawn) -> None:
    for view in compared(made):
        shown = drawn_by_others(made, view)
        assert [shown.unwritten(drawn) for drawn in (shown.dxf, shown.pdf, shown.svg)] == [0, 0, 0], view.id


@pytest.mark.parametrize("package", ["studio", "duplex"], indirect=True)
def test_what_is_compared_shows_every_kind_of_thing(made: Set) -> None:
    def kinds(views: Iterable[View]) -> set[tuple[Role, type]]:
        return {(p.role, type(p)) for view in views for p in view.primitives}

    assert kinds(compared(made)) == kinds(made.scene.views)
    assert len(compared(made)) < len(made.scene.views)


def faults(view: View) -> dict[str, View]:
    """What a view would be with one fault each, of those it can have.

    A course left out is not among them: at 1:50 the edges of the next one lie within reach of its own. Courses are counted below.
    """

    def first(role: Role, kind: type[Primitive]) -> Primitive | None:
        return next((p for p in view.primitives if p.role is role and isinstance(p, kind)), None)

    found: dict[str, tuple[Primitive | None, Primitive | None]] = {
        "no lintel": (first(Role.LINTEL, Polyline), None),
        "no reinforcement": (first(Role.BED_REINFORCEMENT, Line), None),
    }
    joint = first(Role.MOVEMENT_JOINT, Polyline)
    if isinstance(joint, Polyline):
        found["joint moved by 60"] = (joint, replace(joint, points=tuple((x + 60.0, y) for x, y in joint.points)))
    return {name: with_fault(view, old, new) for name, (old, new) in found.items() if old}


def with_fault(view: View, old: Primitive, new: Primitive | None) -> View:
    changed = (new if p is old else p for p in view.primitives)
    return replace(view, primitives=tuple(p for p in changed if p is not None))


def tried(made: Set) -> View:
    """The view for trying faults on: it can have all of them, and little else."""
    view = max(made.scene.views, key=lambda v: ("joint moved by 60" in faults(v), len(faults(v)), -len(v.primitives)))
    assert "joint moved by 60" in faults(view)
    return view


def alike(one: Colours, other: Colours) -> Colours:
    """Cut to the size of another."""
    return one[: other.shape[0], : other.shape[1]]


@compares
@on_one_building
def test_a_fault_in_one_of_them_is_seen(made: Set, drawn_by_others: Drawn, tmp_path: Path) -> None:
    """Each format with the fault against another without it."""
    view = tried(made)
    good = drawn_by_others(made, view)
    for name, wrong in faults(view).items():
        views = tuple(wrong if v is view else v for v in made.scene.views)
        scene = replace(made.scene, views=views, sheets=(made.scene.sheets[page_of(made.scene, view)],))
        page = tmp_path / "wrong.pdf"
        page.write_bytes(pdf.document(scene))
        assert good.apart(alike(svg_as_pixels(scene, wrong, tmp_path), good.pdf), good.pdf) > STRAY, name
        assert good.apart(good.svg, alike(page_as_pixels(scene, wrong, page, 0, tmp_path), good.svg)) > STRAY, name


@compares
@on_one_building
def test_a_joint_out_of_place_in_the_dxf_is_seen(made: Set, drawn_by_others: Drawn, tmp_path: Path) -> None:
    view = tried(made)
    good = drawn_by_others(made, view)
    document = ezdxf.readfile(made.file("dxf"))
    layer, box, (x, y) = made.scene.layer(Role.MOVEMENT_JOINT).name, view.extents, view.place
    joint = next(
        e
        for e in document.modelspace().query("LWPOLYLINE")
        if e.dxf.layer == layer and box.left < e[0][0] - x < box.right and box.bottom < e[0][1] - y < box.top
    )
    right = alike(dxf_as_pixels(document, made.scene, view, view.place, tmp_path), good.pdf)
    joint.translate(60, 0, 0)
    wrong = alike(dxf_as_pixels(document, made.scene, view, view.place, tmp_path), good.pdf)
    assert good.apart(right, good.pdf) < STRAY_DXF < good.apart(wrong, good.pdf)


@compares
@on_one_building
def test_a_text_left_out_is_seen(made: Set, drawn_by_others: Drawn, tmp_path: Path) -> None:
    """The longest one, which nothing else crosses."""
    view = tried(made)
    good = drawn_by_others(made, view)
    left_out = max((p for p in view.primitives if isinstance(p, Text)), key=lambda p: len(p.text))
    bad = svg_as_pixels(made.scene, with_fault(view, left_out, None), tmp_path)
    assert good.unwritten(good.svg) == 0
    assert good.unwritten(alike(bad, good.svg)) == 1


# --- counted ---------------------------------------------------------------------------------------------------------


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
