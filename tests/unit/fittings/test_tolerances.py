"""What finished masonry may be out by: in proportion, past it one figure, and nothing where the set is silent."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.fittings.tolerances import level_tolerance, plumb_tolerance
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Override, Spec

KEYS = ("per_metre", "length", "beyond")
WALL: dict[str, Any] = {
    "spec": 1,
    "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
    "wall_types": {"half": {"outer": "brick"}},
    "walls": [
        {"id": "W1", "type": "half", "start": [0, 0], "end": [4040, 0], "base": -150, "top": 2250},
        {"id": "W2", "type": "half", "start": [9000, 0], "end": [9000, 7865], "top": 3600, "existing": True, "joints": []},
    ],
}


def reader(*without: str, **others: float) -> RuleReader:
    given = tuple(
        Override(rule=f"tolerance.level.{key}", value=value, unit="", reason="other document", by="engineer")
        for key, value in others.items()
    )
    book = load_book("uk", given)
    left = {key: value for key, value in book.values.items() if key.removeprefix("tolerance.level.") not in without}
    return RuleReader(replace(book, values=MappingProxyType(left)))


@pytest.mark.parametrize(
    ("without", "length", "allowed"),
    [
        ((), 3000, 4.8),
        ((), 5000, 8.0),
        ((), 5000.1, 12.0),
        (("length",), 5000, 8.0),
        (("length",), 30000, 12.0),
        (("length", "beyond"), 30000, 48.0),
        (("beyond",), 5001, None),
        (("per_metre",), 4000, None),
        (("per_metre", "length"), 4000, 12.0),
        (KEYS, 4000, None),
    ],
)
def test_what_a_set_says_of_levels(without: tuple[str, ...], length: float, allowed: float | None) -> None:
    found = level_tolerance(reader(*without), length)
    assert found == (None if allowed is None else pytest.approx(allowed))


def test_a_leaf_is_told_over_its_own_length_and_height_and_the_rules_are_used() -> None:
    design = pipeline.design(Spec.model_validate(WALL))
    (allowed,) = design.fittings.tolerances
    assert (allowed.leaf, allowed.length, allowed.height) == ("W1/outer", 4040, 2400)
    assert allowed.level == pytest.approx(4.04 * 8 / 5)
    assert allowed.plumb == pytest.approx(2.4 * 8 / 3)
    used = {value.key for value in design.rules_used}
    assert {key for key in design.rules.values if key.startswith("tolerance.")} <= used & set(allowed.basis)
    assert plumb_tolerance(RuleReader(design.rules), 3000) == pytest.approx(8)
    assert plumb_tolerance(RuleReader(design.rules), 3001) == 12


def test_taller_and_longer_walls_are_never_allowed_less() -> None:
    rules = reader()
    for allowed in (level_tolerance, plumb_tolerance):
        found = [allowed(rules, distance) or 0.0 for distance in range(100, 20000, 137)]
        assert found == sorted(found)
        assert len({round(each, 6) for each in found}) > 10
