"""Indexed colours against the table of a library that draws them, and the measures of colour against published figures."""

import pytest
from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb
from hypothesis import given
from hypothesis import strategies as st

from elevgen.drawing.indexed import contrast, distance, lab, luminance, nearest_index, rgb_of

TABLE = {i: tuple(int2rgb(c)) for i, c in enumerate(DXF_DEFAULT_COLORS)}
BRIGHTNESSES = (255, 165, 127, 76, 38)
ODD_IN_TABLE = {i for i in range(10, 249) if max(TABLE[i]) != BRIGHTNESSES[i % 10 // 2]}
"""Where the library's table steps out of its own row: a few of the darkest are brighter than their neighbours."""
CHANNEL = st.integers(0, 255)
COLOUR = st.tuples(CHANNEL, CHANNEL, CHANNEL)


@pytest.mark.parametrize("index", sorted(set(range(1, 249)) - ODD_IN_TABLE))
def test_an_index_looks_as_the_librarys_table_has_it(index):
    assert rgb_of(index) == pytest.approx(TABLE[index], abs=1)


def test_the_odd_ones_are_few_and_dark():
    assert len(ODD_IN_TABLE) < 25
    assert all(i % 10 >= 6 for i in ODD_IN_TABLE)


def test_greys_go_from_dark_to_white():
    greys = [rgb_of(i) for i in range(250, 256)]
    assert all(r == g == b for r, g, b in greys)
    assert greys == sorted(greys)
    assert greys[-1] == (255, 255, 255)


@given(COLOUR)
def test_no_other_index_is_nearer(rgb):
    chosen = nearest_index(rgb)
    assert chosen != 7
    assert distance(lab(rgb_of(chosen)), lab(rgb)) == min(distance(lab(rgb_of(i)), lab(rgb)) for i in range(1, 250) if i != 7)


@pytest.mark.parametrize("index", [1, 2, 3, 4, 5, 6, 8, 9, 33, 54, 171, 246])
def test_an_indexed_colour_is_nearest_to_itself(index):
    assert rgb_of(nearest_index(rgb_of(index))) == rgb_of(index)


def test_contrast_goes_from_1_to_21():
    """WCAG 2.1, definition of contrast ratio: "can range from 1 to 21"; #767676 on white is the usual example of 4.5 (memory)."""
    assert contrast((255, 255, 255), (0, 0, 0)) == pytest.approx(21.0)
    assert contrast((17, 90, 200), (17, 90, 200)) == 1.0
    assert contrast((0x76, 0x76, 0x76), (255, 255, 255)) == pytest.approx(4.54, abs=0.01)
    assert luminance((255, 0, 0)) == pytest.approx(0.2126)


def test_lab_of_the_primaries__from_memory():
    """sRGB primaries in CIE L*a*b* under D65, as commonly tabulated (memory)."""
    assert lab((255, 0, 0)) == pytest.approx((53.24, 80.09, 67.20), abs=0.1)
    assert lab((0, 0, 255)) == pytest.approx((32.30, 79.19, -107.86), abs=0.1)
    assert lab((255, 255, 255)) == pytest.approx((100.0, 0.0, 0.0), abs=0.1)
