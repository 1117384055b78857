"""Walls nobody drew, as specs: any bond and unit, openings anywhere, corners of both hands, steps and slopes of top and base."""

from __future__ import annotations

import json
from random import Random
from typing import Any

from elevgen import pipeline
from elevgen.core.errors import SpecError
from elevgen.result import Design
from elevgen.spec.load import parse_text
from elevgen.spec.vocabulary import Vocabulary

BONDS = (
    "stretcher",
    "english",
    "flemish",
    "header",
    "english_garden_wall_3",
    "english_garden_wall_5",
    "flemish_garden_wall",
    "third",
    "quarter",
    "stack",
)
UNITS = {
    "odd": {"material": "calcium_silicate", "length": 191, "height": 58, "width": 97, "joint": 9},
    "long": {"material": "clay", "length": 290, "height": 52, "width": 90, "joint": 11},
    "metric": {"material": "dense_concrete", "length": 390, "height": 190, "width": 190, "joint": 10},
}
NAMES = ("brick_65", "brick_65", "brick_65", "dense_block_100", "aircrete_block_100", *UNITS)


def random_wall(seed: int, **fixed: Any) -> dict[str, Any]:
    """W1, and a wall at either end, at neither or at both; `fixed`: its unit, bond and build."""
    draw = Random(seed)
    length, height = draw.randrange(300, 9000), draw.randrange(300, 3000)
    unit = draw.choice(NAMES)
    leaf = {
        "zones": [{"unit": unit}],
        "bond": draw.choice(BONDS),
        "build": draw.choice(("half_brick", "half_brick", "one_brick")),
    }
    if unit not in ("brick_65", "odd", "long"):
        leaf |= {"bond": draw.choice(("stretcher", "stretcher", "third", "quarter", "stack")), "build": "half_brick"}
    leaf |= {k: v for k, v in fixed.items() if k != "unit"}
    leaf["zones"] = [{"unit": fixed.get("unit", unit)}]
    wall: dict[str, Any] = {
        "id": "W1",
        "type": "t",
        "start": [0, 0],
        "end": [length, 0],
        "line": "face",
        "base": _base(draw, length, height),
        "top": _top(draw, length, height),
        "openings": _openings(draw, length, height),
        "joints": [{"at": round(length * draw.uniform(0.3, 0.7), 1)}] if length > 2500 and draw.random() < 0.25 else [],
    }
    walls = [wall]
    if length > 1200:
        for name, at, begins in (("W0", 0, False), ("W2", length, True)):
            if draw.random() < 0.4:
                walls.append(_neighbour(name, at, begins, draw.choice((1, -1)), draw, height))
    return {
        "spec": 1,
        "project": {"title": f"Leaf {seed}"},
        "units": UNITS,
        "leaves": {"a": leaf},
        "wall_types": {"t": {"outer": "a"}},
        "walls": walls,
    }


def _neighbour(name: str, at: float, begins: bool, hand: int, draw: Random, height: float) -> dict[str, Any]:
    """A wall round a corner: outside with `hand` 1, else inside."""
    far = [at, hand * draw.randrange(1500, 4000)]
    start, end = ([at, 0], far) if begins else (far, [at, 0])
    return {"id": name, "type": "t", "start": start, "end": end, "line": "face", "top": height, "joints": []}


def _base(draw: Random, length: float, height: float) -> Any:
    if draw.random() < 0.8 or length < 1000:
        return 0
    at, rise = round(length * draw.uniform(0.3, 0.7)), draw.choice((75, 150, 112))
    return [[0, 0], [at, 0], [at, rise], [length, rise]] if rise < height - 100 else 0


def _top(draw: Random, length: float, height: float) -> Any:
    kind = draw.random()
    if kind < 0.7 or length < 1000:
        return height
    at, rise = round(length * draw.uniform(0.3, 0.7)), draw.choice((150, 225, 333))
    if kind < 0.8:
        return [[0, height], [at, height], [at, height + rise], [length, height + rise]]
    if kind < 0.9:
        return [[0, height], [at, height + 2 * rise], [length, height]]
    return [[0, height], [length, height + 3 * rise]]


def _openings(draw: Random, length: float, height: float) -> list[dict[str, Any]]:
    """One after another along the wall, so that none lies over another; on the module of a brick now and then."""
    found: list[dict[str, Any]] = []
    at = 0.0
    while draw.random() < 0.75:
        at += draw.choice((225 * draw.randint(2, 8), draw.randrange(150, 2200)))
        wide = draw.choice((910, 1210, 675, draw.randrange(100, 2200)))
        sill, high = draw.choice(((0, 2100), (900, 1200), (draw.randrange(0, 1500), draw.randrange(100, 1600))))
        if at + wide > length - 100 or sill > height - 120:
            break
        high = min(high, height - sill - draw.choice((0, 100, 150, 300)))
        if high >= 10:
            found.append({"id": f"O{len(found)}", "at": at, "width": wide, "sill": sill, "height": high})
            at += wide
    return found


def designed(spec: dict[str, Any], words: Vocabulary) -> Design | None:
    """The design of a spec; None where it is refused as impossible."""
    try:
        return pipeline.design(parse_text(json.dumps(spec), "leaf", words), "leaf")
    except SpecError:
        return None
