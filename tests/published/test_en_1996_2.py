"""EN 1996-2, figures the uk rule set carries from it.

Bibliography: EN 1996-2:2006, 2.3.4.2, recommended distances, as quoted by a clay industry association (quoted).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.clay", 12000.0, "quoted", id="clay 12 m"),
        pytest.param("movement_joint.spacing.normal.calcium_silicate", 8000.0, "quoted", id="calcium silicate 8 m"),
        pytest.param("movement_joint.spacing.normal.dense_concrete", 6000.0, "quoted", id="aggregate concrete 6 m"),
        pytest.param("movement_joint.spacing.normal.stone", 12000.0, "quoted", id="natural stone 12 m"),
        pytest.param("movement_joint.corner.fraction", 0.5, "quoted", id="half off a restrained edge"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("EN 1996-2", key, printed, status)
