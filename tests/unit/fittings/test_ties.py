"""Ties measured on the wall itself: largest empty rectangles, distances to edges, never by the grid that made them."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from elevgen.building.model import Unit
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.beds import Bed, beds
from elevgen.fittings.tie_bays import Bay, Cavity
from elevgen.fittings.tie_edges import row_ties
from elevgen.fittings.tie_rows import Row, close_up, one_more, spread, tie_rows
from elevgen.fittings.ties import cavity_ties, columns
from elevgen.rules.book import RuleReader

BED = 10.0


def tied(made, reader):
    outer, inner = made.leaf("outer"), made.leaf("inner")
    joints = (*made.plan.on_leaf(outer.id), *made.plan.on_leaf(inner.id))
    cavity = Cavity(outer, inner, beds(made.courses("outer")), beds(made.courses("inner")), joints)
    return cavity_ties(made.wall, cavity, reader)


def without(reader, *keys):
    """A reader of the same rules without some of them."""
    return RuleReader(replace(reader.book, values={k: v for k, v in reader.book.values.items() if k not in keys}))


def emptiest(made, ties, height):
    """The widest rectangle of a given height in masonry both leaves share that holds no tie."""
    inner = made.leaf("inner")
    base = inner.base.lowest(inner.span)
    top = inner.top.lowest(inner.span)
    voids, gaps = made.leaf().voids, [j.gap for j in made.plan.joints]
    bottoms = {base, top - height}
    bottoms |= {level + e for t in ties for level in (t.level, t.level - height) for e in (-0.001, 0.001)}
    bottoms |= {y for v in voids for y in (v.top, v.bottom - height)}
    widest = 0.0
    for bottom in sorted(b for b in bottoms if base <= b <= top - height):
        walls = [(v.left, v.right) for v in voids if v.bottom < bottom + height and v.top > bottom]
        walls += [(g.start, g.end) for g in gaps] + [(t.at, t.at) for t in ties if bottom <= t.level <= bottom + height]
        at = inner.span.start
        for left, right in sorted(walls):
            widest = max(widest, left - at)
            at = max(at, right)
        widest = max(widest, inner.span.end - at)
    return widest


@pytest.mark.parametrize("seed", range(40))
def test_no_empty_rectangle_larger_than_the_spacing(yard, reader, seed):
    made = yard.random(seed)
    found = tied(made, reader)
    assert found.beds_meet
    assert emptiest(made, found.ties, 450 + BED) <= 900 + 0.01
    # the measure can fail: with every second row gone it must
    levels = sorted({t.level for t in found.ties})
    assert emptiest(made, [t for t in found.ties if levels.index(t.level) % 4 < 2], 450 + BED) > 900


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("inner", ["brick", "block"])
def test_ties_lie_in_beds_of_both_leaves_clear_of_holes_and_of_each_other(yard, reader, seed, inner):
    made = yard.random(seed, inner=getattr(yard, inner))
    found = tied(made, reader)
    middles = [
        {round((a.top + b.level) / 2, 3) for a, b in pairwise(courses)}
        for courses in (made.courses("outer"), made.courses("inner"))
    ]
    holes = [(v.left, v.bottom, v.right, v.top) for v in made.leaf().voids]
    holes += [(j.gap.start, j.levels.start, j.gap.end, j.levels.end) for j in made.plan.joints]
    span = made.leaf("inner").span
    for t in found.ties:
        assert round(t.level, 3) in middles[0] & middles[1]
        assert span.start + 20 - 0.01 <= t.at <= span.end - 20 + 0.01
        for left, bottom, right, top in holes:
            beside = max(left - t.at, t.at - right)
            assert beside >= 20 - 0.01 or not bottom - BED / 2 - 0.01 <= t.level <= top + BED / 2 + 0.01
    by_level = {}
    for t in found.ties:
        by_level.setdefault(t.level, []).append(t.at)
    for row in by_level.values():
        assert all(b - a >= 100 - 0.01 for a, b in pairwise(row))
    rows = sorted(by_level)
    assert all(b - a >= 100 for a, b in pairwise(rows))
    assert sorted(found.ties, key=lambda t: (t.level, t.at)) == list(found.ties)


@pytest.mark.parametrize("seed", range(40))
def test_reveals_and_joints_have_ties_near_and_close(yard, reader, seed):
    made = yard.random(seed)
    found = tied(made, reader)
    voids = made.leaf().voids
    edges = [(v.left, -1, v.levels) for v in voids] + [(v.right, 1, v.levels) for v in voids]
    for j in made.plan.joints:
        edges += [(j.gap.start, -1, j.levels), (j.gap.end, 1, j.levels)]
    for at, side, levels in edges:
        near = [t.level for t in found.ties if 0 <= side * (t.at - at) <= 225.01 and levels.start <= t.level <= levels.end]
        stations = [levels.start, *sorted(near), levels.end]
        assert max(b - a for a, b in pairwise(stations)) <= 300 + BED, (seed, at, side)


@pytest.mark.parametrize("seed", range(12))
def test_a_mirrored_wall_has_mirrored_ties(yard, reader, seed):
    made = yard.random(seed)
    there = sorted((t.level, round(t.at, 6), t.kind) for t in tied(made, reader).ties)
    back = sorted((t.level, round(made.wall.length - t.at, 6), t.kind) for t in tied(yard.mirrored(made), reader).ties)
    assert there == back


def test_rows_are_as_few_as_the_spacing_allows(yard, reader):
    found = tied(yard.wall(9000, base=-225, top=2925), reader)  # 3150 high: beds meet at every 225
    rows = sorted({t.level for t in found.ties})
    assert [round(b - a) for a, b in zip([-225 + 5, *rows], rows, strict=False)] == [450] * 6 + [225], "and one near the top"
    assert {t.kind for t in found.ties} == {"field"}
    first, second = ([t.at for t in found.ties if t.level == level] for level in rows[:2])
    assert all(any(abs(a - (b + c) / 2) < 0.01 for b, c in pairwise(second)) for a in first[1:-1])


def test_a_narrow_pier_has_one_tie_where_it_serves_both_reveals(yard, reader):
    made = yard.wall(7000, [Rect(2000, 600, 3000, 2100), Rect(3400, 600, 4400, 2100)])
    between = [t for t in tied(made, reader).ties if 3000 < t.at < 3400 and 600 < t.level < 2100]
    rows = {t.level for t in between}
    assert len(between) == len(rows) >= 5
    assert all(t.at - 3000 <= 225 and 3400 - t.at <= 225 and t.kind == "reveal" for t in between)


def test_free_ends_are_tied_like_reveals_and_corners_are_not(yard, reader):
    free = tied(yard.wall(6000, ends=("stopped", "corner")), reader).ties
    start = [t for t in free if t.at <= 202.5 + 225.01]
    levels = [-150, *sorted(t.level for t in start), 2700]
    assert max(b - a for a, b in pairwise(levels)) <= 310
    assert {t.kind for t in start} == {"end"}
    assert {t.kind for t in free if t.at > 3000} == {"field"}


@pytest.mark.parametrize("rise", [400.0, 2000.0, 4500.0])
def test_verges_have_ties_along_them(yard, reader, rise):
    length = 7013.0
    made = yard.wall(length, top=[(0, 2400), (length / 2, 2400 + rise), (length, 2400)], inner=yard.brick)
    ties = tied(made, reader).ties
    top = made.leaf().top
    assert all(t.level < top.level_right_of(t.at) for t in ties)
    near = sorted(t.at for t in ties if top.level_right_of(t.at) - t.level <= 300)
    inside = [x for x in near if 450 <= x <= length - 450]
    assert max(b - a for a, b in pairwise(inside)) <= 225.01
    assert any(t.kind == "verge" for t in ties)
    flipped = sorted((round(length - t.at, 6), t.level, t.kind) for t in ties)
    assert flipped == sorted((round(t.at, 6), t.level, t.kind) for t in ties), "a symmetric gable has symmetric ties"


def test_beds_that_do_not_meet_are_said_so(yard, reader):
    off = tied(yard.wall(6000, inner_shift=37.5), reader)
    assert not off.beds_meet
    assert off.ties, "ties are still counted, in the outer leaf's beds"
    assert {round(t.level % 75, 3) for t in off.ties} == {5.0}
    assert tied(yard.wall(6000, inner_shift=8.0), reader).beds_meet, "within tolerance"


def test_length_by_cavity(yard, reader):
    assert tied(yard.wall(6000, cavity=75), reader).length == 200
    assert tied(yard.wall(6000, cavity=301), reader).length is None


def test_without_a_spacing_there_are_no_ties_to_invent(yard, reader):
    assert tied(yard.wall(6000), without(reader, "tie.spacing.vertical")) is None


@pytest.mark.parametrize("length", [300.0, 449.0, 900.0, 903.0, 1350.0, 5211.5, 12140.0])
def test_columns_are_staggered_within_spacing_and_the_same_from_both_ends(length):
    odd, even = columns(Span(100, 100 + length), 900)
    for row in (odd, even):
        stations = [100, *row, 100 + length]
        assert max(b - a for a, b in pairwise(stations)) <= 900.01
        assert [200 + length - x for x in reversed(row)] == pytest.approx(list(row))


def rows(levels, apart=()):
    return [Row(float(x), x not in apart) for x in levels]


def levels_of(chosen):
    return [row.level for row in chosen]


def test_spread_and_close_up_by_hand():
    every = rows(75 * k for k in range(1, 40))
    assert levels_of(spread(every, Span(0, 1500), 450)) == [450, 900, 1350]
    assert levels_of(spread(rows([100, 520, 700, 960]), Span(0, 1200), 450)) == [100, 520, 960], "the farthest each time"
    assert levels_of(spread(rows([600, 1300]), Span(0, 1500), 450)) == [600, 1300], "forced gaps are taken"
    assert levels_of(close_up(spread(every, Span(0, 1200), 450), every, Span(0, 1200), 300)) == [225, 450, 675, 900]
    assert levels_of(close_up(rows([450]), rows([450]), Span(0, 900), 300)) == [450]


def test_rows_only_one_leaf_has_are_the_last_resort():
    mixed = rows([150, 225, 300, 375, 525, 750, 900], apart=[300, 375, 750])
    assert levels_of(spread(mixed, Span(0, 900), 450)) == [225, 525], "375 and 750 are the outer leaf's alone"
    assert levels_of(spread(rows([225, 450, 675], apart=[450]), Span(0, 1100), 300)) == [
        225,
        450,
        675,
    ]
    assert levels_of(close_up(rows([450]), rows([225, 450], apart=[225]), Span(0, 900), 300)) == [450]
    assert levels_of(close_up(rows([450], apart=[450]), rows([225, 450], apart=[225, 450]), Span(0, 900), 300)) == [225, 450]


def test_a_wall_whose_beds_part_company_half_way_up_is_tied_all_the_way(yard, reader):
    made = yard.wall(6000, base=-150, top=3000)
    courses = made.courses("inner")
    high = tuple(replace(c, level=c.level + 37.5) if c.level > 900 else c for c in courses)
    laid = replace(made.coursing, leaves=(made.coursing.leaves[0], replace(made.coursing.leaves[1], courses=high)))
    found = tied(replace(made, coursing=laid), reader)
    levels = [-145, *sorted({t.level for t in found.ties}), 3000]
    assert not found.beds_meet
    assert max(b - a for a, b in pairwise(levels)) <= 450.01


def per_m2(made, ties):
    """Ties to the square metre of the masonry both leaves have."""
    inner = made.leaf("inner")
    height = inner.top.lowest(inner.span) - inner.base.highest(inner.span)
    return len(ties) / (inner.span.length * height / 1e6 - sum(v.area for v in inner.voids) / 1e6)


@pytest.mark.parametrize("height", [2250.0, 2700.0, 2925.0, 3150.0])
@pytest.mark.parametrize("length", [1353.0, 2600.0, 3353.0, 5211.5, 8090.0, 12140.0])
def test_a_blank_wall_has_ties_enough_and_no_more_than_a_row_or_column_too_many(yard, reader, length, height):
    made = yard.wall(length, base=-150, top=height - 150)
    ties = tied(made, reader).ties
    inner = made.leaf("inner").span.length
    rows = {t.level for t in ties}
    across = max(sum(1 for t in ties if t.level == level) for level in rows)
    spare = len(ties) - 2.45 * inner * height / 1e6
    assert per_m2(made, ties) >= 2.45
    assert spare < max(across, len(rows))
    assert emptiest(made, ties, 450 + BED) <= 900 + 0.01
    assert {t.kind for t in ties} == {"field"}


def test_a_row_is_added_where_that_takes_fewer_ties_than_a_column(yard, reader):
    made = yard.wall(3353, base=-150, top=2550)
    spaced = tied(made, without(reader, "tie.density", "tie.top.vertical")).ties
    dense = tied(made, without(reader, "tie.top.vertical")).ties
    assert (per_m2(made, spaced) < 2.45, per_m2(made, dense) >= 2.45) == (True, True)
    (added,) = {t.level for t in dense} - {t.level for t in spaced}
    assert {t.level for t in spaced} < {t.level for t in dense}
    assert (added, len(dense) - len(spaced)) == (2330, 3), "under the top of the wall; a column more is 5 ties"


def test_a_panel_between_joints_is_dense_enough_by_itself(yard, reader):
    """Windows at one end make up the number of the whole wall, not that of the blank panel beyond the joint."""
    windows = [Rect(600 + 900 * k, 750, 1050 + 900 * k, 2100) for k in range(4)]
    made = yard.wall(13000, windows, [4600.0], base=0)
    ties = tied(made, reader).ties
    blank = Span(4600, 13000 - 202.5)
    assert sum(1 for t in ties if blank.contains(t.at)) / (blank.length * 2.7 / 1e3) >= 2.45
    assert per_m2(made, ties) > 2.7


def test_no_density_no_more_ties_than_the_spacing(yard, reader):
    made = yard.wall(5211.5)
    spaced = tied(made, without(reader, "tie.density"))
    assert len(spaced.ties) < len(tied(made, reader).ties)
    assert "tie.density" not in spaced.basis


def test_one_more_row_goes_half_way_up_a_wide_gap_that_is_long_and_high():
    every = rows(75 * k for k in range(1, 40))
    chosen = [row for row in every if row.level in (450, 900, 1350)]

    def alike(row):
        return 1.0

    def low_is_longer(row):
        return -row.level

    assert levels_of(one_more(chosen, every, Span(0, 1650), alike)) == [450, 900, 1125, 1350], "300 at the top is no wide gap"
    assert levels_of(one_more(chosen, every, Span(0, 1650), low_is_longer)) == [225, 450, 900, 1350]
    assert one_more(rows([450]), rows([450]), Span(0, 900), alike) is None
    apart = rows([225, 450], apart=[225])
    assert one_more(rows([450]), apart, Span(0, 900), alike) is None, "225 is no bed of the inner leaf"


def test_a_made_up_bed_and_one_at_its_edge_share_a_tie(yard):
    under, over = yard.wall(3000).courses()[4:6]
    outer = Bed(under, replace(over, level=under.top + 35))
    inner = Bed(under, replace(over, level=under.top + 10))
    (row,) = tie_rows([outer], [inner], 10)
    assert row.shared
    assert row.level == under.top + 5
    apart = Bed(replace(under, level=under.level + 40), replace(over, level=over.level + 40))
    assert not tie_rows([outer], [apart], 2)[0].shared, "5 mm over the made-up bed"
    touching = Bed(replace(under, level=under.level + 31), replace(over, level=under.top + 41))
    assert not tie_rows([outer], [touching], 2)[0].shared, "4 mm in both"


TALL = Unit("tall", "aircrete", 440, 440, 100, 10)


@pytest.mark.parametrize("seed", range(12))
def test_where_beds_meet_every_450_edges_have_ties_in_pairs(yard, reader, seed):
    """NHBC TG 6.1/31, 6.1/32 (quoted): coursing that only meets at 450 mm has pairs in one bed, within 225 of the edge."""
    made = yard.random(seed, inner=TALL)
    made = yard.wall(made.wall.length, made.leaf().voids, [j.at for j in made.plan.joints], base=-150, top=2550, inner=TALL)
    found = tied(made, reader)
    shared = {round(a.top + 5, 3) for a in made.courses("inner")}
    assert {round(t.level, 3) for t in found.ties} <= shared
    by_level = {}
    for t in found.ties:
        by_level.setdefault(t.level, []).append(t.at)
    assert all(b - a >= 100 - 0.01 for row in by_level.values() for a, b in pairwise(sorted(row)))
    voids = made.leaf().voids
    for v in voids:
        for at, side in ((v.left, -1), (v.right, 1)):
            room = min((side * (edge - at) for w in voids for edge in (w.left, w.right) if side * (edge - at) > 0), default=450)
            for level in {t.level for t in found.ties if v.bottom + 10 < t.level < v.top - 10}:
                near = [t for t in found.ties if t.level == level and 0 < side * (t.at - at) <= 225.01]
                assert len(near) >= 2 or room < 140, (seed, at, level)


@pytest.mark.parametrize("width", [215.0, 300.0, 340.0, 360.0, 449.0, 452.0, 500.0, 640.0, 660.0])
def test_a_pier_has_a_pair_for_each_reveal(width):
    bay = Bay(Span(1000, 1000 + width), "reveal", "reveal")
    for field in ([], [1000 + 0.4 * width], [1031.0, 1031.0 + 450]):
        placed = sorted(row_ties([bay], field, 225, pairs=True))
        assert sum(1 for at in placed if at - 1000 <= 225) >= 2
        assert sum(1 for at in placed if 1000 + width - at <= 225) >= 2
        assert all(b - a >= 100 - 0.01 for a, b in pairwise(placed))
        assert placed[0] >= 1020
        assert placed[-1] <= 1000 + width - 20


def test_no_tie_in_a_bed_that_only_a_sliver_parts_from_a_head(yard, reader):
    # the bed at 2250..2260 carries ties of the field; a head at 2249.5 is 5.5 mm under them: they would lie on the lintel
    made = yard.wall(6000, [Rect(2000, 600, 4000, 2249.5)], base=0)
    over = [t for t in tied(made, reader).ties if 2249 < t.level < 2270 and 1980 < t.at < 4020]
    assert over == []
    low = yard.wall(6000, [Rect(2000, 600, 4000, 2180)], base=0)
    assert [t for t in tied(low, reader).ties if 2249 < t.level < 2270 and 1980 < t.at < 4020]
