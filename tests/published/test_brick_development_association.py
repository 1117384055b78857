"""Brick Development Association, figures the uk rule set takes from it.

Bibliography: Brick Development Association, Movement Joints, May 2014 (read).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Said = Callable[[str, str], tuple[Value, str]]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.clay", 12000.0, "read", id="clay 12 m"),
        pytest.param("movement_joint.width.nominal.clay", 16.0, "read", id="clay about 16 mm at 12 m"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(said: Said, key: str, printed: Value, status: str) -> None:
    assert said("Brick Development Association", key) == (printed, status)
