"""Cut pieces and the units they come out of: leaves made by hand, counted by hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from elevgen.building.model import Building, Leaf, Unit, Zone
from elevgen.core.geometry import Span
from elevgen.coursing.cutting import cutting_of, total_needs
from elevgen.coursing.model import (
    Box,
    Course,
    Cutting,
    LeafCoursing,
    Pattern,
    Piece,
    Placement,
    RakePiece,
    UnitNeed,
)

BRICK = Unit("brick", "clay", 215, 65, 102.5, 10)
BLOCK = Unit("block", "dense_concrete", 440, 215, 100, 10)
MakeLeaf = Callable[..., Leaf]


def pattern(name: str, pieces: Sequence[Piece], unit: Unit = BRICK, height: float | None = None, **more: Any) -> Pattern:
    height = unit.height if height is None else height
    return Pattern(name, unit.name, 3000.0, height, height < unit.height, tuple(pieces), (), **more)


def cut(leaf: Leaf, laid: Sequence[tuple[float, Pattern]], rakes: Sequence[RakePiece] = (), **more: Any) -> Cutting:
    """The cutting of one leaf with a course for each level given, and a saw of 4 mm."""
    work, patterns = coursing_of(leaf, laid, rakes)
    building = Building((), (leaf,), (), tuple({zone.unit.name: zone.unit for zone in leaf.zones}.values()))
    return cutting_of(building, patterns, (work,), more.get("saw", 4.0), more.get("lift", 1500.0))


def coursing_of(
    leaf: Leaf, laid: Sequence[tuple[float, Pattern]], rakes: Sequence[RakePiece]
) -> tuple[LeafCoursing, tuple[Pattern, ...]]:
    span = Span(0.0, 3000.0)
    courses = tuple(Course(n, p.unit, level, 10.0, p.height, span) for n, (level, p) in enumerate(laid, 1))
    placements = tuple(Placement(n, level, p.id, span) for n, (level, p) in enumerate(laid, 1))
    work = LeafCoursing(leaf.id, courses, placements, tuple(rakes), (), 0.0, 0.0, ())
    return work, tuple({p.id: p for _, p in laid}.values())


def half_brick(leaf: MakeLeaf) -> Leaf:
    return leaf(length=3000.0, height=3000.0)


def one_brick(leaf: MakeLeaf) -> Leaf:
    return replace(half_brick(leaf), thickness=215.0)


def needs(cutting: Cutting) -> dict[str, tuple[int, int, int]]:
    return {n.unit: (n.whole, n.pieces, n.cut_from) for n in total_needs(n for lift in cutting.lifts for n in lift.needs)}


def test_halves_go_in_pairs_and_a_hidden_end_counts(leaf: MakeLeaf) -> None:
    """60 shown and 102.5 hidden is a piece of 162.5; the return at the right is the other wall's."""
    row = [Piece(0, 60, "cut"), Piece(70, 102.5, "cut"), Piece(182.5, 215, "full"), Piece(407.5, 102.5, "return")]
    made = cut(half_brick(leaf), [(10.0, pattern("A", row, hidden=(102.5, 0.0)))])
    assert [(p.length, p.number, p.laid) for p in made.pieces] == [(102.5, 1, "stretcher"), (162.5, 1, "stretcher")]
    assert needs(made) == {"brick": (1, 2, 2)}
    (lift,) = made.lifts
    assert [(s.pieces, s.number, s.left) for s in lift.sawing] == [((162.5,), 1, 48.5), ((102.5,), 1, 108.5)]
    assert [(o.box, o.number) for o in lift.off_cuts] == [(Box(108.5, 102.5, 65), 1), (Box(48.5, 102.5, 65), 1)]


def test_snap_headers_of_a_half_brick_leaf_are_half_the_length_of_a_brick(leaf: MakeLeaf) -> None:
    row = [Piece(112.5 * k, 102.5, "cut", "header") for k in range(5)]
    made = cut(half_brick(leaf), [(10.0, pattern("A", row))])
    assert [(p.laid, p.length, p.box) for p in made.pieces] == [("header", 102.5, Box(102.5, 102.5, 65))]
    assert needs(made) == {"brick": (0, 5, 3)}


def test_headers_of_a_one_brick_wall_are_whole_and_stretchers_count_twice(leaf: MakeLeaf) -> None:
    row = [
        Piece(0, 102.5, "full", "header"),
        Piece(112.5, 215, "full", "stretcher", 2),
        Piece(337.5, 102.5, "cut", "stretcher", 2),
    ]
    made = cut(one_brick(leaf), [(10.0, pattern("A", row))])
    assert needs(made) == {"brick": (3, 2, 1)}


def test_closers_of_a_one_brick_wall_are_slips_two_to_a_brick(leaf: MakeLeaf) -> None:
    """46.25 + 4 + 46.25 across 102.5. A header cut to 60 in width is the only one of its brick."""
    row = [Piece(0, 46.25, "cut", "closer"), Piece(56.25, 60, "cut", "header")]
    made = cut(one_brick(leaf), [(75.0 * k + 10, pattern("A", row)) for k in range(5)])
    boxes = {p.box: p.number for p in made.pieces}
    assert boxes == {Box(215, 46.3, 65): 5, Box(215, 60, 65): 5}
    assert needs(made) == {"brick": (0, 10, 3 + 5)}
    off_cuts = {o.box: o.number for o in made.lifts[0].off_cuts}
    assert off_cuts == {Box(215, 46.3, 65): 1, Box(215, 38.5, 65): 5}  # the sixth slip; the rest of 102.5 less 60 and a cut


def test_closers_of_a_half_brick_leaf_are_quarters_four_to_a_brick(leaf: MakeLeaf) -> None:
    row = [Piece(0, 46.25, "cut", "closer")]
    made = cut(half_brick(leaf), [(75.0 * k + 10, pattern("A", row)) for k in range(9)])
    assert made.pieces[0].box == Box(46.3, 102.5, 65)
    assert needs(made) == {"brick": (0, 9, 3)}


def test_half_a_closer_behind_another_comes_off_the_length(leaf: MakeLeaf) -> None:
    """Two in the thickness of 215: each (215 - 10) / 2 deep."""
    made = cut(one_brick(leaf), [(10.0, pattern("A", [Piece(0, 46.25, "cut", "closer", 2)]))])
    assert [(p.box, p.number) for p in made.pieces] == [(Box(46.3, 102.5, 65), 2)]
    assert needs(made) == {"brick": (0, 2, 1)}


@pytest.mark.parametrize(("height", "units"), [(30.5, 6), (30.6, 12), (40.0, 12)])
def test_split_courses_two_to_a_unit_where_they_fit(leaf: MakeLeaf, height: float, units: int) -> None:
    """30.5 + 4 + 30.5 is 65: eleven whole and two half lengths; a half's other half is cut from the same length."""
    row = [*(Piece(225.0 * k, 215, "full") for k in range(11)), Piece(2475, 102.5, "cut"), Piece(2600, 102.5, "cut")]
    made = cut(half_brick(leaf), [(10.0, pattern("A", row, height=height))])
    assert needs(made) == {"brick": (0, 13, units)}
    assert {(p.length, p.height): p.number for p in made.pieces} == {(215, height): 11, (102.5, height): 2}


def test_pieces_of_different_height_do_not_share_a_unit(leaf: MakeLeaf) -> None:
    half = [Piece(0, 102.5, "cut")]
    made = cut(half_brick(leaf), [(10.0, pattern("A", half)), (85.0, pattern("B", half, height=33.0))])
    assert needs(made) == {"brick": (0, 2, 2)}


def test_lifts_of_1500_from_the_lowest_base_and_off_cuts_are_not_carried_up(leaf: MakeLeaf) -> None:
    """Base at -150: a course whose units stand at 1350 is the first of the second lift."""
    low = replace(half_brick(leaf), base=leaf(length=3000.0, base=((0.0, -150.0), (3000.0, -150.0))).base)
    halves = pattern("A", [Piece(0, 102.5, "cut"), Piece(112.5, 215, "full")])
    levels = (-140.0, 1349.0, 1350.0, 2849.9, 2850.0)
    made = cut(low, [(level, halves) for level in levels])
    assert [(x.number, x.levels, x.needs) for x in made.lifts] == [
        (1, Span(-150, 1350), (UnitNeed("brick", 2, 2, 1, 1),)),
        (2, Span(1350, 2850), (UnitNeed("brick", 2, 2, 1, 1),)),
        (3, Span(2850, 4350), (UnitNeed("brick", 1, 1, 1, 1),)),
    ]
    assert made.of(low.id).needs == (UnitNeed("brick", 5, 5, 3, 3),)
    (all_in_one,) = cut(low, [(level, halves) for level in levels], lift=None).lifts
    assert all_in_one.needs == (UnitNeed("brick", 5, 5, 3, 3),)


def test_a_piece_under_a_slope_has_long_and_short_edge(leaf: MakeLeaf) -> None:
    """A block 440 x 215 whose top is cut from (0, 90) to (250, 215); its mirror image is the same piece."""
    plain = pattern("A", [Piece(0, 440, "full")], BLOCK)
    wall = replace(half_brick(leaf), zones=(Zone(BLOCK, Span(0, 3000)),), thickness=100.0)
    outline = ((0.0, 10.0), (440.0, 10.0), (440.0, 225.0), (250.0, 225.0), (0.0, 100.0))
    mirrored = tuple((1000.0 - at, level) for at, level in reversed(outline))
    wedge = ((700.0, 10.0), (830.4, 10.0), (830.4, 66.0))
    rakes = [RakePiece(1, "block", each) for each in (outline, mirrored, wedge)]
    made = cut(wall, [(10.0, plain)], rakes)
    assert [(s.long, s.short, s.high, s.low, s.number) for s in made.slopes] == [
        (pytest.approx(130.4), 0, 56, 0, 1),
        (440, 190, 215, 90, 2),
    ]
    assert {s.box.height for s in made.slopes} == {215}
    assert needs(made) == {"block": (1, 3, 3)}
    hidden = cut(wall, [(10.0, plain)], [replace(rakes[2], hidden=100.0, deep=2)]).slopes
    assert [(s.long, s.box.length, s.number) for s in hidden] == [(pytest.approx(230.4), pytest.approx(230.4), 2)]


def test_without_a_saw_each_piece_is_a_unit(leaf: MakeLeaf) -> None:
    made = cut(half_brick(leaf), [(10.0, pattern("A", [Piece(0, 102.5, "cut")] * 4))], saw=None)
    assert (needs(made), made.lifts[0].sawing) == ({"brick": (0, 4, 4)}, ())


def test_a_piece_said_to_be_longer_than_its_unit_still_takes_one(leaf: MakeLeaf) -> None:
    made = cut(half_brick(leaf), [(10.0, pattern("A", [Piece(0, 230, "cut"), Piece(0, 230, "cut")]))])
    assert needs(made) == {"brick": (0, 2, 2)}


def test_reckoning_dust_makes_no_new_size_and_no_piece_too_short(leaf: MakeLeaf) -> None:
    row = [Piece(0, 46.25, "cut"), Piece(0, 46.25 + 1e-9, "cut"), Piece(0, 46.25 - 1e-9, "cut"), Piece(0, 102.5 + 1e-10, "cut")]
    made = cut(half_brick(leaf), [(10.0, pattern("A", row))])
    assert [(p.length, p.number) for p in made.pieces] == [(46.3, 3), (102.5, 1)]


def test_units_hold_what_is_cut_out_of_them(laid: Callable[..., Any], leaf: MakeLeaf) -> None:
    """A real gable: whole and cut against the coursing's own count, volumes of pieces and off-cuts against the units."""
    gable = leaf(length=4817.0, top=((0.0, 640.0), (2000.0, 1933.0), (4817.0, 1111.0)))
    work = laid(gable)
    cutting = cutting_of(Building((), (gable,), (), (BRICK,)), work.coursing.patterns, (work.work,), 4.0, 1500.0)
    assert [(n.whole, n.pieces) for n in cutting.of(gable.id).needs] == [(c.full, c.cut) for c in work.work.counts]
    assert sum(s.number for s in cutting.slopes) == len(work.work.rakes)
    assert Counter(s.course for s in cutting.slopes for _ in range(s.number)) == Counter(r.course for r in work.work.rakes)
    pieces = sum(p.box.length * p.box.width * p.box.height * p.number for p in (*cutting.pieces, *cutting.slopes))
    for lift in cutting.lifts:
        for sawing in lift.sawing:
            used = sum(sawing.pieces) + 4 * (len(sawing.pieces) - 1)
            assert used <= 215 + 1e-9
            assert sawing.left == pytest.approx(max(0, 215 - used - 4), abs=1e-6)
    off = sum(o.box.length * o.box.width * o.box.height * o.number for lift in cutting.lifts for o in lift.off_cuts)
    units = sum(n.cut_from for lift in cutting.lifts for n in lift.needs) * 215 * 102.5 * 65
    assert 0.9 * units < pieces + off <= units
