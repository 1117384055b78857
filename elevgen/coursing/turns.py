"""Turns: which courses of a leaf run through where it meets others, and where they run on into a leaf in line with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import hypot

from elevgen.bonds import load_bond
from elevgen.building.model import Building, Leaf, Meeting
from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.ends import Across, Turns, first_perpends
from elevgen.coursing.gauge import Band
from elevgen.joints.model import JointPlan

BandsOf = Mapping[str, Sequence[Band]]
"""By leaf: its bands from the bottom up."""

_Course = tuple[str, float, float, float]
"""Unit, bottom, level and top of a course: what two leaves must have alike for it to run across."""


def turns_of(building: Building, plan: JointPlan, bands: BandsOf) -> dict[str, Turns]:
    """The turns of every leaf: courses at one level take turns, however many lie under them in each leaf."""
    first = _first_courses(building, bands)
    turns = {leaf.id: Turns(first[leaf.id]) for leaf in building.leaves}
    leaves = {leaf.id: leaf for leaf in building.leaves}
    for meeting in building.meetings:
        host, stem = leaves[meeting.host], leaves[meeting.stem]
        sides = _end_at(host, stem.id, meeting.host_at), _end_at(stem, host.id, meeting.stem_at)
        if None in sides or not _in_line(building, meeting, host, stem):
            continue
        levels = _run_on(host, sides[0] or 0, plan, bands) & _run_on(stem, sides[1] or 0, plan, bands)
        if not levels:
            continue
        ends = (host, sides[0] or 0), (stem, sides[1] or 0)
        at_levels = frozenset(round(course[2], 3) for course in levels)
        best = min((0, 1), key=lambda k: (_misfit(ends, k, at_levels, turns, bands), not _even(*ends[k])))
        for k, (leaf, side) in enumerate(ends):
            turns[leaf.id] = turns[leaf.id].at(side, Across(k == best, at_levels))
    return turns


def _first_courses(building: Building, bands: BandsOf) -> dict[str, int]:
    """By leaf: the number of its first course; where leaves are bonded end to end courses at one level have one number."""
    at: dict[str, dict[float, int]] = {
        leaf.id: {round(band.bottom, 2): k for k, band in enumerate(b for b in bands[leaf.id] if b.top - b.level > TOLERANCE)}
        for leaf in building.leaves
    }
    beside: dict[str, list[str]] = {leaf.id: [] for leaf in building.leaves}
    for meeting in building.meetings:
        if meeting.kind == "corner" and meeting.connection == "bonded":
            beside[meeting.host].append(meeting.stem)
            beside[meeting.stem].append(meeting.host)
    first: dict[str, int] = {}
    for leaf in building.leaves:
        waiting = [] if leaf.id in first else [leaf.id]
        first.setdefault(leaf.id, 0)
        for one in waiting:
            for other in beside[one]:
                if other not in first:
                    level = min(at[one].keys() & at[other].keys(), default=None)
                    first[other] = first[one] + (0 if level is None else at[one][level] - at[other][level])
                    waiting.append(other)
    return first


def _end_at(leaf: Leaf, other: str, at: float) -> int | None:
    """Which end of a leaf (0 start, 1 finish) is bonded in line with another at a position."""
    for side, end, edge in ((0, leaf.start_end, leaf.span.start), (1, leaf.finish_end, leaf.span.end)):
        straight = end.kind == "corner" and end.connection == "bonded" and abs(end.far - end.near) <= TOLERANCE
        if straight and end.other == other and abs(edge - at) <= TOLERANCE:
            return side
    return None


def _in_line(building: Building, meeting: Meeting, host: Leaf, stem: Leaf) -> bool:
    """Whether the two leaves are the same skin carried on: one bond, one thickness, one plane."""
    one, other = _middle(building, host, meeting.host_at), _middle(building, stem, meeting.stem_at)
    near = hypot(one[0] - other[0], one[1] - other[1]) <= 1.0
    return near and host.bond == stem.bond and abs(host.thickness - stem.thickness) <= TOLERANCE


def _middle(building: Building, leaf: Leaf, at: float) -> tuple[float, float]:
    """The middle of a leaf's thickness in plan."""
    wall = building.wall(leaf.wall)
    d = (wall.end[0] - wall.start[0]) / wall.length, (wall.end[1] - wall.start[1]) / wall.length
    aside = leaf.offset + leaf.thickness / 2
    return wall.start[0] + d[0] * at - d[1] * aside, wall.start[1] + d[1] * at + d[0] * aside


def _run_on(leaf: Leaf, side: int, plan: JointPlan, bands: BandsOf) -> frozenset[_Course]:
    """The courses of a leaf that reach one of its ends at their full height."""
    edge = leaf.span.end if side else leaf.span.start
    low, high = (p.level_left_of(edge) if side else p.level_right_of(edge) for p in (leaf.base, leaf.top))
    gaps = [(j.gap.start, j.gap.end, j.levels.start, j.levels.end) for j in plan.on_leaf(leaf.id)]
    holes = [(v.left, v.right, v.bottom, v.top) for v in leaf.voids] + gaps
    ending = [(bottom, top) for left, right, bottom, top in holes if left - TOLERANCE <= edge <= right + TOLERANCE]
    return frozenset(
        (b.unit.name, round(b.bottom, 2), round(b.level, 3), round(b.top, 2))
        for b in bands[leaf.id]
        if b.top - b.level > TOLERANCE
        and b.bottom >= low - TOLERANCE
        and b.top <= high + TOLERANCE
        and not any(bottom < b.top - TOLERANCE and top > b.bottom + TOLERANCE for bottom, top in ending)
    )


def _even(leaf: Leaf, side: int) -> bool:
    return (leaf.finish_end if side else leaf.start_end).through_on_even


def _misfit(
    ends: Sequence[tuple[Leaf, int]], straddler: int, levels: frozenset[float], turns: Mapping[str, Turns], bands: BandsOf
) -> float:
    """How far whole units are from filling the two leaves when one of them owns the units that straddle the line (mm)."""
    total = 0.0
    for k, (leaf, side) in enumerate(ends):
        unit = next(b.unit for b in bands[leaf.id] if round(b.level, 3) in levels)
        tried = turns[leaf.id].at(side, Across(k == straddler, levels))
        here, there = (first_perpends(leaf, tried, unit, load_bond(leaf.bond), s) for s in (side, 1 - side))
        offs = [(leaf.span.length - x - y) % unit.module for x in here for y in there]
        total += min(min(off, unit.module - off) for off in offs)
    return round(total, 3)
