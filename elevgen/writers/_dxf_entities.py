"""Scene primitives as DXF entities, one for one."""

from __future__ import annotations

from functools import partial
from typing import Any

from ezdxf.colors import rgb2int
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.base import BaseLayout

from elevgen.core.geometry import Point
from elevgen.core.measures import millimetres
from elevgen.drawing.scene import Block, BlockUse, Dimension, Fill, Line, Polyline, Primitive, Scene, Symbol, Text
from elevgen.drawing.tints import tint
from elevgen.writers._dxf_tables import TEXT_STYLE, TEXT_WIDTH, dimension_style_name, symbol_block

_ALIGN = {
    ("left", "base"): TextEntityAlignment.LEFT,
    ("centre", "base"): TextEntityAlignment.CENTER,
    ("right", "base"): TextEntityAlignment.RIGHT,
    ("left", "middle"): TextEntityAlignment.MIDDLE_LEFT,
    ("centre", "middle"): TextEntityAlignment.MIDDLE_CENTER,
    ("right", "middle"): TextEntityAlignment.MIDDLE_RIGHT,
    ("left", "top"): TextEntityAlignment.TOP_LEFT,
    ("centre", "top"): TextEntityAlignment.TOP_CENTER,
    ("right", "top"): TextEntityAlignment.TOP_RIGHT,
}


def block_name(name: str) -> str:
    """A pattern's block in the file: our prefix keeps it apart from the user's own."""
    return f"EG-{name}"


class Entities:
    """Adds primitives to a layout or block of one document."""

    def __init__(self, doc: Drawing, scene: Scene) -> None:
        self.doc = doc
        self.layer_name = {layer.role: layer.name for layer in scene.layers}

    def add_block(self, block: Block) -> None:
        """A block definition; its entities keep their own layers."""
        self.add_all(self.doc.blocks.new(block_name(block.name)), block.primitives)

    def add_all(self, layout: BaseLayout, primitives: tuple[Primitive, ...], scale: float = 1, shift: Point = (0.0, 0.0)) -> None:
        """Every primitive, moved by `shift`; paper sizes are multiplied by `scale`."""
        move = partial(_moved, shift)
        for primitive in primitives:
            self._add(layout, primitive, scale, move)

    def _add(self, layout: BaseLayout, primitive: Primitive, scale: float, move: Any) -> None:
        attribs: dict[str, Any] = {"layer": self.layer_name[primitive.role]}
        match primitive:
            case Line():
                layout.add_line(move(primitive.a), move(primitive.b), dxfattribs=attribs)
            case Polyline():
                layout.add_lwpolyline([move(p) for p in primitive.points], close=primitive.closed, dxfattribs=attribs)
            case Fill():
                colour = tint(primitive.tint)
                hatch = layout.add_hatch(color=colour.aci, dxfattribs=attribs | {"true_color": rgb2int(colour.rgb)})
                hatch.paths.add_polyline_path([move(p) for p in primitive.points], is_closed=True)
            case Text():
                attribs |= {"style": TEXT_STYLE, "width": TEXT_WIDTH, "rotation": primitive.rotation}
                entity = layout.add_text(primitive.text, height=primitive.height * scale, dxfattribs=attribs)
                entity.set_placement(move(primitive.at), align=_ALIGN[primitive.align, primitive.valign])
            case Dimension():
                self._add_dimension(layout, primitive, scale, move)
            case Symbol():
                size = primitive.size * scale
                attribs |= {"xscale": size, "yscale": size, "rotation": primitive.rotation}
                layout.add_blockref(symbol_block(primitive.name), move(primitive.at), dxfattribs=attribs)
            case BlockUse():
                layout.add_blockref(block_name(primitive.block), move(primitive.at), dxfattribs=attribs)

    def _add_dimension(self, layout: BaseLayout, dim: Dimension, scale: float, move: Any) -> None:
        layer = self.layer_name[dim.role]
        upright = dim.axis == "y"
        base = move((dim.line_at, dim.a[1]) if upright else (dim.a[0], dim.line_at))
        measured = abs(dim.b[1] - dim.a[1]) if upright else abs(dim.b[0] - dim.a[0])
        made = layout.add_linear_dim(
            base=base,
            p1=move(dim.a),
            p2=move(dim.b),
            angle=90 if upright else 0,
            text="<>" if dim.text == millimetres(measured) else dim.text,
            dimstyle=dimension_style_name(int(scale)),
            dxfattribs={"layer": layer},
        )
        made.render()
        made.dimension.dxf.actual_measurement = round(measured, 6)
        for part in made.dimension.get_geometry_block() or ():
            if part.dxf.layer == "0":
                part.dxf.layer = layer


def _moved(shift: Point, point: Point) -> Point:
    return (round(point[0] + shift[0], 6), round(point[1] + shift[1], 6))
