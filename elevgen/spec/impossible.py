"""Geometry that cannot be built or drawn: walls without length, tops under bases, holes outside walls, absurd sizes.

Works on raw JSON: whatever can be measured is judged, whatever cannot is left to the faults of form. Millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any, NamedTuple

from elevgen.core.errors import JsonPath
from elevgen.core.geometry import TOLERANCE, at_least, at_most, distance
from elevgen.spec import peek
from elevgen.spec.faults import FaultList, mm, quoted
from elevgen.spec.fields import MOST_POINTS, SHORTEST_WALL
from elevgen.spec.given_joints import check_given_joints
from elevgen.spec.given_parts import check_given_parts
from elevgen.spec.metres import HIGHEST, WITH_UNITS, all_likely, hint, levels, likely, tell_others
from elevgen.spec.openings import check_openings
from elevgen.spec.profile import Points, levels_at

LONGEST_WALL = 10_000_000.0
TALLEST_WALL = 1_000_000.0
LOWEST_COURSE = 50.0
"""No unit of a rule set is lower than this."""
MOST_UNITS = 5_000_000
"""A building of more bricks and blocks than this is drawn in parts."""
MOST_OPENINGS_IN_ALL = 10_000

# Walls shorter or lower than these are asked about when their numbers look like metres.
_DOUBTED_LENGTH = 300.0
_DOUBTED_HEIGHT = 1000.0
_BRICK_FACE = 225.0 * 75.0


class _MakeUp(NamedTuple):
    """What walls are made of, by name."""

    wall_types: dict[str, dict[str, Any]]
    leaves: dict[str, dict[str, Any]]
    units: dict[str, dict[str, Any]]

    @classmethod
    def of(cls, raw: Any) -> _MakeUp:
        return cls(*(dict(peek.named(raw, key)) for key in ("wall_types", "leaves", "units")))

    def leaves_of(self, wall: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
        """The leaves of a wall as far as their names lead somewhere."""
        wall_type = self.wall_types.get(peek.text(wall, "type") or "")
        for side in ("outer", "inner"):
            name = peek.text(wall_type, side)
            if name in self.leaves:
                yield name, self.leaves[name]

    def single(self, wall: dict[str, Any]) -> bool:
        """Whether a wall is known to have one leaf only."""
        wall_type = self.wall_types.get(peek.text(wall, "type") or "")
        return wall_type is not None and wall_type.get("inner") is wall_type.get("cavity") is None

    def lowest_course(self, wall: dict[str, Any]) -> float:
        """The least height a course of the wall can have."""
        names = (peek.text(zone, "unit") for _, leaf in self.leaves_of(wall) for _, zone in peek.objects(leaf, "zones"))
        return min((_course(self.units.get(name or "")) for name in names), default=LOWEST_COURSE)


class _Rise(NamedTuple):
    """The levels of base and top at a place along the wall."""

    at: float
    base: float
    top: float

    @property
    def height(self) -> float:
        return self.top - self.base


class _Extent(NamedTuple):
    """A wall that can be measured: how long it is, and its lowest and highest level."""

    wall: dict[str, Any]
    length: float
    lowest: float
    highest: float


def check_geometry(raw: Any, faults: FaultList) -> None:
    """Note everything that cannot be built as described."""
    make_up = _MakeUp.of(raw)
    lines: dict[frozenset[tuple[float, float]], str] = {}
    measured = tuple(
        extent
        for i, wall in peek.objects(raw, "walls")
        if (extent := _check_wall(("walls", i), wall, _check_line(("walls", i), wall, lines, faults), make_up, faults))
    )
    _check_last_zones(measured, make_up, faults)
    _check_cost(raw, measured, make_up, faults)


def _check_wall(
    path: JsonPath, wall: dict[str, Any], length: float | None, make_up: _MakeUp, faults: FaultList
) -> _Extent | None:
    base = _check_profile((*path, "base"), wall.get("base", 0.0), length, faults)
    top = _check_profile((*path, "top"), wall.get("top"), length, faults)
    _check_steps((*path, "base"), base, faults)
    if base and top and not _check_height(path, wall, _rises(base, top, length), make_up, faults):
        top = ()
    check_openings(path, wall, length, base, top, faults)
    tell_others(path, wall, line=length is None and _line_in_metres(wall), top=not top and _top_in_metres(wall), faults=faults)
    if length is None:
        return None
    check_given_joints(path, wall, length, faults)
    check_given_parts(path, wall, length, base, top, make_up.single(wall), faults)
    _check_features(path, wall, length, faults)
    return _Extent(wall, length, min(level for _, level in base), max(level for _, level in top)) if base and top else None


def _check_line(
    path: JsonPath, wall: dict[str, Any], lines: dict[frozenset[tuple[float, float]], str], faults: FaultList
) -> float | None:
    """The length of the wall line, where it has one that can be."""
    start, end = peek.pair(wall.get("start")), peek.pair(wall.get("end"))
    if start is None or end is None:
        return None
    length = distance(start, end)
    if length < _DOUBTED_LENGTH and _is_too_short(path, wall, length, faults):
        return None
    if length > LONGEST_WALL + TOLERANCE:
        faults.add((*path, "end"), f"the wall is {mm(length)} long", f"at most {mm(LONGEST_WALL)}")
    there = lines.setdefault(frozenset((start, end)), f"walls[{path[1]}]")
    if there != f"walls[{path[1]}]":
        faults.add((*path, "end"), f"the wall stands where {there} stands", "each wall line once")
    return length


def _is_too_short(path: JsonPath, wall: dict[str, Any], length: float, faults: FaultList) -> bool:
    """Whether a wall is shorter than one can be, or only as long as it would be were its millimetres metres."""
    point, other, words = "end", "start", f"the wall is only {mm(length)} long"
    if _line_in_metres(wall):
        if not any(map(likely, wall["end"])):
            point, other = other, point
        words += hint(*wall[point])
    if at_most(length, SHORTEST_WALL):
        words = words if length > TOLERANCE else "the wall has no length"
        faults.add((*path, point), words, f"more than {mm(SHORTEST_WALL)} from the {other}")
    elif all_likely((*wall["start"], *wall["end"])):
        faults.add((*path, point), words, WITH_UNITS)
    else:
        return False
    return True


def _check_profile(path: JsonPath, value: Any, length: float | None, faults: FaultList) -> Points:
    """The points of a base or top, in order; empty where they cannot be read or are out of order."""
    if not isinstance(value, list):
        level = peek.millimetres(value)
        return () if level is None else ((0.0, level), (1.0 if length is None else length, level))
    points: list[tuple[float, float]] = []
    sound = len(value) >= 2
    for i, item in enumerate(value[:MOST_POINTS]):
        point = peek.pair(item)
        wrong = _wrong_place(points, point[0], length) if point else None
        if wrong:
            faults.add((*path, i, 0), *wrong)
        if point is None or wrong:
            sound = False
        else:
            points.append(point)
    return tuple(points) if sound else ()


def _wrong_place(points: list[tuple[float, float]], at: float, length: float | None) -> tuple[str, str] | None:
    """What is wrong with a next point `at` a place, and what is allowed."""
    if at < -TOLERANCE or (length is not None and at > length + TOLERANCE):
        return "lies outside the wall", "0 or more" if length is None else f"0 to {mm(length)}"
    if points and at < points[-1][0]:
        return "lies before the point ahead of it", f"at least {mm(points[-1][0])}: points go from start to end"
    if [before for before, _ in points[-2:]] == [at, at]:
        return "a third point at one place", "one point, or two for a step"
    return None


def _check_steps(path: JsonPath, base: Points, faults: FaultList) -> None:
    for i in range(1, len(base)):
        (before, low), (at, level) = base[i - 1], base[i]
        if at - before > TOLERANCE and abs(level - low) > TOLERANCE:
            faults.add(
                (*path, i),
                "the base slopes; a base can only step",
                f"[{at:.15g}, {low:.15g}] and then the new level at the same place",
            )


def _rises(base: Points, top: Points, length: float | None) -> tuple[_Rise, ...]:
    """How far the top is above the base at both ends of every stretch where neither steps."""
    places = sorted({0.0, *(at for at, _ in (*base, *top)), *(() if length is None else (length,))})
    return tuple(
        _Rise(at, levels_at(base, at)[side], levels_at(top, at)[side])
        for stretch in pairwise(places)
        for at, side in zip(stretch, (1, 0), strict=True)
    )


def _check_height(path: JsonPath, wall: dict[str, Any], rises: tuple[_Rise, ...], make_up: _MakeUp, faults: FaultList) -> bool:
    """Whether the top is where one can be; where it cannot, a fault says so."""
    path = (*path, "top")
    metres = hint(max(levels(wall["top"]), key=abs)) if _top_in_metres(wall) else ""
    for left, right in zip(rises[::2], rises[1::2], strict=True):
        least = min(left, right, key=_height)
        if least.height < -TOLERANCE or max(left.height, right.height) <= TOLERANCE:
            message = f"the top is not above the base {mm(least.at)} along the wall{metres}"
            faults.add(path, message, f"more than {mm(least.base)} there")
            return False
    tallest = max((rise.height for rise in rises), default=0.0)
    course = make_up.lowest_course(wall)
    if not at_least(tallest, course):
        faults.add(path, f"the wall is only {mm(tallest)} high{metres}", f"at least {mm(course)}, one course of its lowest unit")
    elif metres and tallest < _DOUBTED_HEIGHT:
        faults.add(path, f"the wall is only {mm(tallest)} high{metres}", WITH_UNITS)
    elif max(rise.top for rise in rises) - min(rise.base for rise in rises) > TALLEST_WALL:
        faults.add(path, "the wall is absurdly high", f"at most {mm(TALLEST_WALL)} above its base")
    else:
        return True
    return False


def _height(rise: _Rise) -> float:
    return rise.height


def _top_in_metres(wall: dict[str, Any]) -> bool:
    return all_likely(levels(wall.get("top")), HIGHEST)


def _line_in_metres(wall: dict[str, Any]) -> bool:
    """The numbers that make the wall as short as it is are likely metres."""
    if peek.pair(wall.get("start")) is None or peek.pair(wall.get("end")) is None:
        return False
    return all_likely(value for both in zip(wall["start"], wall["end"], strict=True) if both[0] != both[1] for value in both)


def _check_features(path: JsonPath, wall: dict[str, Any], length: float, faults: FaultList) -> None:
    for j, feature in peek.objects(wall, "features"):
        at = peek.length(feature, "at")
        if at is not None and not -TOLERANCE <= at <= length + TOLERANCE:
            faults.add((*path, "features", j, "at"), "lies outside its wall", f"0 to {mm(length)}")


def _check_last_zones(measured: tuple[_Extent, ...], make_up: _MakeUp, faults: FaultList) -> None:
    """A last zone that ends leaves what stands above it without a unit."""
    tallest = {name: extent for extent in sorted(measured, key=_highest) for name, _ in make_up.leaves_of(extent.wall)}
    for name, extent in tallest.items():
        leaf = make_up.leaves[name]
        for i, zone in peek.objects(leaf, "zones"):
            to = peek.length(zone, "to")
            if i == len(leaf["zones"]) - 1 and to is not None and to < extent.highest - TOLERANCE:
                wall = f"wall {quoted(peek.text(extent.wall, 'id') or '')}"
                message = f"{wall} goes on above this last zone, up to {mm(extent.highest)}"
                faults.add(("leaves", name, "zones", i, "to"), message, 'no "to" in the last zone')


def _highest(extent: _Extent) -> float:
    return extent.highest


def _check_cost(raw: Any, measured: tuple[_Extent, ...], make_up: _MakeUp, faults: FaultList) -> None:
    units = sum(_units(extent, make_up) for extent in measured)
    openings = sum(1 for _, wall in peek.objects(raw, "walls") for _ in peek.objects(wall, "openings"))
    for what, count, most in (("bricks and blocks", units, MOST_UNITS), ("openings", openings, MOST_OPENINGS_IN_ALL)):
        if count > most:
            message = f"about {count:,.0f} {what} are too many for one spec"
            faults.add(("walls",), message, f"at most {most:,}: draw the building in parts")


def _units(extent: _Extent, make_up: _MakeUp) -> float:
    """About how many bricks and blocks the wall takes."""
    area = extent.length * max(extent.highest - extent.lowest, 0.0)
    count = 0.0
    for _, leaf in make_up.leaves_of(extent.wall):
        faces = [_face(make_up.units.get(peek.text(zone, "unit") or "")) for _, zone in peek.objects(leaf, "zones")]
        count += area / min(faces, default=_BRICK_FACE)
    return count


def _course(unit: dict[str, Any] | None) -> float:
    """Height of a unit with the joint it gives. Units of the rule set, and joints of theirs, are not known here."""
    high = None if unit is None else peek.length(unit, "height")
    return LOWEST_COURSE if unit is None or high is None else high + (peek.length(unit, "joint") or 0.0)


def _face(unit: dict[str, Any] | None) -> float:
    if unit is None:
        return _BRICK_FACE
    long, high = peek.length(unit, "length"), peek.length(unit, "height")
    return max(long, 10.0) * max(high, 10.0) if long is not None and high is not None else _BRICK_FACE
