"""Bonds laid round whole plans: a course holds as many units as there is room for along the centre line of its walls."""

from __future__ import annotations

import pytest
from bonded import COURSES, JOINTS, ONE_BRICK, SIZES, SUITS, Laid, corners, laid

from elevgen.coursing.model import Piece

# ---- volume


def centre_line(work: Laid) -> float:
    """The length of the line midway through the walls: each outer corner takes a thickness off, each inner one adds it."""
    thick = work.leaves[0].thickness
    around = sum(work.design.building.wall(leaf.wall).length for leaf in work.leaves)
    return around + thick * sum(-1 if outer else 1 for _, _, outer in corners(work))


def units(real: float, piece: Piece, size: tuple[float, float, float], joint: float) -> float:
    """How much of a unit with its perpend a piece is, with all behind it."""
    face = size[0] if piece.laid == "stretcher" else size[2]
    return piece.deep * (real + joint) / (face + joint)


@pytest.mark.parametrize("bond", [*ONE_BRICK, "stretcher", "stack"])
@pytest.mark.parametrize("plan", ["ring", "ell"])
@pytest.mark.parametrize("unit", ["brick", "230x110", "390x190", "modular"])
def test_walls_one_brick_thick_hold_as_many_units_as_there_is_room_for(bond: str, plan: str, unit: str) -> None:
    """In each course two to a unit's length with its perpend along the centre line, a corner's units counted once."""
    size, joint = SIZES[unit], JOINTS.get(unit, 10.0)
    work = laid(bond, plan, unit, "one_brick", SUITS.get(bond, (20, 16)))
    room = 2 * centre_line(work) / (size[0] + joint)
    for course in range(1, COURSES + 1):
        found = sum(units(real, p, size, joint) for leaf in work.leaves for real, p in work.real(leaf, course))
        assert found == pytest.approx(room, abs=1e-6)


def test_whole_units_and_closers_of_an_english_wall_round_an_l() -> None:
    """4,490 mm each way, 12 courses: the centre line is 4 x 4490 less four thicknesses, 17,100 mm, 152 units a course, 1824.

    Six corners, each with a closer in either wall by turns: 12 x 5 outer and as many again as the inner one has.
    """
    work = laid("english", "ell", "brick", None, (20, 20))
    assert centre_line(work) == pytest.approx(17100)
    totals = [count for found in work.design.coursing.leaves for count in found.counts]
    whole, closers = sum(c.full for c in totals), sum(c.cut for c in totals)
    assert whole + closers / 2 == 17100 / 112.5 * 12 == 1824
    assert (whole, closers) == (1788, 72)


def test_whole_units_and_three_quarter_pieces_of_a_header_wall_round_an_l() -> None:
    """4,490 mm each way, 12 courses, 17,100 mm of centre line as above: 152 headers a course.

    Two three-quarter pieces take the place of a unit and a half at each of six corners in every course.
    """
    work = laid("header", "ell", "brick", None, (20, 20))
    totals = [count for found in work.design.coursing.leaves for count in found.counts]
    whole, cut = sum(c.full for c in totals), sum(c.cut for c in totals)
    assert (whole, cut) == (12 * (152 - 6 * 1.5), 12 * 6 * 2) == (1716, 144)


def test_half_brick_walls_hold_as_many_units_as_there_is_room_for() -> None:
    """Stretcher bond: in each course one to a unit's length with its perpend along the centre line, the corners' once."""
    work = laid("stretcher", "ring", "brick", None, (20, 16.5))
    for course in range(1, COURSES + 1):
        found = sum(units(real, p, SIZES["brick"], 10.0) for leaf in work.leaves for real, p in work.real(leaf, course))
        assert found == pytest.approx(centre_line(work) / 225, abs=1e-6)
