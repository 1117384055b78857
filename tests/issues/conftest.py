"""A wall for a fault: what is told of it, on top of a plain cavity wall of brick and block."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.result import Design
from elevgen.spec.models import Spec


@pytest.fixture(scope="session")
def wall_of() -> Callable[..., Design]:
    """A function: one wall 6 m long as told, its leaves as told, other walls beside it."""

    def designed(wall: dict[str, Any], outer: dict[str, Any], inner: dict[str, Any] | None, *others: dict[str, Any]) -> Design:
        plain = {"id": "W1", "type": "t", "start": [0, 0], "end": [6000, 0], "top": 2700, "joints": []}
        brick, block = {"zones": [{"unit": "brick_65"}]}, {"zones": [{"unit": "aircrete_block_100"}]}
        made = {"outer": "o", "inner": "i", "cavity": 100} if inner is not None else {"outer": "o"}
        spec = {
            "spec": 1,
            "leaves": {"o": brick | outer, "i": block | (inner or {})},
            "wall_types": {"t": made},
            "walls": [plain | wall, *(plain | other for other in others)],
        }
        return pipeline.design(Spec.model_validate(spec))

    return designed
