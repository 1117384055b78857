"""Eden District Council building control note, figures the uk rule set takes from it.

Bibliography: Eden District Council, building control note on movement joints, citing BRE Digest 164 and BS 5628-3 (read).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.width.per_metre.clay", 1.3, "read", id="spacing and 30 %"),
        pytest.param("movement_joint.spacing.normal.lightweight_concrete", 6000.0, "read", id="lightweight block from 6 m"),
        pytest.param("movement_joint.spacing.limit.lightweight_concrete", 9000.0, "read", id="lightweight block to 9 m"),
        pytest.param("movement_joint.width.nominal.lightweight_concrete", 10.0, "read", id="lightweight block 10 mm"),
        pytest.param("movement_joint.spacing.normal.aircrete", 6000.0, "read", id="aircrete 6 m"),
        pytest.param("movement_joint.width.nominal.aircrete", 10.0, "read", id="aircrete 10 mm"),
        pytest.param("movement_joint.width.nominal.calcium_silicate", 13.0, "read", id="calcium silicate to 13 mm"),
        pytest.param("movement_joint.short_return.flag", 1000.0, "read", id="returns under 1 m"),
        pytest.param("filler.barred.clay", ("hemp", "fibreboard", "cork"), "read", id="not in clay"),
        pytest.param("filler.allowed.dense_concrete", ("hemp", "fibreboard", "cork"), "read", id="where a joint only opens"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Eden District Council", key, printed, status)
