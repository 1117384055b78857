"""Dimensions: measured in millimetres whatever they say, with their text as plain text and all their parts on one layer.

Those in our own style are tags like all else, their parts the very lines of the other formats. Those in a user's style are
drawn by the library, which knows what a style may ask for.
"""

from __future__ import annotations

from ezdxf.entities.dimstyle import DimStyle
from ezdxf.entities.mtext import MText
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.base import BaseLayout
from ezdxf.layouts.blocklayout import BlockLayout

from elevgen.core.geometry import Point
from elevgen.drawing.scene import Dimension
from elevgen.writers._dxf_tables import STANDARD, TextLook, text_look
from elevgen.writers._dxf_tags import MEASURED, NOTHING, measured_by

_DECIMAL, _NO_TRAILING_NOUGHTS = 2, 8
_AMBIGUOUS = 1e-4
"""How near a half, in units of the last decimal, is rounded by some programs up and by others down."""


def said(style: DimStyle, measured: float) -> str | None:
    """What a style makes of a measured length, where any program is sure to write just that; else None."""
    dxf = style.dxf
    usual = {"dimlfac": 1.0, "dimlunit": _DECIMAL, "dimpost": "", "dimrnd": 0.0, "dimtol": 0, "dimlim": 0, "dimalt": 0}
    if any(dxf.get_default(name) != value for name, value in usual.items()) or dxf.get_default("dimzin") != _NO_TRAILING_NOUGHTS:
        return None
    places = dxf.get_default("dimdec")
    last = measured * 10**places
    if abs(last % 1 - 0.5) < _AMBIGUOUS:
        return None
    text = f"{measured:.{places}f}"
    return (text.rstrip("0").rstrip(".") if places else text).replace(".", chr(dxf.get_default("dimdsep")))


def add_dimension(layout: BaseLayout, dim: Dimension, text: str, style: DimStyle, layer: str, shift: Point) -> None:
    """A dimension in a user's style, drawn by the library. `text` is what it says, as the file writes texts."""
    upright = dim.axis == "y"
    a, b = _moved(shift, dim.a), _moved(shift, dim.b)
    base = (_moved(shift, (dim.line_at, 0.0))[0], a[1]) if upright else (a[0], _moved(shift, (0.0, dim.line_at))[1])
    measured = measured_by(dim)
    made = layout.add_linear_dim(
        base=base,
        p1=a,
        p2=b,
        angle=90 if upright else 0,
        text=MEASURED if text == said(style, measured) else text or NOTHING,
        dimstyle=style.dxf.name,
        dxfattribs={"layer": layer},
    )
    made.render()
    made.dimension.dxf.actual_measurement = measured
    block = made.dimension.get_geometry_block()
    if block is not None:
        _make_plain(block, text_look(layout.doc, style.dxf.get("dimtxsty", STANDARD)), layer)


def _make_plain(block: BlockLayout, look: TextLook, layer: str) -> None:
    """Every part on the dimension's layer; paragraphs as plain text, which more programs show."""
    for part in tuple(block):
        if part.dxf.layer == "0":
            part.dxf.layer = layer
        if isinstance(part, MText):
            attribs = {name: part.dxf.get(name) for name in ("layer", "color", "style") if part.dxf.hasattr(name)}
            text = block.add_text(part.plain_text(split=False), height=part.dxf.char_height, rotation=part.get_rotation())  # type: ignore[arg-type]
            text.dxf.update(attribs | {"width": look.width})
            text.set_placement(part.dxf.insert, align=TextEntityAlignment.MIDDLE_CENTER)
            block.delete_entity(part)


def _moved(shift: Point, point: Point) -> Point:
    return (round(point[0] + shift[0], 6), round(point[1] + shift[1], 6))
