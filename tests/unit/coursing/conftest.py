"""Leaves built by hand and a small rule book, so that coursing is tested on its own.

The folder is on the path so that tests can import `bonded`.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from elevgen.building.model import Building, Leaf, LeafEnd, Opening, Profile, Unit, Wall, Zone
from elevgen.core.geometry import Rect, Span
from elevgen.core.sourced import Sourced
from elevgen.coursing.lay import lay
from elevgen.coursing.model import Coursing, LeafCoursing, Pattern, Placement
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint
from elevgen.rules.book import RuleBook, RuleReader

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2] / "whole")]

BRICK = Unit("brick", "clay", 215, 65, 102.5, 10)
BLOCK = Unit("block", "dense_concrete", 440, 215, 100, 10)
VALUES = {
    "perpend.min": 7.0,
    "perpend.max": 15.0,
    "bed.tolerance": 5.0,
    "bond.lap.fraction": 0.25,
    "bond.piece.min_fraction": 0.5,
    "coursing.split.min": 20.0,
}


@dataclass(frozen=True)
class Laid:
    """One leaf laid, with what a test wants to ask of it."""

    leaf: Leaf
    joints: tuple[MovementJoint, ...]
    coursing: Coursing

    @property
    def work(self) -> LeafCoursing:
        return self.coursing.leaves[0]

    @property
    def unit(self) -> Unit:
        return self.leaf.zones[0].unit

    def in_course(self, number: int) -> list[tuple[Placement, Pattern]]:
        return [(p, self.coursing.pattern(p.pattern)) for p in self.work.placements if p.course == number]

    def pieces(self, number: int) -> list[tuple[float, float, str]]:
        """(left end, length, kind) of a course's pieces along the wall."""
        return sorted((p.span.start + x.at, x.length, x.kind) for p, pattern in self.in_course(number) for x in pattern.pieces)

    def lines(self, number: int) -> list[float]:
        """Centre lines of a course's perpends along the wall."""
        return sorted(p.span.start + x.at + x.width / 2 for p, pattern in self.in_course(number) for x in pattern.perpends)

    @property
    def short_laps(self) -> int:
        """Perpends nearer than a quarter unit to one in the course below, looked for one by one."""
        found = 0
        for course in self.work.courses[1:]:
            below = self.lines(course.number - 1)
            found += sum(any(abs(x - y) < self.unit.length / 4 - 0.01 for y in below) for x in self.lines(course.number))
        return found


def stopped(at: float) -> LeafEnd:
    return LeafEnd("stopped", at, at)


def make_leaf(
    length: float = 3365.0,
    height: float = 1050.0,
    unit: Unit = BRICK,
    voids: tuple[Rect, ...] = (),
    start: LeafEnd | None = None,
    finish: LeafEnd | None = None,
    base: tuple[tuple[float, float], ...] | None = None,
    top: tuple[tuple[float, float], ...] | None = None,
    zones: tuple[Zone, ...] | None = None,
    at: float = 0.0,
) -> Leaf:
    span = Span(at, at + length)
    base = base or ((span.start, 0.0), (span.end, 0.0))
    top = top or ((span.start, height), (span.end, height))
    levels = Span(min(y for _, y in base), max(y for _, y in top))
    return Leaf(
        id="W1/outer",
        wall="W1",
        side="outer",
        zones=zones or (Zone(unit, levels),),
        bond="stretcher",
        thickness=unit.width,
        offset=0.0,
        span=span,
        start_end=start or stopped(span.start),
        finish_end=finish or stopped(span.end),
        base=Profile(base),
        top=Profile(top),
        voids=voids,
        exposed=True,
    )


def reader_with(**changed: float) -> RuleReader:
    values = {**VALUES, **{k.replace("__", "."): v for k, v in changed.items()}}
    sourced = {k: Sourced(k, v, "mm", "test", "", "", "practice") for k, v in values.items()}
    return RuleReader(RuleBook("test", "Test", "1", ("test",), sourced, {}, {}, {}))


def lay_leaf(leaf: Leaf, joints: tuple[float, ...] = (), width: float = 16.0, openings: tuple[Opening, ...] = ()) -> Laid:
    levels = Span(leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span))
    placed = tuple(
        MovementJoint(f"MJ{k}", "W1", leaf.id, at, levels, JointWidth(None, None, width), False, "", ())
        for k, at in enumerate(joints, 1)
    )
    line = (leaf.span.start, 0.0), (leaf.span.end, 0.0)
    found = openings or tuple(Opening(f"O{k}", "opening", r) for k, r in enumerate(leaf.voids, 1))
    wall = Wall("W1", "", "t", *line, leaf.span.length, "face", (leaf.id,), None, leaf.thickness, False, found, (), (), "place")
    units = tuple({zone.unit.name: zone.unit for zone in leaf.zones}.values())
    building = Building((wall,), (leaf,), (), units)
    return Laid(leaf, placed, lay(building, JointPlan(placed, (), ()), reader_with()))


@pytest.fixture
def brick() -> Unit:
    return BRICK


@pytest.fixture
def block() -> Unit:
    return BLOCK


@pytest.fixture
def leaf() -> Callable[..., Leaf]:
    return make_leaf


@pytest.fixture
def laid() -> Callable[..., Laid]:
    return lay_leaf
