"""Plans in few words, and what the stages up to the joints make of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from elevgen.building.model import Building, Run
from elevgen.building.resolve import resolve
from elevgen.building.trace import trace
from elevgen.joints.model import JointPlan, MovementJoint
from elevgen.joints.place import place
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

LEAVES: dict[str, Any] = {
    "brick": {"zones": [{"unit": "brick_65"}]},
    "thick": {"zones": [{"unit": "one_brick"}]},
    "cs": {"zones": [{"unit": "calcium_silicate_brick_65"}]},
    "dense": {"zones": [{"unit": "dense_block_100"}]},
    "dense_215": {"zones": [{"unit": "dense_block_215"}]},
    "aircrete": {"zones": [{"unit": "aircrete_block_100"}]},
    "stone": {"zones": [{"unit": "stone_100"}]},
    "plinth": {"zones": [{"unit": "brick_65", "to": 600}, {"unit": "dense_block_100"}]},
}
UNITS: dict[str, Any] = {
    "one_brick": {"material": "clay", "length": 215, "height": 65, "width": 215},
    "dense_block_215": {"material": "dense_concrete", "length": 440, "height": 215, "width": 215},
}


def wall(name: str, start: Sequence[float], end: Sequence[float], leaf: str = "brick", **more: Any) -> dict[str, Any]:
    """A wall of one leaf on its face line, 5 m high unless said otherwise; `leaf` may be `cavity`."""
    return {"id": name, "type": leaf, "start": list(start), "end": list(end), "top": 5000, "line": "face"} | more


def spec_of(walls: Iterable[Mapping[str, Any]], *, leaves: Mapping[str, Any] | None = None, **more: Any) -> Spec:
    """A spec of walls of one leaf each, named after it, or cavity walls of brick and aircrete."""
    made = LEAVES | (dict(leaves) if leaves else {})
    types: dict[str, Any] = {name: {"outer": name} for name in made}
    types["cavity"] = {"outer": "brick", "inner": "aircrete", "cavity": 100}
    base = {"spec": 1, "leaves": made, "wall_types": types, "units": UNITS, "walls": list(walls)}
    return Spec.model_validate(base | more)


def built(
    walls: Iterable[Mapping[str, Any]], *, remedies: bool = False, **more: Any
) -> tuple[Building, tuple[Run, ...], JointPlan]:
    """Building, runs and joints of walls; with remedies where rules cannot be kept only if asked for."""
    spec = spec_of(walls, **more)
    reader = RuleReader(load_book(spec.rules, spec.overrides))
    building = resolve(spec, reader)
    runs = trace(building)
    return building, runs, place(building, runs, reader, spec if remedies else None)


def joints_of(walls: Iterable[Mapping[str, Any]], **more: Any) -> tuple[MovementJoint, ...]:
    """The joints placed."""
    return built(walls, **more)[2].joints
