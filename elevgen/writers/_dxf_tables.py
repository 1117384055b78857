"""The tables of a DXF: layers, our one text style, a dimension style per scale, and the marks as blocks."""

from __future__ import annotations

from ezdxf.colors import rgb2int
from ezdxf.document import Drawing
from ezdxf.entities.dimstyle import DimStyle

from elevgen.drawing.scene import Layer, Scene, Symbol
from elevgen.drawing.symbols import outlines

TEXT_STYLE = "ELEVGEN"
TEXT_FONT = "arial.ttf"
TEXT_WIDTH = 0.85
"""Width factor that brings the usual font near to the condensed one the text was measured with."""
DIMENSION_TEXT = 2.5


def add_layers(doc: Drawing, layers: tuple[Layer, ...]) -> None:
    """A layer per role, its line width written on it; roles that share a name share the layer."""
    for layer in layers:
        if layer.name in doc.layers:
            continue
        entry = doc.layers.add(
            layer.name,
            color=layer.index,
            linetype=layer.line_type.capitalize() if layer.line_type == "CONTINUOUS" else layer.line_type,
            lineweight=round(layer.width * 100),
            plot=layer.plot,
        )
        entry.dxf.true_color = rgb2int(layer.rgb)


def add_text_style(doc: Drawing) -> None:
    """Our one text style."""
    doc.styles.add(TEXT_STYLE, font=TEXT_FONT, dxfattribs={"width": TEXT_WIDTH})


def dimension_style_name(scale: int) -> str:
    """The name of the dimension style for a scale."""
    return f"ELEVGEN-{scale}"


def add_dimension_style(doc: Drawing, scale: int) -> DimStyle:
    """A building dimension style at one scale: end strokes, text above the line, whole and half millimetres."""
    style = doc.dimstyles.duplicate_entry("Standard", dimension_style_name(scale))
    style.dxf.dimtxsty = TEXT_STYLE
    style.dxf.dimtxt = DIMENSION_TEXT
    style.dxf.dimscale = float(scale)
    style.dxf.dimlfac = 1.0
    style.dxf.dimdec = 1
    style.dxf.dimzin = 8
    style.dxf.dimdsep = ord(".")
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


def block_name(name: str) -> str:
    """A pattern's block in the file: our prefix keeps it apart from the user's own."""
    return f"EG-{name}"


def symbol_block(name: str) -> str:
    """The name of the block a mark is drawn in."""
    return f"EG-{name.upper()}"


def add_symbols(doc: Drawing, scene: Scene) -> None:
    """A block, one unit in size, for every mark the scene uses."""
    everything = [view.primitives for view in scene.views] + [sheet.primitives for sheet in scene.sheets]
    used = sorted({p.name for primitives in everything for p in primitives if isinstance(p, Symbol)})
    for name in used:
        block = doc.blocks.new(symbol_block(name))
        for points, closed in outlines(name):
            block.add_lwpolyline(points, close=closed, dxfattribs={"layer": "0"})
