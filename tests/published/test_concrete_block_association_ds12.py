"""Concrete Block Association, Data Sheet 12, figures the uk rule set takes from it.

Bibliography: Concrete Block Association, Data Sheet 12, April 2007, with fig. 11 (read).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Said = Callable[[str, str], tuple[Value, str]]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.dense_concrete", 6000.0, "read", id="external from 6 m"),
        pytest.param("movement_joint.spacing.limit.dense_concrete", 9000.0, "read", id="external to 9 m"),
        pytest.param("movement_joint.width.nominal.dense_concrete", 10.0, "read", id="10 mm"),
        pytest.param("sealant.width_to_depth", 2.0, "read", id="fig. 11, sealant 1.0 : 0.5"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(said: Said, key: str, printed: Value, status: str) -> None:
    assert said("Concrete Block Association", key) == (printed, status)
