"""Buildings fitted without the search for joints and bond: courses at gauge, joints where a seed puts them."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Any

from elevgen.building.model import Building, Leaf
from elevgen.building.resolve import resolve
from elevgen.core.geometry import Span
from elevgen.coursing.model import Course, Coursing, LeafCoursing
from elevgen.fittings.fit import fit
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint
from elevgen.result import Design
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.spec.models import Spec


def quick(given: Mapping[str, Any], book: RuleBook, joints: Mapping[str, list[float]] | None = None) -> Design:
    """The design of a spec as far as its fittings, `joints` by leaf."""
    spec = Spec.model_validate(given)
    reader = RuleReader(book)
    building = resolve(spec, reader)
    placed = tuple(
        _joint(building.leaf(name), at, n) for name, places in (joints or {}).items() for n, at in enumerate(places, 1)
    )
    plan = JointPlan(placed, (), ())
    coursing = Coursing((), tuple(lay(leaf) for leaf in building.leaves))
    fittings = fit(building, (), plan, coursing, reader)
    return Design("quick", spec, "", book, reader.used(), building, (), plan, coursing, fittings, ())


def lay(leaf: Leaf) -> LeafCoursing:
    """Courses at the gauge of each zone from the lowest base up; the last is cut, the last two where it would be thin."""
    courses: list[Course] = []
    for zone in leaf.zones:
        unit, bottom = zone.unit, zone.levels.start
        while (left := zone.levels.end - bottom - unit.joint) > 1:
            height = min(unit.height, left)
            if 0 < left - height <= unit.joint + 20:
                height -= min(60.0, height / 2)
            courses.append(Course(len(courses) + 1, unit.name, bottom + unit.joint, unit.joint, height, leaf.span))
            bottom += height + unit.joint
    return LeafCoursing(leaf.id, tuple(courses), (), (), (), 0.0, 0.0, ())


def _joint(leaf: Leaf, at: float, number: int) -> MovementJoint:
    over = Span(at - 8, at + 8)
    levels = Span(leaf.base.lowest(over), leaf.top.highest(over))
    return MovementJoint(f"{leaf.id}/J{number}", leaf.wall, leaf.id, at, levels, JointWidth(None, None, 16.0), True, "test", ())


def some_joints(building: Building, seed: int) -> dict[str, list[float]]:
    """A joint here and there, clear of openings."""
    draw = Random(seed)
    found: dict[str, list[float]] = {}
    for leaf in building.leaves:
        for _ in range(draw.randint(0, 2)):
            at = round(draw.uniform(leaf.span.start + 60, leaf.span.end - 60), 1)
            near = [void for void in leaf.voids if void.left - 20 < at < void.right + 20]
            if not near and all(abs(at - other) > 400 for other in found.get(leaf.id, ())):
                found.setdefault(leaf.id, []).append(at)
    return found
