"""BRANZ, Build magazine: thermal movement of 10 m (JW-10).

Bibliography: BRANZ, Build magazine, article on movement (read). Its coefficient is that of steel, so only the sum is tested.
"""

from __future__ import annotations

import pytest

from elevgen.joints.movement import thermal_movement


def test_10_m_over_35_kelvin() -> None:
    assert thermal_movement(0.012, 10, 35) == pytest.approx(4.2, abs=0.05), "0.012 mm to the metre and kelvin"
    assert thermal_movement(12e-6, 10_000, 35) == pytest.approx(4.2, abs=0.05)
