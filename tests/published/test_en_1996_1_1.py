"""EN 1996-1-1, figures the uk rule set carries from memory: none of them is published evidence.

Bibliography: EN 1996-1-1, 8.1.5, 8.2.2, 8.5.2.2(2), not seen (from memory).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Said = Callable[[str, str], tuple[Value, str]]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("perpend.max", 15.0, "memory", id="8.1.5 perpends to 15, from memory"),
        pytest.param("bed_reinforcement.cover", 15.0, "memory", id="8.2.2 cover 15, from memory"),
        pytest.param("tie.density", 2.0, "memory", id="8.5.2.2 two ties a square metre, from memory"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(said: Said, key: str, printed: Value, status: str) -> None:
    assert said("EN 1996-1-1", key) == (printed, status)
