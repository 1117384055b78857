"""Concrete Society, figures the uk rule set takes from it.

Bibliography: Concrete Society, Masonry - Movement; and its note on running bond, citing BS 5628-3 and BS 8000 (read).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.dense_concrete", 9000.0, "read", id="aggregate block 9 m"),
        pytest.param("movement_joint.spacing.normal.aircrete", 6000.0, "read", id="aircrete about 6 m"),
        pytest.param("movement_joint.panel_ratio.dense_concrete", 3.0, "read", id="concrete 3:1"),
        pytest.param("bond.lap.fraction", 0.25, "read", id="lap a quarter of the length"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Concrete Society", key, printed, status)
