"""A small rule set and short ways to say a spec: tests of this stage need no rule files."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.building.model import Building
from elevgen.building.resolve import resolve
from elevgen.core.sourced import Sourced
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.spec.models import Spec

VALUES = {
    "joint.nominal": 10.0,
    "opening.pier.min": 215.0,
    "opening.strip.min": 150.0,
    "lintel.bearing.short.simple": 100.0,
    "lintel.bearing.short.tray": 150.0,
    "lintel.bearing.long": 160.0,
    "lintel.bearing.short_span": 1200.0,
}
UNITS = {
    "brick": {"material": "clay", "length": 215, "height": 65, "width": 102.5},
    "block": {"material": "aircrete", "length": 440, "height": 215, "width": 100},
    "thick": {"material": "dense_concrete", "length": 440, "height": 215, "width": 140},
}
LEAVES = {"brick": "brick", "block": "block", "thick": "thick"}
TYPES = {
    "cavity": {"outer": "brick", "inner": "block", "cavity": 75},
    "wide": {"outer": "brick", "inner": "thick", "cavity": 120},
    "single": {"outer": "brick"},
    "partition": {"outer": "block"},
    "solid": {"outer": "thick"},
}


def rule_reader(**without: None) -> RuleReader:
    values = {
        key: Sourced(key, value, "mm", "test", "", "", "practice")
        for key, value in VALUES.items()
        if key.replace(".", "_") not in without
    }
    return RuleReader(RuleBook("test", "Test", "", ("test",), values, {}, {}, {}))


def spec_of(walls: list[dict[str, Any]], **more: Any) -> Spec:
    leaves = {name: {"zones": [{"unit": unit}]} for name, unit in LEAVES.items()}
    given = {"spec": 1, "units": UNITS, "leaves": leaves, "wall_types": TYPES, "walls": walls, **more}
    return Spec.model_validate(given)


def ring(
    points: list[tuple[float, float]], kind: str = "cavity", name: str = "W", top: Any = 2700, base: Any = 0
) -> list[dict[str, Any]]:
    """Walls from point to point and back to the first, ids W1, W2...; anticlockwise has the outside outside."""
    ends = zip(points, points[1:] + points[:1], strict=True)
    return [
        {"id": f"{name}{n}", "type": kind, "start": list(a), "end": list(b), "top": top, "base": base}
        for n, (a, b) in enumerate(ends, 1)
    ]


@pytest.fixture
def build() -> Callable[..., Building]:
    def built(walls: list[dict[str, Any]], **more: Any) -> Building:
        return resolve(spec_of(walls, **more), rule_reader())

    return built
