"""A user's own layers: a JSON file beside the spec that says, role by role, what differs from a named layer table.

    {"table": "ncs", "layers": {"movement_joint": {"name": "MAS-JOINT", "colour": "#c03010", "width": 0.7}}}

`colour` is `#rrggbb`, or an indexed CAD colour from 1 to 255: then no other colour is written, so that a plot style table can
go by the index. Roles that share a name share the layer; the first of them, in the order of the roles, says how it looks.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

from elevgen.core.errors import Fault, JsonPath, SpecError
from elevgen.drawing.indexed import LAST, Rgb, nearest_index, rgb_of
from elevgen.drawing.layers import LINE_TYPES, LINE_WIDTHS, fault_in_name, layer_tables, load_table
from elevgen.drawing.scene import Layer, Role
from elevgen.spec.faults import FaultList, listed, nearest, quoted
from elevgen.spec.models import Spec
from elevgen.spec.syntax import decode, read

DEFAULT_TABLE = "ncs"
FIELDS = ("name", "colour", "width", "line_type", "plot")
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_BACKGROUND_INDEX = 7
"""Black on white and white on black."""
_NEVER_PLOTTED = "defpoints"


def layers_of(spec: Spec) -> tuple[Layer, ...]:
    """The layers a spec asks for, by table or by a file of its own. Raises SpecError with every fault in that file."""
    wanted = spec.sheet.layers
    return own_layers(spec.folder / wanted) if wanted.endswith(".json") else load_table(wanted)


def own_layers(path: Path) -> tuple[Layer, ...]:
    """A layer for every role, in the order of the roles. Raises SpecError with every fault in the file."""
    source = str(path)
    try:
        text = decode(path.read_bytes(), source)
    except OSError as error:
        raise SpecError((Fault((), f"the file cannot be read: {error.strerror}"),), source) from None
    faults = FaultList()
    layers = _Reader(faults).layers(read(text, source, faults))
    if faults:
        raise SpecError(faults.located(text), source)
    return layers


class Unfit(NamedTuple):
    """Why a value will not do, what will, and what was perhaps meant."""

    message: str
    allowed: str
    near: str = ""


class _Reader:
    """Reads the values of one file, noting what is wrong with them."""

    def __init__(self, faults: FaultList) -> None:
        self.faults = faults

    def layers(self, raw: object) -> tuple[Layer, ...]:
        held = self._object((), raw, ("table", "layers"))
        table = held.get("table", DEFAULT_TABLE)
        if table not in layer_tables():
            self.faults.unknown(("table",), "layer table", str(table), layer_tables())
            table = DEFAULT_TABLE
        changes = self._object(("layers",), held.get("layers", {}), tuple(Role))
        base = load_table(table)
        found = tuple(self._changed(layer, changes[layer.role]) if layer.role in changes else layer for layer in base)
        self._check_apart(found, changes)
        return found

    def _changed(self, layer: Layer, raw: object) -> Layer:
        """A layer with what is given for it, as far as that is right."""
        path: JsonPath = ("layers", layer.role.value)
        given = self._object(path, raw, FIELDS)
        fitting: dict[str, Any] = {}
        for field, value in given.items():
            if fault := _FAULTS[field](value):
                self.faults.add((*path, field), *fault)
            else:
                fitting |= _colours(value) if field == "colour" else {field: value}
        return replace(layer, **fitting)

    def _check_apart(self, layers: tuple[Layer, ...], changes: Mapping[str, Any]) -> None:
        """No two names may differ in capitals alone: programs take them for one layer."""
        spelt: dict[str, Layer] = {}
        for layer in layers:
            first = spelt.setdefault(layer.name.lower(), layer)
            if first.name != layer.name:
                role = layer.role if layer.role in changes else first.role
                message = f"the names {layer.name} and {first.name} differ in capitals alone"
                self.faults.add(("layers", role.value), message, "one way of writing it")

    def _object(self, path: JsonPath, raw: object, known: tuple[str, ...]) -> Mapping[str, Any]:
        """The entries of an object that are known; others are noted."""
        if not isinstance(raw, dict):
            self.faults.add(path, "is to be an object", "{ }")
            return {}
        what = "role" if path == ("layers",) else "field"
        for key in raw:
            if key not in known:
                self.faults.unknown((*path, key), what, key, known, at_key=True)
        return {key: value for key, value in raw.items() if key in known}


def _name_fault(name: object) -> Unfit | None:
    if not isinstance(name, str):
        return Unfit("a layer's name is text", "text in double quotes")
    reason = fault_in_name(name) or ("nothing on this layer is ever printed" if name.lower() == _NEVER_PLOTTED else "")
    return Unfit(f"cannot be a layer's name: {reason}", 'ASCII without < > / \\ " : ; ? * | , = `') if reason else None


def _colour_fault(colour: object) -> Unfit | None:
    indexed = isinstance(colour, int) and not isinstance(colour, bool) and 1 <= colour <= LAST
    if indexed or (isinstance(colour, str) and _COLOUR.fullmatch(colour)):
        return None
    return Unfit("is not a colour", f'"#c03010", or an indexed colour from 1 to {LAST}')


def _width_fault(width: object) -> Unfit | None:
    number = isinstance(width, int | float) and not isinstance(width, bool)
    if number and width in LINE_WIDTHS:
        return None
    near = ""
    if isinstance(width, int | float) and number:
        within = max(LINE_WIDTHS[0], min(width, LINE_WIDTHS[-1]))  # no float holds a number of hundreds of digits
        near = f"{min(LINE_WIDTHS, key=lambda w: abs(w - within))}"
    return Unfit("is not a width of pens, in mm", ", ".join(map(str, LINE_WIDTHS)), near)


def _line_type_fault(line_type: object) -> Unfit | None:
    if line_type in LINE_TYPES:
        return None
    return Unfit(f"there is no line type {quoted(str(line_type))}", listed(LINE_TYPES), nearest(str(line_type), LINE_TYPES))


def _plot_fault(plot: object) -> Unfit | None:
    return None if isinstance(plot, bool) else Unfit("says whether the layer is printed", "true or false")


_FAULTS: dict[str, Callable[[object], Unfit | None]] = {
    "name": _name_fault,
    "colour": _colour_fault,
    "width": _width_fault,
    "line_type": _line_type_fault,
    "plot": _plot_fault,
}


def _colours(colour: str | int) -> dict[str, Any]:
    """The fields of a layer that follow from a colour."""
    if isinstance(colour, int):
        return {"index": colour, "rgb": (0, 0, 0) if colour == _BACKGROUND_INDEX else rgb_of(colour), "screen": None}
    red, green, blue = (int(colour[n : n + 2], 16) for n in (1, 3, 5))
    rgb: Rgb = (red, green, blue)
    return {"index": nearest_index(rgb), "rgb": rgb, "screen": rgb}
