"""Small buildings nobody drew, quick to design, odd in every way a bill may mind; and how a bill may be asked to be measured.

One wall to four, of one leaf or two, half a brick or a whole one thick, of two units one over another, with gables and steps;
openings at ends, base and top; parapets, walls that stand free, walls that are there already.
"""

from __future__ import annotations

from random import Random
from typing import Any

UNITS: dict[str, dict[str, Any]] = {
    "odd": {"material": "calcium_silicate", "length": 191, "height": 58, "width": 97, "joint": 9},
    "frogged": {"material": "clay", "length": 215, "height": 65, "width": 102.5, "hollows": 17},
    "inch_block": {"material": "dense_concrete", "length": '15 5/8"', "height": '7 5/8"', "width": '7 5/8"', "joint": '3/8"'},
}
HALF: dict[str, tuple[dict[str, Any], float]] = {
    "brick": ({"zones": [{"unit": "brick_65"}]}, 102.5),
    "frogged": ({"zones": [{"unit": "frogged"}]}, 102.5),
    "plinth": ({"zones": [{"unit": "brick_65", "to": 300}, {"unit": "dense_block_100"}]}, 102.5),
    "banded": ({"zones": [{"unit": "brick_65", "to": 225}, {"unit": "dense_block_100", "to": 900}, {"unit": "brick_65"}]}, 102.5),
    "odd": ({"zones": [{"unit": "odd"}]}, 97),
    "flemish_cut": ({"zones": [{"unit": "brick_65"}], "bond": "flemish", "build": "half_brick"}, 102.5),
    "stack": ({"zones": [{"unit": "brick_65"}], "bond": "stack"}, 102.5),
    "block": ({"zones": [{"unit": "aircrete_block_100"}]}, 100),
    "inch_block": ({"zones": [{"unit": "inch_block"}]}, 193.675),
}
WHOLE: dict[str, tuple[dict[str, Any], float]] = {
    "english": ({"zones": [{"unit": "brick_65"}], "bond": "english"}, 215),
    "flemish": ({"zones": [{"unit": "frogged"}], "bond": "flemish", "build": "one_brick"}, 215),
}
RULES = ("net", "nrm2-like", "smm7-like", "cesmm4-like", "pomi-like", "is1200-like", "south-africa-like")
WASTES = ("units", "mortar", "bed_reinforcement", "ties", "dpc", "filler", "sealant", "lintels")
PACKS: dict[str, tuple[Any, ...]] = {
    "units": (1, 72, 495, {"holds": 1200, "name": "pallet"}),
    "MORTAR-M3": (0.0125, 1, {"holds": 0.6, "name": "bulk bag"}, 1000),
    "bed_reinforcement": (2.7, 25, 0.001),
    "ties": (250, {"holds": 20, "name": "bag"}),
    "dpc": ({"holds": 20, "name": "roll"}, 8, 30.5),
    "sealant": ({"holds": 0.38, "name": "cartridge"}, 5),
    "filler": (1, {"holds": 2.4, "name": "board"}),
}


def small_spec(seed: int) -> dict[str, Any]:
    """A small building of a seed, with how it is to be measured."""
    draw = Random(f"small {seed}")
    single = draw.random() < 0.4
    outer = draw.choice(sorted({**HALF, **WHOLE} if single else HALF))
    inner = draw.choice(("block", "brick", "inch_block", "stack"))
    cavity = draw.choice((50, 75, 100, 137.5))
    leaves = {"out": _leaf(outer, draw), "in": _leaf(inner, draw)}
    kind = {"outer": "out"} if single else {"outer": "out", "inner": "in", "cavity": cavity}
    walls = [_wall(n, a, b, draw) for n, (a, b) in enumerate(_lines(draw), start=1)]
    stands = draw.choice((None, None, None, "parapet", "free_standing"))
    for wall in walls:
        if stands:
            wall["stands"] = stands
        if len(walls) > 1 and draw.random() < 0.08:
            wall["existing"] = True
        if draw.random() < 0.2:
            wall["slip_ties"] = draw.random() < 0.7
        if draw.random() < 0.2:
            wall["joints"] = [{"at": round(_long(wall) * draw.uniform(0.3, 0.7), 1)}]
    measured = measurement(draw)
    _ask_for_mortar(leaves, measured, Random(f"mortar {seed}"))
    return {
        "spec": 1,
        "project": {"title": f"Small {seed}", "date": "2026-03-02"},
        "rules": "uk",
        "units": UNITS,
        "leaves": leaves,
        "wall_types": {"w": kind},
        "walls": walls,
        "measurement": measured,
    }


def _ask_for_mortar(leaves: dict[str, dict[str, Any]], measured: dict[str, Any], draw: Random) -> None:
    """Mortar and pointing of some leaves, some alike but for a letter; mortar is then packed as such, not by its one code."""
    for leaf in leaves.values():
        if draw.random() < 0.4:
            leaf["mortar"] = draw.choice(("M4", "m4", "1:1:6", "-"))
        if draw.random() < 0.4:
            leaf["pointing"] = draw.choice(("M4", "flush", "-"))
    if "MORTAR-M3" in measured.get("packs", {}) and any("mortar" in leaf for leaf in leaves.values()):
        measured["packs"]["mortar"] = measured["packs"].pop("MORTAR-M3")


def measurement(draw: Random) -> dict[str, Any]:
    """A rule set, perhaps with figures in its place, waste from none to twice as much, and packs of every kind."""
    asked: dict[str, Any] = {"rules": draw.choice(RULES)}
    own: dict[str, Any] = {
        "opening_min_area_m2": draw.choice((0, 0.1, 0.5, 3.7)),
        "boundary_openings_always": draw.random() < 0.5,
        "dim_round_mm": draw.choice((0, 10, 25)),
        "qty_round": draw.choice((0, 0.01, 1, 0.05)),
        "qty_round_m": draw.choice((0.1, 1)),
        "qty_round_m2": draw.choice((0, 0.01, 1)),
        "keep_at_least_one": draw.random() < 0.5,
        "wall_measured_on": draw.choice(("face", "centre_line")),
        "wall_unit": draw.choice(("m2", "m3")),
        "column_order": draw.choice(("qty-unit", "unit-qty")),
    }
    if draw.random() < 0.5:
        asked["own"] = {key: own[key] for key in draw.sample(sorted(own), draw.randrange(1, 6))}
    if draw.random() < 0.7:
        asked["waste"] = {key: draw.choice((0, 2.5, 5, 100, 33.3)) for key in draw.sample(WASTES, draw.randrange(1, 6))}
    if draw.random() < 0.7:
        asked["packs"] = {key: draw.choice(PACKS[key]) for key in draw.sample(sorted(PACKS), draw.randrange(1, 5))}
    return asked


def _leaf(name: str, draw: Random) -> dict[str, Any]:
    leaf = dict({**HALF, **WHOLE}[name][0])
    if draw.random() < 0.6:
        leaf["lintel"] = {"kind": draw.choice(("concrete", "stone", "pressed_steel")), "depth": draw.choice((65, 140, 215))}
    if draw.random() < 0.2:
        leaf["finish"] = draw.choice(("render", "plaster"))
    if draw.random() < 0.15:
        leaf["reinforced_every"] = draw.choice((225, 450))
    return leaf


def _lines(draw: Random) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """One wall, two that meet, three round a bay, or a room; anticlockwise."""
    w, d = float(draw.randrange(1200, 4700, 5)), float(draw.randrange(1100, 3000, 5))
    corners = [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)]
    number = draw.choice((1, 1, 1, 2, 3, 4))
    return [(corners[n], corners[(n + 1) % 4]) for n in range(number)]


def _long(wall: dict[str, Any]) -> float:
    (x0, y0), (x1, y1) = wall["start"], wall["end"]
    return float(abs(x1 - x0) + abs(y1 - y0))


def _wall(number: int, start: tuple[float, float], end: tuple[float, float], draw: Random) -> dict[str, Any]:
    base, high = draw.choice((0.0, -150.0)), float(draw.choice((1125, 1800, draw.randrange(700, 2400, 5))))
    wall: dict[str, Any] = {"id": f"W{number}", "type": "w", "start": list(start), "end": list(end), "base": base, "top": high}
    long = _long(wall)
    shape = draw.random()
    if shape < 0.15:
        peak = round(long * draw.uniform(0.3, 0.7))
        wall["top"] = [[0, high], [peak, high + round(long * draw.uniform(0.2, 0.5))], [long, high]]
    elif shape < 0.25:
        at = round(long * draw.uniform(0.3, 0.7))
        wall["top"] = [[0, high], [at, high], [at, high + draw.choice((225, 333))], [long, high + 225]]
        wall["top"][-1][1] = wall["top"][-2][1]
    elif shape < 0.35:
        wall["top"] = [[0, high], [long, high + draw.choice((150, 611))]]
    if draw.random() < 0.15:
        at = round(long * draw.uniform(0.3, 0.7))
        wall["base"] = [[0, base], [at, base], [at, base + 150], [long, base + 150]]
        base += 150
    wall["openings"] = _openings(wall["id"], long, base, high, draw)
    return wall


def _openings(wall: str, long: float, floor: float, roof: float, draw: Random) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    at = draw.choice((0.0, 330.0, 450.0, float(draw.randrange(200, 1500))))
    while at < long - 250 and len(found) < 3:
        width = draw.choice((long - at, 300.0, 910.0, 215.0, float(draw.randrange(100, 1800))))
        width = round(min(width, long - at - (0.0 if draw.random() < 0.15 else 215.0)), 1)
        sill = draw.choice((floor, floor, floor + 300, floor + draw.randrange(20, 900)))
        head = draw.choice((roof, roof - 225, sill + 215, roof - draw.randrange(80, 500)))
        if 10 < width < long - 10 and sill + 50 <= head <= roof and draw.random() < 0.8:
            kind = draw.choice(("opening", "window")) if sill > floor else draw.choice(("opening", "door"))
            found.append(
                {
                    "id": f"{wall}-{len(found) + 1}",
                    "kind": kind,
                    "at": round(at, 1),
                    "width": width,
                    "sill": sill,
                    "height": head - sill,
                }
            )
        at = round(at + width + draw.choice((60, 215, 440, draw.randrange(215, 1300))), 1)
    return found
