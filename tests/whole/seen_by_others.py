"""A view as three programs show it, as pixels: the DXF by ezdxf's drawing add-on, the PDF by poppler, the SVG by librsvg."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from ezdxf.addons.drawing import Frontend, RenderContext, config, layout
from ezdxf.addons.drawing import svg as ezdxf_svg
from ezdxf.math import BoundingBox2d
from outside import Colours, Ink, luminance, pixels_in, pixels_of_page, run

from elevgen.core.geometry import Rect
from elevgen.drawing.board import text_box, written
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import (
    Fill,
    Scene,
    Text,
    View,
)
from elevgen.writers import svg

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


def page_of(scene: Scene, view: View) -> int:
    return next(n for n, sheet in enumerate(scene.sheets) if any(window.view == view.id for window in sheet.windows))
