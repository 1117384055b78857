"""Articulation joints of the National Construction Code of Australia (AU-09).

Bibliography: NCC (BCA 3.3.1, Housing Provisions 5.6.8) and AS 4773.1 in training slides and an answer page: 6 m straight, 5 m
with openings over 900 x 900 mm, no nearer to a corner than the wall is high, 10 mm wide or 15 in walls over 8.5 m (quoted);
within 1.2 m of such an opening, and where the height changes by more than 20 % (Housing Provisions 5.6.8, from memory).
"""

from __future__ import annotations

from typing import Any

import pytest
from joints_elsewhere import designed, worst

from elevgen.result import Design

BRICK = {"material": "clay", "length": 230, "height": 76, "width": 110}


def au(walls: list[dict[str, Any]]) -> Design:
    return designed(walls, {}, BRICK, country="au")


def window(width: float, height: float, at: float = 2000) -> list[dict[str, Any]]:
    return [{"id": "V1", "kind": "window", "at": at, "width": width, "sill": 900, "height": height}]


@pytest.mark.parametrize(
    ("openings", "most"),
    [
        pytest.param([], 6000, id="straight, quoted"),
        pytest.param(window(900, 900), 6000, id="an opening of 900 x 900, quoted"),
        pytest.param(window(910, 900, 700), 5000, id="a wider one, quoted"),
        pytest.param(window(900, 910, 700), 5000, id="a higher one, quoted"),
    ],
)
def test_6_m_straight_and_5_with_openings(published: Any, openings: list[dict[str, Any]], most: float) -> None:
    for length, kept in ((most, True), (most + 1, False)):
        wall = {"id": "A", "start": [0, 0], "end": [length, 0], "openings": openings}
        assert (worst(au([wall | {"joints": []}]), "joint-spacing") == "pass") == kept
        assert (not au([wall]).plan.joints) == kept
    (limit,) = {f.limit for f in au([wall | {"joints": []}]).findings if f.code == "joint-spacing"}
    size = " x ".join(str(openings[0][side]) for side in ("width", "height")) if openings else ""
    given = f"brickwork with an opening of {size} mm" if size else "brickwork without openings"
    published(
        "AU-09", f"{given}: longest between joints", most, limit, unit="mm", status="quoted", document="NCC Housing Provisions"
    )


@pytest.mark.parametrize(("off", "severity"), [(1200, "pass"), (1201, "fail")])
def test_a_joint_within_1_2_m_of_a_wide_opening_from_memory(off: float, severity: str) -> None:
    wall = {"id": "A", "start": [0, 0], "end": [7000, 0], "openings": window(1800, 1200), "joints": [{"at": 3800 + off}]}
    assert worst(au([wall]), "joint-near-opening") == severity


@pytest.mark.parametrize(("at", "severity"), [(3600 - 2400 - 5, "pass"), (3600 - 2400, "warn")])
def test_no_nearer_to_a_corner_than_the_wall_is_high_quoted(at: float, severity: str) -> None:
    """To the edge of a joint 10 mm wide."""
    walls = [
        {"id": "A", "start": [0, 0], "end": [3600, 0], "top": 2400, "joints": [{"at": at, "width": 10}]},
        {"id": "B", "start": [3600, 0], "end": [3600, 2500], "top": 2400, "joints": []},
    ]
    assert worst(au(walls), "joint-clear-of-corner") == severity


@pytest.mark.parametrize(("top", "width", "kept"), [(8500, 10, True), (8501, 10, False), (8501, 15, True)])
def test_10_mm_wide_and_15_in_walls_over_8_5_m_quoted(top: float, width: float, kept: bool) -> None:
    wall = {"id": "A", "start": [0, 0], "end": [6000, 0], "top": top, "joints": [{"at": 3000, "width": width}]}
    high = [f for f in au([wall]).findings if f.code == "joint-width" and f.limit == 15]
    assert [f.severity for f in high if f.source and f.source.key.endswith("high_wall.width")] == (
        [] if top == 8500 else ["pass" if kept else "fail"]
    )


@pytest.mark.parametrize(("step", "asked"), [(480, False), (481, True)])
def test_a_joint_where_the_height_changes_by_more_than_20_per_cent_from_memory(step: float, asked: bool) -> None:
    low = 2400 - step
    wall = {"id": "A", "start": [0, 0], "end": [5000, 0], "top": [[0, 2400], [2000, 2400], [2000, low], [5000, low]]}
    assert (worst(au([wall | {"joints": []}]), "joint-missing") == "fail") == asked
    assert bool(au([wall]).plan.joints) == asked
