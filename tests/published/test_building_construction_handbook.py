"""Building Construction Handbook, figures the uk rule set takes from it.

Bibliography: Chudley and Greeno, Building Construction Handbook, 8th edition, p.637, citing BS 5628-3 (read).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.clay", 12000.0, "read", id="clay 12 m"),
        pytest.param("movement_joint.spacing.limit.lightweight_concrete", 6000.0, "read", id="lightweight block 6 m at most"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Building Construction Handbook", key, printed, status)
