"""Walls nobody drew, for their lintels: a cavity wall with openings close together and far apart, heads on and off the courses,
lintels of every kind, some listed, joints as given. Sizes are odd on purpose."""

from __future__ import annotations

from random import Random
from typing import Any

UNITS = {"odd": {"material": "calcium_silicate", "length": 191, "height": 58, "width": 97, "joint": 9}}
OUTER = {
    "brick": {"zones": [{"unit": "brick_65"}]},
    "plinth": {"zones": [{"unit": "brick_65", "to": 450}, {"unit": "dense_block_100"}]},
    "small": {"zones": [{"unit": "odd"}]},
    "english": {"zones": [{"unit": "brick_65"}], "bond": "flemish"},
}
INNER = {"block": {"zones": [{"unit": "aircrete_block_100"}]}, "brick": {"zones": [{"unit": "brick_65"}]}}
KINDS = ("concrete", "stone", "concrete", "pressed_steel", "steel_angle", None)
DEPTHS = (65, 140, 215, 100, 150, 193, None)


def random_wall(seed: int) -> dict[str, Any]:
    """A spec of one wall of two leaves."""
    draw = Random(seed)
    length = float(draw.randrange(3900, 9800, 5))
    top = float(draw.randrange(2350, 3400, 5))
    openings = _openings(length, top, draw)
    wall: dict[str, Any] = {"id": "W1", "type": "t", "start": [0, 0], "end": [length, 0], "top": top, "openings": openings}
    if draw.random() < 0.25:
        peak = round(length * draw.uniform(0.3, 0.7))
        wall["top"] = [[0, top], [peak, top + round(length * draw.uniform(0.1, 0.35))], [length, top]]
    wall["joints"] = [{"at": round(draw.uniform(700, length - 700), 1)}] if draw.random() < 0.4 else []
    if draw.random() < 0.35 and openings:
        wall["lintels"] = _listed(openings, length, draw)
    return {
        "spec": 1,
        "project": {"title": f"Lintels {seed}", "date": "2026-03-02"},
        "units": UNITS,
        "leaves": {"o": _with_lintels(OUTER, draw), "i": _with_lintels(INNER, draw)},
        "wall_types": {"t": {"outer": "o", "inner": "i", "cavity": draw.choice((75, 100, 125))}},
        "walls": [wall],
    }


def concrete_wall(seed: int) -> dict[str, Any]:
    """The wall with every lintel that is placed of concrete or stone, in both leaves, each leaf's of a depth of its own."""
    raw, draw = random_wall(seed), Random(seed + 9000)
    for leaf in raw["leaves"].values():
        leaf["lintel"] = {"kind": draw.choice(("concrete", "stone")), "depth": draw.choice((65, 140, 215, 100, 150, 193, 290))}
    return raw


def wall_without_kinds(seed: int) -> dict[str, Any]:
    """The wall with lintels nobody has chosen: units are laid as if they were not there."""
    raw = random_wall(seed)
    for leaf in raw["leaves"].values():
        del leaf["lintel"]
    listed = [x for x in raw["walls"][0].get("lintels", ()) if x != "place"]
    for lintel in listed:
        for key in ("kind", "depth"):
            lintel.pop(key, None)
    return raw


def _with_lintels(kinds: dict[str, Any], draw: Random) -> dict[str, Any]:
    lintel = {"kind": draw.choice(KINDS), "depth": draw.choice(DEPTHS)}
    return kinds[draw.choice(sorted(kinds))] | {"lintel": {k: v for k, v in lintel.items() if v is not None}}


def _openings(length: float, top: float, draw: Random) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    at = 0.0
    while len(found) < 5:
        at += draw.choice((89, 215, 327, 440, 665, draw.randrange(60, 1700), draw.randrange(300, 2600)))
        width = draw.choice((460, 910, 1210, 1360, 1810, draw.randrange(300, 2500)))
        if at + width > length - 100:
            break
        sill = draw.choice((0.0, 900.0, float(draw.randrange(300, 1100))))
        head = draw.choice((2110.0, 2110.0, 2100.0, 2035.0, 2025.0, float(draw.randrange(1500, 2300))))
        name = f"O{len(found) + 1}"
        found.append({"id": name, "kind": "window", "at": at, "width": width, "sill": sill, "height": min(head, top - 10) - sill})
        at += width
    return found


def _listed(openings: list[dict[str, Any]], length: float, draw: Random) -> list[Any]:
    """A lintel over the first opening or the first two, long enough or not, and perhaps others placed."""
    over = openings[: draw.choice((1, 1, 2))]
    start = max(0.0, over[0]["at"] - draw.choice((100, 150, 150, 220, 35, -40)))
    end = min(length, over[-1]["at"] + over[-1]["width"] + draw.choice((100, 150, 187, 20)))
    listed: dict[str, Any] = {"over": [o["id"] for o in over], "at": start, "length": end - start}
    if draw.random() < 0.5:
        listed["leaf"] = draw.choice(("outer", "inner"))
    if draw.random() < 0.6:
        listed |= {"kind": draw.choice(("concrete", "pressed_steel")), "depth": draw.choice((65, 140, 215))}
    return [listed, "place"] if draw.random() < 0.7 else [listed]
