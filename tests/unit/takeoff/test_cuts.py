"""Cut pieces as bill items, against pieces counted one by one off the patterns."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from elevgen.building.model import Unit
from elevgen.core.figures import METRIC
from elevgen.coursing.model import Box, CutPiece
from elevgen.takeoff.cuts import _sizes
from elevgen.takeoff.measure import measure


def test_half_bricks_and_three_quarters_by_size(made: Any, bill: Any) -> None:
    """A wall 8 1/2 bricks long less a joint, six courses: a half brick in each."""
    found = bill(made([{"start": [0, 0], "end": [1902.5, 0], "top": 450}]))
    item = found["UNIT-CUT-NR/BRICK_65/102.5", "W1/outer"]
    assert (item.item, item.net, item.kind, item.derivation) == ("Cutting brick 65 to 102.5 mm", 6, "work", "6 of 102.5 mm")
    assert [code for code, _ in found if code.startswith("UNIT-CUT")] == ["UNIT-CUT-NR/BRICK_65/102.5"]
    assert item.needed is None


def test_odd_lengths_are_taken_together_by_25_mm(made: Any, bill: Any) -> None:
    """An odd length is made up with pieces of other sizes; every one of them is named."""
    design = made([{"start": [0, 0], "end": [1797, 0], "top": 450}])
    found = bill(design)
    patterns = {p.id: p for p in design.coursing.patterns}
    lengths: Counter[float] = Counter()
    for placed in design.coursing.of("W1/outer").placements:
        lengths.update(round(p.length, 1) for p in patterns[placed.pattern].laid if p.kind == "cut")
    items = {code: q for (code, _), q in found.items() if code.startswith("UNIT-CUT")}
    assert sum(q.net for q in items.values()) == lengths.total() > 0
    for code, quantity in items.items():
        upper = float(code.split("/")[-1])
        if upper == 102.5:
            assert quantity.net == lengths[102.5]
        else:
            assert quantity.net == sum(n for length, n in lengths.items() if upper - 25 < length <= upper and length != 102.5), (
                code
            )


def test_units_cut_in_height_say_so(made: Any, bill: Any) -> None:
    """Three courses of 75 and 40 more, too far off for beds to give: a bed of 10 and eight bricks cut 30 high, or halves."""
    found = bill(made([{"start": [0, 0], "end": [1790, 0], "top": 265}]))
    cut = {code: q for (code, _), q in found.items() if code.startswith("UNIT-CUT") and "x" in code}
    assert sum(q.net for q in cut.values()) in (8, 9)
    assert all("mm high" in q.item for q in cut.values())


def test_slips_are_told_apart_from_bats(made: Any, bill: Any) -> None:
    found = bill(made([{"type": "thick", "start": [0, 0], "end": [1790, 0], "top": 450}]))
    closers = found["UNIT-CUT-NR/BRICK_65/50/SLIP215", "W1/outer"]
    assert closers.item.endswith("lengths over 25 up to 50 mm, slips 215 mm long")


def test_pieces_under_a_slope_are_one_item(made: Any, bill: Any) -> None:
    design = made([{"start": [0, 0], "end": [2690, 0], "top": [[0, 600], [1500, 1700], [2690, 900]]}])
    item = bill(design)["UNIT-CUT-NR/BRICK_65/SLOPE", "W1/outer"]
    assert item.net == sum(rake.deep for rake in design.coursing.of("W1/outer").rakes) > 20


def test_all_cut_pieces_are_there_and_by_lift(made: Any) -> None:
    design = made([{"type": "cavity", "start": [0, 0], "end": [5013, 0], "top": 2655}])
    takeoff = measure(design)
    for leaf in design.building.leaves:
        needs = design.coursing.cutting.of(leaf.id)
        cut = [q for q in takeoff.quantities if q.code.startswith("UNIT-CUT") and q.where == leaf.id]
        assert sum(q.net for q in cut) == sum(need.pieces for need in needs.needs)
        for lift, of_lift in needs.by_lift:
            there = sum(part.net for q in cut for part in q.parts if part.lift == lift)
            assert there == pytest.approx(sum(need.pieces for need in of_lift))


@pytest.mark.parametrize(
    ("length", "code", "words"),
    [
        (600, "600", "600 mm"),
        (599.95, "600", "600 mm"),
        (590, "UNDER600", "lengths over 575, under 600 mm"),
        (575, "575", "lengths over 550 up to 575 mm"),
        (298.5, "298.5", "298.5 mm"),
        (299.5, "300", "lengths over 275 up to 300 mm"),
    ],
)
def test_just_under_a_whole_unit_is_another_item_than_a_whole_one_cut_in_height(length: float, code: str, words: str) -> None:
    """Blocks 600 mm long with joints of 3 mm, in courses cut to 47 mm: 600 is whole in length, and the top of a band, too."""
    unit = Unit("block", "aircrete", 600, 200, 300, 3)
    piece = CutPiece("W1/outer", 1, "block", "stretcher", length, 47, Box(length, 300, 47), 1)
    assert _sizes(METRIC, piece, unit) == (f"{code}x47", f"{words}, 47 mm high")
