"""Fills the layouts and blocks of a document: everything as tags, but for dimensions in a user's style."""

from __future__ import annotations

import re
from functools import partial

from ezdxf.document import Drawing
from ezdxf.layouts.base import BaseLayout

from elevgen.core.geometry import Point
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Block, Dimension, Primitive
from elevgen.writers._dxf_dimensions import add_dimension, said
from elevgen.writers._dxf_names import Names
from elevgen.writers._dxf_r12 import R12Tags
from elevgen.writers._dxf_tables import Look
from elevgen.writers._dxf_tags import Dimensions, Numbers, Tags
from elevgen.writers._flatten import dimension_parts

_POINT = re.compile(r"  0\nPOINT\n  5\n(\w+)\n.*?(?=  0\n)", re.DOTALL)
"""A point entity as the library writes it, and its handle."""


class Entities:
    """Adds primitives to the layouts and blocks of one document, and puts the tags in when it is written.

    In each layout a point holds the place of the entities written as tags.
    """

    def __init__(self, doc: Drawing, names: Names, look: Look, fonts: Fonts) -> None:
        self.doc = doc
        self.names = names
        self.look = look
        self.fonts = fonts
        self._tags_as = R12Tags if doc.dxfversion == "AC1009" else Tags
        self._numbers = Numbers()
        self._tags: dict[str, str] = {}

    def add_block(self, block: Block) -> None:
        """A block definition; its entities keep their own layers. One that is there already is left as it is."""
        name = self.names.blocks[block.name]
        if name not in self.doc.blocks:
            self.add_all(self.doc.blocks.new(name), block.primitives)

    def add_all(
        self,
        layout: BaseLayout,
        primitives: tuple[Primitive, ...],
        scale: float = 1.0,
        shift: Point = (0.0, 0.0),
        paper: bool = False,
    ) -> None:
        """Every primitive, moved by `shift`; paper sizes are multiplied by `scale`."""
        place = layout.add_point((0, 0)).dxf.handle
        new_handle = self.doc.entitydb.handles.next
        where = (self._numbers, layout.layout_key, paper, scale, shift)
        tags = self._tags_as(self.names, self.look, self.fonts, new_handle, *where, self._dimensions(scale, shift))
        if not self.look.foreign_dimensions:
            self._tags[place] = tags.text_of(primitives)
            return
        self._tags[place] = tags.text_of(p for p in primitives if not isinstance(p, Dimension))
        for primitive in primitives:
            if isinstance(primitive, Dimension):
                style = self.doc.dimstyles.get(self.look.dimensions[int(scale)])
                add_dimension(layout, primitive, tags.words(primitive.text), style, self.names.layers[primitive.role], shift)

    def _dimensions(self, scale: float, shift: Point) -> Dimensions | None:
        """How dimensions at a scale are written; None at one at which there are none."""
        if scale not in self.look.dimensions:
            return None
        style = self.doc.dimstyles.get(self.look.dimensions[int(scale)])

        def block_of(dim: Dimension) -> str:
            block = self.doc.blocks.new_anonymous_block(type_char="D")
            self.add_all(block, dimension_parts(dim, scale), scale, shift)
            return block.name

        return Dimensions(style.dxf.name, partial(said, style), block_of)

    def with_tags(self, written: str) -> str:
        """The written file with every place taken by its entities; other points stay as they are."""
        return _POINT.sub(lambda found: self._tags.get(found[1], found[0]), written)
