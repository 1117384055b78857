"""Approved Document A, figures the uk rule set carries from it.

Bibliography: Approved Document A, older edition, Table 6, as quoted on trade web pages.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("tie.spacing.horizontal", 750.0, "quoted", id="Table 6, 750 along in cavities of 76 to 100"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Approved Document A", key, printed, status)
