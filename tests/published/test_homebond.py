"""HomeBond, figures the uk rule set carries from it.

Bibliography: HomeBond (Ireland), weep holes over openings (read).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("weep.spacing", 450.0, "read", id="weeps at 450 over openings"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("HomeBond", key, printed, status)
