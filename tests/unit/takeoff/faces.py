"""Buildings with walls and openings at will, resolved and not laid: what measurement by faces is tried on."""

from collections.abc import Mapping, Sequence
from typing import Any

from elevgen.building.model import Building
from elevgen.building.resolve import resolve
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

BRICK = {"material": "clay", "length": 215, "height": 65, "width": 102.5, "joint": 10}
UNITS = {
    "brick": BRICK,
    "stone": BRICK | {"material": "stone"},
    "block": {"material": "dense_concrete", "length": 440, "height": 215, "width": 140, "joint": 10},
}
LEAVES = {
    "brick": {"zones": [{"unit": "brick"}]},
    "block": {"zones": [{"unit": "block"}]},
    "thick": {"zones": [{"unit": "brick"}], "bond": "english"},
    "banded": {"zones": [{"unit": "brick", "to": 1200}, {"unit": "stone", "to": 1800}, {"unit": "brick"}]},
}


def spec_of(walls: Sequence[Mapping[str, Any]], **more: Any) -> Spec:
    """Walls of half-brick leaves 2400 high, unless one says otherwise: `type` is a leaf of LEAVES, or `cavity`."""
    types = {name: {"outer": name} for name in LEAVES}
    usual = {"type": "brick", "base": 0, "top": 2400, "joints": []}
    return Spec.model_validate(
        {
            "spec": 1,
            "units": UNITS,
            "leaves": LEAVES,
            "wall_types": {**types, "cavity": {"outer": "brick", "inner": "block", "cavity": 75}},
            "walls": [{"id": f"W{n}"} | usual | dict(wall) for n, wall in enumerate(walls, 1)],
            **more,
        }
    )


def built(walls: Sequence[Mapping[str, Any]]) -> Building:
    """The same, resolved."""
    return resolve(spec_of(walls), RuleReader(load_book("uk")))


def ring(*corners: tuple[float, float], type: str = "brick") -> list[dict[str, Any]]:
    """Walls round a building by their outer faces, anticlockwise."""
    ends = zip(corners, (*corners[1:], corners[0]), strict=True)
    return [{"start": list(a), "end": list(b), "type": type} for a, b in ends]
