"""Austrian clay association: thermal movement of an outer leaf (ATKL-01).

Bibliography: Austrian clay association, guide (read).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.core.sourced import Value
from elevgen.joints.movement import thermal_movement

DOCUMENT = "Austrian clay association, guide"

Carried = Callable[..., None]


def test_10_m_of_clay_over_60_kelvin(published: Any) -> None:
    published("ATKL-01", "clay 0.005 mm/mK, 10 m, 60 K", 3, thermal_movement(0.005, 10, 60), unit="mm", within=0.5)


@pytest.mark.parametrize(("key", "printed"), [("movement.temperature_range", 60.0), ("movement.thermal.low.clay", 0.005)])
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value) -> None:
    carried("Austrian clay association", key, printed, "read")
