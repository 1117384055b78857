"""Areas of walling published by others, measured off walls a spec draws: gross, deductions and net, m2 turned back to sq ft.

Bibliography: trade web pages (quoted): check-values EST-04, EST-06; an estimating textbook (quoted): EST-15.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import floor, fsum
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.spec.models import Spec
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Quantity

DOCUMENT = "Trade web pages on estimating"

SQUARE_FOOT = 0.3048**2


def walling(length: str, height: str, openings: Sequence[Mapping[str, Any]] = (), rules: str = "net") -> Quantity:
    """The walling of one wall of 8 x 8 x 16 in block, its lengths in feet and inches."""
    block = {"material": "dense_concrete", "length": "15 5/8 in", "height": "7 5/8 in", "width": "7 5/8 in", "joint": "3/8 in"}
    wall = {"id": "W1", "type": "wall", "start": [0, 0], "end": [length, 0], "top": height, "joints": [], "openings": openings}
    spec = {
        "spec": 1,
        "units": {"block": block},
        "leaves": {"block": {"zones": [{"unit": "block"}]}},
        "wall_types": {"wall": {"outer": "block"}},
        "walls": [wall],
        "measurement": {"rules": rules},
    }
    (found,) = [q for q in measure(pipeline.design(Spec.model_validate(spec))).quantities if q.code.startswith("WALL-")]
    return found


def feet(square_metres: float | None) -> float:
    assert square_metres is not None
    return square_metres / SQUARE_FOOT


def test_a_wall_of_120_by_24_feet(published: Any) -> None:
    """EST-04 (trade web page, quoted): 2880 sq ft."""
    whole = walling("120 ft", "24 ft")
    published("EST-04", "wall of 120 x 24 ft, gross", 2880, feet(whole.gross), unit="sf", within=0.001, status="quoted")
    assert feet(whole.net) == pytest.approx(2880, abs=0.001)


def test_a_wall_of_50_by_10_feet_less_80_square_feet(published: Any) -> None:
    """EST-06 (trade web page, quoted): 420 sq ft. A door of 8 ft x 6 ft 8 in, three windows of 3 ft 4 in x 2 ft 8 in."""
    door = {"id": "D1", "kind": "door", "at": "4 ft", "width": "8 ft", "sill": 0, "height": "6' 8\""}
    windows = [
        {"id": f"W{n}", "kind": "window", "at": f"{16 + 10 * n} ft", "width": "3' 4\"", "sill": "3 ft", "height": "2' 8\""}
        for n in range(3)
    ]
    wall = walling("50 ft", "10 ft", [door, *windows])
    assert feet(fsum(d.amount for d in wall.deductions)) == pytest.approx(8 * 20 / 3 + 3 * 80 / 9, abs=0.001)
    assert pytest.approx(80) == 8 * 20 / 3 + 3 * 80 / 9
    assert feet(wall.gross) == pytest.approx(500, abs=0.001)
    published("EST-06", "50 x 10 ft less openings of 80 sf", 420, feet(wall.net), unit="sf", within=0.001, status="quoted")
    assert [d.of for d in wall.deductions if d.allowed] == ["D1", "W0", "W1", "W2"]


@pytest.mark.parametrize("rules", ["smm7-like", "pomi-like"])
def test_the_same_80_square_feet_come_off_by_rule_sets_whose_limit_they_are_over(rules: str) -> None:
    """EST-06 again: every opening is over these limits; dimensions to 10 mm leave it within a square foot."""
    door = {"id": "D1", "at": "6 ft", "width": "8 ft", "sill": "1 ft", "height": "5 ft"}
    gate = {"id": "D2", "at": "24 ft", "width": "8 ft", "sill": "1 ft", "height": "5 ft"}
    wall = walling("50 ft", "10 ft", [door, gate], rules)
    assert all(d.allowed for d in wall.deductions)
    assert feet(wall.net) == pytest.approx(420, abs=1.0)


def test_a_wall_of_59_feet_3_by_15_feet_4(published: Any) -> None:
    """EST-15 (estimating textbook, quoted): 908 sq ft gross, which is 908.5 with its fraction dropped."""
    gross = feet(walling("59' 3\"", "15' 4\"").gross)
    published(
        "EST-15",
        "59 ft 3 x 15 ft 4, its fraction dropped",
        908,
        floor(gross),
        unit="sf",
        document="Estimating textbook",
        status="quoted",
    )
    assert gross == pytest.approx(59.25 * (15 + 1 / 3), abs=0.001) == pytest.approx(908.5)
