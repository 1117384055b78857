"""Layer tables: how each role is drawn, under the names of a published layer system.

The names are in `layer_tables/<table>.toml`; colour, line width and line type are our own, the same for all of them, in
`layer_tables/_pens.toml`. A user's own file changes any of it, role by role (`own_layers`).
"""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files
from typing import Any

from elevgen.core.errors import RuleDataError
from elevgen.drawing.scene import Layer, Role

LINE_WIDTHS = (0.0, 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
"""The usual series of pen widths, mm."""
LINE_TYPES = ("CONTINUOUS", "DASHED", "CENTER")
LONGEST_NAME = 255
_FORBIDDEN = re.compile(r"[<>/\\\":;?*|,=`\x00-\x1f\x7f]")
_PENS = "_pens"


def layer_tables() -> tuple[str, ...]:
    """The layer tables there are, sorted."""
    folder = files("elevgen.drawing") / "layer_tables"
    names = (entry.name.removesuffix(".toml") for entry in folder.iterdir() if entry.name.endswith(".toml"))
    return tuple(sorted(name for name in names if not name.startswith("_")))


def load_table(name: str) -> tuple[Layer, ...]:
    """A layer for every role, in the order of the roles.

    Raises RuleDataError naming file, role and reason when the table is unknown, incomplete, or has a name that
    other programs would refuse.
    """
    if name not in layer_tables():
        raise RuleDataError(f"{name}.toml", name, f"no such layer table; there are {', '.join(layer_tables())}")
    names, pens = _read(name)["layers"], _read(_PENS)
    return tuple(_layer(f"{name}.toml", role, names, pens) for role in Role)


def fault_in_name(name: str) -> str:
    """What stops a layer name from being used everywhere; empty when nothing does."""
    if not name or name != name.strip():
        return "empty, or spaces around it"
    if len(name) > LONGEST_NAME:
        return f"longer than {LONGEST_NAME} characters"
    if not name.isascii():
        return "letters outside ASCII"
    if bad := _FORBIDDEN.search(name):
        return f"character {bad.group()!r} is not allowed"
    return ""


def _read(name: str) -> dict[str, Any]:
    path = files("elevgen.drawing") / "layer_tables" / f"{name}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _layer(file: str, role: Role, names: dict[str, str], pens: dict[str, Any]) -> Layer:
    if role.value not in names:
        raise RuleDataError(file, role.value, "no layer for this role")
    name = names[role.value]
    if reason := fault_in_name(name):
        raise RuleDataError(file, role.value, f"layer name {name!r}: {reason}")
    pen = pens[role.value]
    if pen["width"] not in LINE_WIDTHS or pen["line_type"] not in LINE_TYPES:
        raise RuleDataError(f"{_PENS}.toml", role.value, f"unknown line width or line type: {pen}")
    plot = pen.get("plot", True)
    return Layer(role, name, pen["index"], _rgb(pen["rgb"]), pen["width"], pen["line_type"], plot, _rgb(pen["screen"]))


def _rgb(parts: list[int]) -> tuple[int, int, int]:
    red, green, blue = parts
    return (red, green, blue)
