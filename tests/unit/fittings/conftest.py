"""Hand-made walls for fittings: brick outside (75 gauge), block inside (225 gauge), openings and joints where asked."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

import pytest

from elevgen.building.model import Building, Leaf, LeafEnd, Meeting, Opening, OpeningGroup, Profile, Strip, Unit, Wall, Zone
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.model import Course, Coursing, LeafCoursing
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2] / "whole")]

BRICK = Unit("brick", "clay", 215, 65, 102.5, 10)
BLOCK = Unit("block", "aircrete", 440, 215, 100, 10)


@dataclass(frozen=True)
class Made:
    """A building of one wall, what was laid of it, and its joints."""

    building: Building
    plan: JointPlan
    coursing: Coursing

    @property
    def wall(self) -> Wall:
        return self.building.walls[0]

    def leaf(self, side: str = "outer") -> Leaf:
        return next(leaf for leaf in self.building.leaves if leaf.side == side and leaf.wall == self.wall.id)

    def courses(self, side: str = "outer") -> tuple[Course, ...]:
        return self.coursing.of(self.leaf(side).id).courses


class Yard:
    """Makes walls."""

    brick, block = BRICK, BLOCK

    def wall(
        self,
        length: float,
        openings: Sequence[Rect] = (),
        joints: Sequence[float] = (),
        base: float | Sequence[tuple[float, float]] = -150.0,
        top: float | Sequence[tuple[float, float]] = 2700.0,
        cavity: float | None = 100.0,
        inner: Unit = BLOCK,
        ends: tuple[str, str] = ("corner", "corner"),
        strips: Sequence[Strip] = (),
        groups: Sequence[Sequence[int]] | None = None,
        inner_shift: float = 0.0,
        joint_width: float = 16.0,
    ) -> Made:
        base_line, top_line = _profile(base, length), _profile(top, length)
        named = tuple(Opening(f"O{k}", "window", rect) for k, rect in enumerate(sorted(openings), 1))
        members = groups if groups is not None else [[k] for k in range(len(named))]
        made_groups = tuple(_group(f"G{k}", [named[i] for i in chosen], strips) for k, chosen in enumerate(members, 1))
        voids = tuple(sorted([*(o.rect for o in named), *(s.rect for s in strips)]))
        sides = [("outer", BRICK, 0.0)] if cavity is None else [("outer", BRICK, 0.0), ("inner", inner, 102.5 + cavity)]
        leaves = []
        for side, unit, offset in sides:
            start, finish = (LeafEnd(kind, 0.0, 0.0, other="W2/outer") for kind in ends)  # type: ignore[arg-type]
            inset = 0.0 if side == "outer" else 202.5
            leaves.append(
                Leaf(
                    id=f"W1/{side}",
                    wall="W1",
                    side=side,  # type: ignore[arg-type]
                    zones=(Zone(unit, Span(base_line.lowest(Span(0, length)), top_line.highest(Span(0, length)))),),
                    bond="stretcher",
                    thickness=unit.width,
                    offset=offset,
                    span=Span(inset, length - inset),
                    start_end=start,
                    finish_end=finish,
                    base=base_line,
                    top=top_line,
                    voids=voids,
                    exposed=side == "outer",
                )
            )
        wall = Wall(
            id="W1",
            name="South",
            type="cavity",
            start=(0.0, 0.0),
            end=(length, 0.0),
            length=length,
            line="face",
            leaves=tuple(leaf.id for leaf in leaves),
            cavity=cavity,
            thickness=102.5,
            internal=False,
            openings=named,
            groups=made_groups,
            features=(),
            joints=(),
        )
        placed = tuple(
            MovementJoint(
                id=f"J{k}",
                wall="W1",
                leaf="W1/outer",
                at=at,
                levels=Span(base_line.lowest(Span(at, at + 1)), top_line.highest(Span(at, at + 1))),
                width=JointWidth(16, None, joint_width),
                given=False,
                reason="spacing",
                basis=("movement_joint.spacing.normal.clay",),
            )
            for k, at in enumerate(joints, 1)
        )
        coursing = Coursing((), tuple(lay(leaf, inner_shift if leaf.side == "inner" else 0.0) for leaf in leaves))
        return Made(Building((wall,), tuple(leaves), (), (BRICK, inner)), JointPlan(placed, (), ()), coursing)

    def random(self, seed: int, **kinds: object) -> Made:
        """A wall of 4 to 20 m, one or two storeys, openings on the brick grid at 50 mm, joints in piers wide enough."""
        rng = Random(seed)
        length = 50.0 * rng.randint(80, 400) + rng.choice((0.0, 12.5, 40.0))
        storeys = rng.randint(1, 2)
        openings: list[Rect] = []
        piers: list[float] = []
        for storey in range(storeys):
            at = 50.0 * rng.randint(6, 30)
            while True:
                width = 50.0 * rng.randint(9, 50)
                if at + width > length - 250:
                    break
                sill = storey * 2700 + (0.0 if storey == 0 and rng.random() < 0.3 else 75.0 * rng.randint(6, 14))
                head = storey * 2700 + 2100.0
                openings.append(Rect(at, sill, at + width, head))
                pier = 50.0 * rng.randint(5, 60)
                piers.append(at + width + pier / 2)
                at += width + pier
        joints = [
            at
            for at in sorted(piers)
            if at < length - 400 and all(not (o.left - 200 < at < o.right + 200) for o in openings) and rng.random() < 0.5
        ]
        apart = [at for k, at in enumerate(joints) if k == 0 or at - joints[k - 1] > 1500]
        return self.wall(length, openings, apart, base=-75.0 * rng.randint(2, 5), top=storeys * 2700.0, **kinds)  # type: ignore[arg-type]

    def mirrored(self, made: Made) -> Made:
        """The same wall seen from its other end, names kept."""
        length = made.wall.length

        def rect(r: Rect) -> Rect:
            return Rect(length - r.right, r.bottom, length - r.left, r.top)

        def span(s: Span) -> Span:
            return Span(length - s.end, length - s.start)

        def profile(p: Profile) -> Profile:
            return Profile(tuple((length - at, level) for at, level in reversed(p.points)))

        leaves = tuple(
            replace(
                leaf,
                span=span(leaf.span),
                start_end=leaf.finish_end,
                finish_end=leaf.start_end,
                base=profile(leaf.base),
                top=profile(leaf.top),
                voids=tuple(sorted(rect(v) for v in leaf.voids)),
            )
            for leaf in made.building.leaves
        )
        wall = replace(
            made.wall,
            openings=tuple(replace(o, rect=rect(o.rect)) for o in made.wall.openings),
            groups=tuple(
                replace(g, clear=rect(g.clear), strips=tuple(replace(s, rect=rect(s.rect)) for s in g.strips))
                for g in made.wall.groups
            ),
        )
        joints = tuple(replace(j, at=length - j.at) for j in made.plan.joints)
        laid = tuple(
            replace(c, courses=tuple(replace(course, span=span(course.span)) for course in c.courses))
            for c in made.coursing.leaves
        )
        return Made(replace(made.building, walls=(wall,), leaves=leaves), JointPlan(joints, (), ()), Coursing((), laid))


def _profile(given: float | Sequence[tuple[float, float]], length: float) -> Profile:
    return Profile(((0.0, given), (length, given)) if isinstance(given, int | float) else tuple(given))


def _group(name: str, openings: Sequence[Opening], strips: Sequence[Strip]) -> OpeningGroup:
    names = {o.id for o in openings}
    own = tuple(s for s in strips if names & set(s.between))
    rects = [o.rect for o in openings] + [s.rect for s in own]
    clear = Rect(min(r.left for r in rects), min(r.bottom for r in rects), max(r.right for r in rects), max(r.top for r in rects))
    return OpeningGroup(name, tuple(o.id for o in openings), clear, own)


def lay(leaf: Leaf, shift: float = 0.0) -> LeafCoursing:
    """Courses at the unit's gauge from the lowest base up, the last cut to the top."""
    unit, bottom, top = leaf.zones[0].unit, leaf.zones[0].levels.start + shift, leaf.zones[0].levels.end
    undersides = [bottom + k * unit.gauge + unit.joint for k in range(int((top - bottom) // unit.gauge) + 1)]
    courses = tuple(
        Course(k, unit.name, level, unit.joint, min(unit.height, top - level), leaf.span)
        for k, level in enumerate(undersides, 1)
        if top - level >= 20
    )
    return LeafCoursing(leaf.id, courses, (), (), (), 0.0, 0.0, ())


def meeting(**given: object) -> Meeting:
    return Meeting(**given)  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def yard() -> Yard:
    return Yard()


@pytest.fixture
def reader() -> RuleReader:
    return RuleReader(load_book("uk"))
