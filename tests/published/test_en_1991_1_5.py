"""EN 1991-1-5, how much the sun warms a wall (EN915-01).

Bibliography: EN 1991-1-5:2003, Table 5.2, transcription on a code-sharing page (quoted).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.rules.book import RuleBook

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("colour", "south_west", "north_east"), [("light", 18.0, 0.0), ("medium", 30.0, 2.0), ("dark", 42.0, 4.0)]
)
def test_table_5_2_quoted(carried: Carried, uk: RuleBook, colour: str, south_west: float, north_east: float) -> None:
    """Absorptivity 0.5, 0.7 and 0.9. Which way a wall faces is in no spec, so the greater counts and the other is noted."""
    key = f"movement.temperature.sun.{colour}"
    carried("EN 1991-1-5", key, south_west, "quoted")
    assert f"north-east {north_east:g}" in uk.get(key).note
