"""Walls judged by the rules of a set, or by a few rules of a document given as overrides of the uk set."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from elevgen import pipeline
from elevgen.result import Design
from elevgen.rules.keys import KEYS
from elevgen.spec.models import Spec

Value = float | str | tuple[float, str]
FOOT, INCH = 304.8, 25.4


def designed(
    walls: Sequence[Mapping[str, Any]],
    rules: Mapping[str, Value],
    unit: Mapping[str, Any],
    *,
    country: str = "uk",
    **leaf: Any,
) -> Design:
    """Single-leaf walls of one unit, 6 m high unless said. `rules`: what of `movement_joint.` is to be otherwise than in the
    set of the country, or under a whole key; a value may come with its unit."""
    given = []
    for name, value in rules.items():
        number, of = value if isinstance(value, tuple) else (value, "")
        key = name if name in KEYS else f"movement_joint.{name}"
        given.append({"rule": key, "value": number, "unit": of, "reason": "the document says so", "by": "test"})
    spec = {
        "spec": 1,
        "rules": country,
        "overrides": given,
        "units": {"unit": dict(unit)},
        "leaves": {"leaf": {"zones": [{"unit": "unit"}]} | leaf},
        "wall_types": {"single": {"outer": "leaf"}},
        "walls": [{"type": "single", "top": 6000, "line": "face"} | dict(wall) for wall in walls],
    }
    return pipeline.design(Spec.model_validate(spec))


def worst(design: Design, code: str) -> str:
    """The worst severity a check gives."""
    found = {f.severity for f in design.findings if f.code == code}
    return next(s for s in ("fail", "warn", "not_checked", "note", "pass") if s in found)
