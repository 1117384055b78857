"""Structural Engineer's Pocket Book, figures the uk rule set takes from it.

Bibliography: Structural Engineer's Pocket Book, p.146, movement joint table with its notes (read).
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
        pytest.param("movement_joint.width.nominal.clay", 16.0, "read", id="clay 16 mm"),
        pytest.param("movement_joint.panel_ratio.clay", 3.0, "read", id="clay 3:1"),
        pytest.param("movement_joint.spacing.normal.calcium_silicate", 7500.0, "read", id="calcium silicate from 7.5 m"),
        pytest.param("movement_joint.spacing.limit.calcium_silicate", 9000.0, "read", id="calcium silicate to 9 m"),
        pytest.param("movement_joint.width.nominal.calcium_silicate", 10.0, "read", id="calcium silicate 10 mm"),
        pytest.param("movement_joint.panel_ratio.calcium_silicate", 3.0, "read", id="calcium silicate 3:1"),
        pytest.param("movement_joint.spacing.normal.dense_concrete", 6000.0, "read", id="concrete from 6 m"),
        pytest.param("movement_joint.spacing.limit.dense_concrete", 7000.0, "read", id="concrete block to 7 m"),
        pytest.param("movement_joint.width.nominal.dense_concrete", 10.0, "read", id="concrete 10 mm"),
        pytest.param("movement_joint.panel_ratio.dense_concrete", 2.0, "read", id="concrete 2:1, in conflict with 3:1"),
        pytest.param("movement_joint.panel_ratio.warn.dense_concrete", 2.0, "read", id="concrete 2:1 as the warning"),
        pytest.param("movement_joint.panel_ratio.warn.lightweight_concrete", 2.0, "read", id="block 2:1, light not separated"),
        pytest.param("movement_joint.spacing.normal.stone", 6000.0, "read", id="stone cladding 6 m"),
        pytest.param("movement_joint.width.nominal.stone", 10.0, "read", id="stone cladding 10 mm"),
        pytest.param("movement_joint.panel_ratio.stone", 3.0, "read", id="stone cladding 3:1"),
        pytest.param("movement_joint.spacing.reinforced_450.clay", 15000.0, "read", id="clay from, beds at 450: 15 m"),
        pytest.param("movement_joint.spacing.reinforced_450.limit.clay", 18000.0, "read", id="clay to, beds at 450: 18 m"),
        pytest.param("movement_joint.spacing.reinforced_450.dense_concrete", 15000.0, "read", id="block from, beds at 450: 15 m"),
        pytest.param(
            "movement_joint.spacing.reinforced_450.over_140.dense_concrete",
            15000.0,
            "read",
            id="block from, any thickness, beds at 450: 15 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_450.lightweight_concrete",
            15000.0,
            "read",
            id="block from, light not separated, beds at 450: 15 m",
        ),
        pytest.param("movement_joint.spacing.reinforced_225.clay", 18000.0, "read", id="clay from, beds at 225: 18 m"),
        pytest.param("movement_joint.spacing.reinforced_225.limit.clay", 20000.0, "read", id="clay to, beds at 225: 20 m"),
        pytest.param("movement_joint.spacing.reinforced_225.dense_concrete", 18000.0, "read", id="block from, beds at 225: 18 m"),
        pytest.param(
            "movement_joint.spacing.reinforced_225.over_140.dense_concrete",
            18000.0,
            "read",
            id="block from, any thickness, beds at 225: 18 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_225.lightweight_concrete",
            18000.0,
            "read",
            id="block from, light not separated, beds at 225: 18 m",
        ),
        pytest.param("movement_joint.corner.fraction", 0.5, "read", id="note 2, half off a corner"),
        pytest.param("movement_joint.corner.kind", "half_spacing_each_side", "read", id="note 2, on each side"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Structural Engineer's Pocket Book", key, printed, status)
