"""Parts and loads listed for a wall: each inside its wall, in a leaf and over openings it has. Works on raw JSON; millimetres."""

from __future__ import annotations

from typing import Any

from elevgen.core.errors import JsonPath
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.spec import metres, peek
from elevgen.spec.faults import FaultList, mm
from elevgen.spec.given_joints import check_place_once
from elevgen.spec.profile import Points, highest, lowest

LISTS = ("lintels", "reinforcement", "ties", "damp_courses", "trays", "loads")
"""The lists of parts a wall may have."""
_CAVITY_ONLY = ("ties", "trays")


def check_given_parts(
    path: JsonPath, wall: dict[str, Any], length: float, base: Points, top: Points, single: bool, faults: FaultList
) -> None:
    """Note every part that is not in its wall, and what names no leaf or opening of it.

    No points of a base or top: not known, and levels not judged. `single`: the wall has one leaf only.
    """
    openings = tuple(peek.text(opening, "id") for _, opening in peek.objects(wall, "openings"))
    known = tuple(name for name in openings if name is not None)
    for key in LISTS:
        check_place_once((*path, key), wall.get(key), faults)
        for n, part in peek.objects(wall, key):
            here = (*path, key, n)
            over = _check_along(here, part, length, faults)
            if over is not None and base and top:
                _check_level(here, part, over, base, top, faults)
            if single and key in _CAVITY_ONLY:
                faults.add(here, "the wall has one leaf and no cavity", f"no {key} in this wall")
            elif single and peek.text(part, "leaf") == "inner":
                faults.add((*here, "leaf"), "the wall has no inner leaf", "outer, or no leaf")
            for k, name in peek.texts(part.get("over")):
                if name not in openings and len(known) == len(openings):
                    faults.unknown((*here, "over", k), "opening in this wall", name, known)
    for n, abutment in peek.objects(wall, "abutments"):
        _check_line((*path, "abutments", n, "line"), abutment.get("line"), length, faults)
    if isinstance(wall.get("ground"), list):
        _check_line((*path, "ground"), wall["ground"], length, faults)


def _check_along(path: JsonPath, part: dict[str, Any], length: float, faults: FaultList) -> Span | None:
    """The stretch a part takes of its wall; None where it cannot be read or does not lie in it."""
    at = peek.length(part, "at")
    long = peek.length(part, "length") if "length" in part else 0.0
    if at is None or long is None or long < 0:
        return None
    if metres.likely(part.get("at"), metres.HIGHEST) and 0 < at * 1000 < length and not metres.likely(long):
        faults.add((*path, "at"), f"lies {mm(at)} from the start of its wall{metres.hint(at)}", metres.insist(at))
        return None
    if not -TOLERANCE <= at <= length + TOLERANCE:
        faults.add((*path, "at"), "lies outside its wall", f"0 to {mm(max(length - long, 0.0))}")
        return None
    if at + long > length + TOLERANCE:
        faults.add((*path, "length"), "goes past the end of its wall", f"at most {mm(length - at)}")
        return None
    return Span(at, at + long)


def _check_level(path: JsonPath, part: dict[str, Any], over: Span, base: Points, top: Points, faults: FaultList) -> None:
    level = peek.length(part, "level")
    if level is None:
        return
    low, high = lowest(base, over), highest(top, over)
    if not low - TOLERANCE <= level <= high + TOLERANCE:
        faults.add((*path, "level"), "lies under or over its wall", f"{mm(low)} to {mm(high)} there")


def _check_line(path: JsonPath, line: Any, length: float, faults: FaultList) -> None:
    """Points from the start of a wall towards its end."""
    before: float | None = None
    for n, item in enumerate(line if isinstance(line, list) else ()):
        point = peek.pair(item)
        if point is None:
            continue
        if not -TOLERANCE <= point[0] <= length + TOLERANCE:
            faults.add((*path, n, 0), "lies outside its wall", f"0 to {mm(length)}")
        elif before is not None and point[0] < before:
            faults.add((*path, n, 0), "lies before the point ahead of it", f"at least {mm(before)}: points go from start to end")
        else:
            before = point[0]
