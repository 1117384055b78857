"""Metres typed where numbers are millimetres, such as `"top": 2.7` for a wall 2.7 m high.

Told only where the size makes metres likely; a length written with its unit is never doubted.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, TypeGuard

from elevgen.core.errors import JsonPath
from elevgen.spec import peek
from elevgen.spec.faults import FaultList
from elevgen.spec.fields import LEAST_OPENING

FARTHEST = 100.0
"""Along a wall or in plan, a number this large or larger (mm) is not taken for metres."""
HIGHEST = 20.0
"""The same for levels."""
WITH_UNITS = 'lengths with their unit, "m" or "mm"'
_NEAREST = 0.01


def likely(value: Any, below: float = FARTHEST) -> TypeGuard[float]:
    """A number without a unit that would be a centimetre at least, and less than `below`, were it metres."""
    return isinstance(value, int | float) and not isinstance(value, bool) and _NEAREST <= abs(value) < below


def all_likely(values: Iterable[Any], below: float = FARTHEST) -> bool:
    """Numbers that are 0 or likely metres, not all of them 0."""
    some = [value for value in values if isinstance(value, bool) or value != 0]
    return bool(some) and all(likely(value, below) for value in some)


def hint(*values: Any) -> str:
    """What ends a message: the values (two are a place in plan) as they were perhaps meant."""
    shown = [json.dumps(v) if isinstance(v, str) else f'"{v:.15g} m"' if likely(v) else f"{v:.15g}" for v in values]
    return "; numbers are millimetres: did you mean " + (shown[0] if len(shown) == 1 else f"[{', '.join(shown)}]") + "?"


def insist(value: float) -> str:
    """What is allowed instead of a number that is doubted but could be meant."""
    return f'"{value:.15g} m", or "{value:.15g} mm" where that is meant'


def levels(value: Any) -> tuple[Any, ...]:
    """The levels of a base or top as they are written."""
    points = value if isinstance(value, list) else [[0, value]]
    return tuple(point[1] for point in points if isinstance(point, list) and len(point) == 2)


def tell_others(path: JsonPath, wall: dict[str, Any], line: bool, top: bool, faults: FaultList) -> None:
    """Note what else of a wall is then in metres: its start and places along it with its `line`, its base with its `top`.

    An opening whose width or height is in metres has its place in metres too.
    """
    if line and any(map(likely, wall["start"])) and any(map(likely, wall["end"])):
        faults.add((*path, "start"), "looks like metres too" + hint(*wall["start"]), WITH_UNITS)
    if top:
        _tell(path, wall, ("base",), HIGHEST, faults)
    for key in ("openings", "features", "joints"):
        for n, item in peek.objects(wall, key):
            if line or any(likely(item.get(size), LEAST_OPENING) for size in ("width", "height") if key == "openings"):
                _tell((*path, key, n), item, ("at", "sill"), FARTHEST, faults)


def _tell(path: JsonPath, holder: dict[str, Any], keys: Iterable[str], below: float, faults: FaultList) -> None:
    for key in keys:
        if likely(value := holder.get(key), below):
            faults.add((*path, key), "looks like metres too" + hint(value), insist(value))
