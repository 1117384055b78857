"""Cavity walls nobody drew: coursings that meet, nearly meet or do not, gables, steps, joints of either leaf, free tops."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random
from typing import Any

from elevgen.building.model import Unit
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.fit import fit
from elevgen.fittings.model import WallTies
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint
from elevgen.result import Design
from elevgen.rules.book import RuleReader
from elevgen.spec.models import Spec

INNER = (
    Unit("brick", "clay", 215, 65, 102.5, 10),
    Unit("block", "aircrete", 440, 215, 100, 10),
    Unit("tall", "aircrete", 440, 440, 140, 10),
    Unit("odd", "aircrete", 440, 187, 100, 10),
    Unit("low", "dense_concrete", 290, 140, 140, 8),
)
SPEC = Spec.model_validate(
    {
        "spec": 1,
        "leaves": {"a": {"zones": [{"unit": "brick_65"}]}},
        "wall_types": {"t": {"outer": "a"}},
        "walls": [{"id": "W1", "type": "t", "start": [0, 0], "end": [1000, 0], "top": 100}],
    }
)


@dataclass(frozen=True)
class Tied:
    """A wall and its mirror image, each designed as far as its ties."""

    design: Design
    image: Design

    @property
    def ties(self) -> WallTies:
        (ties,) = self.design.fittings.ties
        return ties


def tied(yard: Any, reader: RuleReader, seed: int) -> Tied:
    """A wall of 2 to 16 m from a seed; slip ties are asked for in every second one."""
    draw = Random(seed)
    made = wall(yard, draw)
    return Tied(*(designed(one, reader, draw_stands(seed), slip=seed % 2 == 0) for one in (made, yard.mirrored(made))))


def draw_stands(seed: int) -> str:
    return ("building", "building", "building", "parapet", "free_standing")[seed % 5]


def wall(yard: Any, draw: Random) -> Any:
    """Openings and joints on no grid; the top level, stepped or a gable; the base stepped now and then."""
    length = float(draw.randrange(2000, 16000, 7))
    height = float(draw.randrange(900, 5200, 5))
    openings: list[Rect] = []
    joints: list[float] = []
    at = 0.0
    while True:
        pier = float(draw.choice((draw.randrange(330, 900), draw.randrange(600, 3500))))
        width = float(draw.randrange(450, 2600))
        if at + pier + width > length - 400:
            break
        sill = float(draw.choice((0, draw.randrange(300, 1100))))
        if height > sill + 700 and draw.random() < 0.8:
            openings.append(Rect(at + pier, sill, at + pier + width, min(sill + draw.randrange(400, 1500), height - 300.0)))
        if pier > 500 and draw.random() < 0.4:
            joints.append(at + pier / 2)
        at += pier + width
    base: Any = -150.0 if draw.random() < 0.7 else [(0, -225), (length * 0.4, -225), (length * 0.4, -75), (length, -75)]
    top: Any = height
    shape = draw.random()
    if shape < 0.3:
        peak = length * draw.uniform(0.3, 0.7)
        top = [(0, height), (peak, height + length * draw.uniform(0.1, 0.45)), (length, height)]
    elif shape < 0.45:
        step, rise = length * draw.uniform(0.3, 0.7), draw.choice((225.0, 610.0, 900.0))
        top = [(0, height), (step, height), (step, height + rise), (length, height + rise)]
    ends = draw.choice((("corner", "corner"), ("stopped", "corner"), ("corner", "stopped"), ("stopped", "stopped")))
    inner = draw.choice(INNER)
    made = yard.wall(length, openings, joints, base=base, top=top, inner=inner, ends=ends, inner_shift=draw.choice((0, 0, 4, 30)))
    return with_inner_joints(made, draw)


def with_inner_joints(made: Any, draw: Random) -> Any:
    """Some joints go through the inner leaf too, a little aside of those of the outer."""
    aside = [joint.at + draw.choice((0.0, 37.0, -120.0)) for joint in made.plan.joints if draw.random() < 0.6]
    inner = tuple(
        MovementJoint(
            f"I{k}",
            "W1",
            "W1/inner",
            at,
            Span(made.leaf("inner").base.lowest(Span(at, at + 1)), made.leaf("inner").top.highest(Span(at, at + 1))),
            JointWidth(10, None, 10.0),
            False,
            "spacing",
            (),
        )
        for k, at in enumerate(aside)
    )
    return replace(made, plan=JointPlan((*made.plan.joints, *inner), (), ()))


def designed(made: Any, reader: RuleReader, stands: str, slip: bool) -> Design:
    """The wall with its fittings; nothing else of it is designed."""
    (wall,) = made.building.walls
    building = replace(made.building, walls=(replace(wall, stands=stands, slip_ties=slip),))
    fittings = fit(building, (), made.plan, made.coursing, reader)
    return Design("wall", SPEC, "", reader.book, reader.used(), building, (), made.plan, made.coursing, fittings, ())
