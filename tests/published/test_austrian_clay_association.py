"""Austrian clay association: thermal movement of an outer leaf (ATKL-01).

Bibliography: Austrian clay association, guide (read).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value
from elevgen.joints.movement import thermal_movement

Said = Callable[[str, str], tuple[Value, str]]


def test_10_m_of_clay_over_60_kelvin() -> None:
    assert thermal_movement(0.005, 10, 60) == pytest.approx(3, abs=0.5)


@pytest.mark.parametrize(("key", "printed"), [("movement.temperature_range", 60.0), ("movement.thermal.low.clay", 0.005)])
def test_the_rule_set_carries_the_printed_figure(said: Said, key: str, printed: Value) -> None:
    assert said("Austrian clay association", key) == (printed, "read")
