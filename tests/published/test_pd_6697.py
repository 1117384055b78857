"""PD 6697, figures the uk rule set takes from it.

Bibliography: PD 6697:2019, wall tie lengths by cavity and ties a square metre, as quoted on trade web pages (quoted);
PD 6697:2010/2019, 6.2.6, clay movement joints (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.rules.book import RuleBook

DOCUMENT = "PD 6697:2019"

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("cavities", "length"),
    [
        ((50, 75), 200),
        ((76, 100), 225),
        ((101, 125), 250),
        ((126, 150), 275),
        ((151, 175), 300),
        ((176, 200), 325),
        ((201, 225), 350),
        ((226, 250), 375),
        ((251, 275), 400),
        ((276, 300), 425),
    ],
)
def test_tie_length_by_cavity_quoted(uk: RuleBook, cavities: tuple[float, float], length: float) -> None:
    bands = uk.get("tie.length").value
    assert isinstance(bands, tuple)
    for cavity in cavities:
        assert next(value for up_to, value in bands if cavity <= up_to) == length


def test_tie_length_is_the_widest_cavity_and_125_derived(published: Any, uk: RuleBook) -> None:
    bands = uk.get("tie.length").value
    assert isinstance(bands, tuple)
    (ours,) = {length - up_to for up_to, length in bands}
    published("PDT-04", "tie longer than its widest cavity by", 125, ours, unit="mm", status="derived")


def test_ties_a_square_metre_quoted(carried: Carried) -> None:
    carried("PD 6697", "tie.density", 2.5, "quoted")


@pytest.mark.parametrize(
    ("key", "value"), [("movement_joint.spacing.limit.clay", 15000.0), ("movement_joint.width.per_metre.clay", 1.3)]
)
def test_6_2_6_clay_from_memory(carried: Carried, key: str, value: float) -> None:
    carried("PD 6697", key, value, "memory")
