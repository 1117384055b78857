"""Brickwork and blockwork coursing: blocks to lengths and tie planes, read off drawn walls.

Bibliography: a bricklaying glossary (four courses to 300 mm, GAUG-01, quoted); a bricklaying textbook, title not shown (tie
planes of 450 mm, GAUG-04, quoted); a trade web page (a block is two bricks and a joint long and three courses high, GAUG-05,
quoted). Lengths of blocks, GAUG-03, are derived.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest

DOCUMENT = "Brickwork and blockwork coursing"

Draw = Callable[..., Mapping[str, Any]]
BLOCK, JOINT = 440.0, 10.0
GAUG_03 = [
    # blocks, CO+, CO, CO-; derived
    (0.5, 235, 225, 215),
    (1, 460, 450, 440),
    (2, 910, 900, 890),
    (3, 1360, 1350, 1340),
    (5, 2260, 2250, 2240),
    (10, 4510, 4500, 4490),
]


@pytest.fixture(scope="module")
def blockwork(draw: Draw) -> Any:
    """Twelve blocks."""
    return draw([{"start": [0, 0], "end": [5390, 0], "top": 2700}], unit="dense_block_100")["W1/outer"]


@pytest.fixture(scope="module")
def brickwork(draw: Draw) -> Any:
    return draw([{"start": [0, 0], "end": [5390, 0], "top": 2700}])["W1/outer"]


@pytest.mark.parametrize(("blocks", "co_plus", "co", "co_minus"), GAUG_03)
def test_lengths_of_blocks_derived(
    published: Any, blockwork: Any, reading: Any, blocks: float, co_plus: float, co: float, co_minus: float
) -> None:
    """GAUG-03."""
    ours = reading.read(blockwork.courses[:2], blocks, BLOCK)
    for name, printed, got in zip(("CO-", "CO", "CO+"), (co_minus, co, co_plus), ours, strict=True):
        published("GAUG-03", f"{blocks} blocks of 440, {name}", printed, got, unit="mm", status="derived")


@pytest.mark.parametrize(("blocks", "co_plus", "co", "co_minus"), GAUG_03)
def test_an_opening_of_co_plus_takes_n_blocks_out_derived(
    draw: Draw, reading: Any, blocks: float, co_plus: float, co: float, co_minus: float
) -> None:
    """GAUG-03: between piers of 2 and 3 1/2 blocks."""
    left, right = 890.0, 1565.0
    door = {"id": "D1", "kind": "door", "at": left, "width": co_plus, "sill": 225, "height": 460}
    wall = {"start": [0, 0], "end": [left + co_plus + right, 0], "top": 900, "openings": [door]}
    face = draw([wall], unit="dense_block_100")["W1/outer"]
    assert max(reading.gaps(face.courses[1])) == pytest.approx(co_plus)
    assert reading.in_units(face.courses[0], BLOCK, JOINT) == pytest.approx(5.5 + blocks, abs=1e-4)
    assert reading.in_units(face.courses[1], BLOCK, JOINT) == pytest.approx(5.5, abs=1e-4)


def test_four_courses_of_brick_are_300(published: Any, brickwork: Any) -> None:
    """GAUG-01."""
    published(
        "GAUG-01",
        "four courses of brick",
        300,
        brickwork.courses[3][0].top,
        unit="mm",
        document="Bricklaying glossary",
        status="quoted",
    )


def test_a_tie_plane_is_six_courses_of_brick_and_two_of_block(published: Any, brickwork: Any, blockwork: Any) -> None:
    """GAUG-04: every 450 mm the beds of both are level."""
    for plane in range(1, 7):
        assert brickwork.courses[6 * plane - 1][0].top == pytest.approx(450 * plane)
        assert blockwork.courses[2 * plane - 1][0].top == pytest.approx(450 * plane)
    for what, top in (("6 courses of brick", brickwork.courses[5][0].top), ("2 of block", blockwork.courses[1][0].top)):
        published(
            "GAUG-04",
            f"tie plane, {what}",
            450,
            top,
            unit="mm",
            document="Bricklaying textbook, title not shown",
            status="quoted",
        )


def test_a_block_is_two_bricks_and_a_joint_long_and_three_courses_high(published: Any, brickwork: Any, blockwork: Any) -> None:
    """GAUG-05."""
    block, bricks = blockwork.courses[0][0], brickwork.courses[0]
    assert block.kind == bricks[0].kind == bricks[1].kind == "full"
    assert block.left == pytest.approx(bricks[0].left)
    page = {"document": "Trade web page on blocks", "status": "quoted", "unit": "mm"}
    published("GAUG-05", "block, two bricks and a joint long", block.length, bricks[1].right - bricks[0].left, **page)
    published("GAUG-05", "block, three courses high with beds", block.top, brickwork.courses[2][0].top, **page)
    assert (block.bottom, block.top) == pytest.approx((brickwork.courses[0][0].bottom, brickwork.courses[2][0].top))
