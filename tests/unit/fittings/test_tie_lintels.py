"""Ties beside lintels that take the place of units: rows that move over one, edges made up for, slip ties and partitions."""

from __future__ import annotations

from itertools import pairwise

import pytest

from elevgen.building.model import Meeting, Unit
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.beds import beds
from elevgen.fittings.partition_ties import partition_ties
from elevgen.fittings.slip_ties import slip_ties
from elevgen.fittings.tie_bays import Cavity, bays, in_body
from elevgen.fittings.tie_lintels import moved
from elevgen.fittings.tie_rows import Row, tie_rows
from elevgen.fittings.ties import cavity_ties

BRICK = Unit("brick", "clay", 215, 65, 102.5, 10)


def cavity_of(made, bodies=()):
    outer, inner = made.leaf("outer"), made.leaf("inner")
    joints = (*made.plan.on_leaf(outer.id), *made.plan.on_leaf(inner.id))
    return Cavity(outer, inner, beds(made.courses("outer")), beds(made.courses("inner")), joints, bodies=tuple(bodies))


def tied(made, reader, bodies=()):
    return cavity_ties(made.wall, cavity_of(made, bodies), reader).ties


def at_levels(ties, inside):
    found = {}
    for tie in ties:
        if inside.contains(tie.at):
            found.setdefault(round(tie.level, 3), []).append(tie.at)
    return found


def test_a_row_moves_over_a_lintel(yard, reader):
    """A lintel from +1.960 to +2.165 in a wall with beds at every 75: its row at 2105 goes into the bed at 2180."""
    made = yard.wall(8000, [Rect(2500, 600, 4900, 1950)], base=-150, top=3150, inner=BRICK)
    body = Rect(2350, 1960, 5050, 2165)
    before, after = tied(made, reader), tied(made, reader, [body])
    over = Span(body.left, body.right)
    lost = {y: row for y, row in at_levels(before, over).items() if 1960 < y < 2165}
    assert list(lost) == [2105], "all of it in one bed"
    assert not [t for t in after if body.left < t.at < body.right and 1958 < t.level < 2167]
    gone = [at for at in lost[2105] if body.left - 20 < at < body.right + 20]
    assert at_levels(after, over)[2180] == pytest.approx(gone), "the first bed over the lintel, where each stood"
    beside = [(t.at, t.level, t.kind) for t in before if not body.left - 300 < t.at < body.right + 300]
    assert beside == [(t.at, t.level, t.kind) for t in after if not body.left - 300 < t.at < body.right + 300]
    assert len(after) >= len(before)


def test_a_row_moves_under_a_bearing_where_nothing_lies_over_it(yard, reader):
    made = yard.wall(6000, base=-150, top=2550, inner=BRICK)
    every = [Row(float(y), True) for y in range(80, 2100, 75)]
    body = Rect(2000, 1900, 3000, 2600)
    cavity = cavity_of(made, [body])
    to = moved(cavity, every, lambda row: tuple(bays(cavity, row, 225)), {1955.0: (900.0, 1990.0, 2600.0, 3800.0)}, 450)
    assert to == {1955.0: (900.0, 1990.0, 2600.0, 3800.0), 1880.0: (1990.0, 2600.0)}, "one too near its end moves too"


def test_the_bed_under_a_bearing_and_the_bed_over_a_lintel_are_free_to_the_last_tenth():
    body = Rect(0, 2110, 1000, 2325)
    assert not any(in_body(body, y) for y in (2105, 2107.9, 2327.1, 2330))
    assert all(in_body(body, y) for y in (2108.1, 2200, 2326.9))


@pytest.mark.parametrize("deep", [140.0, 215.0, 290.0])
def test_an_edge_beside_a_bearing_has_rows_over_and_under_the_lintel(yard, reader, deep):
    """A joint 60 mm from the end of a lintel whose far side is all of 225 mm deep: nothing fits beside it at its height."""
    made = yard.wall(9000, [Rect(3000, 600, 4800, 1950)], [5400.0], base=-150, top=3150, inner=BRICK)
    body = Rect(2850, 1960, 5380, 1960 + deep)
    after = tied(made, reader, [body])
    near = sorted({t.level for t in after if 0 <= 5392 - t.at <= 225.01})
    free = [y for y in near if not in_body(body, y)]
    assert near == free
    usable = [r.level for r in tie_rows(beds(made.courses()), beds(made.courses("inner")), 10) if not in_body(body, r.level)]
    for low, high in pairwise([-145.0, *near]):
        assert high - low <= 300 + 1e-6 or not [y for y in usable if low < y < high], (low, high)
    across = [(low, high) for low, high in pairwise(near) if low < 1960 and high > 1960 + deep]
    ((low, high),) = across or [(0.0, 0.0)]
    if high - low > 300:
        pairs = [sum(1 for t in after if t.level == y and 0 <= 5392 - t.at <= 225.01) for y in (low, high)]
        assert min(pairs) >= 2


def test_without_lintels_nothing_changes(yard, reader):
    made = yard.random(3)
    assert tied(made, reader) == tied(made, reader, [Rect(-900, 0, -500, 300)])


def test_slip_ties_keep_out_of_a_lintel_that_ends_at_the_joint(yard, reader):
    made = yard.wall(8000, [Rect(2000, 600, 3400, 2100)], [3600.0], base=-150, top=3000)
    (joint,) = made.plan.joints
    outer, laid = made.leaf(), beds(made.courses())
    body = Rect(1850, 2110, 3580, 2325)
    free = slip_ties(joint, outer, laid, reader)
    clear = slip_ties(joint, outer, laid, reader, None, {outer.id: (body,)})
    assert any(in_body(body, tie.level) for tie in free)
    assert not any(in_body(body, tie.level) for tie in clear)
    assert {t.level for t in clear} <= {bed.middle for bed in laid}
    assert slip_ties(joint, outer, laid, reader, None, {outer.id: (Rect(0, 2110, 3500, 2325),)}) == free, "ends 92 mm before it"


def test_partition_ties_keep_out_of_a_lintel_of_the_wall_met(yard, reader):
    made = yard.wall(8000, base=-150, top=2700, inner=BRICK)
    outer, inner = made.leaf(), made.leaf("inner")
    met = Meeting(id="M1", kind="tee", stem=outer.id, host=inner.id, stem_at=0.0, host_at=3000.0, connection="tied")
    laid = beds(made.courses()), beds(made.courses("inner"))
    free = partition_ties(met, outer, inner, *laid, reader)
    levels = {t.level for t in free}
    body = Rect(2000, min(y for y in levels if y > 1000) - 30, 4000, min(y for y in levels if y > 1000) + 185)
    clear = partition_ties(met, outer, inner, *laid, reader, {inner.id: (body,)})
    assert any(in_body(body, t.level) for t in free)
    assert not any(in_body(body, t.level) for t in clear)
    rows = [t.level for t in clear]
    assert max(b - a for a, b in pairwise(rows)) <= 300.01
    assert partition_ties(met, outer, inner, *laid, reader, {inner.id: (Rect(4000, 0, 5000, 2000),)}) == free
