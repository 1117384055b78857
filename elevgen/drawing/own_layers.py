"""A user's own layers: a JSON file beside the spec that says, role by role, what differs from a named layer table.

    {"table": "ncs", "layers": {"movement_joint": {"name": "MAS-JOINT", "colour": "#c03010", "width": 0.7}}}

`colour` is `#rrggbb`, or an indexed CAD colour from 1 to 255: then no other colour is written, so that a plot style table can
go by the index. Roles that share a name share the layer; the first of them, in the order of the roles, says how it looks.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from elevgen.core.errors import Fault, JsonPath, SpecError
from elevgen.drawing.indexed import LAST, Rgb, nearest_index, rgb_of
from elevgen.drawing.layers import LINE_TYPES, LINE_WIDTHS, fault_in_name, layer_tables, load_table
from elevgen.drawing.scene import Layer, Role
from elevgen.spec.faults import FaultList
from elevgen.spec.models import Spec
from elevgen.spec.syntax import decode, read

DEFAULT_TABLE = "ncs"
FIELDS = ("name", "colour", "width", "line_type", "plot")
_COLOUR = re.compile(r"#([0-9a-fA-F]{2})([0-9a-fA-F]{2})([0-9a-fA-F]{2})")
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
        found = tuple(self._changed(layer, changes[layer.role]) if layer.role in changes else layer for layer in load_table(table))
        self._check_apart(found, changes)
        return found

    def _changed(self, layer: Layer, raw: object) -> Layer:
        path = ("layers", layer.role.value)
        given = self._object(path, raw, FIELDS)
        return self._coloured(path, self._plain(path, layer, given), given)

    def _plain(self, path: JsonPath, layer: Layer, given: Mapping[str, Any]) -> Layer:
        name, width = given.get("name", layer.name), given.get("width", layer.width)
        line_type, plot = given.get("line_type", layer.line_type), given.get("plot", layer.plot)
        if not isinstance(name, str):
            self.faults.add((*path, "name"), "a layer's name is text", "text in double quotes")
        elif reason := fault_in_name(name) or ("nothing on this layer is ever printed" if name.lower() == _NEVER_PLOTTED else ""):
            self.faults.add((*path, "name"), f"cannot be a layer's name: {reason}", 'ASCII without < > / \\ " : ; ? * | , = `')
        if isinstance(width, bool) or width not in LINE_WIDTHS:
            near = min(LINE_WIDTHS, key=lambda w: abs(w - width)) if isinstance(width, int | float) else ""
            self.faults.add((*path, "width"), "is not a width of pens, in mm", ", ".join(map(str, LINE_WIDTHS)), str(near))
        if line_type not in LINE_TYPES:
            self.faults.unknown((*path, "line_type"), "line type", str(line_type), LINE_TYPES)
        if not isinstance(plot, bool):
            self.faults.add((*path, "plot"), "says whether the layer is printed", "true or false")
        return replace(layer, name=name, width=width, line_type=line_type, plot=plot)

    def _coloured(self, path: JsonPath, layer: Layer, given: Mapping[str, Any]) -> Layer:
        colour = given.get("colour")
        if "colour" not in given:
            return layer
        if isinstance(colour, str) and (parts := _COLOUR.fullmatch(colour)):
            red, green, blue = (int(part, 16) for part in parts.groups())
            rgb: Rgb = (red, green, blue)
            return replace(layer, index=nearest_index(rgb), rgb=rgb, screen=rgb)
        if isinstance(colour, int) and not isinstance(colour, bool) and 1 <= colour <= LAST:
            return replace(layer, index=colour, rgb=(0, 0, 0) if colour == _BACKGROUND_INDEX else rgb_of(colour), screen=None)
        self.faults.add((*path, "colour"), "is not a colour", f'"#c03010", or an indexed colour from 1 to {LAST}')
        return layer

    def _check_apart(self, layers: tuple[Layer, ...], changes: Mapping[str, Any]) -> None:
        """No two names may differ in capitals alone: programs take them for one layer."""
        spelt: dict[str, str] = {}
        for layer in layers:
            if not isinstance(layer.name, str):
                continue
            first = spelt.setdefault(layer.name.lower(), layer.name)
            if first != layer.name:
                at = layer.role if layer.role in changes else next(x.role for x in layers if x.name == first)
                self.faults.add(("layers", at.value), f"{layer.name} and {first} differ in capitals alone", "one way of writing it")

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
