"""PD 6697, figures the uk rule set takes from it.

Bibliography: PD 6697:2019, wall tie lengths by cavity and ties a square metre, as quoted on trade web pages (quoted);
PD 6697:2010/2019, 6.2.6, clay movement joints (from memory).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value
from elevgen.rules.book import RuleBook

Said = Callable[[str, str], tuple[Value, str]]


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


def test_tie_length_is_the_widest_cavity_and_125_derived(uk: RuleBook) -> None:
    bands = uk.get("tie.length").value
    assert isinstance(bands, tuple)
    assert [length - up_to for up_to, length in bands] == [125.0] * 10


def test_ties_a_square_metre_quoted(said: Said) -> None:
    assert said("PD 6697", "tie.density") == (2.5, "quoted")


@pytest.mark.parametrize(
    ("key", "value"), [("movement_joint.spacing.limit.clay", 15000.0), ("movement_joint.width.per_metre.clay", 1.3)]
)
def test_6_2_6_clay_from_memory(said: Said, key: str, value: float) -> None:
    assert said("PD 6697", key) == (value, "memory")
