"""Construction Materials, table 35.4: movement of masonry materials.

Bibliography: Construction Materials (textbook), table 35.4, its data mainly of BRE Digest 228 of 1979. Thermal figures read; the
moisture columns were scrambled, so their numbers are read and their rows put together again by us (derived). The clay row of
irreversible movement is in the wrong unit as printed and is not used.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.rules.book import RuleBook

Carried = Callable[..., None]
BOOK = "Construction Materials"


@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        ("clay", 5, 8),
        ("calcium_silicate", 8, 14),
        ("dense_concrete", 6, 12),
        ("lightweight_concrete", 8, 12),
        ("aircrete", 8, 8),
        ("stone", 3, 12),
    ],
)
def test_thermal_per_million(carried: Carried, material: str, low: float, high: float) -> None:
    """Stone from limestone, 3 to 4, to sandstone, 7 to 12."""
    carried(BOOK, f"movement.thermal.low.{material}", low / 1000, "read")
    carried(BOOK, f"movement.thermal.high.{material}", high / 1000, "read")


@pytest.mark.parametrize(
    ("material", "least", "most"),
    [
        ("calcium_silicate", -0.1, -0.4),
        ("dense_concrete", -0.2, -0.6),
        ("lightweight_concrete", -0.2, -0.6),
        ("aircrete", -0.5, -0.9),
    ],
)
def test_irreversible_moisture_rows_derived(carried: Carried, material: str, least: float, most: float) -> None:
    carried(BOOK, f"movement.moisture.low.{material}", most, "derived")
    carried(BOOK, f"movement.moisture.high.{material}", least, "derived")


@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        ("clay", 0.2, 0.2),
        ("calcium_silicate", 0.1, 0.5),
        ("dense_concrete", 0.2, 0.4),
        ("lightweight_concrete", 0.3, 0.6),
        ("aircrete", 0.2, 0.3),
        ("stone", 0.1, 0.7),
    ],
)
def test_reversible_moisture_rows_derived(carried: Carried, material: str, low: float, high: float) -> None:
    """Stone from limestone to sandstone."""
    carried(BOOK, f"movement.reversible.low.{material}", low, "derived")
    carried(BOOK, f"movement.reversible.high.{material}", high, "derived")


def test_its_clay_row_of_irreversible_movement_is_not_used(uk: RuleBook) -> None:
    for end in ("low", "high"):
        key = f"movement.moisture.{end}.clay"
        assert not [s for s in (uk.get(key), *uk.alternatives[key]) if s.document.startswith(BOOK)]
