"""Small buildings designed by the real stages, with movement joints put where a test wants them."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from elevgen import checks
from elevgen.building.resolve import resolve
from elevgen.building.trace import trace
from elevgen.core.geometry import Span
from elevgen.coursing.lay import lay
from elevgen.fittings.fit import fit
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint
from elevgen.result import Design, Finding
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

sys.path.insert(0, str(Path(__file__).parent))

from fitted_wall import BRICK, WALL

Joints = Mapping[str, Sequence[float]]
Build = Callable[..., Design]
Found = Callable[..., list[Finding]]


def spec_of(walls: Sequence[Mapping[str, Any]], **more: Any) -> Spec:
    """Cavity walls of brick and aircrete, partitions of aircrete, garden walls of brick, unless said otherwise."""
    base: dict[str, Any] = {
        "spec": 1,
        "leaves": {
            "brick": {"zones": [{"unit": "brick_65"}]},
            "block": {"zones": [{"unit": "aircrete_block_100"}]},
        },
        "wall_types": {
            "cavity": {"outer": "brick", "inner": "block", "cavity": 100},
            "garden": {"outer": "brick"},
            "partition": {"outer": "block"},
        },
        "walls": list(walls),
    }
    return Spec.model_validate(base | more)


def designed(spec: Spec, joints: Joints, width: float = 16.0, book: RuleBook | None = None) -> Design:
    """The design of a spec with movement joints at the given places of each leaf, full height."""
    reader = RuleReader(book or load_book(spec.rules, spec.overrides))
    building = resolve(spec, reader)
    runs = trace(building)
    placed = []
    for leaf_id, places in joints.items():
        leaf = building.leaf(leaf_id)
        for n, at in enumerate(places, start=1):
            over = Span(at - width / 2, at + width / 2)
            levels = Span(leaf.base.lowest(over), leaf.top.highest(over))
            built = JointWidth(None, None, width)
            placed.append(MovementJoint(f"J{n}", leaf.wall, leaf_id, at, levels, built, True, "test", ()))
    plan = JointPlan(tuple(placed), (), ())
    coursing = lay(building, plan, reader)
    fittings = fit(building, runs, plan, coursing, reader)
    return Design("test", spec, "", reader.book, reader.used(), building, runs, plan, coursing, fittings, ())


@pytest.fixture(scope="session")
def build() -> Build:
    """`build(walls, joints, width=..., **more_of_the_spec)` gives a design not yet checked."""
    known: dict[str, Design] = {}

    def make(walls: Sequence[Mapping[str, Any]], joints: Joints | None = None, width: float = 16.0, **more: Any) -> Design:
        key = repr((walls, joints, width, more))
        if key not in known:
            known[key] = designed(spec_of(walls, **more), joints or {}, width)
        return known[key]

    return make


@pytest.fixture(scope="session")
def found() -> Found:
    """`found(design, code)` gives the findings of one check; with `everything=True` passes too."""

    def look(design: Design, code: str, everything: bool = False) -> list[Finding]:
        findings = checks.run_checks(design)
        return [f for f in findings if f.code == code and (everything or f.severity != "pass")]

    return look


def without(design: Design, *keys: str) -> Design:
    """The design judged by a rule set that lacks some keys."""
    values = {key: value for key, value in design.rules.values.items() if key not in keys}
    return replace(design, rules=replace(design.rules, values=values))


@pytest.fixture(scope="session")
def lacking() -> Callable[..., Design]:
    return without


@pytest.fixture(scope="session")
def plain(build: Build) -> Design:
    """Brick outside and inside, so that every level lands."""
    return build([WALL], leaves={"brick": BRICK, "block": BRICK})
