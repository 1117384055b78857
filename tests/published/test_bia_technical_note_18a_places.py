"""BIA Technical Note 18A (November 2006): where expansion joints of clay stand (TN18A-03 to TN18A-06).

Bibliography: Brick Industry Association, Technical Note 18A, Accommodating Expansion of Brickwork, November 2006: summary (25 ft
without openings, 20 ft with several), p.4 and Figure 3b (round a corner, about 10 ft on one wall), pp.5-6 (parapets); all read.
"""

from __future__ import annotations

from typing import Any

import pytest
from joints_elsewhere import FOOT, designed, worst

from elevgen.result import Design

DOCUMENT = "BIA Technical Note 18A"
MODULAR = {"material": "clay", "length": "7 5/8 in", "height": "2 1/4 in", "width": "3 5/8 in"}


def us(walls: list[dict[str, Any]], rules: dict[str, Any] | None = None, **beds: Any) -> Design:
    return designed(walls, rules or {}, MODULAR, country="us", **beds)


def corner(one: float, other: float) -> list[dict[str, Any]]:
    """Joints so far (ft) from a corner on both its walls, which go on 5 ft past them."""
    a, b = one * FOOT, other * FOOT
    on = a + 5 * FOOT
    return [
        {"id": "A", "start": [0, 0], "end": [on, 0], "joints": [{"at": on - a}]},
        {"id": "B", "start": [on, 0], "end": [on, b + 5 * FOOT], "joints": [{"at": b}]},
    ]


@pytest.mark.parametrize(("other", "kept"), [(15, True), (15.01, False)])
def test_10_ft_on_one_side_of_a_corner_leaves_15_on_the_other(published: Any, other: float, kept: bool) -> None:
    """TN18A-03, Figure 3b (read): 25 ft are measured round the corner."""
    design = us(corner(10, other))
    assert (worst(design, "joint-spacing") == "pass") == kept
    added = us(corner(10, other), {"corner.kind.clay": "sum_round_corner"})
    (finding,) = [f for f in added.findings if f.code == "corner-distance"]
    assert finding.measured == pytest.approx((10 + other) * FOOT)
    assert finding.limit is not None
    published("TN18A-03", "the most round a corner, both sides", 25, finding.limit / FOOT, unit="ft", clause="Figure 3b")
    assert (finding.severity == "pass") == kept


def test_the_other_side_is_placed_no_further_than_15_ft() -> None:
    """TN18A-03 (read), placed: one joint given 10 ft from the corner, 40 ft of wall beyond it."""
    on = 15 * FOOT
    walls = [
        {"id": "A", "start": [0, 0], "end": [on, 0], "joints": [{"at": on - 10 * FOOT}]},
        {"id": "B", "start": [on, 0], "end": [on, 30 * FOOT]},
    ]
    first = min(j.at for j in us(walls).plan.joints if j.wall == "B")
    assert first <= 15 * FOOT + 0.01


@pytest.mark.parametrize(("windows", "most"), [(0, 25), (1, 25), (2, 20), (3, 20)])
def test_25_ft_without_openings_and_20_with_several(published: Any, windows: int, most: float) -> None:
    """TN18A-04 (read): 7.6 m and 6.1 m."""
    openings = [
        {"id": f"V{n}", "kind": "window", "at": 1000 + 1400 * n, "width": 610, "sill": 900, "height": 900} for n in range(windows)
    ]
    for length, kept in ((most * FOOT, True), (most * FOOT + 1, False)):
        wall = {"id": "A", "start": [0, 0], "end": [length, 0], "openings": openings}
        assert (worst(us([wall | {"joints": []}]), "joint-spacing") == "pass") == kept
        assert (not us([wall]).plan.joints) == kept
    (limit,) = {f.limit for f in us([wall | {"joints": []}]).findings if f.code == "joint-spacing"}
    given = f"clay brickwork with {windows} openings: longest between joints"
    published("TN18A-04", given, most, limit / FOOT, unit="ft", clause="summary")
    assert round(most * FOOT / 1000, 1) == {25: 7.6, 20: 6.1}[most]


@pytest.mark.parametrize(("off", "severity"), [(10, "pass"), (10.01, "fail")])
def test_a_joint_within_about_10_ft_of_a_corner_on_one_wall(off: float, severity: str) -> None:
    """TN18A-05 (read)."""
    assert worst(us(corner(12, off)), "corner-distance") == severity


@pytest.mark.parametrize(("length", "reinforced", "kept"), [(15, False, True), (15.01, False, False), (20, True, True)])
def test_a_parapet_has_joints_every_15_ft_or_beds_reinforced_every_8_in(length: float, reinforced: bool, kept: bool) -> None:
    """TN18A-06 (read). Rows of steel 203 mm apart, or none."""
    wall = {"id": "A", "start": [0, 0], "end": [length * FOOT, 0], "stands": "parapet", "top": 1800, "joints": []}
    beds = {"reinforced_every": "8 in"} if reinforced else {}
    design = us([wall], **beds)
    assert (worst(design, "joint-spacing") == "pass") == kept
