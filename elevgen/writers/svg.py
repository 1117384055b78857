"""SVG: one file per elevation, the same picture; pointing at a thing says what it is. Light and dark."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from elevgen.core.geometry import Point
from elevgen.drawing import tints
from elevgen.drawing.board import paragraph_lines
from elevgen.drawing.font import CAP_HEIGHT
from elevgen.drawing.scene import (
    BlockUse,
    Dimension,
    Fill,
    Layer,
    Line,
    Paragraph,
    Polyline,
    Primitive,
    Scene,
    Symbol,
    Text,
    View,
)
from elevgen.writers._flatten import DASHES, dimension_parts, symbol_parts
from elevgen.writers._package import Package

FORMAT = "svg"

FONT = "'DejaVu Sans Condensed', 'Arial Narrow', Arial, sans-serif"
MARGIN = 5.0
_ANCHOR = {"left": "start", "centre": "middle", "right": "end"}


def render(package: Package) -> dict[str, bytes]:
    """One drawing per view: elevations and plan."""
    return {f"elevations/{view.id.replace('/', '-')}.svg": picture(package.scene, view).encode() for view in package.scene.views}


def picture(scene: Scene, view: View) -> str:
    """A view as SVG, paper millimetres at the view's scale, y downwards."""
    width = view.extents.width / view.scale + 2 * MARGIN
    height = view.extents.height / view.scale + 2 * MARGIN
    used = sorted({p.block for p in view.primitives if isinstance(p, BlockUse)})
    pen = _Pen(scene, view)
    blocks = [f"<g id={quoteattr('b-' + name)}>{pen.at_own_origin(scene.block(name).primitives)}</g>" for name in used]
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}mm" height="{_n(height)}mm" '
            f'viewBox="0 0 {_n(width)} {_n(height)}">',
            f"<title>{escape(scene.title)}: {escape(view.title)}</title>",
            f"<style>{_style(scene.layers)}</style>",
            f'<rect class="paper" width="{_n(width)}" height="{_n(height)}"/>',
            f"<defs>{''.join(blocks)}</defs>",
            *(pen.element(p) for p in view.primitives),
            f"<desc>{escape(' '.join(scene.cautions))}</desc>",
            "</svg>",
            "",
        ]
    )


class _Pen:
    """Turns primitives into elements, in paper mm of one view."""

    def __init__(self, scene: Scene, view: View) -> None:
        self.scale = float(view.scale)
        self.left = view.extents.left - MARGIN * view.scale
        self.top = view.extents.top + MARGIN * view.scale

    def at_own_origin(self, primitives: tuple[Primitive, ...]) -> str:
        """The primitives of a block, around (0, 0)."""
        left, top, self.left, self.top = self.left, self.top, 0.0, 0.0
        text = "".join(self.element(p) for p in primitives)
        self.left, self.top = left, top
        return text

    def element(self, primitive: Primitive) -> str:
        """One primitive as one element, or a group of them."""
        match primitive:
            case Line(role, a, b, source, title):
                (x1, y1), (x2, y2) = self._at(a), self._at(b)
                ends = f'x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}"'
                return f'<line class="{role}" {ends}{_id(source)}>{_title(title)}</line>'
            case Polyline(role, points, closed, source, title):
                tag = "polygon" if closed else "polyline"
                return f'<{tag} class="{role}" points="{self._points(points)}"{_id(source)}>{_title(title)}</{tag}>'
            case Fill(_, points, name, source):
                return f'<polygon class="t-{name}" points="{self._points(points)}"{_id(source)}/>'
            case Text():
                return self._text(primitive)
            case Paragraph():
                return "".join(map(self._text, paragraph_lines(primitive, self.scale)))
            case Dimension():
                return self._group(primitive.source, "", dimension_parts(primitive, self.scale))
            case Symbol():
                return self._group(primitive.source, primitive.title, symbol_parts(primitive, self.scale))
            case BlockUse(_, block, at, source, title):
                x, y = self._at(at)
                href = quoteattr("#b-" + block)
                return f'<use href={href} x="{_n(x)}" y="{_n(y)}"{_id(source)}>{_title(title)}</use>'

    def _group(self, source: str, title: str, parts: tuple[Primitive, ...]) -> str:
        return f"<g{_id(source)}>{_title(title)}{''.join(self.element(p) for p in parts)}</g>"

    def _text(self, text: Text) -> str:
        x, y = self._at(text.at)
        drop = {"base": 0.0, "middle": text.height / 2, "top": text.height}[text.valign]
        turn = f' transform="rotate({_n(-text.rotation)} {_n(x)} {_n(y)})"' if text.rotation else ""
        weight = ' font-weight="bold"' if text.bold else ""
        return (
            f'<text class="x-{text.role}" x="{_n(x)}" y="{_n(y + drop)}" font-size="{_n(text.height / CAP_HEIGHT)}" '
            f'text-anchor="{_ANCHOR[text.align]}"{weight}{turn}{_id(text.source)}>{escape(text.text)}</text>'
        )

    def _at(self, point: Point) -> Point:
        return ((point[0] - self.left) / self.scale, (self.top - point[1]) / self.scale)

    def _points(self, points: tuple[Point, ...]) -> str:
        return " ".join(f"{_n(x)},{_n(y)}" for x, y in map(self._at, points))


def _style(layers: tuple[Layer, ...]) -> str:
    rules = [f"text{{font-family:{FONT}}}", "line,polyline,polygon{fill:none;stroke-linejoin:round}", ".paper{fill:#fff}"]
    dark = [".paper{fill:#15181c}"]
    for layer in layers:
        dashes = " ".join(map(_n, DASHES[layer.line_type]))
        dash = f";stroke-dasharray:{dashes}" if dashes else ""
        rules.append(f".{layer.role}{{stroke:{_hex(layer.rgb)};stroke-width:{_n(layer.width)}{dash}}}")
        rules.append(f".x-{layer.role}{{fill:{_hex(layer.rgb)};stroke:none}}")
        light = _hex(_lightened(layer.rgb))
        dark.append(f".{layer.role}{{stroke:{light}}}.x-{layer.role}{{fill:{light}}}")
    for name in tints.names():
        rgb = tints.tint(name).rgb
        rules.append(f".t-{name}{{fill:{_hex(rgb)};stroke:none}}")
        dark.append(f".t-{name}{{fill:{_hex(_dimmed(rgb))}}}")
    return "".join(rules) + "@media (prefers-color-scheme:dark){" + "".join(dark) + "}"


def _lightened(rgb: tuple[int, int, int]) -> tuple[int, int, int]:
    """The same hue, readable on black: never darker than a middling grey."""
    lift = max(0, 150 - max(rgb))
    r, g, b = (min(255, round(c + lift + (255 - c) * 0.25)) for c in rgb)
    return (r, g, b)


def _dimmed(rgb: tuple[int, int, int]) -> tuple[int, int, int]:
    """The same tint on black: a fifth of its light."""
    r, g, b = (round(c * 0.22) for c in rgb)
    return (r, g, b)


def _hex(rgb: tuple[int, int, int]) -> str:
    return "#{:02x}{:02x}{:02x}".format(*rgb)


def _id(source: str) -> str:
    return f" data-id={quoteattr(source)}" if source else ""


def _title(title: str) -> str:
    return f"<title>{escape(title)}</title>" if title else ""


def _n(value: float) -> str:
    """A number for a file: three decimals (a thousandth of a millimetre), no trailing noughts."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text
