"""A first spec to start from: a plan shape, three sizes, and the usual make-up of a cavity wall where its rule set is from."""

from __future__ import annotations

import json
from types import MappingProxyType
from typing import Any, NamedTuple

from elevgen.core.figures import Lengths, feet_and_inches
from elevgen.core.measures import parse_length


class MakeUp(NamedTuple):
    """What walls are usually built of under a rule set (common practice, no source), and sizes to begin with.

    `step` is what the inner corner of an L is put on, mm; lengths are written as `lengths` says. `reinforced_every`: how far
    apart beds of the inner leaf are reinforced, where the spacing of its movement joints asks for steel.
    """

    outer: str
    inner: str
    cavity: float
    base: float
    size: tuple[str, str, str]
    step: float = 1
    lengths: Lengths = "mm"
    reinforced_every: float | None = None


METRIC_SIZE = ("8 m", "5 m", "2.7 m")
MAKE_UPS = MappingProxyType(
    {
        "uk": MakeUp("brick_65", "aircrete_block_100", 100, -225.0, METRIC_SIZE),
        "eu": MakeUp("brick_65", "aircrete_block_100", 100, -225.0, METRIC_SIZE),
        "us": MakeUp(
            "modular_brick",
            "concrete_block_8",
            111.125,
            -203.2,
            ("23' 11 5/8\"", "15' 11 5/8\"", "8'"),
            203.2,
            lengths="feet",
            reinforced_every=406.4,
        ),
        "au": MakeUp("brick_76", "brick_76", 50, -172.0, ("8.15 m", "5.03 m", "2.666 m")),
    }
)
"""By rule set, their heights on whole courses of both leaves.

The American one stands on the 8 in module: 3 5/8 in of brick and 4 3/8 in of cavity, so that blocks do too."""
_SMALLEST, _LARGEST = 300.0, 1e6


def starter_text(plan: str, length: str | None, width: str | None, height: str | None, title: str, rules: str = "uk") -> str:
    """A spec as JSON text. Lengths carry their unit; None is the usual one. Raises ValueError for one that is none."""
    usual = MAKE_UPS[rules]
    asked = (own if given is None else given for given, own in zip((length, width, height), usual.size, strict=True))
    size = {name: _positive(name, given) for name, given in zip(("length", "width", "height"), asked, strict=True)}
    corners, closed = _corners(plan, size["length"], size["width"], usual.step)
    ends = [*corners[1:], corners[0]] if closed else corners[1:]
    walls = [_wall(n, start, end, size["height"], usual) for n, (start, end) in enumerate(zip(corners, ends, strict=False), 1)]
    return _readable(
        {
            "spec": 1,
            "project": {"title": title, "date": ""},
            "rules": rules,
            "leaves": {
                "outer": {"zones": [{"unit": usual.outer}], "bond": "stretcher"},
                "inner": {"zones": [{"unit": usual.inner}], "bond": "stretcher"} | _steel(usual),
            },
            "wall_types": {"cavity": {"outer": "outer", "inner": "inner", "cavity": _written(usual.cavity, usual)}},
            "walls": walls,
            "sheet": {"size": "Tabloid" if usual.lengths == "feet" else "A3", "layers": "ncs"},
        }
    )


def _steel(usual: MakeUp) -> dict[str, Any]:
    return {} if usual.reinforced_every is None else {"reinforced_every": _written(usual.reinforced_every, usual)}


def _written(value: float, usual: MakeUp) -> float | str:
    """A length as it stands in the spec: a number of mm, or feet and inches where they say it to a hair."""
    if usual.lengths == "mm" or value == 0:
        return value
    said = feet_and_inches(value)
    return said if abs(parse_length(said) - value) < 1e-6 else value


def _positive(name: str, given: str) -> float:
    try:
        value = float(given)
    except ValueError:
        value = parse_length(given)
    if not _SMALLEST <= value <= _LARGEST:
        raise ValueError(f"{name}: {given!r} is not between 300 mm and 1 km")
    return value


def _corners(plan: str, length: float, width: float, step: float) -> tuple[list[tuple[float, float]], bool]:
    """Outside corners, the outside on the right hand; True when the walls come round to the start."""
    if plan == "straight":
        return [(0.0, 0.0), (length, 0.0)], False
    if plan == "rectangle":
        return [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)], True
    inner = (round(length / 2 / step) * step, round(width / 2 / step) * step)
    return [(0.0, 0.0), (length, 0.0), (length, inner[1]), inner, (inner[0], width), (0.0, width)], True


def _wall(number: int, start: tuple[float, float], end: tuple[float, float], height: float, usual: MakeUp) -> dict[str, Any]:
    return {
        "id": f"W{number}",
        "name": "",
        "type": "cavity",
        "start": [_written(x, usual) for x in start],
        "end": [_written(x, usual) for x in end],
        "base": _written(usual.base, usual),
        "top": _written(height, usual),
        "openings": [],
    }


def _readable(spec: dict[str, Any]) -> str:
    """JSON with one wall a line, so that a person sees the plan in it."""
    walls = spec["walls"]
    text = json.dumps(spec | {"walls": ["WALLS"]}, indent=2)
    lines = ",\n".join("    " + json.dumps(wall) for wall in walls)
    return text.replace('    "WALLS"', lines) + "\n"
