"""BS 5628-3, figures the uk rule set carries from it.

Bibliography: BS 5628-3:2001, 5.4.2, as quoted on trade web pages (the standard was withdrawn in March 2010).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.aircrete", 6000.0, "quoted", id="aircrete 6 m"),
        pytest.param("movement_joint.panel_ratio.warn.aircrete", 2.0, "quoted", id="aircrete 2:1"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("BS 5628-3", key, printed, status)
