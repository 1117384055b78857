"""Buildings nobody drew: specs made from a seed, each a plain dict as a person would write it; and their mirror images.

Sizes are odd on purpose: nothing is symmetrical, little lands on a course.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import deepcopy
from math import hypot
from random import Random
from typing import Any

from elevgen.core.measures import parse_length
from elevgen.joints.model import MovementJoint

Wall = dict[str, Any]
Corner = tuple[float, float]

SEEDS = range(25)

LEAVES = {
    "brick": {"zones": [{"unit": "brick_65"}]},
    "plinth": {"zones": [{"unit": "brick_65", "to": 450}, {"unit": "dense_block_100"}]},
    "block": {"zones": [{"unit": "aircrete_block_100"}]},
    "thick": {"zones": [{"unit": "dense_block_140"}]},
    "small": {"zones": [{"unit": "odd"}], "bond": "stretcher"},
}
UNITS = {"odd": {"material": "calcium_silicate", "length": 191, "height": 58, "width": 97, "joint": 9}}
TYPES = {
    "cavity": {"outer": "brick", "inner": "block", "cavity": 100},
    "zoned": {"outer": "plinth", "inner": "block", "cavity": 85},
    "odd": {"outer": "small", "inner": "thick", "cavity": 65},
    "single": {"outer": "thick"},
    "partition": {"outer": "block"},
}
THICKNESS = {"cavity": 302.5, "zoned": 287.5, "odd": 302.0, "single": 140.0}
CAVITY_TYPES = ("cavity", "zoned", "odd")


def random_spec(seed: int) -> dict[str, Any]:
    """A building: a plan, perhaps a partition, gables, steps, openings, features, joints as given."""
    draw = Random(seed)
    shape = ("rectangle", "l", "tee", "straight")[seed % 4]
    kind = draw.choice((*CAVITY_TYPES, "single"))
    corners = _corners(shape, draw)
    pairs = list(zip(corners, corners[1:] + corners[:1], strict=True))
    if shape == "straight":
        pairs = pairs[:1]
    base, top = draw.choice((0.0, -150.0, -225.0)), float(draw.randrange(2200, 3400, 5))
    walls = [_wall(f"W{n}", kind, a, b, base, top) for n, (a, b) in enumerate(pairs, start=1)]
    if draw.random() < 0.6:
        _make_gable(draw.choice(walls), draw)
    if draw.random() < 0.5:
        _step_base(draw.choice(walls), draw)
    if draw.random() < 0.3:
        _step_top(draw.choice(walls), draw)
    if shape in ("rectangle", "tee") and draw.random() < 0.8:
        walls.append(_partition(corners, kind, base, top, draw))
    for wall in walls:
        _cut_openings(wall, draw)
        _add_features(wall, draw)
    if draw.random() < 0.3:
        wall = draw.choice(walls[: len(pairs)])
        wall["joints"] = [{"at": round(length_of(wall) * part, 1)} for part in (0.37, 0.71)]
    spec = {
        "spec": 1,
        "project": {"title": f"Seed {seed}", "date": "2026-03-02"},
        "rules": "uk",
        "units": UNITS,
        "leaves": LEAVES,
        "wall_types": TYPES,
        "walls": walls,
    }
    if walls[-1]["id"] == "P1" and draw.random() < 0.5:
        spec["junctions"] = [{"walls": ["W1", "P1"], "connection": draw.choice(("tied", "jointed"))}]
    return deepcopy(spec)


def mirrored(spec: dict[str, Any]) -> dict[str, Any]:
    """East for west: every wall turned end for end, so that its outside stays on the right hand."""
    return {**deepcopy(spec), "walls": [_mirrored(wall) for wall in spec["walls"]]}


def with_joints(spec: dict[str, Any], joints: Iterable[MovementJoint]) -> dict[str, Any]:
    """The same building with these joints, and no others, as given."""
    given: dict[str, list[dict[str, Any]]] = {}
    for joint in joints:
        row = {"at": joint.at, "leaf": joint.leaf.rsplit("/", 1)[1], "width": joint.width.built}
        given.setdefault(joint.wall, []).append(row)
    return {**deepcopy(spec), "walls": [{**deepcopy(w), "joints": given.get(w["id"], [])} for w in spec["walls"]]}


def length_of(wall: Wall) -> float:
    """Length of the wall line."""
    (x0, y0), (x1, y1) = _line(wall)
    return hypot(x1 - x0, y1 - y0)


def _line(wall: Wall) -> tuple[Corner, Corner]:
    """Start and end in millimetres, however they are written."""
    start, end = ([parse_length(v) if isinstance(v, str) else v for v in wall[key]] for key in ("start", "end"))
    return (start[0], start[1]), (end[0], end[1])


def _mirrored(wall: Wall) -> Wall:
    (x0, y0), (x1, y1) = _line(wall)
    length = length_of(wall)
    image = {**deepcopy(wall), "start": [-x1, y1], "end": [-x0, y0]}
    for key in ("base", "top"):
        if isinstance(image.get(key), list):
            image[key] = [[length - at, level] for at, level in reversed(image[key])]
    for opening in image.get("openings", ()):
        opening["at"] = length - opening["at"] - opening["width"]
    for feature in image.get("features", ()):
        feature["at"] = length - feature["at"]
    if isinstance(image.get("joints"), list):
        image["joints"] = [{**joint, "at": length - joint["at"]} for joint in reversed(image["joints"])]
    return image


def _wall(wall_id: str, kind: str, start: Corner, end: Corner, base: float, top: float) -> Wall:
    return {"id": wall_id, "type": kind, "start": list(start), "end": list(end), "base": base, "top": top, "openings": []}


def _corners(shape: str, draw: Random) -> list[Corner]:
    """Outside corners, anticlockwise."""
    w, d = float(draw.randrange(5200, 19000, 5)), float(draw.randrange(4100, 9000, 5))
    a, b = round(w * draw.uniform(0.35, 0.6)), round(d * draw.uniform(0.4, 0.6))
    if shape == "l":
        return [(0, 0), (w, 0), (w, b), (a, b), (a, d), (0, d)]
    if shape == "tee":
        e = a + draw.randrange(2300, 3900)
        return [(0, 0), (max(w, e + 1500), 0), (max(w, e + 1500), b), (e, b), (e, d), (a, d), (a, b), (0, b)]
    return [(0, 0), (w, 0), (w, d), (0, d)]


def _make_gable(wall: Wall, draw: Random) -> None:
    length = length_of(wall)
    peak = round(length * draw.uniform(0.3, 0.7))
    wall["top"] = [[0, wall["top"]], [peak, wall["top"] + round(length * draw.uniform(0.15, 0.4))], [length, wall["top"]]]


def _step_base(wall: Wall, draw: Random) -> None:
    length, low = length_of(wall), wall["base"]
    at, rise = round(length * draw.uniform(0.3, 0.7)), draw.choice((75, 150, 225, 187))
    wall["base"] = [[0, low], [at, low], [at, low + rise], [length, low + rise]]


def _step_top(wall: Wall, draw: Random) -> None:
    if isinstance(wall["top"], list):
        return
    length, high = length_of(wall), wall["top"]
    at, rise = round(length * draw.uniform(0.3, 0.7)), draw.choice((225, 450, 333))
    wall["top"] = [[0, high], [at, high], [at, high + rise], [length, high + rise]]


def _partition(corners: list[Corner], kind: str, base: float, top: float, draw: Random) -> Wall:
    """An internal wall from the inside of the first side to the inside of the side opposite."""
    inside = THICKNESS[kind]
    first_free = corners[-2][0] if len(corners) == 8 else corners[1][0]
    depth = corners[-1][1]
    x = round(first_free * draw.uniform(0.3, 0.7))
    return _wall("P1", "partition", (x, inside), (x, depth - inside), base, top)


def _cut_openings(wall: Wall, draw: Random) -> None:
    """From left to right, mostly with piers between that can be built, now and then with one that cannot."""
    roof = min(level for _, level in wall["top"]) if isinstance(wall["top"], list) else wall["top"]
    floor = max(level for _, level in wall["base"]) if isinstance(wall["base"], list) else wall["base"]
    length, at, count = length_of(wall), 0.0, 0
    while count < 4:
        pier = 110 if count and draw.random() < 0.15 else draw.randrange(560, 2600, 5)
        width = draw.choice((910, 1210, 1810, draw.randrange(500, 2400)))
        at += pier
        if at + width > length - 560:
            return
        count += 1
        sill, head = draw.choice(
            ((0.0, 2035.0), (900.0, 2035.0), (float(draw.randrange(600, 1100)), float(draw.randrange(1700, 2100))))
        )
        sill = max(sill, floor)
        if head < roof - 100 and draw.random() < 0.85:
            name = f"{wall['id']}-{count}"
            wall["openings"].append(
                {"id": name, "kind": "opening", "at": at, "width": width, "sill": sill, "height": head - sill}
            )
        at += width


def _add_features(wall: Wall, draw: Random) -> None:
    if draw.random() < 0.4:
        wall["features"] = [{"kind": "downpipe", "at": round(length_of(wall) * draw.uniform(0.2, 0.8), 1)}]
