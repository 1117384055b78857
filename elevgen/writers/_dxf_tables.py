"""The tables of a DXF: layers with their line types, text styles, a dimension style per scale, and the marks as blocks.

What a drawing has already, under the names we would use, is left as it is: it is the user's.
"""

from __future__ import annotations

from dataclasses import dataclass

from ezdxf.colors import rgb2int
from ezdxf.document import Drawing
from ezdxf.entities.dimstyle import DimStyle

from elevgen.drawing.scene import Layer, Scene, Symbol
from elevgen.drawing.symbols import outlines
from elevgen.writers._dxf_names import PREFIX, Names
from elevgen.writers._flatten import DASHES

TEXT_STYLE, BOLD_STYLE = "ELEVGEN", "ELEVGEN-BOLD"
TEXT_FONT, BOLD_FONT = "arial.ttf", "arialbd.ttf"
TEXT_WIDTH, BOLD_WIDTH = 0.79, 0.83
"""Width factors that keep the usual font within the room of the one texts were measured with, letter by letter (but J)."""
DIMENSION_TEXT = 2.5
STANDARD = "Standard"
_LINE_TYPE_TEXTS = {"DASHED": "Dashed __ __ __ __", "CENTER": "Center ____ _ ____ _"}


@dataclass(frozen=True, slots=True)
class TextLook:
    """A text style of the file and the width factor its texts are written with."""

    style: str
    width: float


@dataclass(frozen=True, slots=True)
class Look:
    """How texts and dimensions of a file look: its text styles, its dimension style for each scale, its dashed layers."""

    regular: TextLook
    bold: TextLook
    dimensions: dict[int, str]
    foreign_dimensions: bool
    """True where the dimension styles are the user's, or copies of them."""
    line_widths: dict[str, int]
    """Of each layer, in hundredths of a mm: text is told to be drawn narrower where lines would fill its letters."""
    dashes: float
    """By this, times its view's scale, an entity's dashes are longer than on paper; 0 where viewports see to that."""
    dashed: frozenset[str]
    """Layers whose lines are broken: text on them is told not to be, for programs that draw letters as lines."""

    def dash_scale(self, scale: float) -> float:
        """By how much the dashes of an entity of a view at a scale are longer than its line type says."""
        return self.dashes * scale or 1.0


def add_layers(doc: Drawing, layers: tuple[Layer, ...], names: Names) -> None:
    """A layer per role, its line width written on it; roles that share a name share the layer."""
    for layer in layers:
        name = names.layers[layer.role]
        if name in doc.layers:
            continue
        _add_line_type(doc, layer.line_type)
        entry = doc.layers.add(
            name,
            color=layer.index,
            linetype=layer.line_type.capitalize() if layer.line_type == "CONTINUOUS" else layer.line_type,
            lineweight=round(layer.width * 100),
            plot=layer.plot,
        )
        if layer.screen is not None:
            entry.dxf.true_color = rgb2int(layer.screen)


def _add_line_type(doc: Drawing, name: str) -> None:
    """A line type with the dashes of paper, in mm."""
    if name not in doc.linetypes:
        dashes = [length if n % 2 == 0 else -length for n, length in enumerate(DASHES[name])]
        doc.linetypes.add(name, [sum(DASHES[name]), *dashes], description=_LINE_TYPE_TEXTS[name])


def add_text_styles(doc: Drawing, regular: str = "") -> tuple[TextLook, TextLook]:
    """The styles of plain and of bold text. `regular` is the user's, which then serves for both where it has no bold of ours."""
    if regular:
        return text_look(doc, regular), text_look(doc, BOLD_STYLE if BOLD_STYLE in doc.styles else regular)
    for name, font, width in ((TEXT_STYLE, TEXT_FONT, TEXT_WIDTH), (BOLD_STYLE, BOLD_FONT, BOLD_WIDTH)):
        if name not in doc.styles:
            doc.styles.add(name, font=font, dxfattribs={"width": width})
    return text_look(doc, TEXT_STYLE), text_look(doc, BOLD_STYLE)


def text_look(doc: Drawing, style: str) -> TextLook:
    """A style of a file, under the name it is spelt with there; the usual one where it has none of that name."""
    entry = doc.styles.get(style if style in doc.styles else STANDARD)
    return TextLook(entry.dxf.name, float(entry.dxf.get("width", 1.0)))


def add_dimension_style(doc: Drawing, scale: int, text: TextLook) -> DimStyle:
    """A building dimension style at one scale: end strokes, text above the line, whole and half millimetres."""
    name = f"ELEVGEN-{scale}"
    if name in doc.dimstyles:
        return doc.dimstyles.get(name)
    if STANDARD not in doc.dimstyles:
        doc.dimstyles.add(STANDARD)
    style = doc.dimstyles.duplicate_entry(STANDARD, name)
    if doc.styles.get(text.style).dxf.get("height", 0.0):  # a fixed height would overrule the dimension's
        text = add_text_styles(doc)[0]
    style.dxf.dimtxsty = text.style
    style.dxf.dimtxt = DIMENSION_TEXT
    style.dxf.dimscale = float(scale)
    style.dxf.dimlfac = 1.0
    style.dxf.dimlunit = 2
    style.dxf.dimdec = 1
    style.dxf.dimzin = 8
    style.dxf.dimdsep = ord(".")
    style.dxf.dimpost = ""
    style.dxf.dimtad = 1
    style.dxf.dimtih = 0
    style.dxf.dimtoh = 0
    style.dxf.dimtix = 1
    style.dxf.dimtofl = 1
    style.dxf.dimtmove = 2
    style.dxf.dimtsz = 0.9
    style.dxf.dimasz = 1.8
    style.dxf.dimexe = 1.25
    style.dxf.dimexo = 1.5
    style.dxf.dimgap = 0.8
    style.dxf.dimdli = 8.0
    style.dxf.dimdle = 0.0
    style.dxf.discard("dimrnd")
    return style


def own_dimension_style(doc: Drawing, own: str, scale: int) -> DimStyle:
    """The user's dimension style at one scale: itself where it is drawn at that scale, else a copy of ours that is."""
    style = doc.dimstyles.get(own)
    if style.dxf.get("dimscale", 1.0) == scale:
        return style
    name = f"{PREFIX}{style.dxf.name}-{scale}"
    copy = doc.dimstyles.get(name) if name in doc.dimstyles else doc.dimstyles.duplicate_entry(own, name)
    copy.dxf.dimscale = float(scale)
    return copy


def add_symbols(doc: Drawing, scene: Scene, names: Names) -> None:
    """A block, one unit in size, for every mark the scene uses."""
    everything = [view.primitives for view in scene.views] + [sheet.primitives for sheet in scene.sheets]
    used = sorted({p.name for primitives in everything for p in primitives if isinstance(p, Symbol)})
    for mark in used:
        if names.symbol(mark) in doc.blocks:
            continue
        block = doc.blocks.new(names.symbol(mark))
        attribs = {"layer": "0", "linetype": "Continuous"}
        for points, closed in outlines(mark):
            if doc.dxfversion == "AC1009":
                block.add_polyline2d(points, close=closed, dxfattribs=attribs)
            else:
                block.add_lwpolyline(points, close=closed, dxfattribs=attribs)
