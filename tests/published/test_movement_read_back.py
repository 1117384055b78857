"""What masonry of each material does beside a joint, each set's own ranges, read back off a designed wall.

A wall of 9.1 m with a joint at 3.1 m: half of both sides is 4.55 m. Bibliography: EN 1996-1-1 3.7.4 (creep and thermal quoted,
moisture from memory); Construction Materials table 35.4 (thermal read, moisture by our own alignment of its rows); Materials for
Architects and Builders (Lyons), irreversible moisture to 0.1 % (read); BIA Technical Note 18 (read) and a trade web page (quoted:
100 degF); TM 5-809-3 eq 4-1 (read: 0.0003); TMS 402 (from memory); Masonry magazine, March 2003 (quoted); AS 3700 4.8 (quoted);
Austrian clay association (read: 60 K). Each range is the widest of what the set's documents say.
"""

from __future__ import annotations

from typing import Any

import pytest
from joints_elsewhere import designed

from elevgen.joints.movement import JointMovement

CLAY, CS, DENSE, LIGHT, AAC, STONE = "clay", "calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete", "stone"
HALF = (3.1 + 6.0) / 2
PER_DEGF = 1.8 / 1000
"""A millionth to the degree Fahrenheit, in mm to the metre and kelvin."""
RANGES = [
    # set, material, thermal in 1e-6/K, irreversible moisture and reversible in mm/m
    ("uk", CLAY, (4, 8), (-0.2, 1.0), (0.2, 0.2)),
    ("uk", CS, (7, 14), (-0.4, -0.1), (0.1, 0.5)),
    ("uk", DENSE, (6, 12), (-0.6, -0.1), (0.2, 0.4)),
    ("uk", LIGHT, (6, 12), (-1.0, -0.2), (0.3, 0.6)),
    ("uk", AAC, (7, 9), (-0.9, 0.2), (0.2, 0.3)),
    ("uk", STONE, (3, 12), (-0.4, 0.7), (0.1, 0.7)),
    ("eu", CLAY, (4, 8), (-0.2, 1.0), (0.2, 0.2)),
    ("eu", CS, (7, 11), (-0.4, -0.1), (0.1, 0.5)),
    ("eu", DENSE, (6, 12), (-0.6, -0.1), (0.2, 0.4)),
    ("eu", LIGHT, (6, 12), (-1.0, -0.2), (0.3, 0.6)),
    ("eu", AAC, (7, 9), (-0.9, 0.2), (0.2, 0.3)),
    ("eu", STONE, (1, 18), (-0.4, 0.7), (0.1, 0.7)),
    ("us", CLAY, (3.6 * 1.8, 4 * 1.8), (0.3, 0.5), (0, 0)),
    ("us", DENSE, (4 * 1.8, 4.5 * 1.8), (-0.55, -0.25), (0, 0)),
    ("us", LIGHT, (4 * 1.8, 4.5 * 1.8), (-0.55, -0.25), (0, 0)),
    ("au", CLAY, (8, 8), (0.3, 1.6), (0, 0)),
    ("au", CS, (8, 14), (-0.4, -0.1), (0.1, 0.5)),
    ("au", DENSE, (6, 12), (-0.6, -0.2), (0.2, 0.4)),
    ("au", LIGHT, (8, 12), (-0.6, -0.2), (0.3, 0.6)),
    ("au", AAC, (8, 8), (-0.9, -0.5), (0.2, 0.3)),
]


def moving(country: str, material: str, **rules: Any) -> JointMovement:
    """The sum behind the width of the one joint."""
    wall = {"id": "A", "start": [0, 0], "end": [9100, 0], "joints": [{"at": 3100, "width": 20}]}
    unit = {"material": material, "length": 440, "height": 215, "width": 100}
    (joint,) = designed([wall], rules, unit, country=country).plan.joints
    assert joint.width.movement is not None
    assert joint.width.movement.lengths == (3100, 6000)
    return joint.width.movement


@pytest.mark.parametrize(("country", "material", "thermal", "moisture", "reversible"), RANGES)
def test_ranges_of_each_material_some_from_memory(
    country: str, material: str, thermal: tuple[float, float], moisture: tuple[float, float], reversible: tuple[float, float]
) -> None:
    """By the air, so that both ends are seen: hottest 40, coldest -20 degC, laid at 10; nothing for the sun."""
    air = {"movement.temperature.air.hottest": 40.0, "movement.temperature.air.coldest": -20.0}
    air |= {"movement.temperature.laying.low": 10.0, "movement.temperature.laying.high": 10.5}
    if country in ("uk", "eu"):
        air["movement.temperature.sun.light"] = 0.1
    else:
        air |= {f"movement.temperature.sun.{colour}": 0.1 for colour in ("light", "medium", "dark")}
    air["movement.colour"] = "light"  # type: ignore[assignment]
    moved = moving(country, material, **air)
    closing, opening = moved.closing, moved.opening
    assert closing.thermal.high == pytest.approx(thermal[1] * 30.1 * HALF / 1000)
    assert closing.thermal.low == pytest.approx(thermal[0] * 29.6 * HALF / 1000, rel=0.02)
    assert closing.moisture.high == pytest.approx(max(moisture[1], 0) * HALF)
    assert opening.moisture.high == pytest.approx(max(-moisture[0], 0) * HALF)
    if moisture[0] > 0:
        assert closing.moisture.low == pytest.approx(moisture[0] * HALF)
    if moisture[1] < 0:
        assert opening.moisture.low == pytest.approx(-moisture[1] * HALF)
    assert closing.reversible.low == pytest.approx(reversible[0] * HALF)
    assert closing.reversible.high == pytest.approx(reversible[1] * HALF)


@pytest.mark.parametrize(
    ("country", "kelvin", "most", "document", "status"),
    [
        ("uk", 60, 8, "Austrian clay association", "read"),
        ("eu", 60, 8, "Austrian clay association", "read"),
        ("us", 100 / 1.8, 7.2, "BIA Technical Note 18 on a trade web page", "quoted"),
    ],
)
def test_the_range_of_temperatures_of_clay(
    published: Any, country: str, kelvin: float, most: float, document: str, status: str
) -> None:
    moved = moving(country, CLAY)
    got = moved.closing.thermal.high / HALF / most * 1000
    published("", f"range of temperatures ({country})", kelvin, got, within=1e-6, unit="K", status=status, document=document)


@pytest.mark.parametrize(("colour", "hotter"), [("light", 18), ("medium", 30), ("dark", 42)])
@pytest.mark.parametrize("country", ["uk", "eu"])
def test_sun_on_a_south_west_wall_quoted(published: Any, country: str, colour: str, hotter: float) -> None:
    """EN 1991-1-5 Table 5.2, summer: bright light, light coloured, dark surfaces; dark unless told."""
    air = {"movement.temperature.air.hottest": 30.0, "movement.temperature.air.coldest": -10.0}
    air |= {"movement.temperature.laying.low": 10.0, "movement.temperature.laying.high": 10.5}
    told = {} if colour == "dark" else {"movement.colour": colour}
    moved = moving(country, CLAY, **air, **told)
    got = moved.closing.thermal.high / HALF / 8 * 1000 - 20
    given = f"{colour} wall in the sun, south-west ({country})"
    document = "EN 1991-1-5"
    published("", given, hotter, got, within=1e-6, unit="K", status="quoted", document=document, clause="Table 5.2")


def test_laid_between_3_and_30_degrees_common_practice_no_source() -> None:
    air = {"movement.temperature.air.hottest": 40.0, "movement.temperature.air.coldest": -20.0}
    moved = moving("uk", CLAY, **air, **{"movement.colour": "light"})
    assert moved.closing.thermal.high == pytest.approx(8 * (40 + 18 - 3) * HALF / 1000)
    assert moved.opening.thermal.high == pytest.approx(8 * (30 + 20) * HALF / 1000)
    american = moving("us", CLAY, **air, **{f"movement.temperature.sun.{c}": 18.0 for c in ("light", "medium", "dark")})
    assert american.closing.thermal.high == pytest.approx(7.2 * (58 - (40 - 32) / 1.8) * HALF / 1000)
    assert american.opening.thermal.high == pytest.approx(7.2 * ((90 - 32) / 1.8 + 20) * HALF / 1000)
