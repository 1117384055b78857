"""Openings and where they lie: outside their wall, past its base or top, over one another. Works on raw JSON; millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from elevgen.core.errors import JsonPath
from elevgen.core.geometry import TOLERANCE, Rect
from elevgen.spec import peek
from elevgen.spec.faults import FaultList, mm, quoted
from elevgen.spec.fields import LEAST_OPENING, MOST_OPENINGS
from elevgen.spec.profile import Points, highest, lowest


class _Hole(NamedTuple):
    """An opening whose four sizes can be read."""

    path: JsonPath
    name: str
    rect: Rect


def check_openings(
    path: JsonPath, wall: dict[str, Any], length: float | None, base: Points, top: Points, faults: FaultList
) -> None:
    """Note every opening that is not wholly in its wall or lies over another.

    `length` None, or no points of a base or top: not known, and not judged.
    """
    holes = tuple(_holes(path, wall))
    _check_levels(holes, base, top, faults)
    _check_overlaps(holes, faults)
    if length is not None:
        _check_along(holes, length, faults)


def _holes(path: JsonPath, wall: dict[str, Any]) -> Iterator[_Hole]:
    for j, opening in peek.objects(wall, "openings"):
        at, width, sill, height = (peek.length(opening, key) for key in ("at", "width", "sill", "height"))
        if at is None or width is None or sill is None or height is None or min(width, height) < LEAST_OPENING:
            continue
        name = quoted(peek.text(opening, "id") or "")
        yield _Hole((*path, "openings", j), name, Rect(at, sill, at + width, sill + height))


def _check_along(holes: tuple[_Hole, ...], length: float, faults: FaultList) -> None:
    for hole in holes:
        left, right = hole.rect.left, hole.rect.right
        if left < -TOLERANCE or left >= length - TOLERANCE:
            faults.add(
                (*hole.path, "at"),
                f"opening {hole.name} lies outside its wall",
                f"0 to {mm(max(length - hole.rect.width, 0.0))}",
            )
        elif right > length + TOLERANCE:
            faults.add(
                (*hole.path, "width"), f"opening {hole.name} goes past the end of its wall", f"at most {mm(length - left)}"
            )


def _check_levels(holes: tuple[_Hole, ...], base: Points, top: Points, faults: FaultList) -> None:
    for hole in holes:
        floor = highest(base, hole.rect.along) if base else None
        roof = lowest(top, hole.rect.along) if top else None
        if floor is not None and hole.rect.bottom < floor - TOLERANCE:
            faults.add((*hole.path, "sill"), f"opening {hole.name} goes below the base of its wall", f"at least {mm(floor)}")
        if roof is not None and hole.rect.top > roof + TOLERANCE:
            tallest = roof - hole.rect.bottom
            allowed = f"at most {mm(tallest)} on this sill" if tallest > 0 else f"a sill below {mm(roof)}"
            faults.add((*hole.path, "height"), f"opening {hole.name} goes above the top of its wall", allowed)


def _check_overlaps(holes: tuple[_Hole, ...], faults: FaultList) -> None:
    """One fault for each opening that lies over one written before it."""
    if len(holes) > MOST_OPENINGS:
        return
    rects = [hole.rect for hole in holes]
    reaching: list[int] = []  # from left to right, those that may reach as far as the next one
    over: dict[int, int] = {}
    for n in sorted(range(len(holes)), key=rects.__getitem__):
        reaching = [m for m in reaching if rects[m].right > rects[n].left + TOLERANCE]
        for m in reaching:
            if _overlap(rects[m], rects[n]):
                over.setdefault(max(m, n), min(m, n))
        reaching.append(n)
    for later, first in sorted(over.items()):
        message = f"opening {holes[later].name} lies over opening {holes[first].name}"
        faults.add(holes[later].path, message, "openings side by side or one above the other")


def _overlap(a: Rect, b: Rect) -> bool:
    along = min(a.right, b.right) - max(a.left, b.left)
    return along > TOLERANCE and min(a.top, b.top) - max(a.bottom, b.bottom) > TOLERANCE
