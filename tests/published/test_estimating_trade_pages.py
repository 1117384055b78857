"""Trade pages on estimating: faces of modular brick and block, and blocks net of openings, counted off drawn walls.

Bibliography: trade web pages (quoted): check-values EST-01, EST-02, EST-06, EST-09. Pages without a name, so one file for them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import ceil
from typing import Any

import pytest

DOCUMENT = "Trade web pages on estimating"

INCH, FOOT = 25.4, 304.8
Draw = Callable[..., Mapping[str, Any]]


def test_three_modular_bricks(published: Any, draw: Draw, reading: Any) -> None:
    """EST-01: 23 5/8 in."""
    unit = {"material": "clay", "length": "7 5/8 in", "height": "2 1/4 in", "width": "3 5/8 in", "joint": "3/8 in"}
    wall = {"start": [0, 0], "end": ["7' 11 5/8\"", 0], "top": "16 in"}
    face = draw([wall], unit="modular", units={"modular": unit})["W1/outer"]
    ours = reading.read(face.courses[:2], 3, 7.625 * INCH).co_minus / INCH
    published("EST-01", "three modular bricks, face", 23.625, ours, unit="in", status="quoted")


def test_two_and_a_half_blocks_from_an_outer_corner_to_an_inner_one(published: Any, draw: Draw, reading: Any, block: Any) -> None:
    """EST-02: 3 ft 4 in from the outer face of one corner to the face of the return at the other."""
    walls = [
        {"start": [0, 8 * FOOT], "end": [0, 0], "top": "4 ft"},
        {"start": [0, 0], "end": ["4 ft", 0], "top": "4 ft"},
        {"start": ["4 ft", 0], "end": ["4 ft", -8 * FOOT], "top": "4 ft"},
    ]
    bare = draw(walls, unit="block", units=block.spec)["W2/outer"]
    short = max(p.right for p in bare.pieces) - 40 * INCH
    walls[1]["end"] = walls[2]["start"] = [4 * FOOT - short, 0]
    walls[2]["end"] = [4 * FOOT - short, -8 * FOOT]
    face = draw(walls, unit="block", units=block.spec)["W2/outer"]
    ours = max(p.right for p in face.pieces) / INCH
    published("EST-02", "2 1/2 blocks, outer corner to inner", 40, ours, unit="in", status="quoted")
    shown = {tuple(round(p.length / INCH, 3) for p in course) for course in face.courses}
    assert all(round(gap / INCH, 3) == 0.375 for course in face.courses for gap in reading.gaps(course))
    assert shown == {(7.625, 15.625, 15.625), (15.625, 15.625, 8.0)}
    ends = {round(max(p.right for p in course) / INCH, 3) for course in face.courses}
    assert ends == {40.0, 40.0 - 0.375}


def test_three_courses_of_block(published: Any, draw: Draw, block: Any) -> None:
    """EST-02: 2 ft 0 in."""
    wall = {"start": [0, 0], "end": ["7' 11 5/8\"", 0], "top": "8 ft"}
    ours = draw([wall], unit="block", units=block.spec)["W1/outer"].courses[2][0].top / FOOT
    published("EST-02", "three courses of block", 2, ours, unit="ft", status="quoted")


def test_a_wall_of_50_by_10_feet_less_80_square_feet(published: Any, draw: Draw, block: Any) -> None:
    """EST-06: 420 sq ft, 472.5 blocks, 473 to buy. Two doors 8 ft high, 6 ft 8 in and 3 ft 4 in wide, are 80 sq ft."""
    doors = [
        {"id": "D1", "kind": "door", "at": 5 * 16 * INCH - block.joint, "width": 80 * INCH + block.joint},
        {"id": "D2", "kind": "door", "at": 22.5 * 16 * INCH - block.joint, "width": 40 * INCH + block.joint},
    ]
    doors = [door | {"sill": 0, "height": 8 * FOOT} for door in doors]
    wall = {"start": [0, 0], "end": [50 * FOOT - block.joint, 0], "top": 10 * FOOT, "openings": doors}
    face = draw([wall], unit="block", units=block.spec)["W1/outer"]
    assert (80 + 40) / 12 * 8 == 80
    total = sum(block.count([face], k) for k in range(len(face.courses)))
    assert len(face.courses) == 15
    assert total == pytest.approx(472.5)
    published("EST-06", "50 x 10 ft less 80 sf, blocks drawn", 473, ceil(total), status="quoted")
    assert total * 16 * 8 / 144 == pytest.approx(420)


def test_a_foundation_of_28_by_48_by_8_feet_with_its_corners(published: Any, basement: Any, block: Any) -> None:
    """EST-09 prints 152 ft, 114 a course, 1368 in twelve: without deduction for corners. Laid, it takes 2 less a course."""
    walls = basement(28, 48, 8)
    counts = [block.count(walls, k) for k in range(12)]
    assert counts == pytest.approx([114 - 2] * 12)
    assert sum(counts) == pytest.approx(1368 - 24)
    why = "the page takes nothing off at the corners, two blocks a course"
    published("EST-09", "28 x 48 x 8 ft, blocks a course", 114, counts[0], status="quoted", differs=why)
    published("EST-09", "28 x 48 x 8 ft, blocks", 1368, sum(counts), status="quoted", differs=why)
