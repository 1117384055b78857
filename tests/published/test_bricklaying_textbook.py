"""A bricklaying textbook whose title was not shown, figures the uk rule set carries from it.

Bibliography: bricklaying textbook, title not shown (quoted).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("bond.piece.min_fraction", 0.5, "quoted", id="nothing under a half"),
        pytest.param("tie.edge.distance", 150.0, "quoted", id="ties within 150 of a reveal"),
        pytest.param("tie.edge.vertical", 225.0, "quoted", id="ties 225 up a reveal"),
        pytest.param("tie.embedment", 62.5, "quoted", id="embedment 62.5"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("bricklaying textbook", key, printed, status)
