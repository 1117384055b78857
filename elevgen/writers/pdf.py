"""PDF: one page per sheet, true to scale, text that can be searched and selected."""

from __future__ import annotations

from collections.abc import Iterable
from importlib.resources import as_file, files
from io import BytesIO
from typing import Any

from reportlab.lib.colors import Color
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from elevgen.core.geometry import Point
from elevgen.drawing.board import paragraph_lines
from elevgen.drawing.font import CAP_HEIGHT, Fonts
from elevgen.drawing.scene import (
    BlockUse,
    Dimension,
    Fill,
    Layer,
    Line,
    Paragraph,
    Polyline,
    Primitive,
    Role,
    Scene,
    Sheet,
    Symbol,
    Text,
    Window,
)
from elevgen.drawing.tints import tint
from elevgen.writers._flatten import DASHES, dimension_parts, symbol_parts
from elevgen.writers._in_window import in_window
from elevgen.writers._package import Package

FORMAT = "pdf"

MM = 72 / 25.4
ROUND = 1
"""How lines join: a pointed join would run far out of a piece cut to a slope."""
REGULAR, BOLD = "ElevgenSans", "ElevgenSans-Bold"
_FONT_FILES = {REGULAR: "DejaVuSansCondensed.ttf", BOLD: "DejaVuSansCondensed-Bold.ttf"}


def render(package: Package) -> dict[str, bytes]:
    """The set as one PDF, a page per sheet."""
    return {f"{package.design.name}.pdf": document(package.scene)}


def document(scene: Scene) -> bytes:
    """Draw every sheet of a scene. The same scene gives the same bytes."""
    _register_fonts()
    target = BytesIO()
    canvas = Canvas(target, invariant=1, pageCompression=1, initialFontName=REGULAR)
    canvas.setTitle(scene.title)
    canvas.setSubject("Setting-out aid, not a structural design")
    canvas.setCreator("elevgen")
    forms: set[str] = set()
    fonts = Fonts()
    for sheet in scene.sheets:
        _Page(canvas, scene, forms, fonts).draw(sheet)
    canvas.save()
    return target.getvalue()


def _register_fonts() -> None:
    registered = pdfmetrics.getRegisteredFontNames()
    for name, file in _FONT_FILES.items():
        if name not in registered:
            with as_file(files("elevgen.drawing") / "fonts" / file) as path:
                pdfmetrics.registerFont(TTFont(name, str(path)))


class _Page:
    """Draws primitives on one canvas; `scale` and `origin` turn what is drawn into paper mm."""

    def __init__(self, canvas: Canvas, scene: Scene, forms: set[str], fonts: Fonts) -> None:
        self.canvas: Any = canvas
        self.scene = scene
        self.forms = forms
        self.layers = {layer.role: layer for layer in scene.layers}
        self.blocks = {block.name: block for block in scene.blocks}
        self.views = {view.id: view for view in scene.views}
        self.fonts = fonts
        self.scale = 1.0
        self.origin: Point = (0.0, 0.0)
        self.pen: Layer | None = None

    def draw(self, sheet: Sheet) -> None:
        """One sheet as one page, with a bookmark."""
        self.canvas.setPageSize((sheet.width * MM, sheet.height * MM))
        self.canvas.bookmarkPage(sheet.id)
        self.canvas.addOutlineEntry(sheet.title, sheet.id)
        for window in sheet.windows:
            self._make_forms(window)
        self.pen = None
        self.canvas.setLineJoin(ROUND)
        for window in sheet.windows:
            self._window(window)
        self._all(sheet.primitives)
        self.canvas.showPage()

    def _window(self, window: Window) -> None:
        c, paper = self.canvas, window.paper
        c.saveState()
        clip = c.beginPath()
        clip.rect(paper.left * MM, paper.bottom * MM, paper.width * MM, paper.height * MM)
        c.clipPath(clip, stroke=0, fill=0)
        self._look_through(window)
        self._all(in_window(self.views[window.view], window, self.blocks, self.fonts))
        c.restoreState()
        self.scale, self.origin, self.pen = 1.0, (0.0, 0.0), None

    def _look_through(self, window: Window) -> None:
        self.scale = float(window.scale)
        self.origin = (
            window.paper.left - window.corner[0] / self.scale,
            window.paper.bottom - window.corner[1] / self.scale,
        )

    def _make_forms(self, window: Window) -> None:
        """A form for every block a view uses, drawn once per scale and laid many times."""
        for primitive in self.views[window.view].primitives:
            if not isinstance(primitive, BlockUse):
                continue
            name = f"{primitive.block}@{window.scale}"
            if name in self.forms:
                continue
            self.forms.add(name)
            self.scale, self.origin, self.pen = float(window.scale), (0.0, 0.0), None
            self.canvas.beginForm(name, -1e5, -1e5, 1e5, 1e5)
            self.canvas.setLineJoin(ROUND)
            self._all(self.blocks[primitive.block].primitives)
            self.canvas.endForm()
        self.scale, self.origin, self.pen = 1.0, (0.0, 0.0), None

    def _all(self, primitives: Iterable[Primitive]) -> None:
        for primitive in primitives:
            self._one(primitive)

    def _one(self, primitive: Primitive) -> None:
        match primitive:
            case Line():
                self._use(primitive.role)
                (x1, y1), (x2, y2) = self._at(primitive.a), self._at(primitive.b)
                self.canvas.line(x1, y1, x2, y2)
            case Polyline():
                self._use(primitive.role)
                self.canvas.drawPath(self._path(primitive.points, primitive.closed), stroke=1, fill=0)
            case Fill():
                red, green, blue = tint(primitive.tint).rgb
                self.canvas.setFillColorRGB(red / 255, green / 255, blue / 255)
                self.canvas.drawPath(self._path(primitive.points, True), stroke=0, fill=1)
            case Text():
                self._text(primitive)
            case Paragraph():
                for line in paragraph_lines(primitive, self.scale):
                    self._text(line)
            case Dimension():
                for part in dimension_parts(primitive, self.scale):
                    self._one(part)
            case Symbol():
                self._use(primitive.role)
                for points, closed in symbol_parts(primitive.name, primitive.at, primitive.size * self.scale, primitive.rotation):
                    self.canvas.drawPath(self._path(points, closed), stroke=1, fill=0)
            case BlockUse():
                x, y = self._at(primitive.at)
                self.canvas.saveState()
                self.canvas.translate(x, y)
                self.canvas.doForm(f"{primitive.block}@{int(self.scale)}")
                self.canvas.restoreState()

    def _at(self, point: Point) -> Point:
        return ((self.origin[0] + point[0] / self.scale) * MM, (self.origin[1] + point[1] / self.scale) * MM)

    def _path(self, points: tuple[Point, ...], closed: bool) -> Any:
        path = self.canvas.beginPath()
        path.moveTo(*self._at(points[0]))
        for point in points[1:]:
            path.lineTo(*self._at(point))
        if closed:
            path.close()
        return path

    def _use(self, role: Role) -> None:
        layer = self.layers[role]
        if layer is self.pen:
            return
        self.pen = layer
        self.canvas.setStrokeColor(_colour(layer))
        self.canvas.setLineWidth(layer.width * MM)
        self.canvas.setDash([d * MM for d in DASHES[layer.line_type]])

    def _text(self, text: Text) -> None:
        c = self.canvas
        size = text.height / CAP_HEIGHT * MM
        x, y = self._at(text.at)
        drop = {"base": 0.0, "middle": text.height / 2 * MM, "top": text.height * MM}[text.valign]
        c.saveState()
        c.setFillColor(_colour(self.layers[text.role]))
        c.setFont(BOLD if text.bold else REGULAR, size)
        c.translate(x, y)
        if text.rotation:
            c.rotate(text.rotation)
        {"left": c.drawString, "centre": c.drawCentredString, "right": c.drawRightString}[text.align](0, -drop, text.text)
        c.restoreState()


def _colour(layer: Layer) -> Color:
    red, green, blue = layer.rgb
    return Color(red / 255, green / 255, blue / 255)
