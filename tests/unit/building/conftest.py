"""A small rule set and short ways to say a spec: tests of this stage need no rule files."""

from __future__ import annotations

from collections.abc import Iterable
from types import SimpleNamespace
from typing import Any

import pytest

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
    "block": {"material": "aircrete", "length": 440, "height": 215, "width": 100, "joint": 8},
    "thick": {"material": "dense_concrete", "length": 440, "height": 215, "width": 140},
}
LEAVES = {
    "brick": {"zones": [{"unit": "brick"}]},
    "block": {"zones": [{"unit": "block"}]},
    "thick": {"zones": [{"unit": "thick"}]},
    "plinth": {"zones": [{"unit": "brick", "to": 600}, {"unit": "thick", "to": 2400}, {"unit": "block"}]},
}
TYPES = {
    "cavity": {"outer": "brick", "inner": "block", "cavity": 75},
    "wide": {"outer": "brick", "inner": "thick", "cavity": 120},
    "single": {"outer": "brick"},
    "partition": {"outer": "block"},
    "solid": {"outer": "thick"},
    "mixed": {"outer": "plinth", "inner": "block", "cavity": 100},
}
Walls = list[dict[str, Any]]


def reader(without: Iterable[str] = ()) -> RuleReader:
    kept = {key: value for key, value in VALUES.items() if key not in without}
    values = {key: Sourced(key, value, "mm", "test", "", "", "practice") for key, value in kept.items()}
    return RuleReader(RuleBook("test", "Test", "", ("test",), values, {}, {}, {}))


def wall(wall_id: str, kind: str, start: tuple[float, float], end: tuple[float, float], **more: Any) -> dict[str, Any]:
    return {"id": wall_id, "type": kind, "start": list(start), "end": list(end), "base": 0, "top": 2700, **more}


def ring(points: list[tuple[float, float]], kind: str = "cavity", name: str = "W", **more: Any) -> Walls:
    """Walls from point to point and back to the first, ids W1, W2...; anticlockwise has the outside outside."""
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return [wall(f"{name}{n}", kind, a, b, **more) for n, (a, b) in enumerate(pairs, 1)]


def opening(opening_id: str, at: float, width: float, sill: float, height: float) -> dict[str, Any]:
    return {"id": opening_id, "at": at, "width": width, "sill": sill, "height": height}


def spec_of(walls: Walls, **more: Any) -> Spec:
    given = {"spec": 1, "units": UNITS, "leaves": LEAVES, "wall_types": TYPES, "walls": walls, **more}
    return Spec.model_validate(given)


@pytest.fixture(scope="session")
def make() -> SimpleNamespace:
    """The helpers above, for tests that cannot import their conftest."""

    def build(walls: Walls, **more: Any) -> Any:
        return resolve(spec_of(walls, **more), reader())

    return SimpleNamespace(build=build, reader=reader, wall=wall, ring=ring, opening=opening, spec=spec_of)
