"""Damp-proof courses and trays as the checks look at them: by leaf and wall, and the beds they lie in."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.building.model import Leaf, Profile, Wall
from elevgen.checks._beds import beds_between
from elevgen.checks._finding import Place
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.fittings.model import DampCourse, Tray
from elevgen.result import Design


def at_course(course: DampCourse) -> Place:
    """A damp-proof course, in its leaf."""
    return Place(course.id, (course.wall,), (course.leaf,))


def at_tray(wall: Wall, tray: Tray) -> Place:
    """A tray, in the outer leaf of its wall, at the openings under it."""
    return Place(tray.id, (wall.id,), (wall.leaves[0],), under(tray))


def under(tray: Tray) -> tuple[str, ...]:
    """The openings a tray is over."""
    return tray.openings or ((tray.opening,) if tray.opening else ())


def courses_of(design: Design, leaf: Leaf, place: str) -> list[DampCourse]:
    """The damp-proof courses of a leaf at its foot (`base`) or under its coping."""
    return [course for course in design.fittings.damp_courses if course.leaf == leaf.id and course.place == place]


def trays_of(design: Design, wall: Wall) -> list[Tray]:
    """The trays of a wall from its start."""
    return sorted((tray for tray in design.fittings.trays if tray.wall == wall.id), key=lambda tray: (tray.span, tray.level))


def cavity_walls(design: Design) -> Iterator[tuple[Wall, Leaf, Leaf]]:
    """Every wall of two leaves with its outer and its inner one."""
    for wall in design.building.walls:
        if len(wall.leaves) == 2:
            yield wall, design.building.leaf(wall.leaves[0]), design.building.leaf(wall.leaves[1])


def beds_of(design: Design, leaf: Leaf) -> list[Span]:
    """The bed joints of a leaf from the bottom up, the one it stands in first."""
    courses = design.coursing.of(leaf.id).courses
    first = [Span(courses[0].level - courses[0].bed, courses[0].level)] if courses else []
    return [*first, *beds_between(courses)]


def unit_gauge(leaf: Leaf, level: float) -> float:
    """The coordinating height of the units at a level of a leaf (mm)."""
    zone = next((zone for zone in leaf.zones if zone.levels.start <= level + TOLERANCE < zone.levels.end), leaf.zones[-1])
    return zone.unit.gauge


def straight(profile: Profile, over: Span) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """The straight pieces of a profile inside a stretch, each by its two ends (at, level)."""
    for a, b in pairwise(profile.clipped(over)):
        if b[0] - a[0] > TOLERANCE:
            yield a, b
