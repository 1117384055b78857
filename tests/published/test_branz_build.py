"""BRANZ, Build magazine: thermal movement of 10 m (JW-10).

Bibliography: BRANZ, Build magazine, article on movement (read). Its coefficient is that of steel, so only the sum is tested.
"""

from __future__ import annotations

from typing import Any

import pytest

from elevgen.joints.movement import thermal_movement

DOCUMENT = "BRANZ, Build magazine"


def test_10_m_over_35_kelvin(published: Any) -> None:
    published("JW-10", "10 m, 35 K, 0.012 mm/m/K", 4.2, thermal_movement(0.012, 10, 35), unit="mm", within=0.05)
    assert thermal_movement(12e-6, 10_000, 35) == pytest.approx(4.2, abs=0.05)
