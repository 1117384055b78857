"""Fills the layouts and blocks of a document: dimensions as the library makes them, everything else as tags."""

from __future__ import annotations

import re

from ezdxf.document import Drawing
from ezdxf.layouts.base import BaseLayout

from elevgen.core.geometry import Point
from elevgen.core.measures import millimetres
from elevgen.drawing.scene import Block, Dimension, Primitive, Scene
from elevgen.writers._dxf_tables import block_name, dimension_style_name
from elevgen.writers._dxf_tags import Numbers, Tags

_POINT = re.compile(r"  0\nPOINT\n  5\n(\w+)\n.*?(?=  0\n)", re.DOTALL)
"""A point entity as the library writes it, and its handle."""


class Entities:
    """Adds primitives to the layouts and blocks of one document, and puts the tags in when it is written.

    In each layout a point holds the place of the entities written as tags.
    """

    def __init__(self, doc: Drawing, scene: Scene) -> None:
        self.doc = doc
        self.layers = {layer.role: layer.name for layer in scene.layers}
        self._numbers = Numbers()
        self._tags: dict[str, str] = {}

    def add_block(self, block: Block) -> None:
        """A block definition; its entities keep their own layers."""
        self.add_all(self.doc.blocks.new(block_name(block.name)), block.primitives)

    def add_all(
        self,
        layout: BaseLayout,
        primitives: tuple[Primitive, ...],
        scale: float = 1.0,
        shift: Point = (0.0, 0.0),
        paper: bool = False,
    ) -> None:
        """Every primitive, moved by `shift`; paper sizes are multiplied by `scale`."""
        for primitive in primitives:
            if isinstance(primitive, Dimension):
                self._add_dimension(layout, primitive, scale, shift)
        place = layout.add_point((0, 0)).dxf.handle
        tags = Tags(self.layers, self.doc.entitydb.handles.next, self._numbers, layout.layout_key, paper, scale, shift)
        self._tags[place] = tags.text_of(p for p in primitives if not isinstance(p, Dimension))

    def with_tags(self, written: str) -> str:
        """The written file with every place taken by its entities; other points stay as they are."""
        return _POINT.sub(lambda found: self._tags.get(found[1], found[0]), written)

    def _add_dimension(self, layout: BaseLayout, dim: Dimension, scale: float, shift: Point) -> None:
        layer = self.layers[dim.role]
        upright = dim.axis == "y"
        a, b = _moved(shift, dim.a), _moved(shift, dim.b)
        base = _moved(shift, (dim.line_at, dim.a[1]) if upright else (dim.a[0], dim.line_at))
        measured = abs(dim.b[1] - dim.a[1]) if upright else abs(dim.b[0] - dim.a[0])
        made = layout.add_linear_dim(
            base=base,
            p1=a,
            p2=b,
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
