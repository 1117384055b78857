"""Scene primitives as DXF tags, one entity for one primitive.

Written as text and not through the library's entity objects: a set holds thousands of them, and an object for each took
most of the time of a draw. Viewports, title blocks, all tables, and dimensions in a user's style are the library's.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import cos, radians, sin

from ezdxf.colors import rgb2int
from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS

from elevgen.core.geometry import Point
from elevgen.drawing.board import dimension_text
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import BlockUse, Dimension, Fill, Line, Paragraph, Polyline, Primitive, Role, Symbol, Text
from elevgen.drawing.tints import tint
from elevgen.writers._dxf_names import Names
from elevgen.writers._dxf_tables import Look, TextLook

_ALONG = {"left": 0, "centre": 1, "right": 2}
_RISE = {"base": 0.0, "middle": 0.5, "top": 1.0}
"""How far a text's place lies over its base line, as a part of its height."""
_SHOWN = 0.78
"""How wide the usual font shows most texts, as a part of what they were measured to be at most."""
_USUAL_PITCH = 5 / 3
"""From line to line of MTEXT at spacing 1, as a part of the text height."""
_ROUNDING = 1e-6
_LONGEST_TAG = 250
MEASURED, NOTHING = "<>", " "
"""What a dimension says when it says what is measured, as its style writes it; and when it says nothing."""
_BEGINS_CODE = re.compile(r"\^|%(?=%)|\\(?=[UuMm]\+)")
"""A caret; the first of two per cent signs; the backslash of a letter given by its number, which every reader puts in."""
_ACROSS = {"base": 0, "middle": 2, "top": 3}


@dataclass(frozen=True, slots=True)
class Dimensions:
    """How dimensions of one scale are written: the style, what it makes of a length, and where their parts go.

    `block_of` writes a dimension's parts and returns the name of their block.
    """

    style: str
    said: Callable[[float], str | None]
    block_of: Callable[[Dimension], str]


class Tags:
    """Entities of one layout or block as tags. `owner` is its handle; `scale` and `shift` turn what is drawn into its units."""

    def __init__(
        self,
        names: Names,
        look: Look,
        fonts: Fonts,
        new_handle: Callable[[], str],
        numbers: Numbers,
        owner: str,
        paper: bool = False,
        scale: float = 1.0,
        shift: Point = (0.0, 0.0),
        dimensions: Dimensions | None = None,
    ) -> None:
        self.layers = names.layers
        self.names = names
        self.look = look
        self.fonts = fonts
        self.new_handle = new_handle
        self.numbers = numbers
        self.owner = f"330\n{owner}\n100\nAcDbEntity\n" + ("67\n1\n" if paper else "")
        self.scale = scale
        self.shift = shift
        self.dimensions = dimensions
        self._layer_tags: dict[Role, str] = {}

    def text_of(self, primitives: Iterable[Primitive]) -> str:
        """Every primitive, in order."""
        return "".join(map(self._entity, primitives))

    def _entity(self, primitive: Primitive) -> str:
        match primitive:
            case Symbol(role, name, at, size, rotation):
                return self._insert(role, self.names.symbol(name), at, size * self.scale, rotation)
            case BlockUse(role, block, at):
                return self._insert(role, self.names.blocks[block], at)
            case Text():
                return self._text(primitive)
            case Paragraph():
                return self._paragraph(primitive)
            case Line(role, a, b):
                return f"{self._head('LINE', role)}{self._part('AcDbLine')}{self._at(a)}{self._at(b, 1)}"
            case Polyline():
                return self._polyline(primitive)
            case Fill():
                return self._fill(primitive)
            case Dimension():
                return self._dimension(primitive)

    def _head(self, kind: str, role: Role) -> str:
        if role not in self._layer_tags:
            self._layer_tags[role] = self._layer(self.layers[role])
        return f"0\n{kind}\n5\n{self.new_handle()}\n{self.owner}{self._layer_tags[role]}"

    def _layer(self, name: str) -> str:
        """The layer, and how long its dashes are."""
        scale = self.look.dash_scale(self.scale) if name in self.look.dashed else 1.0
        return f"8\n{name}\n" + (f"48\n{scale:.6g}\n" if scale != 1.0 else "")

    def _part(self, name: str) -> str:
        """What opens the tags of one class of an entity."""
        return f"100\n{name}\n"

    def _insert(self, role: Role, name: str, at: Point, size: float = 1.0, rotation: float = 0.0) -> str:
        sized = f"41\n{size:.6g}\n42\n{size:.6g}\n43\n{size:.6g}\n" if size != 1.0 else ""
        turned = f"50\n{rotation:.6g}\n" if rotation else ""
        return f"{self._head('INSERT', role)}{self._part('AcDbBlockReference')}2\n{name}\n{self._at(at)}{sized}{turned}"

    def _polyline(self, made: Polyline) -> str:
        body = "".join(map(self._flat, made.points))
        return (
            self._head("LWPOLYLINE", made.role)
            + f"100\nAcDbPolyline\n90\n{len(made.points)}\n70\n{int(made.closed)}\n43\n0.0\n{body}"
        )

    def _text(self, text: Text) -> str:
        along, across = _ALONG[text.align], _ACROSS[text.valign]
        placed = f"72\n{along}\n{self._at(text.at, 1)}" if along or across else ""
        lifted = f"73\n{across}\n" if across else ""
        look, part, head = self.style(text.bold), self._part("AcDbText"), self._head("TEXT", text.role)
        if self.layers[text.role] in self.look.dashed:
            head += "6\nContinuous\n"
        if self.look.line_widths[self.layers[text.role]] > (stroke := stroke_of(text.height)):
            head += self._later("370", f"{stroke}")
        return (
            f"{head}{part}{self._at(self._start(text))}40\n{text.height * self.scale:.6g}\n"
            f"1\n{self.words(text.text)}\n50\n{text.rotation:.6g}\n"
            f"41\n{look.width:.6g}\n7\n{look.style}\n{placed}{part}{lifted}"
        )

    def _start(self, text: Text) -> Point:
        """Where a text's base line begins, about: some programs put it there, whatever it is aligned to."""
        back, down = _ALONG[text.align] / 2, _RISE[text.valign]
        if not (back or down):
            return text.at
        height = text.height * self.scale
        left = self.fonts.width(text.text, height, text.bold) * _SHOWN * back
        turn = radians(text.rotation)
        c, s = cos(turn), sin(turn)
        return (text.at[0] - left * c + down * height * s, text.at[1] - left * s - down * height * c)

    def style(self, bold: bool) -> TextLook:
        """The text style for plain or bold text."""
        return self.look.bold if bold else self.look.regular

    def words(self, text: str) -> str:
        """Text as one tag."""
        return one_line(text)

    def _paragraph(self, made: Paragraph) -> str:
        """As MTEXT hung from its top, its lines broken where ours are, exactly `pitch` apart."""
        top = made.at[0], made.at[1] + made.height * self.scale
        words = r"\P".join(one_line(line).replace("\\", r"\\").replace("{", r"\{").replace("}", r"\}") for line in made.lines)
        pieces = [words[n : n + _LONGEST_TAG] for n in range(0, len(words), _LONGEST_TAG)]
        text = "".join(f"3\n{piece}\n" for piece in pieces[:-1]) + f"1\n{pieces[-1]}\n"
        factor = made.pitch / (made.height * _USUAL_PITCH)
        return (
            self._head("MTEXT", made.role)
            + f"100\nAcDbMText\n{self._at(top)}40\n{made.height * self.scale:.6g}\n41\n0.0\n71\n{1 + _ALONG[made.align]}\n72\n1\n"
            + f"{text}7\n{self.style(made.bold).style}\n73\n2\n44\n{factor:.6g}\n"
        )

    def _fill(self, fill: Fill) -> str:
        colour = tint(fill.tint)
        path = "".join(map(self._flat, fill.points))
        return (
            self._head("HATCH", fill.role)
            + f"62\n{colour.aci}\n420\n{rgb2int(colour.rgb)}\n100\nAcDbHatch\n10\n0.0\n20\n0.0\n30\n0.0\n"
            + "210\n0.0\n220\n0.0\n230\n1.0\n2\nSOLID\n70\n1\n71\n0\n91\n1\n92\n3\n72\n0\n73\n1\n"
            + f"93\n{len(fill.points)}\n{path}97\n0\n75\n1\n76\n1\n98\n1\n10\n0.0\n20\n0.0\n"
        )

    def _dimension(self, dim: Dimension) -> str:
        """A rotated dimension: the second end on its line, the middle of its text, the two measured points."""
        assert self.dimensions is not None
        upright = dim.axis == "y"
        measured = measured_by(dim)
        text = self.words(dim.text)
        text = MEASURED if text == self.dimensions.said(measured) else text or NOTHING
        words = dimension_text(dim, self.scale)
        half = words.height * self.scale / 2
        middle = (words.at[0] - half, words.at[1]) if upright else (words.at[0], words.at[1] + half)
        on_line = (dim.line_at, dim.b[1]) if upright else (dim.b[0], dim.line_at)
        return (
            f"{self._head('DIMENSION', dim.role)}{self._part('AcDbDimension')}{self._later('280', '0')}"
            f"2\n{self.dimensions.block_of(dim)}\n3\n{self.dimensions.style}\n{self._at(on_line)}{self._at(middle, 1)}70\n32\n"
            f"{self._later('71', '5')}{self._later('42', self.numbers[measured])}1\n{text}\n"
            f"{self._part('AcDbAlignedDimension')}{self._at(dim.a, 3)}{self._at(dim.b, 4)}50\n{90.0 if upright else 0.0}\n"
            f"{self._part('AcDbRotatedDimension')}"
        )

    def _later(self, group: str, value: str) -> str:
        """A tag that R12 does not know."""
        return f"{group}\n{value}\n"

    def _flat(self, point: Point) -> str:
        return f"10\n{self.numbers[point[0] + self.shift[0]]}\n20\n{self.numbers[point[1] + self.shift[1]]}\n"

    def _at(self, point: Point, group: int = 0) -> str:
        x, y = self.numbers[point[0] + self.shift[0]], self.numbers[point[1] + self.shift[1]]
        return f"1{group}\n{x}\n2{group}\n{y}\n3{group}\n0.0\n"


class Numbers(dict[float, str]):
    """Coordinates as written: to a millionth, never in powers of ten. Masonry repeats: nine in ten were met before."""

    def __missing__(self, value: float) -> str:
        text = f"{value + 0.0:.6f}".rstrip("0")  # no minus before a nought
        self[value] = f"{text}0" if text.endswith(".") else text
        return self[value]


def stroke_of(height: float) -> int:
    """How wide the lines of letters are, in hundredths of a mm: a tenth of their height (ISO 3098 type B) or the width below."""
    return VALID_DXF_LINEWEIGHTS[bisect_right(VALID_DXF_LINEWEIGHTS, height * 10 + _ROUNDING) - 1]


def measured_by(dim: Dimension) -> float:
    """The length between a dimension's points, mm."""
    return round(abs(dim.b[1] - dim.a[1]) if dim.axis == "y" else abs(dim.b[0] - dim.a[0]), 6)


def one_line(text: str) -> str:
    """Text as one tag: carets, codes and line ends, which DXF gives a meaning, kept harmless."""
    return _BEGINS_CODE.sub(r"\g<0> ", " ".join(text.splitlines()).replace("\t", " "))


def plain(value: float) -> float:
    """A coordinate to a millionth, as all others are written, with no minus before a nought."""
    return round(value, 6) + 0.0
