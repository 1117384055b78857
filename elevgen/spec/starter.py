"""A first spec to start from: a plan shape, three sizes, and the usual make-up of a cavity wall."""

from __future__ import annotations

import json
from typing import Any

from elevgen.core.measures import parse_length

_BASE = -150.0


def starter_text(plan: str, length: str, width: str, height: str, title: str) -> str:
    """A spec as JSON text. Lengths carry their unit. Raises ValueError for one that is not a positive length."""
    size = {name: _positive(name, given) for name, given in (("length", length), ("width", width), ("height", height))}
    corners, closed = _corners(plan, size["length"], size["width"])
    ends = [*corners[1:], corners[0]] if closed else corners[1:]
    walls = [_wall(n, start, end, size["height"]) for n, (start, end) in enumerate(zip(corners, ends, strict=False), 1)]
    return _readable(
        {
            "spec": 1,
            "project": {"title": title, "date": ""},
            "rules": "uk",
            "leaves": {
                "outer": {"zones": [{"unit": "brick_65"}], "bond": "stretcher"},
                "inner": {"zones": [{"unit": "aircrete_block_100"}], "bond": "stretcher"},
            },
            "wall_types": {"cavity": {"outer": "outer", "inner": "inner", "cavity": 100}},
            "walls": walls,
            "sheet": {"size": "A3", "layers": "ncs"},
        }
    )


def _positive(name: str, given: str) -> float:
    try:
        value = float(given)
    except ValueError:
        value = parse_length(given)
    if not 300 <= value <= 1e6:
        raise ValueError(f"{name}: {given!r} is not between 300 mm and 1 km")
    return value


def _corners(plan: str, length: float, width: float) -> tuple[list[tuple[float, float]], bool]:
    """Outside corners, the outside on the right hand; True when the walls come round to the start."""
    if plan == "straight":
        return [(0.0, 0.0), (length, 0.0)], False
    if plan == "rectangle":
        return [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)], True
    inner = (round(length / 2), round(width / 2))
    return [(0.0, 0.0), (length, 0.0), (length, inner[1]), inner, (inner[0], width), (0.0, width)], True


def _wall(number: int, start: tuple[float, float], end: tuple[float, float], height: float) -> dict[str, Any]:
    return {
        "id": f"W{number}",
        "name": "",
        "type": "cavity",
        "start": list(start),
        "end": list(end),
        "base": _BASE,
        "top": height,
        "openings": [],
    }


def _readable(spec: dict[str, Any]) -> str:
    """JSON with one wall a line, so that a person sees the plan in it."""
    walls = spec["walls"]
    text = json.dumps(spec | {"walls": ["WALLS"]}, indent=2)
    lines = ",\n".join("    " + json.dumps(wall) for wall in walls)
    return text.replace('    "WALLS"', lines) + "\n"
