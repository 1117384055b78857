"""What a written `design.json` says lies in the walls, counted again position by position, for the bill to be held against.

Reads the JSON and nothing of the tool: no take-off, no design. Amounts are in the bill's units: nr, m, m2, l.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from math import ceil, fsum
from typing import Any, NamedTuple

from shapely import Polygon, box

Record = dict[str, Any]
EDGE = 0.01
"""mm: a level this close under a lift is in it."""
WIDTHS = 5.0
WIDTHS_IN_FEET = 6.35
"""Sheet of trays is counted by its width up to the next 5 mm, or quarter of an inch."""


class Item(NamedTuple):
    """What the bill counts by itself: kind of item, leaf or wall, and its sizes as they stand in its code."""

    kind: str
    where: str
    detail: str = ""


Counts = dict[Item, dict[int | None, float]]
"""How much of each item there is, by scaffold lift."""


class Lifts:
    """Scaffold lifts by level: each goes up to where the next begins, the lowest down and the highest up without end."""

    def __init__(self, lifts: list[Record]) -> None:
        self.numbers = [lift["lift"] for lift in lifts]
        self._starts = [lift["from"] for lift in lifts]

    def at(self, level: float) -> int | None:
        return self.numbers[max(0, bisect_right(self._starts, level + EDGE) - 1)] if self.numbers else None

    def over(self, low: float, high: float) -> Iterator[tuple[int | None, float]]:
        """How much of a height lies in each lift."""
        if not self.numbers:
            yield None, high - low
        for number, (bottom, top) in zip(self.numbers, self.bands(), strict=True):
            if (shared := min(top, high) - max(bottom, low)) > 0:
                yield number, shared

    def bands(self) -> Iterator[tuple[float, float]]:
        starts = [float("-inf"), *self._starts[1:]]
        yield from zip(starts, [*starts[1:], float("inf")], strict=True) if self.numbers else ()


def shown(*lengths: float) -> str:
    """Millimetres as codes have them, to a tenth."""
    return "x".join(f"{round(length, 1):g}" if abs(length) < 1e5 else f"{round(length, 1):.15g}" for length in lengths)


def leaf_of(record: Record) -> str:
    return f"{record['wall']}/{record['leaf']}"


def counted(doc: Record) -> Counts:
    """Everything that can be counted from positions alone."""
    lifts = Lifts(doc["lifts"])
    thick = {leaf["id"]: leaf["thickness"] for leaf in doc["leaves"]}
    counts: Counts = defaultdict(lambda: defaultdict(float))
    for item, lift, amount in (
        *_units(doc, lifts),
        *_joints(doc, lifts, thick),
        *_reinforcement(doc, lifts, thick),
        *_lintels(doc, lifts, thick),
        *_ties(doc, lifts),
        *_damp(doc, lifts),
        *_mesh(doc, lifts),
    ):
        if amount:
            counts[item][lift] += amount
    return counts


Counted = Iterable[tuple[Item, int | None, float]]


def pieces_of(pattern: Record) -> list[Record]:
    """The pieces of a pattern that are its own, seen or not: a return is the end of another wall's unit."""
    return [piece for piece in (*pattern["pieces"], *pattern["unseen"]) if piece["kind"] != "return"]


def _units(doc: Record, lifts: Lifts) -> Counted:
    patterns = {pattern["id"]: pattern for pattern in doc["patterns"]}
    deep = {name: sum(piece["deep"] for piece in pieces_of(pattern)) for name, pattern in patterns.items()}
    whole = {
        name: 0 if pattern["split"] else sum(piece["deep"] for piece in pieces_of(pattern) if piece["kind"] == "full")
        for name, pattern in patterns.items()
    }
    levels = _course_levels(doc)
    for course in doc["courses"]:
        leaf, unit = leaf_of(course), patterns[course["pattern"]]["unit"]
        lift = lifts.at(levels[leaf, course["course"]])
        yield Item("UNIT-NR", leaf, unit), lift, deep[course["pattern"]]
        yield Item("UNIT-CUT-NR", leaf, unit), lift, deep[course["pattern"]] - whole[course["pattern"]]
    for rake in doc["rakes"]:
        leaf = leaf_of(rake)
        lift = lifts.at(levels[leaf, rake["course"]])
        yield Item("UNIT-NR", leaf, rake["unit"]), lift, rake["deep"]
        yield Item("UNIT-CUT-NR", leaf, rake["unit"]), lift, rake["deep"]


def _course_levels(doc: Record) -> dict[tuple[str, int], float]:
    """The level of each course: pieces of it that are cut in height may begin further up."""
    found: dict[tuple[str, int], float] = {}
    lows = [(leaf_of(course), course["course"], course["level"]) for course in doc["courses"]]
    lows += [(leaf_of(rake), rake["course"], min(y for _, y in rake["outline"])) for rake in doc["rakes"]]
    for leaf, course, level in lows:
        found[leaf, course] = min(level, found.get((leaf, course), level))
    return found


def raised(doc: Record) -> set[str]:
    """Leaves with a course that is nothing but units cut in height, by which it may begin in a lower lift than they stand in."""
    lifts, patterns = Lifts(doc["lifts"]), {pattern["id"]: pattern for pattern in doc["patterns"]}
    full: dict[str, float] = {}
    for pattern in patterns.values():
        full[pattern["unit"]] = max(pattern["height"], full.get(pattern["unit"], 0.0))
    whole = {(leaf_of(c), c["course"]) for c in doc["courses"] if not patterns[c["pattern"]]["split"]}
    levels, found = _course_levels(doc), set[str]()
    for course in doc["courses"]:
        leaf, pattern = leaf_of(course), patterns[course["pattern"]]
        level = levels[leaf, course["course"]]
        lower = level - full[pattern["unit"]] + pattern["height"]
        if (leaf, course["course"]) not in whole and lifts.at(lower) != lifts.at(level):
            found.add(leaf)
    return found


def _joints(doc: Record, lifts: Lifts, thick: dict[str, float]) -> Counted:
    joints = {joint["id"]: joint for joint in doc["movement_joints"]}

    def upright(item: Item, joint: Record, amount: float) -> Counted:
        tall = joint["to"] - joint["from"]
        return ((item, lift, amount * shared / tall) for lift, shared in lifts.over(joint["from"], joint["to"]))

    for joint in joints.values():
        leaf = leaf_of(joint)
        tall = (joint["to"] - joint["from"]) / 1000
        yield from upright(Item("JT-MOVE-M", leaf, shown(joint["width"], thick[leaf])), joint, tall)
    for part in doc["joint_parts"]:
        joint = joints[part["joint"]]
        leaf, long, faces = leaf_of(joint), (joint["to"] - joint["from"]) / 1000, part["sealant_faces"]
        sealed = long * faces
        bead = part["sealant_width"], part["sealant_depth"]
        if part["filler_depth"] > 0:
            yield from upright(Item("JT-FILL-M", leaf, shown(part["filler_width"], part["filler_depth"])), joint, long)
        if part["backer_diameter"] is not None:
            yield from upright(Item("JT-ROD-M", leaf, shown(part["backer_diameter"])), joint, sealed)
        if part["bond_breaker"] == "tape":
            yield from upright(Item("JT-TAPE-M", leaf, shown(part["sealant_width"])), joint, sealed)
        if faces:
            yield from upright(Item("JT-SEAL-M", leaf, shown(*bead)), joint, sealed)
            yield from upright(Item("JT-SEAL-L", leaf), joint, sealed * bead[0] * bead[1] / 1000)
        if part["stop_beads"]:
            yield from upright(Item("JT-BEAD-M", leaf, part["finish"].upper()), joint, part["stop_beads"] / 1000)


def _reinforcement(doc: Record, lifts: Lifts, thick: dict[str, float]) -> Counted:
    for bar in doc["bed_reinforcement"]:
        leaf = leaf_of(bar)
        long = bar["to"] - bar["from"]
        yield Item("BR-M", leaf, shown(thick[leaf])), lifts.at(bar["level"]), long / 1000
        yield Item("laps BR-M", leaf, shown(thick[leaf])), None, (fsum(bar["pieces"]) - long) / 1000
    for stock in doc["reinforcement_stock"]:
        lengths = sum(cut["number"] for cut in stock["cuts"])
        yield Item("BR-STOCK-NR", stock["wall"], shown(stock["stock_length"], stock["leaf_thickness"])), None, lengths


def _lintels(doc: Record, lifts: Lifts, thick: dict[str, float]) -> Counted:
    for lintel in doc["lintels"]:
        leaf = leaf_of(lintel)
        kind = "/" + lintel["kind"].upper().replace("_", "-") if lintel["kind"] else ""
        deep = "/" + shown(lintel["depth"]) if lintel["kind"] and lintel["depth"] else ""
        long = lintel["to"] - lintel["from"]
        yield Item("LINTEL-NR", leaf, shown(long, thick[leaf]) + kind + deep), lifts.at(lintel["level"]), 1


def _ties(doc: Record, lifts: Lifts) -> Counted:
    for of in doc["ties"]:
        for _, level, kind, *leaf in of["placed"]:
            length = "" if of["length"] is None else "/" + shown(of["length"])
            if kind == "slip":
                yield Item("TIE-NR", f"{of['wall']}/{leaf[0].split('/')[-1]}", "SLIP"), lifts.at(level), 1
            else:
                yield Item("TIE-NR", of["wall"], kind.upper() + length), lifts.at(level), 1


def _damp(doc: Record, lifts: Lifts) -> Counted:
    for sheet in doc["damp_courses"]:
        item = Item("DPC-M", leaf_of(sheet), shown(sheet["width"]) + ("/COPING" if sheet["place"] == "coping" else ""))
        yield item, lifts.at(sheet["level"]), sheet["length"] / 1000
        yield item._replace(kind="laps DPC-M"), None, sheet["laps"] * (sheet["lap"] or 0) / 1000
    for tray in doc["trays"]:
        wall, lift = tray["wall"], lifts.at(tray["level"])
        if tray["kind"] == "step":
            yield Item("TRAY-NR", wall, "STEP-LOWEST" if tray["stop_ends"] == 2 else "STEP"), lift, 1
        else:
            wide = tray["sheet_width"]
            details = [] if tray["kind"] == "opening" else ["ABUTMENT"]
            widths = WIDTHS if "shown_in" not in doc else WIDTHS_IN_FEET
            details += [] if wide is None else [shown(widths * ceil(wide / widths - 0.001))]
            yield Item("TRAY-M", wall, "/".join(details)), lift, (tray["to"] - tray["from"]) / 1000
        yield Item("TRAY-END-NR", wall), lift, tray["stop_ends"]
        yield Item("WEEP-NR", wall), lift, len(tray["weeps"])


def _mesh(doc: Record, lifts: Lifts) -> Counted:
    for strip in doc["corner_mesh"]:
        yield Item("MESH-NR", leaf_of(strip), shown(strip["length"], strip["width"])), lifts.at(strip["level"]), strip["faces"]


def unit_face(doc: Record) -> dict[str, float]:
    """Face of all units of each leaf, the ends of those round a corner in it (mm2)."""
    patterns = {p["id"]: p["height"] * fsum(piece["length"] for piece in p["pieces"]) for p in doc["patterns"]}
    face: dict[str, list[float]] = defaultdict(list)
    for course in doc["courses"]:
        face[leaf_of(course)].append(patterns[course["pattern"]])
    for rake in doc["rakes"]:
        face[leaf_of(rake)].append(Polygon(rake["outline"]).area)
    return {leaf: fsum(areas) for leaf, areas in face.items()}


def unit_face_by_place(doc: Record) -> dict[tuple[str, str, int | None], float]:
    """Face of the units in each panel and lift, cut at the lift's own level (mm2), by leaf."""
    lifts, found = Lifts(doc["lifts"]), Counter[tuple[str, str, int | None]]()
    panels: dict[str, list[tuple[float, str]]] = defaultdict(list)
    for panel in doc["panels"]:
        panels[leaf_of(panel)].append((panel["from"], panel["id"]))

    def panel_at(leaf: str, at: float) -> str:
        starts = sorted(panels[leaf])
        return starts[max(0, bisect_right([start for start, _ in starts], at + EDGE) - 1)][1]

    lengths = {p["id"]: fsum(piece["length"] for piece in p["pieces"]) for p in doc["patterns"]}
    for course in doc["courses"]:
        leaf = leaf_of(course)
        panel = panel_at(leaf, (course["from"] + course["to"]) / 2)
        for lift, high in lifts.over(course["level"], course["level"] + course["height"]):
            found[leaf, panel, lift] += lengths[course["pattern"]] * high
    for rake in doc["rakes"]:
        shape, leaf = Polygon(rake["outline"]), leaf_of(rake)
        panel = panel_at(leaf, shape.envelope.centroid.x)
        left, bottom, right, top = shape.bounds
        for lift, (low, high) in zip(lifts.numbers, lifts.bands(), strict=True):
            if low < top and bottom < high:
                found[leaf, panel, lift] += shape.intersection(box(left, max(low, bottom), right, min(high, top))).area
    return dict(found)


def billed_item(quantity: Record, units: Iterable[str]) -> Item | None:
    """The item a quantity of the bill is of; None for what no position alone tells."""
    kind, _, detail = quantity["code"].partition("/")
    where, words = quantity["where"], quantity["item"]
    if kind in ("UNIT-NR", "UNIT-CUT-NR"):
        said = {unit: unit.replace("_", " ") for unit in units}
        named = [unit for unit in said if words.startswith((f"Units: {said[unit]}, ", f"Cutting {said[unit]} to "))]
        return Item(kind, where, max(named, key=len))
    if kind == "JT-FILL-M":
        return Item(kind, where, detail.split("/")[0])
    known = ("JT-", "BR-", "LINTEL-", "TIE-", "DPC-", "TRAY-", "WEEP-", "MESH-")
    return Item(kind, where, detail) if kind.startswith(known) else None


def twin(item: Item, billed: Iterable[Item]) -> Item:
    """The item of the bill that is this one: sizes may be a tenth of a millimetre apart, where a half was rounded twice."""
    alike = [other for other in billed if (other.kind, other.where) == (item.kind, item.where)]
    return next((other for other in alike if _same_sizes(other.detail, item.detail)), item) if item not in alike else item


def _same_sizes(one: str, other: str) -> bool:
    numbers = r"\d+(?:\.\d+)?"
    if re.sub(numbers, "#", one) != re.sub(numbers, "#", other):
        return False
    pairs = zip(re.findall(numbers, one), re.findall(numbers, other), strict=True)
    return all(abs(float(a) - float(b)) < 0.11 for a, b in pairs)
