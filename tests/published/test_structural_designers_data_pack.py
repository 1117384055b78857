"""Civil & Structural Designers Data Pack, figures the uk rule set carries from it.

Bibliography: Civil & Structural Designers Data Pack, section 7 table 7.1, unreinforced columns (read; no publisher printed).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Said = Callable[[str, str], tuple[Value, str]]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.clay", 15000.0, "read", id="clay 15 m"),
        pytest.param("movement_joint.spacing.normal.calcium_silicate", 8000.0, "read", id="calcium silicate 8 m"),
        pytest.param("movement_joint.spacing.normal.dense_concrete", 8000.0, "read", id="dense block 8 m"),
        pytest.param("movement_joint.spacing.normal.lightweight_concrete", 6000.0, "read", id="lightweight block 6 m"),
        pytest.param("movement_joint.spacing.normal.aircrete", 6000.0, "read", id="aircrete block 6 m"),
        pytest.param("movement_joint.corner.fraction", 0.5, "read", id="half off a restrained end"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(said: Said, key: str, printed: Value, status: str) -> None:
    assert said("Civil & Structural Designers Data Pack", key) == (printed, status)
