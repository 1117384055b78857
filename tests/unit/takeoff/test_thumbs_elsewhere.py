"""Rules of thumb are compared where walling is of the size they are printed for, in each country its own."""

from __future__ import annotations

from typing import Any

import pytest

from elevgen import pipeline
from elevgen.spec.models import Spec
from elevgen.takeoff.measure import measure


def thumbs(rules: str, unit: str | dict[str, Any], module: float) -> dict[str, tuple[float, float]]:
    """What is compared of one wall forty units long: ours and the rule's, by key."""
    own = {} if isinstance(unit, str) else {"units": {"own": unit}}
    spec = {
        "spec": 1,
        "rules": rules,
        **own,
        "leaves": {"a": {"zones": [{"unit": unit if isinstance(unit, str) else "own"}]}},
        "wall_types": {"single": {"outer": "a"}},
        "walls": [{"id": "W", "type": "single", "start": [0, 0], "end": [40 * module - 10, 0], "top": 2400, "joints": []}],
    }
    found = measure(pipeline.design(Spec.model_validate(spec))).thumbs
    return {t.source.key: (t.ours or 0.0, t.rule) for t in found if t.source.key.startswith("thumb.units.")}


@pytest.mark.parametrize(
    ("unit", "module", "key", "printed"),
    [("brick_76", 240.0, "thumb.units.half_brick", 50.0), ("concrete_block_190", 400.0, "thumb.units.block", 12.5)],
)
def test_australian_trade_page_50_bricks_and_12_5_blocks_to_a_square_metre(unit, module, key, printed):
    ((found, (ours, rule)),) = thumbs("au", unit, module).items()
    assert found == key and rule == printed
    assert ours == pytest.approx(printed, rel=0.04)


BRICK = {"material": "clay", "length": 230, "height": 76, "width": 110}


def test_another_countrys_size_is_not_compared():
    assert thumbs("uk", BRICK, 240.0) == {}
    assert thumbs("au", BRICK | {"length": 215, "height": 65, "width": 102.5}, 225.0) == {}


def test_a_size_of_ones_own_that_is_the_countrys_is():
    assert list(thumbs("au", BRICK, 240.0)) == ["thumb.units.half_brick"]
