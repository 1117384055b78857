"""UK National Annex to EN 1996-2, figures the uk rule set carries from it.

Bibliography: UK NA to EN 1996-2, Table NA.1: aggregate concrete quoted on a trade web page; the rest from memory.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.dense_concrete", 9000.0, "quoted", id="aggregate concrete 9 m, quoted"),
        pytest.param("movement_joint.spacing.normal.clay", 15000.0, "memory", id="clay 15 m, from memory"),
        pytest.param("movement_joint.spacing.limit.calcium_silicate", 9000.0, "memory", id="calcium silicate 9 m, from memory"),
        pytest.param("movement_joint.spacing.normal.stone", 20000.0, "memory", id="stone 20 m, from memory"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("UK NA to EN 1996-2", key, printed, status)
