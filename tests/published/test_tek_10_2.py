"""TEK 10-2B (2005) and 10-02D (2019): control joints of concrete masonry by the empirical method (TEK10-01 to TEK10-04).

Bibliography: National Concrete Masonry Association, TEK 10-2B, Control Joints for Concrete Masonry Walls, Empirical Method, 2005
(read: 1 1/2 times the height, 25 ft, 0.025 in2 of steel to a foot of height); 10-02D, in an association's news article, October
2019 (quoted: units 4 in high 20 ft). The areas of wires are from memory: W1.7 is 0.017 in2, W2.8 0.028 in2.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

import pytest
from joints_elsewhere import FOOT, INCH, designed, worst

DOCUMENT = "TEK 10-2B"
BLOCK = {"material": "dense_concrete", "length": "15 5/8 in", "height": "7 5/8 in", "width": "7 5/8 in", "joint": "3/8 in"}
LOW = BLOCK | {"height": "3 5/8 in"}


@pytest.mark.parametrize(
    ("unit", "height", "most"),
    [
        pytest.param(BLOCK, 10, 15, id="TEK10-01: 1 1/2 times 10 ft"),
        pytest.param(BLOCK, 20, 25, id="TEK10-01: no more than 25 ft"),
        pytest.param(LOW, 16, 20, id="TEK10-02: 24 ft by height, 20 in units 4 in high, quoted"),
    ],
)
def test_the_lesser_of_length_to_height_and_a_length_derived(
    published: Any, unit: dict[str, Any], height: float, most: float
) -> None:
    for length, kept in ((most * FOOT, True), (most * FOOT + 1, False)):
        wall = {"id": "A", "start": [0, 0], "end": [length, 0], "top": height * FOOT}
        judged = designed([wall | {"joints": []}], {}, unit, country="us")
        assert ({worst(judged, "joint-spacing"), worst(judged, "panel-ratio")} == {"pass"}) == kept
        assert (not designed([wall], {}, unit, country="us").plan.joints) == kept
    limits = {f.code: f.limit for f in judged.findings if f.code in ("joint-spacing", "panel-ratio")}
    longest = min(limits["joint-spacing"] / FOOT, limits["panel-ratio"] * height)
    course = "4 in" if unit is LOW else "8 in"
    check = "TEK10-02" if unit is LOW else "TEK10-01"
    given = f"block wall {height} ft high in courses of {course}: longest between joints"
    published(check, given, most, longest, unit="ft", status="derived")


@pytest.mark.parametrize(
    ("area", "every", "steel", "severity"),
    [
        pytest.param(0.017, 16, 0.0255, "pass", id="TEK10-03: two W1.7 at 16 in"),
        pytest.param(0.017, 24, 0.017, "warn", id="TEK10-03: two W1.7 at 24 in"),
        pytest.param(0.028, 24, 0.0277, "pass", id="TEK10-04: two W2.8 at 24 in"),
    ],
)
def test_steel_to_a_foot_of_height_wires_from_memory(area: float, every: float, steel: float, severity: str) -> None:
    """0.025 in2 to the foot are 52.9 mm2 to the metre (read); two wires in a bed."""
    rules = {"bed_reinforcement.wire.diameter": sqrt(4 * area / pi) * INCH}
    wall = {"id": "A", "start": [0, 0], "end": [40 * FOOT, 0], "top": 16 * FOOT, "base": 0}
    design = designed([wall], rules, BLOCK, country="us", reinforced_every=f"{every} in")
    (finding,) = [f for f in design.findings if f.code == "spacing-steel"]
    assert finding.severity == severity, finding.text
    assert finding.measured is not None
    assert finding.measured * FOOT / 1000 / INCH**2 == pytest.approx(steel, abs=0.0005)
