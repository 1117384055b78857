"""Pieces and perpends fill every stretch; units, mortar, joints and voids fill the face. shapely judges the areas."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, union_all

from elevgen.building.model import Zone
from elevgen.core.geometry import Rect, Span

CASES = {
    "plain": {},
    "openings that land": {"voids": (Rect(890, 300, 2010, 760), Rect(2465, 0, 2915, 975))},
    "openings that land nowhere": {"voids": (Rect(703, 237, 1419, 811), Rect(1485, 188, 1862.5, 649))},
    "stacked with a thin band": {"voids": (Rect(700, 200, 1500, 480), Rect(700, 560, 1500, 900))},
    "top that does not land": {"height": 287.0},
    "stepped base": {"base": ((0, 0), (1210, 0), (1210, 210), (3365, 210))},
    "stepped base off the courses": {"base": ((0, 0), (1210, 0), (1210, 187), (3365, 187))},
    "stepped top": {"top": ((0, 900), (2000, 900), (2000, 1133), (3365, 1133))},
    "gable": {"top": ((0, 600), (1500, 1890), (3365, 700)), "voids": (Rect(1100, 300, 1700, 1010),)},
    "lean-to cutting a window": {"top": ((0, 440), (3365, 1301)), "voids": (Rect(2000, 300, 2600, 830),)},
    "shallow slope": {"top": ((0, 900), (3365, 1020))},
    "gable on a step": {"top": ((0, 500), (900, 500), (900, 800), (2100, 1450), (3365, 1450))},
}


def outline(leaf):
    under = list(leaf.base.clipped(leaf.span))
    over = list(leaf.top.clipped(leaf.span))
    return Polygon([*under, *reversed(over)])


def unit_shapes(found):
    """Every piece as a polygon; only a test lays bricks one by one."""
    for p in found.work.placements:
        pattern = found.coursing.pattern(p.pattern)
        for x in pattern.pieces:
            left = p.span.start + x.at
            yield box(left, p.level, left + x.length, p.level + pattern.height)
    yield from (Polygon(r.outline) for r in found.work.rakes)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("joints", [(), (2287.0,)])
def test_the_face_is_shared_out_without_gap_or_overlap(leaf, laid, case, joints):
    found = laid(leaf(**CASES[case]), joints)
    holes = union_all(
        [box(*_edges(v)) for v in found.leaf.voids] + [box(j.gap.start, -1e4, j.gap.end, 1e4) for j in found.joints]
    )
    masonry = outline(found.leaf).difference(holes)
    shapes = list(unit_shapes(found))
    together = union_all(shapes)
    assert together.area == pytest.approx(sum(s.area for s in shapes), rel=1e-9), "units overlap"
    assert together.difference(masonry.buffer(0.02)).area < 1e-6, "units outside the masonry"
    assert found.work.unit_area == pytest.approx(together.area, rel=1e-7)
    assert found.work.mortar_area == pytest.approx(masonry.difference(together).area, rel=1e-5)
    assert found.work.unit_area + found.work.mortar_area == pytest.approx(masonry.area, rel=1e-6)


@pytest.mark.parametrize("case", CASES)
def test_pieces_and_perpends_fill_every_placement(leaf, laid, case):
    found = laid(leaf(**CASES[case]))
    for p in found.work.placements:
        check_filled(p, found.coursing.pattern(p.pattern))


def check_filled(placement, pattern):
    parts = sorted([(x.at, x.length) for x in pattern.pieces] + [(x.at, x.width) for x in pattern.perpends])
    assert placement.span.length == pytest.approx(pattern.length, abs=0.01)
    assert sum(length for _, length in parts) == pytest.approx(placement.span.length, abs=0.01)
    assert parts[0][0] == pytest.approx(0, abs=1e-6)
    for (at, length), (following, _) in pairwise(parts):
        assert following == pytest.approx(at + length, abs=1e-6)


def test_two_units_over_one_another(leaf, laid, brick, block):
    zones = (Zone(brick, Span(0, 450)), Zone(block, Span(450, 2025)))
    found = laid(leaf(length=4037, height=2025, zones=zones, voids=(Rect(1200, 675, 2300, 1810),)))
    assert [c.unit for c in found.work.courses] == ["brick"] * 6 + ["block"] * 7
    assert {c.unit for c in found.work.counts} == {"brick", "block"}
    masonry = 4037 * 2025 - 1100 * 1135
    assert found.work.unit_area + found.work.mortar_area == pytest.approx(masonry, rel=1e-6)


def test_counts_are_the_pieces_counted_one_by_one(leaf, laid):
    found = laid(leaf(voids=(Rect(703, 237, 1419, 811),)), (2287.0,))
    full = cut = 0
    for p in found.work.placements:
        pattern = found.coursing.pattern(p.pattern)
        for x in pattern.pieces:
            whole = abs(x.length - 215) < 0.01 and not pattern.split
            full, cut = full + whole, cut + (not whole)
    assert [(c.full, c.cut) for c in found.work.counts] == [(full, cut)]


def _edges(r: Rect):
    return r.left, r.bottom, r.right, r.top


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    length=st.integers(300, 6000),
    height=st.integers(80, 2000),
    window=st.tuples(*[st.integers(0, 5000)] * 2, st.integers(60, 1500), st.integers(40, 900)),
    rise=st.integers(0, 900),
)
def test_any_leaf_balances(length, height, window, rise, request):
    make, lay_it = request.getfixturevalue("leaf"), request.getfixturevalue("laid")
    left, bottom, wide, high = window
    void = Rect(left % length, bottom % height, min(left % length + wide, length), min(bottom % height + high, height))
    found = lay_it(make(length=length, top=((0, height), (length, height + rise)), voids=(void,)))
    masonry = outline(found.leaf).area - void.area
    assert found.work.unit_area + found.work.mortar_area == pytest.approx(masonry, rel=1e-6, abs=1)
    for p in found.work.placements:
        check_filled(p, found.coursing.pattern(p.pattern))
