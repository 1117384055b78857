"""The style sheet of an SVG: pens and tints by class, for light and dark, and how what is pointed at stands out."""

from __future__ import annotations

from elevgen.drawing import tints
from elevgen.drawing.scene import Layer
from elevgen.writers._flatten import DASHES

FONT = "'DejaVu Sans Condensed','DejaVu Sans','Arial Narrow',Arial,sans-serif"
HIT_WIDTH = 1.6
"""How wide a thin line is to a pointer, mm: less than a tie on it."""
_STRUCK, _STRUCK_ON_DARK = "#d6006c", "#ff7ab8"
_POINTED_AT = ".h:hover", ".h:target"
"""Magenta is in no pen; the line is made wider as well, for those who do not see the hue."""


def style(layers: tuple[Layer, ...]) -> str:
    """Classes: a role's name for its pen, x-<role> for its text, t-<tint> for a surface; h for what may be pointed at."""
    light = [
        f"text{{font-family:{FONT};font-stretch:condensed;white-space:pre}}",  # some browsers go by this, not by xml:space
        "line,polyline,polygon,path{fill:none;stroke-linejoin:round}",
        ".paper{fill:#fff}",
        f".hit{{stroke:none;stroke-width:{HIT_WIDTH};pointer-events:stroke}}.p{{pointer-events:all}}",
    ]
    dark = [".paper{fill:#15181c}"]
    for layer in layers:
        dashes = " ".join(f"{d:g}" for d in DASHES[layer.line_type])
        dash = f";stroke-dasharray:{dashes}" if dashes else ""
        light.append(f".{layer.role}{{stroke:{_hex(layer.rgb)};stroke-width:{layer.width:g}{dash}}}")
        light.append(f".x-{layer.role}{{fill:{_hex(layer.rgb)};stroke:none}}")
        on_dark = _hex(_on_dark(layer.rgb))
        dark.append(f".{layer.role}{{stroke:{on_dark}}}.x-{layer.role}{{fill:{on_dark}}}")
    for name in tints.names():
        rgb = tints.tint(name).rgb
        light.append(f".t-{name}{{fill:{_hex(rgb)};stroke:none}}")
        dark.append(f".t-{name}{{fill:{_hex(_dimmed(rgb))}}}")
    light.append(_pointed_at(_STRUCK, 0.9))
    dark.append(_pointed_at(_STRUCK_ON_DARK, 1.6))
    return "".join(light) + "@media (prefers-color-scheme:dark){" + "".join(dark) + "}"


def _pointed_at(colour: str, brightness: float) -> str:
    lines = ",".join(f"{which}>{tag}[class]:not(.hit)" for which in _POINTED_AT for tag in ("line", "polyline", "use"))
    lines += "," + ",".join(f"{which}>polygon:not([class^=t-])" for which in _POINTED_AT)
    texts = ",".join(f"{which}>text" for which in _POINTED_AT)
    courses = ",".join(f"{which}>use:not([class])" for which in _POINTED_AT)
    return f"{lines}{{stroke:{colour};stroke-width:.8}}{texts}{{fill:{colour}}}{courses}{{filter:brightness({brightness:g})}}"


def _on_dark(rgb: tuple[int, int, int]) -> tuple[int, int, int]:
    """The pen on a dark ground: the same hue, and as far from the ground as it is from white paper."""
    lightness = max(rgb) + min(rgb)
    wanted = max(200.0, 510.0 - lightness * 1.05)
    r, g, b = (min(255, max(0, round(c + (wanted - lightness) / 2))) for c in rgb)
    return (r, g, b)


def _dimmed(rgb: tuple[int, int, int]) -> tuple[int, int, int]:
    """The same tint on black: a fifth of its light."""
    r, g, b = (round(c * 0.22) for c in rgb)
    return (r, g, b)


def _hex(rgb: tuple[int, int, int]) -> str:
    return "#{:02x}{:02x}{:02x}".format(*rgb)
