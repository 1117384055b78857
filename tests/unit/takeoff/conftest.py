"""Specs designed for the take-off: what is left out of a wall is that of a plain cavity wall without joints."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.result import Design
from elevgen.spec.models import Spec
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Quantity, Takeoff

Made = Callable[..., Design]

LEAVES = {
    "brick": {"zones": [{"unit": "brick_65"}]},
    "english": {"zones": [{"unit": "brick_65"}], "bond": "english"},
    "block": {"zones": [{"unit": "aircrete_block_100"}]},
    "rendered": {"zones": [{"unit": "dense_block_100"}], "finish": "render"},
}
TYPES = {
    "cavity": {"outer": "brick", "inner": "block", "cavity": 100},
    "half": {"outer": "brick"},
    "thick": {"outer": "english"},
    "partition": {"outer": "block"},
    "rendered": {"outer": "rendered", "inner": "block", "cavity": 90},
}


@pytest.fixture(scope="session")
def made() -> Made:
    """`made(walls, units=..., leaves=..., **fields)`: a design of walls given as dicts of the spec's fields."""

    def make(walls: Sequence[Mapping[str, Any]], leaves: Mapping[str, Any] | None = None, **fields: Any) -> Design:
        plain = {"type": "half", "base": 0, "top": 2700, "joints": []}
        named = [{"id": f"W{n}", **plain, **wall} for n, wall in enumerate(walls, 1)]
        spec = {"spec": 1, "leaves": {**LEAVES, **(leaves or {})}, "wall_types": TYPES, "walls": named, **fields}
        return pipeline.design(Spec.model_validate(spec), "measured")

    return make


@pytest.fixture(scope="session")
def bill() -> Callable[[Design], dict[tuple[str, str], Quantity]]:
    """Quantities of a design by code and place."""

    def measured(design: Design) -> dict[tuple[str, str], Quantity]:
        takeoff: Takeoff = measure(design)
        return {(q.code, q.where): q for q in takeoff.quantities}

    return measured
