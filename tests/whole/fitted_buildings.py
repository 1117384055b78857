"""Whole buildings nobody drew, with everything a spec can say of fittings said at once, sensible or absurd, but legal.

A plan of `buildings` gets leaves of every bond and unit, lintels chosen, finishes, ground, lower roofs, loads, parts that stand
already and rules pulled to extremes. Sizes are odd on purpose.
"""

from __future__ import annotations

from random import Random
from typing import Any

from buildings import THICKNESS, Wall, length_of, random_spec

UNITS: dict[str, dict[str, Any]] = {
    "odd": {"material": "calcium_silicate", "length": 191, "height": 58, "width": 97, "joint": 9},
    "block_190": {"material": "dense_concrete", "length": 390, "height": 190, "width": 190},
    "inch_brick": {"material": "clay", "length": '7 5/8"', "height": '2 1/4"', "width": '3 5/8"', "joint": '3/8"'},
    "inch_block": {
        "material": "lightweight_concrete",
        "length": '15 5/8"',
        "height": '7 5/8"',
        "width": '7 5/8"',
        "joint": '3/8"',
    },
    "block_300": {"material": "aircrete", "length": 600, "height": 200, "width": 300, "joint": 3},
}
LEAVES: dict[str, tuple[dict[str, Any], float]] = {
    "brick": ({"zones": [{"unit": "brick_65"}]}, 102.5),
    "plinth": ({"zones": [{"unit": "brick_65", "to": 450}, {"unit": "dense_block_100"}]}, 102.5),
    "english_cut": ({"zones": [{"unit": "brick_65"}], "bond": "english", "build": "half_brick"}, 102.5),
    "flemish_cut": ({"zones": [{"unit": "brick_65"}], "bond": "flemish", "build": "half_brick"}, 102.5),
    "odd": ({"zones": [{"unit": "odd"}]}, 97),
    "inch_brick": ({"zones": [{"unit": "inch_brick"}]}, 92.075),
    "stack": ({"zones": [{"unit": "brick_65"}], "bond": "stack"}, 102.5),
    "third": ({"zones": [{"unit": "brick_65"}], "bond": "third"}, 102.5),
    "stone": ({"zones": [{"unit": "stone_100"}]}, 100),
}
INNER: dict[str, tuple[dict[str, Any], float]] = {
    "block": ({"zones": [{"unit": "aircrete_block_100"}]}, 100),
    "dense": ({"zones": [{"unit": "dense_block_140"}]}, 140),
    "inner_brick": ({"zones": [{"unit": "brick_65"}]}, 102.5),
    "block_190": ({"zones": [{"unit": "block_190"}]}, 190),
    "block_300": ({"zones": [{"unit": "block_300"}]}, 300),
    "inch_block": ({"zones": [{"unit": "inch_block"}]}, 193.675),
    "stacked_block": ({"zones": [{"unit": "aircrete_block_100"}], "bond": "stack"}, 100),
}
SINGLE: dict[str, tuple[dict[str, Any], float]] = {
    "one_brick": ({"zones": [{"unit": "brick_65"}], "bond": "english"}, 215),
    "one_flemish": ({"zones": [{"unit": "brick_65"}], "bond": "flemish", "build": "one_brick"}, 215),
    "block_190": INNER["block_190"],
    "block_300": INNER["block_300"],
    "brick": LEAVES["brick"],
    "dense": INNER["dense"],
}
EXTREMES: tuple[tuple[str, float], ...] = (
    ("bed_reinforcement.reach", 3000),
    ("bed_reinforcement.reach", 1),
    ("bed_reinforcement.lap", 600),
    ("bed_reinforcement.stock_length", 1000),
    ("bed_reinforcement.courses_above", 0),
    ("bed_reinforcement.courses_below", 5),
    ("bed_reinforcement.merge_gap", 0),
    ("bed_reinforcement.merge_gap", 2500),
    ("tie.spacing.horizontal", 300),
    ("tie.spacing.vertical", 225),
    ("tie.density", 12),
    ("tie.slip.vertical", 200),
    ("weep.spacing", 450),
    ("weep.minimum", 4),
    ("dpc.roll_length", 3000),
    ("dpc.lap", 300),
    ("lintel.length_step", 75),
    ("lintel.length_step", 1),
    ("lintel.bearing.long", 300),
    ("tray.past_lintel", 300),
    ("tray.step.length", 900),
    ("opening.pier.min", 500),
    ("lift.height", 900),
)
KINDS = ("concrete", "stone", "pressed_steel", "steel_angle", None)
DEPTHS = (65, 140, 215, 100, 193, 20, 430, None)


def fitted_spec(seed: int) -> dict[str, Any]:
    """A building: a plan of `buildings` with what it is made of, what it stands in and what is in it already."""
    draw = Random(f"fitted {seed}")
    spec = random_spec(seed)
    pools = {"outer": LEAVES, "inner": INNER, "only": SINGLE}
    picked = {side: draw.choice(sorted(pool)) for side, pool in pools.items()}
    spec["project"]["title"] = f"Fitted {seed}"
    spec["units"] = UNITS
    spec["leaves"] = {side: _leaf(pools[side][name][0], draw) for side, name in picked.items()}
    spec["leaves"]["between"] = _leaf(INNER["block"][0], draw)
    thick = {side: pools[side][name][1] for side, name in picked.items()}
    cavity = draw.choice((50, 75, 100, 150, 190))
    spec["wall_types"] = {
        "cavity": {"outer": "outer", "inner": "inner", "cavity": cavity},
        "only": {"outer": "only"},
        "partition": {"outer": "between"},
    }
    single = draw.random() < 0.25
    wide = thick["only"] if single else thick["outer"] + cavity + thick["inner"]
    for wall in spec["walls"]:
        if wall["type"] == "partition":
            inside = THICKNESS[random_spec(seed)["walls"][0]["type"]]
            wall["start"][1], wall["end"][1] = wide, wall["end"][1] + inside - wide
        else:
            wall["type"] = "only" if single or (wall["id"] == "W2" and draw.random() < 0.1) else "cavity"
    stands = draw.choice((None, None, None, "parapet", "free_standing"))
    for wall in spec["walls"]:
        if stands:
            wall["stands"] = stands
        if draw.random() < 0.35:
            wall["openings"] = _openings(wall, draw)
        _say(wall, wall["type"] == "cavity", draw)
    rules = dict(draw.sample(EXTREMES, draw.choice((0, 0, 1, 2, 4))))
    spec["overrides"] = [{"rule": k, "value": v, "reason": "extreme", "by": "nobody"} for k, v in sorted(rules.items())]
    return spec


def _leaf(made: dict[str, Any], draw: Random) -> dict[str, Any]:
    leaf = dict(made)
    lintel = {"kind": draw.choice(KINDS), "depth": draw.choice(DEPTHS)}
    if draw.random() < 0.8:
        leaf["lintel"] = {k: v for k, v in lintel.items() if v is not None}
    if draw.random() < 0.3:
        leaf["finish"] = draw.choice(("render", "plaster"))
    if draw.random() < 0.25:
        leaf["reinforced_every"] = draw.choice((225, 450, 500, 75, 1200))
    return leaf


def _levels(wall: Wall, key: str) -> list[list[float]]:
    """The points of a base or top."""
    return wall[key] if isinstance(wall[key], list) else [[0.0, wall[key]], [length_of(wall), wall[key]]]


def _floor(wall: Wall) -> float:
    return max(level for _, level in _levels(wall, "base"))


def _roof(wall: Wall) -> float:
    return min(level for _, level in _levels(wall, "top"))


def _openings(wall: Wall, draw: Random) -> list[dict[str, Any]]:
    """Openings as walls should not have them: at the ends, the base and the top, very wide, slits, over one another."""
    length, floor, roof = length_of(wall), _floor(wall), _roof(wall)
    found: list[dict[str, Any]] = []
    at = draw.choice((0.0, 0.0, 100.0, float(draw.randrange(300, 1500))))
    while at < length - 400 and len(found) < 4:
        left = length - at
        width = draw.choice((0.6 * left, float(draw.randrange(10, 300)), 4500.0, 910.0, left, float(draw.randrange(600, 2400))))
        width = round(min(width, left - (0.0 if draw.random() < 0.2 else 150)), 1)
        sill = draw.choice((floor, floor + 900, floor + draw.randrange(20, 900)))
        head = draw.choice((roof, roof - 40, roof - draw.randrange(100, 700), sill + draw.randrange(100, 900)))
        if width >= 10 and sill + 10 <= head <= roof:
            name = f"{wall['id']}-{len(found) + 1}"
            found.append({"id": name, "kind": "opening", "at": round(at, 1), "width": width, "sill": sill, "height": head - sill})
            if head + 700 < roof and draw.random() < 0.3:
                over = head + draw.choice((60, 225, 400))
                found.append({"id": f"{name}u", "kind": "window", "at": at, "width": width, "sill": over, "height": 250})
        at = round(at + width + draw.choice((60, 215, 440, draw.randrange(60, 2600))), 1)
    return found


def _say(wall: Wall, cavity: bool, draw: Random) -> None:
    """What a spec can say of one wall and its fittings."""
    length, base, top = length_of(wall), _levels(wall, "base"), _levels(wall, "top")
    if draw.random() < 0.5:
        wall["slip_ties"] = draw.random() < 0.6
    if draw.random() < 0.35:
        wall["joints"] = _joints(wall, draw)
    if draw.random() < 0.35:
        wall["lintels"] = _listed([_lintel(wall, draw) for _ in range(draw.randrange(0, 4)) if wall["openings"]], draw)
    if draw.random() < 0.35:
        wall["reinforcement"] = _listed([_length(wall, draw) | _side(cavity, draw) for _ in range(draw.randrange(0, 6))], draw)
    if draw.random() < 0.35:
        wall["damp_courses"] = _listed([_length(wall, draw) | _side(cavity, draw) for _ in range(draw.randrange(0, 4))], draw)
    if cavity and draw.random() < 0.35:
        ends = [{"stop_ends": draw.choice((0, 1, 2))} for _ in range(draw.randrange(0, 4))]
        wall["trays"] = _listed([_length(wall, draw) | end for end in ends], draw)
    if cavity and draw.random() < 0.15:
        wall["ties"] = [_point(wall, draw) for _ in range(draw.choice((0, 1, 30)))]
    if cavity and draw.random() < 0.2:
        wall["tie_length"] = draw.choice((150, 225, 300, 450))
    if draw.random() < 0.4:
        low = min(level for _, level in base)
        step, a, b = round(length * draw.uniform(0.2, 0.8)), low + draw.choice((-300, 0, 150, 700)), low + draw.choice((-150, 75))
        wall["ground"] = draw.choice((low - 150, [[0, a], [length, b]], [[0, a], [step, a], [step, b], [length, b]]))
    if draw.random() < 0.4:
        high = max(level for _, level in top)
        wall["abutments"] = [{"line": _roof_line(length, base[0][1], high, draw)} for _ in range(draw.choice((1, 1, 2)))]
    if draw.random() < 0.5:
        wall["loads"] = [_load(wall, draw) | _side(cavity, draw) for _ in range(draw.randrange(1, 5))]


def _listed(parts: list[dict[str, Any]], draw: Random) -> list[Any]:
    return [*parts, "place"] if draw.random() < 0.6 else parts


def _side(cavity: bool, draw: Random) -> dict[str, Any]:
    return draw.choice(({}, {"leaf": "outer"}, {"leaf": "inner"} if cavity else {}))


def _joints(wall: Wall, draw: Random) -> list[Any]:
    """Joints anywhere, through an opening and its lintel too, with others placed or not."""
    length = length_of(wall)
    places = [round(length * draw.uniform(0.05, 0.95), 1) for _ in range(draw.choice((0, 1, 2)))]
    places += [o["at"] + draw.choice((-30.0, 0.0, o["width"] / 2)) for o in wall["openings"][:1]]
    apart: list[float] = []
    for at in sorted(places):
        if 0 < at < length and (not apart or at - apart[-1] > 60):
            apart.append(at)
    return _listed([{"at": at} | draw.choice(({}, {"width": draw.choice((10, 25))})) for at in apart], draw)


def _point(wall: Wall, draw: Random) -> dict[str, Any]:
    low, high = _floor(wall), _roof(wall)
    level = draw.choice((0.0, low, high, low + 75 * draw.randrange(1, 25), low + 225, round(draw.uniform(low, high), 1)))
    return {"at": round(max(20.0, (length_of(wall) - 20) * draw.random()), 1), "level": min(max(level, low), high)}


def _length(wall: Wall, draw: Random) -> dict[str, Any]:
    """Somewhere along a wall: the whole of it, a hand's breadth, or what chance gives."""
    point, length = _point(wall, draw), length_of(wall)
    if draw.random() < 0.2:
        point["at"] = 0.0
    left = length - point["at"]
    return point | {"length": max(1.0, min(left, draw.choice((left, 30.0, 900.0, round(left * draw.random(), 1)))))}


def _lintel(wall: Wall, draw: Random) -> dict[str, Any]:
    length = length_of(wall)
    over = draw.sample(wall["openings"], min(len(wall["openings"]), draw.choice((1, 1, 2))))
    left, right = min(o["at"] for o in over), max(o["at"] + o["width"] for o in over)
    start = min(max(0.0, left - draw.choice((100, 150, 220, 0, -60, -1500))), length - 20)
    end = min(length, max(right + draw.choice((100, 150, 187, 0, -50)), start + 20))
    lintel = {"over": [o["id"] for o in over], "at": start, "length": end - start}
    chosen = {"kind": draw.choice(KINDS), "depth": draw.choice(DEPTHS)}
    return lintel | {k: v for k, v in chosen.items() if v is not None} | _side(wall["type"] == "cavity", draw)


def _roof_line(length: float, low: float, high: float, draw: Random) -> list[list[float]]:
    """A lower roof: level, sloping, a ridge or a valley; also above the wall."""
    a, b = sorted(round(length * draw.random(), 1) for _ in range(2))
    levels = [round(draw.uniform(low, high + 200), 1) for _ in range(3)]
    if draw.random() < 0.4:
        return [[a, levels[0]], [b, levels[0]]]
    if draw.random() < 0.5:
        return [[a, levels[0]], [b, levels[1]]]
    return [[a, levels[0]], [round((a + b) / 2, 1), levels[1]], [b, levels[2]]]


def _load(wall: Wall, draw: Random) -> dict[str, Any]:
    """A floor or a beam: anywhere, at the level of a head, above all openings, past the end of a leaf."""
    load = _length(wall, draw) | {"load": draw.choice((0.5, 7.3, 120.0))}
    heads = [o["sill"] + o["height"] for o in wall["openings"]]
    if heads and draw.random() < 0.5:
        load["level"] = min(draw.choice(heads) + draw.choice((0, 0, 140, 300)), _roof(wall))
    if draw.random() < 0.4:
        del load["length"]
    return load
