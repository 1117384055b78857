"""SVG: one file per view, the same picture; pointing at a thing says what it is, and `#its-id` finds it. Light and dark."""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape
from itertools import groupby

from elevgen.core.geometry import Point
from elevgen.drawing.board import paragraph_lines
from elevgen.drawing.font import CAP_HEIGHT, Fonts
from elevgen.drawing.scene import (
    Block,
    BlockUse,
    Dimension,
    Fill,
    Line,
    Paragraph,
    Polyline,
    Primitive,
    Role,
    Scene,
    Symbol,
    Text,
    View,
)
from elevgen.writers._flatten import dimension_parts, symbol_parts
from elevgen.writers._names import view_stems
from elevgen.writers._package import Package
from elevgen.writers._svg_style import style
from elevgen.writers._svg_things import Thing, slug, things

FORMAT = "svg"

MARGIN = 5.0
MARK_ROOM = 2.4
"""How wide a mark is to a pointer at least, mm."""
_ANCHOR = {"left": "start", "centre": "middle", "right": "end"}
_TITLE, _ABOUT = "title", "about"
_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def render(package: Package) -> dict[str, bytes]:
    """One drawing per view: elevations and plan."""
    fonts, scene = Fonts(), package.scene
    stems = view_stems(view.id for view in scene.views)
    return {f"elevations/{stems[view.id]}.svg": picture(scene, view, fonts).encode() for view in scene.views}


def picture(scene: Scene, view: View, fonts: Fonts) -> str:
    """A view as SVG, paper millimetres at the view's scale, y downwards."""
    width = _n(view.extents.width / view.scale + 2 * MARGIN)
    height = _n(view.extents.height / view.scale + 2 * MARGIN)
    blocks = {p.block: f"b-{slug(p.block)}" for p in view.primitives if isinstance(p, BlockUse)}
    symbols = {_mark(p): f"s-{'-'.join(_mark(p))}" for p in view.primitives if isinstance(p, Symbol)}
    at_origin = _Pen(fonts, view.scale, (0.0, 0.0), {})
    pen = _Pen(fonts, view.scale, (view.extents.left, view.extents.top), blocks | symbols, MARGIN)
    defined = [at_origin.block(name, scene.block(block)) for block, name in sorted(blocks.items())]
    defined += [_symbol(name, mark) for mark, name in sorted(symbols.items())]
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" '
            f'xml:space="preserve" role="img" aria-labelledby="{_TITLE}" aria-describedby="{_ABOUT}">',
            f'<title id="{_TITLE}">{_words(scene.title)}: {_words(view.title)}</title>',
            f'<desc id="{_ABOUT}">Drawn at 1:{view.scale}. {_words(" ".join(scene.cautions))}</desc>',
            f"<style>{style(scene.layers)}</style>",
            f'<rect class="paper" width="{width}" height="{height}"/>',
            f"<defs>{''.join(defined)}</defs>",
            *(pen.thing(thing) for thing in things(view, (_TITLE, _ABOUT, *blocks.values(), *symbols.values()))),
            "</svg>",
            "",
        ]
    )


def _mark(symbol: Symbol) -> tuple[str, ...]:
    """What tells symbols apart that are drawn differently."""
    return (symbol.name, _n(symbol.size), _n(symbol.rotation))


def _symbol(name: str, mark: tuple[str, ...]) -> str:
    """A mark around its own origin, with room round it for a pointer. What uses it gives it colour."""
    shape, size, turn = mark
    drawn = symbol_parts(shape, (0.0, 0.0), float(size), float(turn))
    lines = "".join(f"M{' '.join(f'{_n(x)},{_n(-y)}' for x, y in points)}{'z' if closed else ''}" for points, closed in drawn)
    room = f'<circle class="p" fill="none" stroke="none" r="{_n(max(float(size), MARK_ROOM) / 2)}"/>'
    return f'<g id="{name}">{room}<path d="{lines}"/></g>'


class _Pen:
    """Turns primitives into elements, in paper mm from a corner of a view, or from a block's own origin."""

    def __init__(self, fonts: Fonts, scale: int, corner: Point, names: dict[str | tuple[str, ...], str], margin: float = 0.0):
        self.fonts = fonts
        self.scale = float(scale)
        self.left, self.top = corner[0] - margin * scale, corner[1] + margin * scale
        self.names = names

    def block(self, name: str, block: Block) -> str:
        """A block, defined once. Pieces that say nothing and follow one another are one path, those that do have their title."""
        parts: list[str] = []
        for role, run in groupby(block.primitives, _says_nothing):
            drawn = tuple(run)
            parts += [self._outlines(role, drawn)] if role else map(self._piece, drawn)
        return f'<g id="{name}">{"".join(parts)}</g>'

    def _outlines(self, role: Role, run: Iterable[Primitive]) -> str:
        drawn = "".join(f"M{self._points(p.points)}z" for p in run if isinstance(p, Polyline))
        return f'<path class="{role}" d="{drawn}"/>'

    def _piece(self, primitive: Primitive) -> str:
        if not isinstance(primitive, Polyline) or not primitive.title:
            return self.element(primitive)
        points, title = self._points(primitive.points), _words(primitive.title)
        return f'<polygon class="{primitive.role} p" points="{points}"><title>{title}</title></polygon>'

    def thing(self, thing: Thing) -> str:
        """What shows one thing as one group, with its title; what says nothing as plain elements."""
        if not thing.title:
            return "".join(map(self.element, thing.primitives))
        name = f' id="{thing.id}"' if thing.id else ""
        elements = "".join(self.element(p, pointed_at=True) for p in thing.primitives)
        return f'<g class="h"{name}><title>{_words(thing.title)}</title>{elements}</g>'

    def element(self, primitive: Primitive, pointed_at: bool = False) -> str:
        """One primitive as one element or a few; what may be pointed at has some room for it."""
        match primitive:
            case Line(role, a, b):
                (x1, y1), (x2, y2) = self._at(a), self._at(b)
                place = f'x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}"/>'
                room = f'<line class="hit" {place}' if pointed_at and role is not Role.MARK else ""
                return f'<line class="{role}" {place}{room}'
            case Polyline(role, points, closed):
                tag, place = "polygon" if closed else "polyline", f'points="{self._points(points)}"/>'
                inside = " p" if pointed_at and (role is Role.LINTEL or (closed and role is not Role.OUTLINE)) else ""
                beside = f'<polyline class="hit" {place}' if pointed_at and not closed and not inside else ""
                return f'<{tag} class="{role}{inside}" {place}{beside}'
            case Fill(_, points, name):
                return f'<polygon class="t-{name}" points="{self._points(points)}"/>'
            case Text():
                return self._text(primitive)
            case Paragraph():
                return "".join(map(self._text, paragraph_lines(primitive, self.scale)))
            case Dimension():
                line, *others = dimension_parts(primitive, self.scale)
                return self.element(line, pointed_at) + "".join(map(self.element, others))
            case Symbol(role, at=at):
                return self._use(self.names[_mark(primitive)], at, f' class="{role}"')
            case BlockUse(_, block, at):
                return self._use(self.names[block], at)

    def _use(self, name: str, at: Point, pen: str = "") -> str:
        x, y = self._at(at)
        return f'<use href="#{name}"{pen} x="{_n(x)}" y="{_n(y)}"/>'

    def _text(self, text: Text) -> str:
        """A line of text, kept to the width it was given room for whatever font the reader has."""
        x, y = self._at(text.at)
        drop = {"base": 0.0, "middle": text.height / 2, "top": text.height}[text.valign]
        turn = f' transform="rotate({_n(-text.rotation)} {_n(x)} {_n(y)})"' if text.rotation else ""
        weight = ' font-weight="bold"' if text.bold else ""
        width = self.fonts.width(text.text, text.height, text.bold)
        kept = f' textLength="{_n(width)}" lengthAdjust="spacingAndGlyphs"' if len(text.text) > 1 else ""
        return (
            f'<text class="x-{text.role}" x="{_n(x)}" y="{_n(y + drop)}" font-size="{_n(text.height / CAP_HEIGHT)}" '
            f'text-anchor="{_ANCHOR[text.align]}"{weight}{turn}{kept}>{_words(text.text)}</text>'
        )

    def _at(self, point: Point) -> Point:
        return ((point[0] - self.left) / self.scale, (self.top - point[1]) / self.scale)

    def _points(self, points: tuple[Point, ...]) -> str:
        return " ".join(f"{_n(x)},{_n(y)}" for x, y in map(self._at, points))


def _says_nothing(primitive: Primitive) -> Role | None:
    """The role of a closed outline without a title; None for anything else."""
    return primitive.role if isinstance(primitive, Polyline) and primitive.closed and not primitive.title else None


def _words(text: str) -> str:
    """Text for a file: markup escaped, and what XML has no letter for left out."""
    return escape(_NOT_IN_XML.sub("", text), quote=False)


def _n(value: float) -> str:
    """A number for a file: three decimals (a thousandth of a millimetre), no trailing noughts."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text
